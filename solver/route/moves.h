/* SPDX-License-Identifier: MIT */
/* Moves of the grounded problem in a row: replaying them, pricing them, leaving out idle ones, the canonical order.
 * Method: docs/method.md, "The canonical order". */
#ifndef RUNGWISE_ROUTE_MOVES_H
#define RUNGWISE_ROUTE_MOVES_H

#include "route/search.h"

typedef enum {
    REPLAY_SOUND,
    REPLAY_SUM,     /* a total does not hold where it has to: `sum` and `values` say which and where */
    REPLAY_AT_HAND, /* more of `triple` fitted than there are */
    REPLAY_BROKEN,  /* anything else */
} ReplayVerdict;

typedef struct {
    ReplayVerdict verdict;
    Cost cost;         /* with REPLAY_SOUND */
    guint sum;         /* index into Problem.sums */
    guint triple, var; /* with REPLAY_AT_HAND: the part, and the slot that it was to go into */
    guint16 *values;   /* owned; where it went wrong */
} Replay;

void replay_clear (Replay *replay);
/* Replays `moves` (GArray of Move) from the start of the problem to the goal. */
Replay moves_replay (const Problem *problem, const GArray *moves);
/* Its cost, or COST_NEVER when it is not sound. */
Cost moves_cost (const Problem *problem, const GArray *moves);
/* Takes out moves that the route does without. */
void moves_trim (const Problem *problem, GArray *moves);
/* Brings moves that may change places into the canonical order; the cost stays. */
void moves_order (const Problem *problem, GArray *moves);
/* As steps a person reads. Transfer full (GArray of Step). */
GArray *moves_to_steps (const Problem *problem, const GArray *moves);

#endif
