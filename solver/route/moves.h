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
    REPLAY_WORN,    /* a slot is filled more often than it may be: `var` says which */
    REPLAY_BROKEN,  /* anything else */
} ReplayVerdict;

typedef struct {
    ReplayVerdict verdict;
    Cost cost;         /* with REPLAY_SOUND */
    guint sum;         /* index into Problem.sums */
    guint triple, var; /* with REPLAY_AT_HAND: the part, and the slot that it was to go into; REPLAY_WORN: the slot */
    guint16 *values;   /* owned; where it went wrong */
} Replay;

void replay_clear (Replay *replay);

/* Moves being made one by one. */
typedef struct {
    const Problem *problem;
    guint16 *values; /* owned; per variable */
    guint *floors;   /* owned; per variable: floor levels */
    guint *fittings; /* owned; per variable */
    Mode mode;
    Cost cost;     /* so far, without what the end costs */
    Replay replay; /* what went wrong */
} Player;

/* Before the first move. Transfer full. */
Player *player_new (const Problem *problem);
Player *player_copy (const Player *player);
void player_free (Player *player);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Player, player_free)
/* FALSE: it can't be made, and `replay` says why; the player is then of no more use. */
gboolean player_step (Player *player, const Move *move);
/* Whether the want is met and the unit starts. */
gboolean player_may_end (Player *player);

/* Replays `moves` (GArray of Move) from the start of the problem to the goal. */
Replay moves_replay (const Problem *problem, const GArray *moves);
/* Its cost, or COST_NEVER when it is not sound. */
Cost moves_cost (const Problem *problem, const GArray *moves);
/* Takes out moves that the route does without. */
void moves_trim (const Problem *problem, GArray *moves);
/* Brings moves that may change places into the canonical order; the cost stays. */
void moves_order (const Problem *problem, GArray *moves);
/* Moves for these steps; NULL where the problem, as small as it was made, has none for one of them. Transfer full. */
GArray *moves_from_steps (const Problem *problem, const GArray *steps);
/* As steps a person reads. Transfer full (GArray of Step). */
GArray *moves_to_steps (const Problem *problem, const GArray *moves);

#endif
