/* SPDX-License-Identifier: MIT */
/* What a state holds, asked by the rest of this room. */
#ifndef RUNGWISE_CHECK_STATE_H
#define RUNGWISE_CHECK_STATE_H

#include "check/check.h"

/* Two empties are equal; two parts are when model, stepping and owner are ("equal triples are interchangeable"). */
gboolean held_equal (const Held *left, const Held *right);

/* In how many slots, live or dead, this very triple is fitted. */
guint state_count_triple (const State *state, const Held *triple);

/* A slot is live unless it is served by a slot that is empty or itself dead. */
gboolean state_slot_is_live (const State *state, guint slot);

/* What takes part in rules: the part in a live slot; NULL when the slot is empty or dead. */
const Held *state_live_part (const State *state, guint slot);

/* Component and release that the state has at this index. */
const Release *state_release (const State *state, guint component);

#endif
