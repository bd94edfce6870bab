/* SPDX-License-Identifier: MIT */
/* A route as JSON: docs/route-json.md, docs/schemas/printed-route.schema.json. The first key is `route`, so that the document is also
 * a written route (docs/files.md, "Route"). */
#include "reports/branches_json.h"
#include "reports/records_text.h"
#include "reports/route_json.h"
#include "reports/route_none_json.h"
#include "route/branched.h"

#define SCHEMA_NAME    "rungwise-route"
#define SCHEMA_VERSION 2

const char *
json_claim_word (Claim claim)
{
    static const char *const words[] = { "proved-shortest", "best-found", "no-route", "not-found",
                                         "read-first",      "own-fault",  "branches" };

    return words[claim];
}

json_t *
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

json_t *
json_amount (Objective objective, guint amount)
{
    return objective == OBJECTIVE_TIME ? json_number (amount / 10.0) : json_integer (amount);
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
        json_set_text (entry, "claim", json_claim_word (one->claim));
        if (one->claim == CLAIM_PROVED_SHORTEST || one->claim == CLAIM_BEST_FOUND)
            json_object_set_new (entry, "steps", json_integer (one->steps->len));
        json_array_append_new (list, entry);
    }
    return list;
}

void
json_set_steps (json_t *object, const RouteReport *report, const RouteAccount *account)
{
    json_t *steps = json_array ();

    if (account != NULL)
        json_object_set_new (object, "cautions", json_cautions (account->top_cautions));
    for (guint i = 0; account != NULL && i < account->steps->len; i++)
        json_array_append_new (steps, json_step (report, account, i));
    json_object_set_new (object, "steps", steps);
    if (account != NULL && account->start_at_end) {
        json_t *last_start = json_object ();

        json_object_set_new (last_start, "after-parts", json_boolean (account->end_after_parts));
        json_object_set_new (last_start, "cautions", json_cautions (account->end_cautions));
        json_object_set_new (object, "last-start", last_start);
    }
}

static void
set_route (json_t *document, const RouteReport *report)
{
    const RouteAnswer *answer = report->answer;
    g_autoptr (RouteAccount) account =
        route_account_new (report->library, report->shop, report->unit, report->want, answer->steps);
    guint amount = amount_of_walk (answer->objective, answer->walk);

    json_object_set_new (document, "gap", json_amount (answer->objective, amount - MIN (answer->lower_bound, amount)));
    json_object_set_new (document, "counts", json_counts (answer->walk));
    json_object_set_new (document, "combinations", json_integer ((json_int_t) account->combinations));
    json_object_set_new (document, "floors-assumed", json_assumed_floors (report));
    json_object_set_new (document, "dark-after", json_number (account->dark_after_minutes));
    json_set_steps (document, report, account);
    json_set_beside (document, report, account);
    json_set_alternatives (document, report);
}

static json_t *
json_records (const GPtrArray *records)
{
    json_t *object = json_object ();

    json_set_text (object, "record", records_last (records)->name);
    json_object_set_new (object, "entries", json_integer (records_entries (records)));
    return object;
}

char *
report_route_json (const RouteReport *report)
{
    const RouteAnswer *answer = report->answer;
    json_t *document = json_object ();
    g_autofree char *title = records_route_title (report);
    g_autofree char *want = words_want (report->unit->board, report->want);

    json_set_text (document, "route", title);
    json_set_text (document, "schema", SCHEMA_NAME);
    json_object_set_new (document, "version", json_integer (SCHEMA_VERSION));
    json_object_set_new (document, "for", json_unit (report->unit));
    json_set_text (document, "wanted", want);
    if (records_are_there (report->records))
        json_object_set_new (document, "record", json_records (report->records));
    json_set_text (document, "claim", json_claim_word (answer->claim));
    json_set_text (document, "proof", answer->proof);
    json_set_text (document, "objective", objective_name (answer->objective));
    json_object_set_new (document, "at-least",
                         json_amount (answer->objective, answer->claim == CLAIM_BRANCHES ? answer->branches->lower_bound
                                                                                         : answer->lower_bound));
    json_set_text (document, "reason", answer->reason);
    if (answer->steps != NULL && (answer->claim == CLAIM_PROVED_SHORTEST || answer->claim == CLAIM_BEST_FOUND))
        set_route (document, report);
    if (answer->claim == CLAIM_BRANCHES) {
        json_object_set_new (document, "floors-assumed", json_assumed_floors (report));
        json_set_branches (document, report);
    }
    if (answer->claim == CLAIM_READ_FIRST) {
        json_set_text (document, "read-first", board_component (report->unit->board, answer->read_first)->name);
        if (answer->cases != NULL)
            json_object_set_new (document, "cases", json_cases (report));
    }
    if (report->none != NULL)
        json_object_set_new (document, "none", none_to_json (report));
    return json_finish (document);
}
