/* SPDX-License-Identifier: MIT */
/* Replay of parts of plans with branches: what any way takes is there, what any way needs is not lent on. */
#include "batch/replay_ways.h"

#include "route/branched.h"

const Branch *
replayed_plan (const BatchMode *mode)
{
    return mode->answer->branches->plan;
}

char *
replay_every_end (const Branch *branch, const Trail *before, AtEnd at_end, gpointer data)
{
    const Trail here = { branch, before };
    char *wrong = branch->next->len == 0 ? at_end (&here, data) : NULL;

    for (guint i = 0; i < branch->next->len && wrong == NULL; i++)
        wrong = replay_every_end (branch->next->pdata[i], &here, at_end, data);
    return wrong;
}

void
replay_steps_until (const Trail *trail, GArray *steps)
{
    if (trail->before != NULL)
        replay_steps_until (trail->before, steps);
    g_array_append_vals (steps, trail->branch->steps->data, trail->branch->steps->len);
}

guint
replay_held_of (const State *state, const Lot *lot)
{
    guint count = 0;

    for (guint s = 0; s < state->board->slots->len; s++) {
        const Held *held = &state->held[s];

        count += held->part == lot->part && held->owner == lot->owner && held->stepping == lot->stepping &&
                 held->bound == lot->bound;
    }
    return count;
}

/* ---- Pulled parts: lent only where no way needs them ---- */

typedef struct {
    const Unit *unit;
    Lot lot;    /* as its own part */
    guint over; /* steps that are done, and were made in every case */
    guint most; /* still to be in it at once */
} Needing;

static char *
need_at_end (const Trail *end, gpointer data)
{
    Needing *needing = data;
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));
    g_autoptr (State) state = state_from_unit (needing->unit, NULL);

    replay_steps_until (end, steps);
    for (guint i = 0; i <= steps->len; i++) {
        if (i >= needing->over)
            needing->most = MAX (needing->most, replay_held_of (state, &needing->lot));
        if (i < steps->len)
            state_apply (state, &g_array_index (steps, Step, i));
    }
    return NULL;
}

static gint64
lent_from (const BatchPart *part)
{
    return part->stays->len > 0 ? g_array_index (part->stays, BatchStay, 0).from : G_MAXINT64;
}

char *
replay_lent_on (const Batch *batch, const BatchPart *part)
{
    const BatchUnit *unit = batch->units->pdata[part->from_unit];
    const BatchMode *mode = replayed_mode (batch, unit);
    Needing needing = {
        replayed_unit (unit), { OWNER_UNIT, part->part, part->stepping, 0, part->bound, MARK_NONE }, 0, 0
    };
    g_autoptr (State) first = state_from_unit (needing.unit, NULL);
    guint lent = 0;

    for (guint i = 0; i < replayed_plan (mode)->steps->len; i++)
        needing.over += g_array_index (unit->tasks, BatchTask, i).ends <= lent_from (part);
    replay_every_end (replayed_plan (mode), NULL, need_at_end, &needing);
    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *other = batch->parts->pdata[p];

        lent += other->owner == OWNER_UNIT && other->from_step != G_MAXUINT && other->from_unit == part->from_unit &&
                other->part == part->part &&
                other->stepping == part->stepping && other->bound == part->bound &&
                lent_from (other) <= lent_from (part);
    }
    return lent + needing.most <= replay_held_of (first, &needing.lot)
               ? NULL
               : g_strdup_printf ("%s #%u is lent, and some way of %s still needs it", part->part->name, part->number,
                                  unit->unit->id);
}
