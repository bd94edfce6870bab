/* SPDX-License-Identifier: MIT */
/* Pulled parts that the published timetable lends. */
#include "batch/plan.h"

static Lot *
alike (GArray *lots, const Lot *lot)
{
    for (guint i = 0; i < lots->len; i++) {
        Lot *known = &g_array_index (lots, Lot, i);

        if (lot_is_like (known, lot))
            return known;
    }
    return NULL;
}

/* So many of them were pulled, those that broke since counted too; 1 where the timetable does not say. */
static guint
count_pulled (const Planning *planning, const Lot *lot, guint there)
{
    const GArray *parts = planning->question->published->parts, *lost = planning->question->published->lost;
    guint count = 0;

    for (guint i = 0; i < lost->len; i++) {
        const PublishedLost *one = &g_array_index (lost, PublishedLost, i);

        count += one->of != NULL && one->part == lot->part && one->stepping == lot->stepping && one->bound == lot->bound;
    }

    for (guint i = 0; i < parts->len; i++) {
        const PublishedPart *one = &g_array_index (parts, PublishedPart, i);

        count += one->part == lot->part && one->stepping == lot->stepping && one->bound == lot->bound &&
                 one->number > there;
    }
    return MAX (count, 1);
}

/* `number`: of the part within its lot, those of the shop first. */
static void
add_lent (const Planning *planning, GArray *more, const Step *step, guint number)
{
    Lot lot = { OWNER_LOAN, step->part, step->stepping, 0, step->bound, MARK_NONE };
    guint there = step->kind == STEP_FIT && step->owner == OWNER_LOAN ? lot_had (planning, &lot) : G_MAXUINT;
    Lot *known = NULL;

    if (number <= there || there == G_MAXUINT)
        return;
    known = alike (more, &lot);
    if (known != NULL)
        return;
    lot.count = count_pulled (planning, &lot, there);
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

GArray *
replan_lent_left (const Planning *planning, const GArray *lent)
{
    const GArray *lost = planning->batch->replan->lost;
    GArray *left = g_array_copy ((GArray *) lent);

    for (guint i = 0; i < lost->len; i++) {
        const BatchLost *one = &g_array_index (lost, BatchLost, i);
        Lot lot = { one->owner, one->part, one->stepping, 1, one->bound, MARK_NONE };
        Lot *known = one->number > lot_had (planning, &lot) ? alike (left, &lot) : NULL;

        if (known != NULL)
            known->count -= MIN (known->count, 1);
    }
    return left;
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
