/* SPDX-License-Identifier: MIT */
/* The text sheet of a plan with branches: its top, then each part in full. */
#include "reports/branches_text.h"

#include "reports/records_text.h"
#include "reports/releases_text.h"
#include "reports/route_text.h"

/* ---- The top ---- */

/* The components whose release is not known. Transfer container; the names are borrowed. */
static GPtrArray *
unknown_components (const Unit *unit)
{
    GPtrArray *names = g_ptr_array_new ();

    for (guint c = 0; c < unit->board->components->len; c++)
        if (unit->releases[c].count > 1)
            g_ptr_array_add (names, (gpointer) board_component (unit->board, c)->name);
    return names;
}

static void
say_kind (Paper *paper, const PlanSheet *sheet, const GPtrArray *unknown)
{
    g_autofree char *names = text_join (unknown, "and");
    gboolean one = unknown->len == 1;

    paper_say (paper, 0, 2,
               MARK_STRONG "A plan with branches" MARK_PLAIN
                           ": the release%s of %s %s not known, and what to do later depends on %s. Begin with part "
                           "A. Where a part ends with a reading, what is read says with which part to go on.",
               one ? "" : "s", names, one ? "is" : "are", one ? "it" : "them");
    if (sheet->answer->single_steps > 0)
        paper_say (
            paper, 0, 2,
            "There is one order of steps that serves every release without a reading too; it has %u. Reading on the "
            "way saves steps at the worst.",
            sheet->answer->single_steps);
    else
        paper_say (paper, 0, 2, "No one order of steps serves every release that the unit may have.");
}

/* Below "any controller" stands for any of these. */
void
plan_text_may_have (Paper *paper, const Unit *unit)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint c = 0; c < unit->board->components->len; c++)
        if (unit->releases[c].count > 1)
            g_ptr_array_add (words, releases_of_component (board_component (unit->board, c), unit->releases[c].may_be));
    g_ptr_array_add (words, NULL);
    if (words->len > 1) {
        g_autofree char *all = g_strjoinv ("; ", (char **) words->pdata);

        paper_say (paper, 0, 2, "It may have: %s.", all);
    }
}

static void
say_claim (Paper *paper, const PlanSheet *sheet)
{
    Objective objective = sheet->report->answer->objective;
    guint amount = plan_worst_amount (sheet), least = MIN (sheet->answer->lower_bound, amount);
    g_autofree char *has = words_count_of (objective, amount);
    g_autofree char *bound = words_count_of (objective, least);
    g_autofree char *gap = words_count_of (objective, amount - least);
    gboolean time = objective == OBJECTIVE_TIME;

    route_text_asked_for (paper, objective);
    if (sheet->answer->claim == CLAIM_PROVED_SHORTEST)
        paper_say (paper, 0, 2,
                   "Worst case: " MARK_STRONG "%s" MARK_PLAIN ", proved least in the worst case: no plan %s in its "
                   "worst case.",
                   has, time ? "takes less" : "has fewer");
    else
        paper_say (paper, 0, 2,
                   "Worst case: " MARK_STRONG "%s" MARK_PLAIN ", best found, not proved least in the worst case: any "
                   "plan %s at least %s in its worst case; gap: %s.",
                   has, time ? "takes" : "has", bound, gap);
}

static void
say_counts (Paper *paper, const PlanSheet *sheet, const GPtrArray *unknown)
{
    const BranchCheck *check = sheet->answer->check;
    Objective objective = sheet->report->answer->objective;
    g_autofree char *steps = words_count (check->worst_steps, "step and ", "steps and ");
    g_autofree char *worst = words_minutes (check->worst_minutes);
    g_autofree char *average = words_number (check->expected_steps);
    g_autofree char *minutes = words_minutes (check->expected_minutes);

    paper_say (
        paper, 0, 2,
        "At most %s%s, readings included; on average %s steps and %s, each %s that it may have%s taken as equally "
        "likely.",
        objective == OBJECTIVE_STEPS ? "" : steps, worst, average, minutes,
        unknown->len == 1 ? "release" : "combination of releases", check->given_up > 0 ? ", of those with a way," : "");
}

/* Cases that have no way even when they are known. */
static void
say_given_up (Paper *paper, const PlanSheet *sheet)
{
    const GArray *costs = sheet->answer->check->costs;
    g_autoptr (GPtrArray) given_up = g_ptr_array_new ();
    g_autofree char *releases = NULL;

    for (guint i = 0; i < costs->len; i++)
        if (g_array_index (costs, BranchCost, i).given_up)
            g_ptr_array_add (given_up, (gpointer) g_array_index (costs, BranchCost, i).releases);
    if (given_up->len == 0)
        return;
    releases = releases_in_words (sheet->report->unit, given_up);
    paper_say (paper, 0, 2,
               MARK_BAD "No way for" MARK_PLAIN
                        " %s: no order of steps leads from there to what is wanted, also when it is "
                        "known. Every step of this plan is safe there too, and the sheet says where to stop.",
               releases);
}

void
plan_text_facts (Paper *paper, const PlanSheet *sheet)
{
    g_autoptr (GPtrArray) unknown = unknown_components (sheet->report->unit);

    say_kind (paper, sheet, unknown);
    plan_text_may_have (paper, sheet->report->unit);
    say_claim (paper, sheet);
    say_counts (paper, sheet, unknown);
    say_given_up (paper, sheet);
    route_text_assumed_floors (paper, sheet->report);
}

static char *
steps_in_words (const PlanPart *part)
{
    guint count = part->branch->steps->len;

    return count == 0 ? g_strdup ("no step") : words_count (count, "step", "steps");
}

void
plan_text_overview (Paper *paper, const PlanSheet *sheet)
{
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "The parts" MARK_PLAIN);
    for (guint i = 0; i < sheet->parts->len; i++) {
        const PlanPart *part = plan_part (sheet, i);
        g_autofree char *label = g_strdup_printf (MARK_STRONG "%s" MARK_PLAIN, part->letter);
        g_autofree char *condition = part->after == NULL ? NULL : plan_part_condition (part);
        g_autofree char *steps = steps_in_words (part);
        g_autofree char *then = plan_part_then (sheet, part);

        if (condition == NULL)
            paper_label (paper, 2, 5, label, "the beginning: %s; %s", steps, then);
        else
            paper_label (paper, 2, 5, label, "after %s, where %s: %s; %s", part->after->letter, condition, steps, then);
    }
}

void
plan_text_cautions (Paper *paper, const PlanSheet *sheet)
{
    for (guint i = 0; i < sheet->parts->len; i++) {
        const RouteAccount *account = plan_part (sheet, i)->account;

        if (account == NULL || account->top_cautions->len == 0)
            continue;
        paper_blank (paper);
        route_text_cautions (paper, 0, account->top_cautions);
        return;
    }
}

void
plan_text_looks (Paper *paper, const PlanSheet *sheet)
{
    g_autoptr (GArray) steps = g_array_new (FALSE, FALSE, sizeof (Step));
    const RouteAnswer all = { .steps = steps };
    RouteReport report = *sheet->report;

    for (guint i = 0; i < sheet->parts->len; i++) {
        const GArray *own = plan_part (sheet, i)->branch->steps;

        g_array_append_vals (steps, own->data, own->len);
    }
    report.answer = &all;
    route_text_looks (paper, &report);
}

static gboolean
has_dark_part (const PlanSheet *sheet)
{
    for (guint i = 0; i < sheet->parts->len; i++)
        if (plan_part (sheet, i)->branch->dark)
            return TRUE;
    return FALSE;
}

static void
say_how_to_begin (Paper *paper, const PlanSheet *sheet, guint count)
{
    g_autofree char *title = records_route_title (sheet->report);
    g_autofree char *labels =
        count == 1 ? g_strdup ("A1 is step 1") : g_strdup_printf ("A1 is step 1, A%u is step %u", count, count);

    paper_say (paper, 2, 4,
               "Print this plan with --json too, and keep the file (the route \"%s\"). Record the steps of part A by "
               "their numbers (%s), and with the last one what was read: `rungwise record RECORD --step %u --firmware "
               "COMPONENT=RELEASE --initials XX PATHS THAT-FILE`.",
               title, labels, count);
    paper_say (paper, 2, 4,
               "Then plan again with that file and the record among the PATHS: the new sheet has the rest of the work, "
               "with numbers of its own, and gets a record of its own. Every earlier record, and the file of the plan "
               "that it is of, stays among the PATHS from then on.");
}

void
plan_text_record (Paper *paper, const PlanSheet *sheet)
{
    const PlanPart *beginning = plan_part (sheet, 0);
    guint count = beginning->branch->steps->len;

    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "Keeping a record" MARK_PLAIN);
    if (sheet->report->in_batch) {
        records_text_by_batch (paper);
        return;
    }
    if (count == 0)
        paper_say (
            paper, 2, 4,
            "Nothing is done before the reading: put what was read into the unit's file and plan again. That sheet "
            "has numbers of its own, and a record names them.");
    else
        say_how_to_begin (paper, sheet, count);
    if (has_dark_part (sheet))
        paper_say (
            paper, 2, 4,
            "Where nothing was read because it stayed dark, what may still be on it stands in the part for that: say "
            "so in the same place, as a range ('1.0 .. 1.4') or in the file as a list.");
    if (has_dark_part (sheet) && count > 0)
        records_text_dark_fit (paper);
}

/* ---- The whole ---- */

static void
say_rows (Paper *paper, const PlanPart *part)
{
    for (guint i = 0; i < part->branch->next->len; i++) {
        const PlanPart *next = plan_part_of (part->all, part->branch->next->pdata[i]);
        g_autofree char *condition = plan_part_condition (next);

        paper_say (paper, 4, 6, "%s: go on with " MARK_STRONG "part %s" MARK_PLAIN, condition, next->letter);
    }
}

static void
say_part (Paper *paper, const PlanSheet *sheet, const PlanPart *part)
{
    g_autofree char *title = plan_part_title (part);

    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "==== %s ====" MARK_PLAIN, title);
    plan_text_part_facts (paper, part);
    if (part->account != NULL)
        route_text_steps (paper, &part->report, part->account);
    plan_text_reading (paper, sheet, part);
    say_rows (paper, part);
    plan_text_reading_else (paper, part);
    if (part->branch->then == THEN_GIVE_UP)
        plan_text_give_up (paper, part);
    plan_text_below (paper, part);
}

void
plan_text (Paper *paper, const RouteReport *report)
{
    g_autoptr (PlanSheet) sheet = plan_sheet_new (report);

    plan_text_facts (paper, sheet);
    plan_text_overview (paper, sheet);
    plan_text_cautions (paper, sheet);
    for (guint i = 0; i < sheet->parts->len; i++)
        say_part (paper, sheet, plan_part (sheet, i));
    plan_text_looks (paper, sheet);
    plan_text_record (paper, sheet);
}
