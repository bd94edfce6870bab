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

static void
add_lent (const Planning *planning, GArray *more, const PublishedTask *task)
{
    const Step *step = &task->step;
    guint there = step->kind == STEP_FIT && step->owner == OWNER_LOAN ? count_in_shop (planning->question->shop, step)
                                                                      : G_MAXUINT;
    Lot lot = { OWNER_LOAN, step->part, step->stepping, 0, step->bound, MARK_NONE };

    if (task->part_number <= there || there == G_MAXUINT)
        return;
    lot.count = task->part_number - there;
    for (guint i = 0; i < more->len; i++) {
        Lot *known = &g_array_index (more, Lot, i);

        if (known->part != lot.part || known->stepping != lot.stepping || known->bound != lot.bound)
            continue;
        known->count = MAX (known->count, lot.count);
        return;
    }
    g_array_append_val (more, lot);
}

GArray *
replan_lent (const Planning *planning)
{
    const GPtrArray *units = planning->question->published->units;
    GArray *more = g_array_new (FALSE, FALSE, sizeof (Lot));

    for (guint i = 0; i < units->len; i++) {
        const PublishedUnit *unit = units->pdata[i];

        for (guint k = 0; k < unit->tasks->len; k++)
            add_lent (planning, more, &g_array_index (unit->tasks, PublishedTask, k));
    }
    return more;
}

Shop *
replan_shelf (const Shop *shop, const GArray *more)
{
    Shop *shelf = shop_copy (shop);

    g_array_append_vals (shelf->lots, more->data, more->len);
    return shelf;
}
