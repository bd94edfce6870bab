/* SPDX-License-Identifier: MIT */
/* Pulled parts that the published timetable lends. */
#include "batch/plan.h"

static guint
count_in_shop (const Shop *shop, const Step *fit)
{
    guint count = 0;

    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *lot = &g_array_index (shop->lots, Lot, i);

        if (lot->owner == fit->owner && lot->part == fit->part && lot->stepping == fit->stepping &&
            lot->bound == fit->bound)
            count += lot->count;
    }
    return count;
}

static Lot *
alike (GArray *lots, const Lot *lot)
{
    for (guint i = 0; i < lots->len; i++) {
        Lot *known = &g_array_index (lots, Lot, i);

        if (known->owner == lot->owner && known->part == lot->part && known->stepping == lot->stepping &&
            known->bound == lot->bound)
            return known;
    }
    return NULL;
}

/* `number`: of the part within its lot, those of the shop first. */
static void
add_lent (const Planning *planning, GArray *more, const Step *step, guint number)
{
    guint there = step->kind == STEP_FIT && step->owner == OWNER_LOAN ? count_in_shop (planning->question->shop, step)
                                                                      : G_MAXUINT;
    Lot lot = { OWNER_LOAN, step->part, step->stepping, 0, step->bound, MARK_NONE };
    Lot *known = NULL;

    if (number <= there || there == G_MAXUINT)
        return;
    lot.count = number - there;
    known = alike (more, &lot);
    if (known != NULL)
        known->count = MAX (known->count, lot.count);
    else
        g_array_append_val (more, lot);
}

/* Routes that were left say no numbers; that there was one is enough for the record of one unit. */
static void
add_lent_earlier (const Planning *planning, GArray *more, const BatchEarlier *earlier)
{
    for (guint i = 0; i < earlier->steps->len; i++)
        add_lent (planning, more, &g_array_index (earlier->steps, Step, i), 1);
}

GArray *
replan_lent (const Planning *planning)
{
    const GPtrArray *units = planning->question->published->units;
    GArray *more = g_array_new (FALSE, FALSE, sizeof (Lot));

    for (guint i = 0; i < units->len; i++) {
        const PublishedUnit *unit = units->pdata[i];

        for (guint k = 0; unit->earlier != NULL && k < unit->earlier->len; k++)
            add_lent_earlier (planning, more, unit->earlier->pdata[k]);
        for (guint k = 0; k < unit->tasks->len; k++) {
            const PublishedTask *task = &g_array_index (unit->tasks, PublishedTask, k);

            add_lent (planning, more, &task->step, task->part_number);
        }
    }
    return more;
}

/* In one lot with those of the shop that are alike, so that what a record loses can be told by the count. */
Shop *
replan_shelf (const Shop *shop, const GArray *more)
{
    Shop *shelf = shop_copy (shop);

    for (guint i = 0; i < more->len; i++) {
        const Lot *lot = &g_array_index (more, Lot, i);
        Lot *known = alike (shelf->lots, lot);

        if (known != NULL)
            known->count += lot->count;
        else
            g_array_append_val (shelf->lots, *lot);
    }
    return shelf;
}

/* ---- A unit that is planned anew while its part is elsewhere ---- */

static gboolean
lies_beside (const Unit *unit, const Step *fit)
{
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        const Fitted *one = &g_array_index (unit->pulled, Fitted, i);

        if (one->part == fit->part && one->stepping == fit->stepping && one->bound == fit->bound)
            return TRUE;
    }
    return FALSE;
}

/* The timetable knows parts of a kind as a number, not whose each is: so it is asked, and not taken for certain. */
static void
ask_whose (Planning *planning, guint holder, const Step *fit)
{
    g_autofree char *part = g_strdup_printf ("%s%s%s", fit->part->name, fit->stepping == NULL ? "" : " ",
                                             fit->stepping == NULL ? "" : fit->stepping);

    for (guint i = 0; i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];

        if (i != holder && plan->anew && lies_beside (plan->unit, fit))
            g_ptr_array_add (planning->batch->said,
                             g_strdup_printf ("%s is planned anew as if its %s lay beside it, and %s holds one that some unit "
                                              "lends. If that is the same part, wait until it is back, and plan again",
                                              plan->unit->id, part, planning->plans[holder].unit->id));
    }
}

static gboolean
is_out_again (const PublishedUnit *published, guint fit, guint done)
{
    guint slot = g_array_index (published->tasks, PublishedTask, fit).step.slot;

    for (guint k = fit + 1; k < done; k++) {
        const Step *step = &g_array_index (published->tasks, PublishedTask, k).step;

        if (step->kind == STEP_REMOVE && step->slot == slot)
            return TRUE;
    }
    return FALSE;
}

void
replan_ask_whose (Planning *planning)
{
    for (guint i = 0; i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];
        guint begun = plan->done + (plan->under_way >= 0 ? 1 : 0);

        for (guint k = 0; plan->published != NULL && !plan->anew && k < MIN (begun, plan->published->tasks->len); k++) {
            const PublishedTask *task = &g_array_index (plan->published->tasks, PublishedTask, k);
            const Step *step = &task->step;

            if (step->kind == STEP_FIT && step->owner == OWNER_LOAN &&
                task->part_number > count_in_shop (planning->question->shop, step) &&
                !is_out_again (plan->published, k, plan->done))
                ask_whose (planning, i, step);
        }
    }
}
