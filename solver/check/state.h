/* SPDX-License-Identifier: MIT */
/* What a state holds, asked by the rest of this room. */
#ifndef RUNGWISE_CHECK_STATE_H
#define RUNGWISE_CHECK_STATE_H

#include "check/check.h"

/* Two empties are equal; two parts are when model, stepping, owner and whom they are bound to are ("equal parts are
 * interchangeable"; the four together are called a triple here). */
gboolean held_equal (const Held *left, const Held *right);

/* What a unit file says of a slot, or of a part beside it. */
Held held_from_fitted (const Fitted *fitted);

/* What a fitting puts into its slot. */
Held held_from_step (const Step *fit);

/* Whether the part, not NULL, would be bound for good once it starts on this board. */
gboolean held_would_be_bound (const Board *board, const Held *held);

/* In how many slots, live or dead, this very triple is fitted. */
guint state_count_triple (const State *state, const Held *triple);

/* How many of this very triple the unit has, in its slots or pulled beside it. Only its own parts are ever pulled. */
guint unit_count_triple (const Unit *unit, const Held *triple);

/* A slot is live unless it is served by a slot that is empty or itself dead. */
gboolean state_slot_is_live (const State *state, guint slot);

/* What takes part in rules: the part in a live slot; NULL when the slot is empty or dead. */
const Held *state_live_part (const State *state, guint slot);

/* Component and release that the state has at this index. */
const Release *state_release (const State *state, guint component);

/* The component that is the spare image of this one; -1: it has none here. */
int board_find_spare (const Board *board, guint component);

/* The release, of this component's list, that its spare image holds; -1: it has none, or a write of it failed. */
int state_spare_release (const State *state, guint component);

#endif
