/* SPDX-License-Identifier: MIT */
/* Why each step of a plan with branches is there: some way through the plan is refused without it, or something could not be
 * tried or read on the way. */
#include "reports/branches_plan.h"

static gboolean
leads_through (const PlanPart *leaf, const PlanPart *part)
{
    for (const PlanPart *one = leaf; one != NULL; one = one->after)
        if (one == part)
            return TRUE;
    return FALSE;
}

/* Where the part's own steps begin on the way. */
static guint
steps_before (const PlanPart *part)
{
    return part->way->len - part->branch->steps->len;
}

static const StepAccount *
on_the_way (const PlanPart *leaf, const PlanPart *part, guint index)
{
    return leaf->way_account->steps->pdata[steps_before (part) + index];
}

/* A way through the part that is refused without its step; ways to the end first. NULL: none is. */
static const PlanPart *
way_that_needs (const PlanPart *part, guint index)
{
    static const Then leaves[] = { THEN_END, THEN_GIVE_UP };

    for (guint kind = 0; kind < G_N_ELEMENTS (leaves); kind++)
        for (guint i = 0; i < part->all->len; i++) {
            const PlanPart *leaf = part->all->pdata[i];

            if (leaf->branch->then == leaves[kind] && leads_through (leaf, part) &&
                on_the_way (leaf, part, index)->needed)
                return leaf;
        }
    return NULL;
}

static void
take_reason (const PlanPart *part, guint index, const PlanPart *leaf, StepAccount *step)
{
    const StepAccount *found = on_the_way (leaf, part, index);
    int by = found->needed_by - (int) steps_before (part);

    step->why = g_strdup (found->why);
    step->needed = TRUE;
    step->needed_rule = found->needed_rule;
    step->needed_by = by >= 0 && (guint) by < part->branch->steps->len ? by : -1;
    if (found->needed_by >= 0 && step->needed_by < 0)
        step->needed_label = leaf->way_labels->pdata[found->needed_by];
}

/* ---- What is tried and read ---- */

/* What is learnt where `reads` ends is the same without the step in every case. */
static gboolean
learns_without (const PlanPart *reads, guint left_out, const RouteReport *report)
{
    for (guint i = 0; i < reads->ends->len; i++) {
        const State *with = reads->ends->pdata[i];
        g_autoptr (State) without = state_copy (reads->came_in->pdata[i]);
        gboolean learns = FALSE;

        for (guint s = 0; s < reads->way->len; s++)
            if (s != left_out)
                state_apply (without, &g_array_index (reads->way, Step, s));
        if (reads->branch->then == THEN_READ)
            learns = page_can_be_read (report->library, report->shop, without, reads->branch->component);
        else
            learns = start_can_be_tried (report->library, report->shop, without) &&
                     state_starts (report->library, report->shop, with) ==
                         state_starts (report->library, report->shop, without);
        if (!learns)
            return FALSE;
    }
    return TRUE;
}

/* "so that the start after part A can tell the releases apart"; NULL: nothing tried or read needs the step. */
static char *
needed_to_learn (const PlanPart *part, guint index, const RouteReport *report)
{
    for (guint i = 0; i < part->all->len; i++) {
        const PlanPart *reads = part->all->pdata[i];
        Then then = reads->branch->then;

        if ((then != THEN_TRY && then != THEN_READ) || !leads_through (reads, part) ||
            learns_without (reads, steps_before (part) + index, report))
            continue;
        if (then == THEN_TRY)
            return g_strdup_printf ("so that the start tried at the end of part %s tells the releases apart",
                                    reads->letter);
        return g_strdup_printf ("so that the release of %s can be read at the end of part %s",
                                board_component (report->unit->board, reads->branch->component)->name, reads->letter);
    }
    return NULL;
}

static const PlanPart *
some_way (const PlanPart *part)
{
    for (guint i = 0; i < part->all->len; i++) {
        const PlanPart *leaf = part->all->pdata[i];

        if (leaf->way_account != NULL && leads_through (leaf, part))
            return leaf;
    }
    g_assert_not_reached (); /* every part with steps leads to an end */
}

void
plan_part_add_reasons (PlanPart *part, const RouteReport *report)
{
    for (guint i = 0; i < part->branch->steps->len; i++) {
        StepAccount *step = part->account->steps->pdata[i];
        const PlanPart *leaf = way_that_needs (part, i);

        step->needed_by = -1;
        if (leaf != NULL) {
            take_reason (part, i, leaf, step);
            continue;
        }
        step->why = needed_to_learn (part, i, report);
        step->needed = step->why != NULL;
        if (step->why == NULL)
            step->why = g_strdup (on_the_way (some_way (part), part, i)->why);
    }
}
