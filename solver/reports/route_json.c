/* SPDX-License-Identifier: MIT */
/* A route as JSON: docs/route-json.md, docs/schemas/printed-route.schema.json. The first key is `route`, so that the document is also
 * a written route (docs/files.md, "Route"). */
#include "reports/account.h"
#include "reports/json.h"
#include "reports/reports.h"

#define SCHEMA_NAME    "rungwise-route"
#define SCHEMA_VERSION 1

static const char *
claim_word (Claim claim)
{
    static const char *const words[] = { "proved-shortest", "best-found", "no-route",
                                         "not-found",       "read-first", "own-fault" };

    return words[claim];
}

static const char *
answer_key (Answer answer)
{
    static const char *const keys[] = { "no", "yes", "depends" };

    return keys[answer];
}

static void
append_cautions (json_t *list, const GArray *due)
{
    for (guint i = 0; i < due->len; i++) {
        const DueCaution *entry = &g_array_index (due, DueCaution, i);
        json_t *caution = json_object ();

        json_set_text (caution, "caution", entry->caution->id);
        json_set_text (caution, "says", entry->caution->says);
        json_set_text (caution, "source", entry->caution->source.text);
        json_array_append_new (list, caution);
    }
}

static json_t *
json_cautions (const GArray *due)
{
    json_t *list = json_array ();

    append_cautions (list, due);
    return list;
}

/* Those for the opening or start before the step, then those for the step itself. */
static json_t *
json_step_cautions (const StepAccount *step)
{
    json_t *list = json_cautions (step->power_cautions);

    append_cautions (list, step->cautions);
    return list;
}

static void
set_part (json_t *object, const StepAccount *step, const Board *board)
{
    json_set_text (object, "slot", board_slot (board, step->step->slot)->name);
    json_set_text (object, "part", step->moved.part->name);
    json_set_text (object, "stepping", step->moved.stepping);
    json_set_text (object, "from", owner_name (step->moved.owner));
    json_set_text (object, "serial", step->serial);
}

static json_t *
json_file (const Release *release)
{
    json_t *file = json_object ();

    json_set_text (file, "name", release->file_name);
    json_set_text (file, "sha256", release->sha256);
    if (release->bytes >= 0)
        json_object_set_new (file, "bytes", json_integer (release->bytes));
    return file;
}

static json_t *
json_no_return (const StepAccount *step, const Board *board)
{
    json_t *lowest = json_object ();

    for (guint i = 0; i < step->floor_rises->len; i++) {
        const FloorRise *rise = &g_array_index (step->floor_rises, FloorRise, i);
        const Component *component = board_component (board, rise->component);

        json_set_text (lowest, component->name, component_release (component, rise->release)->name);
    }
    return lowest;
}

static void
set_write (json_t *object, const StepAccount *step, const Board *board)
{
    const Component *component = board_component (board, step->step->component);
    const Release *release = component_release (component, step->step->release);

    json_set_text (object, "component", component->name);
    json_set_text (object, "release", release->name);
    json_set_text (object, "by", method_name (step->step->method));
    if (step->replaces >= 0)
        json_set_text (object, "replaces", component_release (component, (guint) step->replaces)->name);
    if (release->also_writes->len > 0) {
        json_t *also = json_object ();

        for (guint i = 0; i < release->also_writes->len; i++) {
            const AlsoWrites *other = g_ptr_array_index (release->also_writes, i);

            json_set_text (also, other->component, other->release);
        }
        json_object_set_new (object, "also-writes", also);
    }
    if (release->file_name != NULL || release->sha256 != NULL || release->bytes >= 0)
        json_object_set_new (object, "file", json_file (release));
    json_set_text (object, "takes-effect", words_effect_key (release->takes_effect));
    json_object_set_new (object, "clears-settings", json_boolean (release->clears_settings));
    json_object_set_new (object, "recovery", json_methods (step->recovery));
    if (step->floor_rises->len > 0)
        json_object_set_new (object, "no-return", json_no_return (step, board));
}

static json_t *
json_step (const StepAccount *step, guint number, const Board *board)
{
    static const char *const verbs[] = { "remove", "fit", "write" };
    static const char *const powers[] = { "off", "on", "standby" };
    json_t *object = json_object ();

    json_set_text (object, "do", verbs[step->step->kind]);
    json_object_set_new (object, "number", json_integer (number));
    if (step->step->kind == STEP_WRITE)
        set_write (object, step, board);
    else
        set_part (object, step, board);
    json_set_text (object, "power", powers[step->power]);
    if (step->opening > 0)
        json_object_set_new (object, "opening", json_integer (step->opening));
    json_object_set_new (object, "start", json_boolean (step->starts_unit));
    json_set_text (object, "starts-before", answer_key (step->starts_before));
    json_set_text (object, "starts-after", answer_key (step->starts_after));
    json_object_set_new (object, "minutes", json_number (step->minutes));
    json_object_set_new (object, "attended", json_number (step->attended));
    json_set_text (object, "why", step->why);
    json_object_set_new (object, "cautions", json_step_cautions (step));
    return object;
}

static json_t *
json_counts (const Walk *walk)
{
    json_t *counts = json_object ();

    json_object_set_new (counts, "steps", json_integer (walk->steps));
    json_object_set_new (counts, "insertions", json_integer (walk->insertions));
    json_object_set_new (counts, "openings", json_integer (walk->openings));
    json_object_set_new (counts, "starts", json_integer (walk->starts));
    json_object_set_new (counts, "minutes", json_number (walk->minutes));
    json_object_set_new (counts, "attended", json_number (walk->attended));
    return counts;
}

static json_t *
json_assumed_floors (const RouteReport *report)
{
    json_t *list = json_array ();
    const Board *board = report->unit->board;

    for (guint c = 0; report->answer->floor_assumed != NULL && c < board->components->len; c++)
        if (report->answer->floor_assumed[c])
            json_array_append_new (list, json_string (board_component (board, c)->name));
    return list;
}

static json_t *
json_case_releases (const Component *component, const RouteCase *one)
{
    json_t *list = json_array ();

    for (guint r = 0; r < component->releases->len; r++)
        if (one->may_be[r])
            json_array_append_new (list, json_string (component_release (component, r)->name));
    return list;
}

static json_t *
json_cases (const RouteReport *report)
{
    const Component *component = board_component (report->unit->board, report->answer->read_first);
    json_t *list = json_array ();

    for (guint i = 0; i < report->answer->cases->len; i++) {
        const RouteCase *one = g_ptr_array_index (report->answer->cases, i);
        json_t *entry = json_object ();

        json_object_set_new (entry, "releases", json_case_releases (component, one));
        json_object_set_new (entry, "combinations", json_integer (one->members));
        json_set_text (entry, "claim", claim_word (one->claim));
        if (one->claim == CLAIM_PROVED_SHORTEST || one->claim == CLAIM_BEST_FOUND)
            json_object_set_new (entry, "steps", json_integer (one->steps->len));
        json_array_append_new (list, entry);
    }
    return list;
}

static void
set_route (json_t *document, const RouteReport *report)
{
    const RouteAnswer *answer = report->answer;
    g_autoptr (RouteAccount) account =
        route_account_new (report->library, report->shop, report->unit, report->want, answer->steps);
    json_t *steps = json_array ();

    json_object_set_new (document, "counts", json_counts (answer->walk));
    json_object_set_new (document, "combinations", json_integer ((json_int_t) account->combinations));
    json_object_set_new (document, "floors-assumed", json_assumed_floors (report));
    json_object_set_new (document, "dark-after", json_number (account->dark_after_minutes));
    json_object_set_new (document, "cautions", json_cautions (account->top_cautions));
    for (guint i = 0; i < account->steps->len; i++)
        json_array_append_new (steps, json_step (g_ptr_array_index (account->steps, i), i + 1, report->unit->board));
    json_object_set_new (document, "steps", steps);
    if (account->start_at_end) {
        json_t *last_start = json_object ();

        json_object_set_new (last_start, "after-parts", json_boolean (account->end_after_parts));
        json_object_set_new (last_start, "cautions", json_cautions (account->end_cautions));
        json_object_set_new (document, "last-start", last_start);
    }
}

char *
report_route_json (const RouteReport *report)
{
    const RouteAnswer *answer = report->answer;
    json_t *document = json_object ();
    g_autofree char *title = g_strdup_printf ("%s to %s", report->unit->id,
                                              report->want->name == NULL ? "what is wanted" : report->want->name);
    g_autofree char *want = words_want (report->unit->board, report->want);

    json_set_text (document, "route", title);
    json_set_text (document, "schema", SCHEMA_NAME);
    json_object_set_new (document, "version", json_integer (SCHEMA_VERSION));
    json_object_set_new (document, "for", json_unit (report->unit));
    json_set_text (document, "wanted", want);
    json_set_text (document, "claim", claim_word (answer->claim));
    json_set_text (document, "proof", answer->proof);
    json_object_set_new (document, "at-least", json_integer (answer->lower_bound));
    json_set_text (document, "reason", answer->reason);
    if (answer->steps != NULL && (answer->claim == CLAIM_PROVED_SHORTEST || answer->claim == CLAIM_BEST_FOUND))
        set_route (document, report);
    if (answer->claim == CLAIM_READ_FIRST) {
        json_set_text (document, "read-first", board_component (report->unit->board, answer->read_first)->name);
        if (answer->cases != NULL)
            json_object_set_new (document, "cases", json_cases (report));
    }
    return json_finish (document);
}
