/* SPDX-License-Identifier: MIT */
/* Parts that are out of use, by number: what broke keeps its number, and no good one gets it. */
#include "batch/records.h"
#include "batch/standing.h"

static gboolean
is_of_lot (const BatchLost *lost, const Lot *lot)
{
    return lost->owner == lot->owner && lost->part == lot->part && lost->stepping == lot->stepping &&
           lost->bound == lot->bound;
}

static const GArray *
lost_parts (const Planning *planning)
{
    return planning->batch->replan != NULL ? planning->batch->replan->lost : NULL;
}

static gboolean
number_is_lost (const Planning *planning, const Lot *lot, guint number)
{
    const GArray *lost = lost_parts (planning);

    for (guint i = 0; lost != NULL && i < lost->len; i++) {
        const BatchLost *one = &g_array_index (lost, BatchLost, i);

        if (one->number == number && is_of_lot (one, lot))
            return TRUE;
    }
    return FALSE;
}

/* ---- What a record sets aside ---- */

/* The fitting that an entry is about; NULL: another step. */
static const Step *
fit_of_entry (const RecordEntry *entry, const GArray *steps)
{
    const Step *step = entry->number == 0            ? &entry->step
                       : entry->number <= steps->len ? &g_array_index (steps, Step, entry->number - 1)
                                                     : NULL;

    return step != NULL && step->kind == STEP_FIT ? step : NULL;
}

static gboolean
sets_aside (const RecordEntry *entry, const GArray *steps, const Lot *lot)
{
    const Step *fit = entry->outcome == ENTRY_FAILED ? fit_of_entry (entry, steps) : NULL;

    return fit != NULL && fit->owner == lot->owner && fit->part == lot->part &&
           (fit->stepping == lot->stepping || fit->stepping == NULL) &&
           (fit->bound == lot->bound || fit->bound == NULL);
}

/* As an earlier run noted it; NULL: it noted nothing. */
static const PublishedLost *
as_noted (const Standing *standing, guint entry)
{
    const GArray *noted = standing->planning->question->published->lost;

    for (guint i = 0; i < noted->len; i++) {
        const PublishedLost *one = &g_array_index (noted, PublishedLost, i);

        if (one->entry == entry && strcmp (one->unit, standing->record->unit) == 0)
            return one;
    }
    return NULL;
}

/* The number on the sheet that the entry was made by. */
static guint
number_of_entry (const Standing *standing, guint index, const Lot *lot, gboolean by_last_route)
{
    const RecordEntry *entry = standing->record->entries->pdata[index];
    const GArray *tasks = standing->published != NULL ? standing->published->tasks : NULL;
    const PublishedLost *noted = as_noted (standing, index + 1);
    guint number = 0;

    if (noted != NULL)
        return noted->number;
    if (!by_last_route || tasks == NULL || entry->number == 0 || entry->number > tasks->len)
        return 0;
    number = g_array_index (tasks, PublishedTask, entry->number - 1).part_number;
    /* What was fitted after that one had failed is another one. */
    return number_is_lost (standing->planning, lot, number) ? 0 : number;
}

static void
note (Standing *standing, const Lot *lot, guint index, guint number)
{
    const RecordEntry *entry = standing->record->entries->pdata[index];
    BatchLost lost = { lot->owner,
                       lot->part,
                       lot->stepping,
                       lot->bound,
                       g_intern_string (standing->record->unit),
                       index + 1,
                       number,
                       NULL,
                       G_MAXUINT,
                       record_entry_time (&standing->planning->question->clock, entry),
                       entry->at };
    const PublishedLost *noted = as_noted (standing, index + 1);

    if (standing->planning->batch->replan == NULL)
        return; /* one unit alone is asked for */
    if (lot->owner == OWNER_LOAN && number > lot_had (standing->planning, lot))
        gift_lose (standing->planning, lot, number, noted != NULL ? noted->of : NULL,
                   noted != NULL ? noted->of_step : G_MAXUINT);
    g_array_append_val (standing->planning->batch->replan->lost, lost);
}

/* What is not set aside by a fitting that failed was found to be missing: by the last entry that says what was found. */
static guint
entry_that_found (const Standing *standing, guint from)
{
    guint found = standing->entry - 1;

    for (guint i = from; i < standing->entry; i++)
        if (((const RecordEntry *) standing->record->entries->pdata[i])->fitted != NULL)
            found = i;
    return found;
}

guint
lost_note (Standing *standing, const Lot *lot, guint count, const GArray *steps, guint from, gboolean by_last_route)
{
    guint had = lot_had (standing->planning, lot), pulled = 0;

    for (guint i = from; i < standing->entry && count > 0; i++) {
        guint number = 0;

        if (!sets_aside (standing->record->entries->pdata[i], steps, lot))
            continue;
        number = number_of_entry (standing, i, lot, by_last_route);
        pulled += number > had && lot->owner == OWNER_LOAN ? 1 : 0;
        note (standing, lot, i, number);
        count--;
    }
    for (; count > 0 && standing->entry > from; count--)
        note (standing, lot, entry_that_found (standing, from), 0);
    return pulled;
}

/* ---- Numbers ---- */

guint
pool_had (const Planning *planning, guint pool)
{
    return lot_had (planning, &g_array_index (planning->pools, Pool, pool).lot);
}

guint
lot_had (const Planning *planning, const Lot *lot)
{
    const Shop *shop = planning->question->shop;
    guint had = 0;

    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *one = &g_array_index (shop->lots, Lot, i);

        if (lot_is_like (one, lot))
            had += one->count;
    }
    return had;
}

/* Of those whose number nobody knows the highest are taken to be gone. */
static gboolean
is_out (const Planning *planning, const Pool *pool, guint had, guint number)
{
    guint gone = had - MIN (had, pool->lot.count), known = 0, left_above = 0;

    if (gone == 0)
        return FALSE;
    for (guint n = 1; n <= had; n++)
        known += number_is_lost (planning, &pool->lot, n) ? 1 : 0;
    if (number_is_lost (planning, &pool->lot, number))
        return TRUE;
    for (guint n = number + 1; n <= had; n++)
        left_above += number_is_lost (planning, &pool->lot, n) ? 0 : 1;
    return left_above < gone - MIN (gone, known);
}

guint
number_of_lane (const Planning *planning, guint pool, guint lane)
{
    const Pool *of = &g_array_index (planning->pools, Pool, pool);
    guint had = pool_had (planning, pool), left = lane;

    if (lane >= of->lot.count) {
        const GArray *gifts = planning_lane_gifts (planning, pool);

        g_assert (lane - of->lot.count < gifts->len); /* no more are lent than are given */
        return g_array_index (gifts, Gift, lane - of->lot.count).number;
    }
    for (guint number = 1; number <= had; number++)
        if (!is_out (planning, of, had, number) && left-- == 0)
            return number;
    g_assert_not_reached (); /* as many are left as the lot counts */
}

/* Transfer full (number -> 1 + place of the first that has it). */
static GHashTable *
numbers_given (const Planning *planning, guint pool)
{
    g_autoptr (GArray) given = gifts_given (planning, pool);
    GHashTable *places = g_hash_table_new (NULL, NULL);

    for (guint i = given->len; i-- > 0;)
        g_hash_table_insert (places, GUINT_TO_POINTER (g_array_index (given, Gift, i).number), GUINT_TO_POINTER (i + 1));
    return places;
}

/* Of those that are given already; what is given later has the lane that is free then. */
static guint
lane_of_gift (const Planning *planning, guint pool, guint number)
{
    GHashTable *given = g_hash_table_lookup (planning->given, GUINT_TO_POINTER (pool));
    guint place = 0;

    if (given == NULL) {
        given = numbers_given (planning, pool);
        g_hash_table_insert (planning->given, GUINT_TO_POINTER (pool), given);
    }
    place = GPOINTER_TO_UINT (g_hash_table_lookup (given, GUINT_TO_POINTER (number)));
    return place > 0 ? g_array_index (planning->pools, Pool, pool).lot.count + place - 1 : G_MAXUINT;
}

guint
lane_of_number (const Planning *planning, guint pool, guint number)
{
    const Pool *of = &g_array_index (planning->pools, Pool, pool);
    guint had = pool_had (planning, pool), lane = 0;

    if (number == 0)
        return G_MAXUINT;
    if (number > had)
        return lane_of_gift (planning, pool, number);
    for (guint n = 1; n < number; n++)
        lane += is_out (planning, of, had, n) ? 0 : 1;
    return is_out (planning, of, had, number) ? G_MAXUINT : lane;
}

gboolean
pool_number_is_lost (const Planning *planning, guint pool, guint number)
{
    return number_is_lost (planning, &g_array_index (planning->pools, Pool, pool).lot, number);
}
