/* SPDX-License-Identifier: MIT */
/* `rungwise plan`: the shortest safe route from a unit to a want. */
#include "commands/load.h"
#include "commands/output.h"
#include "commands/patience.h"

#define MOST_STATES_IN_TIME G_MAXINT64 /* with --effort, the time alone decides */

static Outcome
plan_unit (const Options *options, const Loaded *loaded, const Unit *unit, const Want *want)
{
    gboolean timed = options->effort_seconds > 0 && options->states == 0;
    g_auto (Patience) patience = { 0 };
    RouteOptions limits = {
        .search_states = (guint64) (timed ? MOST_STATES_IN_TIME : options->states),
        .go_on = patience_goes_on,
        .go_on_data = &patience,
    };
    patience_begin (&patience, options->effort_seconds);
    g_autoptr (RouteAnswer) answer = route_find (loaded->library, loaded->shop, unit, want, &limits);
    gboolean interrupted = patience_end (&patience);
    RouteReport report = { loaded->library, loaded->shop, unit, want, answer };
    g_autofree char *text =
        options->json ? report_route_json (&report) : report_route_text (&report, output_has_colour (options));

    Outcome outcome = outcome_of_claim (answer->claim);
    if (interrupted && (outcome == OUTCOME_BEST_FOUND || outcome == OUTCOME_NOT_FOUND))
        outcome = OUTCOME_STOPPED;
    return output_write (options, text, outcome);
}

static Outcome
plan (const Options *options)
{
    g_auto (Loaded) loaded = { 0 };
    Outcome outcome = load_all (command_plan.name, options, &loaded);
    const Unit *unit = NULL;

    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    unit = load_one_unit (command_plan.name, &loaded);
    if (unit == NULL)
        return OUTCOME_BAD_USAGE;
    if (loaded.library->wants->len != 1)
        return usage_error (command_plan.name,
                            "a want in the files, or --want SLOT=PART or --want 'COMPONENT>=RELEASE'",
                            "the files hold %u wants and one is needed", loaded.library->wants->len);
    return plan_unit (options, &loaded, unit, g_ptr_array_index (loaded.library->wants, 0));
}

const Command command_plan = {
    .name = "plan",
    .bit = COMMAND_PLAN,
    .summary = "find the shortest safe order of steps from a unit to what is wanted",
    .arguments = "PATH...",
    .explains =
        "Answers: in which order do I take out, fit and write, so that the unit becomes what is wanted, never gets "
        "stuck "
        "on the way, and the sockets are touched as little as can be? The sheet says at each step what to take or "
        "write, whether the unit starts before and after, how long it takes, what to do when it fails, and what to "
        "mind.\n\n"
        "The PATHs are files or folders of the book, the shop and one unit; each document says itself what it is. What "
        "is "
        "wanted stands in a file too, or comes from --want. Every route is walked by a checker of its own before it is "
        "shown. Where a unit's releases are not all known, a route is shown only if it serves every one of them; "
        "otherwise the answer is what to read first.",
    .example = "rungwise plan data/larkfield/book data/larkfield/shop.yaml \\\n"
               "    data/larkfield/units/01-dark-needs-a-loaner.yaml",
    .run = plan,
};
