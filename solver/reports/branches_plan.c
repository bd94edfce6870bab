/* SPDX-License-Identifier: MIT */
/* The parts of a plan with branches: where their cases stand, what their steps are called, their accounts. */
#include "reports/branches_plan.h"

#define LETTERS 26

static void
part_free (gpointer data)
{
    PlanPart *part = data;

    g_free (part->letter);
    g_free (part->before);
    g_ptr_array_unref (part->came_in);
    g_ptr_array_unref (part->starts);
    g_ptr_array_unref (part->ends);
    g_ptr_array_unref (part->labels);
    g_array_unref (part->way);
    g_ptr_array_unref (part->way_labels);
    route_account_free (part->account);
    route_account_free (part->way_account);
    g_free (part);
}

void
plan_sheet_free (PlanSheet *sheet)
{
    if (sheet == NULL)
        return;
    g_ptr_array_unref (sheet->parts);
    g_free (sheet);
}

char *
plan_part_letter (guint index)
{
    GString *letters = g_string_new (NULL);

    for (guint left = index + 1; left > 0; left = (left - 1) / LETTERS)
        g_string_prepend_c (letters, (char) ('A' + (left - 1) % LETTERS));
    return g_string_free (letters, FALSE);
}

const PlanPart *
plan_part_of (const GPtrArray *parts, const Branch *branch)
{
    for (guint i = 0; i < parts->len; i++)
        if (((const PlanPart *) parts->pdata[i])->branch == branch)
            return parts->pdata[i];
    g_assert_not_reached (); /* every branch of the plan is a leg */
}

gboolean
plan_part_is_running (const PlanPart *part)
{
    return part->after != NULL && part->after->branch->then == THEN_TRY && !part->branch->dark;
}

/* ---- Where the cases stand ---- */

/* Carries each case out from the unit as it came in, so that every state knows what the work began with. */
static void
carry_cases_out (PlanPart *part, const Unit *unit)
{
    const GArray *steps = part->branch->steps;
    guint before = part->way->len - steps->len;

    for (guint i = 0; i < part->branch->cases->len; i++) {
        State *state = state_from_unit (unit, part->branch->cases->pdata[i]);

        g_ptr_array_add (part->came_in, state_copy (state));
        for (guint s = 0; s < part->way->len; s++) {
            if (s == before)
                g_ptr_array_add (part->starts, state_copy (state));
            state_apply (state, &g_array_index (part->way, Step, s));
        }
        if (steps->len == 0)
            g_ptr_array_add (part->starts, state_copy (state));
        g_ptr_array_add (part->ends, state);
    }
}

static void
name_steps (PlanPart *part)
{
    const PlanPart *after = part->after;
    const GArray *steps = part->branch->steps;

    if (after != NULL)
        g_array_append_vals (part->way, after->way->data, after->way->len);
    for (guint i = 0; after != NULL && i < after->way_labels->len; i++)
        g_ptr_array_add (part->way_labels, g_strdup (after->way_labels->pdata[i]));
    g_array_append_vals (part->way, steps->data, steps->len);
    for (guint i = 0; i < steps->len; i++) {
        g_ptr_array_add (part->labels, g_strdup_printf ("%s%u", part->letter, i + 1));
        g_ptr_array_add (part->way_labels, g_strdup (part->labels->pdata[i]));
    }
}

static gboolean
some_part_is_moved (const GArray *steps)
{
    for (guint i = 0; i < steps->len; i++)
        if (g_array_index (steps, Step, i).kind != STEP_WRITE)
            return TRUE;
    return FALSE;
}

/* Parts were worked on since the unit was last seen to start; in the middle of its work a unit has been open. */
static gboolean
parts_are_touched (const PlanPart *part, const Unit *unit)
{
    for (const PlanPart *one = part; !plan_part_is_running (one); one = one->after) {
        if (one->after == NULL)
            return unit->began != NULL || unit->pulled != NULL;
        if (some_part_is_moved (one->after->branch->steps))
            return TRUE;
    }
    return FALSE;
}

/* ---- Parts ---- */

static char *
state_before (const PlanPart *part)
{
    if (part->after == NULL)
        return NULL;
    return part->branch->dark ? g_strdup_printf ("dark after part %s", part->after->letter)
                              : g_strdup_printf ("after part %s", part->after->letter);
}

static PlanPart *
part_new (const PlanSheet *sheet, guint index)
{
    const BranchLeg *leg = sheet->answer->legs->pdata[index];
    PlanPart *part = g_new0 (PlanPart, 1);

    g_assert (leg->parent < (int) index);
    part->branch = leg->branch;
    part->letter = plan_part_letter (index);
    part->after = leg->parent < 0 ? NULL : sheet->parts->pdata[leg->parent];
    part->all = sheet->parts;
    part->came_in = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    part->starts = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    part->ends = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    part->labels = g_ptr_array_new_with_free_func (g_free);
    part->way = g_array_new (FALSE, FALSE, sizeof (Step));
    part->way_labels = g_ptr_array_new_with_free_func (g_free);
    part->before = state_before (part);
    return part;
}

static void
tell_reports (PlanPart *part, const PlanSheet *sheet, guint index)
{
    const BranchLeg *leg = sheet->answer->legs->pdata[index];
    const GPtrArray *fallbacks = sheet->report->leg_fallbacks;

    part->report = *sheet->report;
    part->report.unit = leg->unit;
    part->report.answer = leg->answer;
    part->report.fallbacks = fallbacks == NULL ? NULL : fallbacks->pdata[index];
    part->report.part = &part->place;
    part->report.before = part->before;
    part->way_answer.steps = part->way;
    part->way_report = *sheet->report;
    part->way_report.answer = &part->way_answer;
    part->way_report.part = &part->way_place;
}

static void
make_accounts (PlanPart *part, const PlanSheet *sheet)
{
    const RouteReport *whole = sheet->report;
    Then then = part->branch->then;

    part->place = (AccountPart){
        part->starts,       part->labels, plan_part_is_running (part), parts_are_touched (part, whole->unit),
        .no_reasons = TRUE, .then = then
    };
    part->way_place = (AccountPart){ part->came_in, part->way_labels, .then = then };
    if (part->branch->steps->len > 0)
        part->account = route_account_new_for (whole->library, whole->shop, part->report.unit, whole->want,
                                               part->branch->steps, &part->place);
    if (part->way->len > 0 && (then == THEN_END || then == THEN_GIVE_UP))
        part->way_account = route_account_new_for (whole->library, whole->shop, whole->unit,
                                                   then == THEN_END ? whole->want : NULL, part->way, &part->way_place);
}

PlanSheet *
plan_sheet_new (const RouteReport *report)
{
    PlanSheet *sheet = g_new0 (PlanSheet, 1);

    g_assert (report->answer->claim == CLAIM_BRANCHES && report->answer->branches->legs->len > 0);
    sheet->report = report;
    sheet->answer = report->answer->branches;
    sheet->parts = g_ptr_array_new_with_free_func (part_free);
    for (guint i = 0; i < sheet->answer->legs->len; i++) {
        PlanPart *part = part_new (sheet, i);

        g_ptr_array_add (sheet->parts, part);
        name_steps (part);
        carry_cases_out (part, report->unit);
        tell_reports (part, sheet, i);
        make_accounts (part, sheet);
    }
    for (guint i = 0; i < sheet->parts->len; i++)
        plan_part_add_reasons (sheet->parts->pdata[i], report);
    return sheet;
}
