/* SPDX-License-Identifier: MIT */
/* How much of one resource is free at each moment: a staircase, in flights of so many steps at most, so that a long one is neither
 * shifted nor looked through step by step. */
#ifndef RUNGWISE_BATCH_PROFILE_H
#define RUNGWISE_BATCH_PROFILE_H

#include "batch/flat.h"

typedef struct Flight Flight;

typedef struct {
    Flight **flights; /* owned; `count` in order of time, then spare ones up to `room` (NULL: none yet) */
    guint count, room;
} Profile;

void profile_reset (Profile *profile, gint64 capacity);
void profile_clear (Profile *profile);

/* Adds `amount` (it may be less than nothing) in [from, to); to may be NEVER. Cost: linear in the flights after `from`. */
void profile_add (Profile *profile, gint64 from, gint64 to, gint64 amount);

/* How much is free at `time`. */
gint64 profile_free (const Profile *profile, gint64 time);

/* Whether less than nothing is free at some time, and the first. */
gboolean profile_overdrawn (const Profile *profile, gint64 *at);

/* The earliest time from `from` on with `amount` free for `length` (FOR_GOOD: for ever); NEVER: none. Cost: linear in the flights
 * that it goes by. It notes what it learnt of these. */
gint64 profile_earliest (Profile *profile, gint64 from, gint64 length, gint64 amount);

#endif
