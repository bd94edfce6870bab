/* SPDX-License-Identifier: MIT */
#include "batch/profile.h"

#include <string.h>

void
profile_reset (Profile *profile, gint64 capacity)
{
    if (profile->room == 0) {
        profile->room = 16;
        profile->steps = g_new (Step, profile->room);
    }
    profile->count = 1;
    profile->steps[0] = (Step){ 0, capacity };
}

void
profile_clear (Profile *profile)
{
    g_clear_pointer (&profile->steps, g_free);
    profile->room = 0;
}

/* The last step at or before `time`. Doubles its stride from the end: most questions are about the latest part. */
static guint
find_step (const Profile *profile, gint64 time)
{
    guint low = 0, high = profile->count, stride = 1;
    while (stride < profile->count) {
        if (profile->steps[profile->count - stride].at <= time) {
            low = profile->count - stride;
            break;
        }
        high = profile->count - stride;
        stride *= 2;
    }
    while (high - low > 1) {
        guint middle = (low + high) / 2;
        if (profile->steps[middle].at <= time)
            low = middle;
        else
            high = middle;
    }
    return low;
}

gint64
profile_free (const Profile *profile, gint64 time)
{
    return profile->steps[find_step (profile, time)].free;
}

/* A step that begins at `time`; returns its index. */
static guint
split_at (Profile *profile, guint index, gint64 time)
{
    if (profile->steps[index].at == time)
        return index;
    if (profile->count == profile->room) {
        profile->room *= 2;
        profile->steps = g_renew (Step, profile->steps, profile->room);
    }
    memmove (&profile->steps[index + 2], &profile->steps[index + 1], (profile->count - index - 1) * sizeof (Step));
    profile->steps[index + 1] = (Step){ time, profile->steps[index].free };
    profile->count++;
    return index + 1;
}

/* Two steps of the same height become one. */
static void
merge_at (Profile *profile, guint index)
{
    if (index == 0 || index >= profile->count || profile->steps[index].free != profile->steps[index - 1].free)
        return;
    memmove (&profile->steps[index], &profile->steps[index + 1], (profile->count - index - 1) * sizeof (Step));
    profile->count--;
}

void
profile_add (Profile *profile, gint64 from, gint64 to, gint64 amount)
{
    if (from >= to || amount == 0)
        return;
    guint first = split_at (profile, find_step (profile, from), from), last = first;
    for (; last < profile->count && profile->steps[last].at < to; last++) {
        if (last + 1 == profile->count ? to != NEVER : profile->steps[last + 1].at > to)
            split_at (profile, last, to);
        profile->steps[last].free += amount;
    }
    merge_at (profile, last);
    merge_at (profile, first);
}

static gint64
earliest_for_good (const Profile *profile, gint64 from, gint64 amount)
{
    guint index = profile->count - 1;
    if (profile->steps[index].free < amount)
        return NEVER;
    while (index > 0 && profile->steps[index].at > from && profile->steps[index - 1].free >= amount)
        index--;
    return MAX (from, profile->steps[index].at);
}

gint64
profile_earliest (const Profile *profile, gint64 from, gint64 length, gint64 amount)
{
    if (length == FOR_GOOD)
        return earliest_for_good (profile, from, amount);
    gint64 begin = from;
    for (guint i = find_step (profile, from); i < profile->count; i++) {
        gint64 until = i + 1 < profile->count ? profile->steps[i + 1].at : NEVER;
        if (profile->steps[i].free < amount)
            begin = until;
        else if (until == NEVER || until - begin >= length)
            return begin;
    }
    return NEVER;
}
