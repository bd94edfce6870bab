/* SPDX-License-Identifier: MIT */
/* Replay of stock by its count: what any way of any unit takes beyond what is in the units is there, that which is out of use, or is
 * kept for a unit whose record can't be gone by, not counted. */
#include "batch/replay_ways.h"

/* ---- What a way takes ---- */

typedef struct {
    const Unit *unit;
    const Lot *lot;
    guint most;
} Taking;

static void
take_most (Taking *taking, const GArray *steps)
{
    g_autoptr (State) state = state_from_unit (taking->unit, NULL);

    taking->most = MAX (taking->most, replay_held_of (state, taking->lot));
    for (guint i = 0; i < steps->len; i++) {
        state_apply (state, &g_array_index (steps, Step, i));
        taking->most = MAX (taking->most, replay_held_of (state, taking->lot));
    }
}

static char *
take_at_end (const Trail *end, gpointer data)
{
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));

    replay_steps_until (end, steps);
    take_most (data, steps);
    return NULL;
}

static guint
most_of_mode (const Unit *unit, const BatchMode *mode, const Lot *lot)
{
    Taking taking = { unit, lot, 0 };

    take_most (&taking, mode->steps);
    if (mode->claim == CLAIM_BRANCHES)
        replay_every_end (replayed_plan (mode), NULL, take_at_end, &taking);
    return taking.most;
}

/* ---- What is left ---- */

static gboolean
is_stock (const Lot *lot, const Part *part, const char *stepping, const char *bound, Owner owner)
{
    return owner == OWNER_STOCK && part == lot->part && stepping == lot->stepping && bound == lot->bound;
}

static guint
count_in_shop (const Shop *shop, const Lot *lot)
{
    guint count = 0;

    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *one = &g_array_index (shop->lots, Lot, i);

        count += is_stock (lot, one->part, one->stepping, one->bound, one->owner) ? one->count : 0;
    }
    return count;
}

static guint
count_lost (const Batch *batch, const Lot *lot)
{
    guint count = 0;

    for (guint i = 0; batch->replan != NULL && i < batch->replan->lost->len; i++) {
        const BatchLost *one = &g_array_index (batch->replan->lost, BatchLost, i);

        count += is_stock (lot, one->part, one->stepping, one->bound, one->owner) ? 1 : 0;
    }
    return count;
}

static guint
count_in_unit (const Unit *unit, const Lot *lot)
{
    guint count = 0;

    for (guint s = 0; s < unit->board->slots->len; s++) {
        const Fitted *in = &unit->fitted[s];

        count += in->part != NULL && is_stock (lot, in->part, in->stepping, in->bound, in->owner) ? 1 : 0;
    }
    return count;
}

/* The most of it that steps, from an empty board on, have in at once. */
static guint
most_by_steps (const Board *board, const GArray *steps, gsize size, const Lot *lot)
{
    g_autofree gboolean *in = g_new0 (gboolean, board->slots->len + 1);
    guint most = 0, count = 0;

    for (guint i = 0; i < steps->len; i++) {
        const Step *step = (const Step *) (const void *) (steps->data + i * size);

        if (step->kind == STEP_WRITE)
            continue;
        count -= in[step->slot] ? 1 : 0;
        in[step->slot] =
            step->kind == STEP_FIT && is_stock (lot, step->part, step->stepping, step->bound, step->owner);
        count += in[step->slot] ? 1 : 0;
        most = MAX (most, count);
    }
    return most;
}

/* By whichever of its published routes it may stand. */
static guint
count_withheld (const BatchQuestion *question, const Unit *unit, const Lot *lot)
{
    const PublishedUnit *published = batch_published_find (question->published, unit->id);
    guint most = 0;

    G_STATIC_ASSERT (G_STRUCT_OFFSET (PublishedTask, step) == 0);
    most = most_by_steps (unit->board, published->tasks, sizeof (PublishedTask), lot);
    for (guint i = 0; published->earlier != NULL && i < published->earlier->len; i++) {
        const BatchEarlier *earlier = published->earlier->pdata[i];

        most = MAX (most, most_by_steps (unit->board, earlier->steps, sizeof (Step), lot));
    }
    return most;
}

/* Nobody knows how far it is by its record. One that has left its published route was read, and was set aside later. */
static gboolean
withholds (const BatchQuestion *question, const BatchUnit *unit)
{
    const PublishedUnit *published =
        question->published != NULL ? batch_published_find (question->published, unit->unit->id) : NULL;
    guint before = published != NULL && published->earlier != NULL ? published->earlier->len : 0;

    return published != NULL && unit->aside == ASIDE_RECORD &&
           (unit->earlier != NULL ? unit->earlier->len : 0) == before;
}

/* Of the shop's own: what is in units already, also in those that are set aside, is taken. */
static guint
count_gone (const BatchQuestion *question, const Batch *batch, const Lot *lot)
{
    guint gone = count_lost (batch, lot);

    for (guint i = 0; i < batch->units->len; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        gone += withholds (question, unit) ? count_withheld (question, unit->unit, lot)
                                           : count_in_unit (replayed_unit (unit), lot);
    }
    return gone;
}

/* ---- The whole ---- */

static guint64
units_by (const Batch *batch, const BatchMode *mode)
{
    guint64 units = 0;

    for (guint i = 0; i < batch->units->len; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        units += unit->aside == ASIDE_NOT && replayed_mode (batch, unit) == mode;
    }
    return units;
}

char *
replay_kept_stock (const BatchQuestion *question, const Batch *batch, const GPtrArray *modes, const GPtrArray *units)
{
    g_autofree guint64 *by = g_new0 (guint64, modes->len + 1);

    for (guint m = 0; m < modes->len; m++)
        by[m] = units_by (batch, modes->pdata[m]);
    for (guint i = 0; i < question->shop->lots->len; i++) {
        const Lot *lot = &g_array_index (question->shop->lots, Lot, i);
        guint there = 0, gone = 0;
        guint64 taken = 0;

        if (lot->owner != OWNER_STOCK)
            continue;
        there = count_in_shop (question->shop, lot);
        gone = count_gone (question, batch, lot);
        for (guint m = 0; m < modes->len; m++)
            taken += by[m] * (most_of_mode (units->pdata[m], modes->pdata[m], lot) -
                              count_in_unit (units->pdata[m], lot));
        if (taken > there - MIN (there, gone))
            return g_strdup_printf ("%s: some way of some unit takes more of it than the stock has", lot->part->name);
    }
    return NULL;
}
