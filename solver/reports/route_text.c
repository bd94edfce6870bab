/* SPDX-License-Identifier: MIT */
/* The bench sheet of a route: head, counts, notes, steps, end; or what to read first. */
#include "reports/route_text.h"
#include "reports/branches_text.h"
#include "reports/records_text.h"
#include "reports/releases_text.h"

void
route_text_head (Paper *paper, const RouteReport *report)
{
    const Unit *unit = report->unit;
    g_autofree char *want = words_want (unit->board, report->want);

    paper_say (paper, 0, 2, MARK_STRONG "Unit %s" MARK_PLAIN ", board %s, revision %s", unit->id, unit->board->name,
               (const char *) g_ptr_array_index (unit->board->revisions, unit->revision));
    if (unit->note != NULL)
        paper_say (paper, 0, 2, "note in its file: %s", unit->note);
    if (report->want->name != NULL)
        paper_say (paper, 0, 2, "wanted (%s): %s", report->want->name, want);
    else
        paper_say (paper, 0, 2, "wanted: %s", want);
    if (records_are_there (report->records)) {
        g_autofree char *records = records_in_words (report->records);

        paper_say (paper, 0, 2, "planned on from %s", records);
        if (records_have_failed_entry (report->records))
            paper_say (
                paper, 2, 4,
                "a part whose fitting failed is taken as set aside and its slot as empty, and what a failed write "
                "was to set as lost, unless the entry says what was found");
    }
    if (report->batch_note != NULL)
        paper_say (paper, 0, 2, MARK_CAUTION "Of a batch" MARK_PLAIN ": %s", report->batch_note);
    paper_blank (paper);
}

void
route_text_assumed_floors (Paper *paper, const RouteReport *report)
{
    const Unit *unit = report->unit;

    if (report->answer->floor_assumed == NULL)
        return;
    for (guint c = 0; c < unit->board->components->len; c++) {
        const Component *component = board_component (unit->board, c);

        if (report->answer->floor_assumed[c])
            paper_say (paper, 0, 2,
                       "Assumed: %s has held nothing that forbids going lower than its present release does. The unit "
                       "file gives no floor for it; if a later release was on it once, read the floor first.",
                       component->name);
    }
}

static void
say_cases (Paper *paper, const RouteAccount *account)
{
    if (!account->all_cases)
        paper_say (paper, 0, 2,
                   "The unit may have %" G_GUINT64_FORMAT " combinations of releases. What follows is told for the "
                   "lowest of each; the order of the steps holds for all.",
                   account->combinations);
    else if (account->cases > 1)
        paper_say (paper, 0, 2, "Serves all %u combinations of releases that the unit may have.", account->cases);
}

void
route_text_facts (Paper *paper, const RouteReport *report, const RouteAccount *account)
{
    if (report->answer->steps->len == 0) {
        paper_say (paper, 0, 2,
                   MARK_GOOD "No step is needed" MARK_PLAIN
                             ": the unit starts as it stands, and it is what is wanted.");
        return;
    }
    route_text_claim (paper, report->answer);
    say_cases (paper, account);
    route_text_assumed_floors (paper, report);
}

static void
say_route (Paper *paper, const RouteReport *report)
{
    const RouteAnswer *answer = report->answer;
    g_autoptr (RouteAccount) account = NULL;

    if (answer->steps->len > 0)
        account = route_account_new (report->library, report->shop, report->unit, report->want, answer->steps);
    route_text_facts (paper, report, account);
    if (account == NULL)
        return;
    if (account->top_cautions->len > 0)
        paper_blank (paper);
    route_text_cautions (paper, 0, account->top_cautions);
    route_text_steps (paper, report, account);
    route_text_end (paper, report, account);
    route_text_before_it_leaves (paper, report, account, NULL);
    route_text_recovery (paper, report, account);
    route_text_looks (paper, report);
    records_text_going_on (paper, report);
    route_text_alternatives (paper, report);
}

/* Another component's release is not known either. */
static gboolean
more_to_read (const RouteReport *report)
{
    for (guint c = 0; c < report->unit->board->components->len; c++)
        if (c != report->answer->read_first && report->unit->releases[c].count > 1)
            return TRUE;
    return FALSE;
}

static void
say_case_outlook (Paper *paper, const RouteReport *report, const RouteCase *one)
{
    const Component *component = board_component (report->unit->board, report->answer->read_first);
    g_autofree char *releases = releases_of_component (component, one->may_be);
    g_autofree char *steps = words_count (one->steps != NULL ? one->steps->len : 0, "step", "steps");
    static const char *const proved[OBJECTIVE_COUNT] = { "shortest", "least in insertions", "fastest" };

    switch (one->claim) {
    case CLAIM_PROVED_SHORTEST:
        paper_say (paper, 2, 4, "%s: a route of %s, proved %s", releases, steps, proved[report->answer->objective]);
        break;
    case CLAIM_BEST_FOUND:
        paper_say (paper, 2, 4, "%s: a route of %s, the best found", releases, steps);
        break;
    case CLAIM_NO_ROUTE:
        paper_say (paper, 2, 4, "%s: no %sroute, proved", releases, more_to_read (report) ? "single " : "");
        break;
    default:
        paper_say (paper, 2, 4, "%s: no route found within the effort", releases);
        break;
    }
}

static void
say_read_first (Paper *paper, const RouteReport *report)
{
    const RouteAnswer *answer = report->answer;
    const Component *component = board_component (report->unit->board, answer->read_first);

    paper_say (paper, 0, 2,
               MARK_STRONG "Read first: the release of %s." MARK_PLAIN
                           " No one route serves every release that the unit may have.",
               component->name);
    if (answer->reason != NULL)
        paper_say (paper, 0, 2, "%s", answer->reason);
    if (answer->cases == NULL)
        return;
    paper_say (paper, 0, 2, "What would follow:");
    for (guint i = 0; i < answer->cases->len; i++)
        say_case_outlook (paper, report, g_ptr_array_index (answer->cases, i));
    paper_say (paper, 0, 2, "Put the release that was read into the unit's file, and ask again.");
}

void
route_text_without (Paper *paper, const RouteReport *report)
{
    if (report->answer->claim == CLAIM_READ_FIRST)
        say_read_first (paper, report);
    else
        route_text_none (paper, report);
}

char *
report_route_text (const RouteReport *report, gboolean colour)
{
    Paper *paper = paper_new (colour);

    route_text_head (paper, report);
    switch (report->answer->claim) {
    case CLAIM_PROVED_SHORTEST:
    case CLAIM_BEST_FOUND:
        say_route (paper, report);
        break;
    case CLAIM_BRANCHES:
        plan_text (paper, report);
        break;
    default:
        route_text_without (paper, report);
        break;
    }
    return paper_finish (paper);
}
