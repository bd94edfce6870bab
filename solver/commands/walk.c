/* SPDX-License-Identifier: MIT */
/* `rungwise walk`: checks somebody's own order of steps. */
#include "commands/load.h"
#include "commands/output.h"

static Outcome
walk (const Options *options)
{
    g_auto (Loaded) loaded = { 0 };
    Outcome outcome = load_all (command_walk.name, options, &loaded);
    Unit *unit = NULL;
    Want *want = NULL;
    g_autoptr (WalkAnswer) answer = NULL;
    g_autofree char *text = NULL;

    if (outcome == OUTCOME_ANSWERED)
        outcome = load_unit (command_walk.name, &loaded, options->unit, &unit);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    if (loaded.library->routes->len != 1)
        return usage_error (command_walk.name, "name one file with a route (docs/files.md, \"Route\")",
                            "the files hold %u routes and one is needed", loaded.library->routes->len);
    if (((const WrittenRoute *) g_ptr_array_index (loaded.library->routes, 0))->board != unit->board)
        return usage_error (command_walk.name, "a route whose steps the unit's board has",
                            "%s has board %s, and the route is none for that", unit->id, unit->board->name);
    if (loaded.library->records->len > 0)
        return usage_error (command_walk.name, "leave the record out: a route is walked from the unit as it came in",
                            "the files hold a record");
    outcome = load_want (command_walk.name, &loaded, unit, FALSE, &want);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    answer = walk_find (loaded.library, loaded.shop, unit, want, g_ptr_array_index (loaded.library->routes, 0));
    text = options->json ? report_walk_json (answer) : report_walk_text (answer, output_has_colour (options));
    return output_write (options, text, answer->outcome);
}

const Command command_walk = {
    .name = "walk",
    .bit = COMMAND_WALK,
    .summary = "check a written route step by step, and name the first unsafe step",
    .arguments = "PATH...",
    .explains =
        "Answers: is my own order of work safe? The route is a file of steps (docs/files.md, \"Route\"), or what plan "
        "--json printed. It is walked from the unit as it stands, for every release that the unit may have; the first "
        "step that is not allowed is named, with the reason and the id of what it breaks (docs/walk-rules.md).\n\n"
        "With a want in the files or from --want, the end is checked against it too. Without one any end is allowed, "
        "and "
        "the answer says so.",
    .example = "rungwise walk data/larkfield/book data/larkfield/shop.yaml \\\n"
               "    tests/cases/files/wren-unit.yaml tests/cases/files/wren-route.yaml",
    .run = walk,
};
