/* SPDX-License-Identifier: MIT */
/* Pulled parts by whose they are: a part that a published timetable lends on stays the part of its unit, with its number, whatever
 * becomes of that unit's route. docs/batch.md, "When it goes wrong". */
#include "batch/plan.h"

void
gifts_read (Planning *planning)
{
    const GArray *parts = planning->question->published->parts;
    g_autoptr (GHashTable) index = g_hash_table_new (g_str_hash, g_str_equal);

    for (guint i = 0; i < planning_units (planning); i++)
        g_hash_table_insert (index, (gpointer) planning_unit (planning, i)->unit->id, GUINT_TO_POINTER (i + 1));
    for (guint i = 0; i < parts->len; i++) {
        const PublishedPart *one = &g_array_index (parts, PublishedPart, i);
        guint unit = GPOINTER_TO_UINT (g_hash_table_lookup (index, one->unit));
        KnownGift gift = { .lot = { OWNER_LOAN, one->part, one->stepping, 1, one->bound, MARK_NONE },
                           .unit = unit - 1,
                           .step = one->step,
                           .number = one->number,
                           .serial = one->serial };

        /* What is not lent on any more is not known to be given; nor what the shop has under that number by now. */
        if (unit > 0 && planning->shop->lend_pulled_parts && !planning_unit (planning, gift.unit)->unit->own_parts_stay &&
            one->number > lot_had (planning, &gift.lot))
            gift_add (planning, &gift);
    }
}

void
gift_lose (Planning *planning, const Lot *lot, guint number, const char *of, guint step)
{
    KnownGift *known = gift_find (planning, lot, number);
    KnownGift gift = { .lot = *lot, .step = step, .number = number, .lost = TRUE };

    if (known != NULL) {
        known->lost = TRUE;
        return;
    }
    while (of != NULL && gift.unit < planning_units (planning) &&
           strcmp (planning_unit (planning, gift.unit)->unit->id, of) != 0)
        gift.unit++;
    if (of != NULL && gift.unit < planning_units (planning))
        gift_add (planning, &gift);
}

gboolean
gift_is_given (const Planning *planning, const KnownGift *gift)
{
    const UnitPlan *plan = &planning->plans[gift->unit];

    if (gift->gone || gift->lost)
        return FALSE;
    if (gift->step == G_MAXUINT)
        return TRUE;
    /* How far a unit is by a record that can't have happened nobody knows: only what another record shows. */
    if (planning_unit (planning, gift->unit)->aside == ASIDE_RECORD)
        return gift->by_record;
    return !plan->anew && plan->done > gift->step;
}

gboolean
gift_is_lost (const Planning *planning, guint pool, guint unit, guint step)
{
    const KnownGift *gift = gift_of_step (planning, &g_array_index (planning->pools, Pool, pool).lot, unit, step);

    return gift != NULL && gift->lost;
}

int
gift_beyond_modes (const Planning *planning, const KnownGift *gift)
{
    const UnitPlan *plan = &planning->plans[gift->unit];
    gboolean aside = planning_unit (planning, gift->unit)->aside != ASIDE_NOT;

    if (gift_is_given (planning, gift))
        return gift->step == G_MAXUINT || aside ? 1 : 0;
    return gift->lost && gift->step != G_MAXUINT && !aside && !plan->anew ? -1 : 0;
}

int
gifts_beyond_modes (const Planning *planning, guint pool)
{
    const Lot *lot = &g_array_index (planning->pools, Pool, pool).lot;
    int count = 0;

    for (guint i = 0; i < planning->gifts->len; i++) {
        const KnownGift *gift = &g_array_index (planning->gifts, KnownGift, i);

        count += lot_is_like (&gift->lot, lot) ? gift_beyond_modes (planning, gift) : 0;
    }
    return count;
}

/* ---- A pool's gifts, in the order of its lanes ---- */

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
    const Gift *left = a, *right = b;
    return (left->number > right->number) - (left->number < right->number);
}

static int
compare_times (gconstpointer a, gconstpointer b)
{
    const Gift *left = a, *right = b;
    if (left->at != right->at)
        return left->at < right->at ? -1 : 1;
    if (left->unit != right->unit)
        return left->unit < right->unit ? -1 : 1;
    return (left->step > right->step) - (left->step < right->step);
}

/* No part has had it yet, nor any of those behind it. */
static guint
fresh_number (const Planning *planning, const Lot *lot)
{
    const GArray *lost = planning->batch->replan != NULL ? planning->batch->replan->lost : NULL;
    guint highest = lot_had (planning, lot);

    for (guint i = 0; i < planning->gifts->len; i++) {
        const KnownGift *gift = &g_array_index (planning->gifts, KnownGift, i);

        highest = lot_is_like (&gift->lot, lot) ? MAX (highest, gift->number) : highest;
    }
    for (guint i = 0; lost != NULL && i < lost->len; i++) {
        const BatchLost *one = &g_array_index (lost, BatchLost, i);
        gboolean alike = one->owner == lot->owner && one->part == lot->part && one->stepping == lot->stepping &&
                         one->bound == lot->bound;

        highest = alike ? MAX (highest, one->number) : highest;
    }
    return highest + 1;
}

static const char *
serial_of_step (const Planning *planning, guint index, const BatchMode *mode, guint step)
{
    const Unit *of = planning->plans[index].unit;
    g_autoptr (GArray) pulled = steps_pull (of, mode->steps);

    for (guint i = 0; i < pulled->len; i++) {
        const Pulled *one = &g_array_index (pulled, Pulled, i);

        if (one->step == step)
            return unit_piece (of, one->slot)->serial;
    }
    return NULL;
}

/* What a unit's mode gives to the pool by steps that are done, or by those that are not. Known numbers stay; 0: none is known. */
static void
add_of_mode (const Planning *planning, guint pool, guint index, guint mode, gboolean done, GArray *gifts)
{
    const UnitPlan *plan = &planning->plans[index];
    const Lot *lot = &g_array_index (planning->pools, Pool, pool).lot;
    const ModeDraws *draws = planning_draws (planning, plan->class, mode);

    for (guint k = 0; k < draws->gives->len; k++) {
        const Give *give = &g_array_index (draws->gives, Give, k);
        const KnownGift *known = NULL;

        if (give->pool != pool || (give->step < plan->done) != done)
            continue;
        known = gift_of_step (planning, lot, index, give->step);
        if (known != NULL && (done || known->lost))
            continue;
        Gift gift = { 0, index, give->step, known != NULL ? known->number : 0,
                      known != NULL
                          ? known->serial
                          : serial_of_step (planning, index,
                                            class_mode (planning_class (planning, plan->class), mode), give->step) };
        g_array_append_val (gifts, gift);
    }
}

static void
number_freshly (GArray *gifts, guint from, guint *fresh)
{
    for (guint i = from; i < gifts->len; i++) {
        Gift *gift = &g_array_index (gifts, Gift, i);

        gift->number = gift->number > 0 ? gift->number : (*fresh)++;
    }
}

GArray *
gifts_given (const Planning *planning, guint pool)
{
    const Lot *lot = &g_array_index (planning->pools, Pool, pool).lot;
    GArray *gifts = g_array_new (FALSE, FALSE, sizeof (Gift));
    guint fresh = 0, known = 0;

    if (planning->question->published == NULL)
        return gifts;
    for (guint i = 0; i < planning->gifts->len; i++) {
        const KnownGift *one = &g_array_index (planning->gifts, KnownGift, i);
        Gift gift = { 0, one->unit, one->step, one->number, one->serial };

        if (lot_is_like (&one->lot, lot) && gift_is_given (planning, one))
            g_array_append_val (gifts, gift);
    }
    known = gifts->len;
    for (guint i = 0; i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];

        if (plan->done > 0 && plan->keeps >= 0 && planning_unit (planning, i)->aside == ASIDE_NOT)
            add_of_mode (planning, pool, i, (guint) plan->keeps, TRUE, gifts);
    }
    if (gifts->len > known)
        fresh = fresh_number (planning, lot);
    number_freshly (gifts, known, &fresh);
    g_array_sort (gifts, compare_numbers);
    return gifts;
}

guint
planning_given (const Planning *planning, guint pool)
{
    g_autoptr (GArray) given = gifts_given (planning, pool);

    return given->len;
}

/* As they become free; those that are given already first, in the order of their numbers. */
static GArray *
gifts_by_lane (const Planning *planning, guint pool)
{
    GArray *gifts = gifts_given (planning, pool);
    g_autoptr (GArray) later = g_array_new (FALSE, FALSE, sizeof (Gift));
    guint fresh = fresh_number (planning, &g_array_index (planning->pools, Pool, pool).lot), given = gifts->len;

    if (given > 0)
        fresh = MAX (fresh, g_array_index (gifts, Gift, given - 1).number + 1);
    for (guint i = 0; i < planning_units (planning); i++) {
        const BatchUnit *unit = planning_unit (planning, i);

        if (unit->aside == ASIDE_NOT)
            add_of_mode (planning, pool, i, unit->mode, FALSE, later);
    }
    for (guint i = 0; i < later->len; i++) {
        Gift *gift = &g_array_index (later, Gift, i);

        gift->at = g_array_index (planning_unit (planning, gift->unit)->tasks, BatchTask, gift->step).ends;
    }
    g_array_sort (later, compare_times);
    number_freshly (later, 0, &fresh);
    g_array_append_vals (gifts, later->data, later->len);
    return gifts;
}

const GArray *
planning_lane_gifts (const Planning *planning, guint pool)
{
    while (planning->lanes->len < planning->pools->len)
        g_ptr_array_add (planning->lanes, NULL);
    if (planning->lanes->pdata[pool] == NULL)
        planning->lanes->pdata[pool] = gifts_by_lane (planning, pool);
    return planning->lanes->pdata[pool];
}

void
gifts_free (gpointer data)
{
    if (data != NULL)
        g_array_unref (data);
}
