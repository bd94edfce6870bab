/* SPDX-License-Identifier: MIT */
/* How much of one resource is free at each moment: a staircase. */
#ifndef RUNGWISE_BATCH_PROFILE_H
#define RUNGWISE_BATCH_PROFILE_H

#include "batch/flat.h"

typedef struct {
    gint64 at; /* from then on, until the next step */
    gint64 free;
} Step;

typedef struct {
    Step *steps; /* owned; ascending; the first is at 0, the last holds for ever */
    guint count, room;
} Profile;

void profile_reset (Profile *profile, gint64 capacity);
void profile_clear (Profile *profile);

/* Adds `amount` (it may be less than nothing) in [from, to); to may be NEVER. Cost: linear in the steps after `from`. */
void profile_add (Profile *profile, gint64 from, gint64 to, gint64 amount);

/* How much is free at `time`. */
gint64 profile_free (const Profile *profile, gint64 time);

/* The earliest time from `from` on with `amount` free for `length` (FOR_GOOD: for ever); NEVER: none. */
gint64 profile_earliest (const Profile *profile, gint64 from, gint64 length, gint64 amount);

#endif
