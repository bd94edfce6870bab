/* SPDX-License-Identifier: MIT */
/* Replay: the ways through a plan with branches. For replay_branch*.c only. */
#ifndef RUNGWISE_BATCH_REPLAY_WAYS_H
#define RUNGWISE_BATCH_REPLAY_WAYS_H

#include "batch/replay.h"

/* One way through a plan, from its beginning to where it is. */
typedef struct Trail {
    const Branch *branch;
    const struct Trail *before; /* NULL: it is the beginning */
} Trail;

/* Called with every end of the plan; the first that returns something ends it. */
typedef char *(*AtEnd) (const Trail *end, gpointer data);

const Branch *replayed_plan (const BatchMode *mode);
char *replay_every_end (const Branch *branch, const Trail *before, AtEnd at_end, gpointer data);
/* The steps of a whole way, in their order. */
void replay_steps_until (const Trail *trail, GArray *steps);

/* So many such parts are in the unit. */
guint replay_held_of (const State *state, const Lot *lot);
/* `units`: parallel to `modes`, a unit that goes by it. NULL: the stock has what all units take by that of their ways which takes most.
 * Transfer full. */
char *replay_kept_stock (const BatchQuestion *question, const Batch *batch, const GPtrArray *modes,
                         const GPtrArray *units);
/* NULL: no way of the unit needs the part that is lent on from it. Transfer full. */
char *replay_lent_on (const Batch *batch, const BatchPart *part);

#endif
