/* SPDX-License-Identifier: MIT */
/* Shifts and breaks: when a task may begin, and how long work takes. */
#include "batch/flat.h"

/* The first window that ends after `time`, by halving; `len` if none does. */
static guint
first_ending_after (const GArray *windows, gint64 time)
{
    guint low = 0, high = windows->len;
    while (low < high) {
        guint middle = (low + high) / 2;
        if (g_array_index (windows, Window, middle).to <= time)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static gint64
past_breaks (const Calendar *calendar, gint64 from, gint64 attended)
{
    if (attended == 0)
        return from;
    for (guint i = first_ending_after (calendar->breaks, from); i < calendar->breaks->len; i++) {
        const Window *pause = &g_array_index (calendar->breaks, Window, i);
        if (pause->from >= from + attended)
            break;
        from = pause->to;
    }
    return from;
}

gint64
calendar_earliest (const Calendar *calendar, gint64 from, gint64 duration, gint64 attended)
{
    const GArray *shifts = calendar->shifts;
    if (shifts->len == 0)
        return past_breaks (calendar, from, attended);
    /* A task of no length may lie at the very end of a shift, so that shift counts for it. */
    for (guint i = first_ending_after (shifts, duration == 0 ? from - 1 : from); i < shifts->len; i++) {
        const Window *shift = &g_array_index (shifts, Window, i);
        gint64 begin = past_breaks (calendar, MAX (from, shift->from), attended);
        if (begin + duration <= shift->to)
            return begin;
    }
    return NEVER;
}

static gint64
breaks_within (const Calendar *calendar, gint64 from, gint64 to)
{
    gint64 sum = 0;
    for (guint i = first_ending_after (calendar->breaks, from); i < calendar->breaks->len; i++) {
        const Window *pause = &g_array_index (calendar->breaks, Window, i);
        if (pause->from >= to)
            break;
        sum += MIN (pause->to, to) - MAX (pause->from, from);
    }
    return sum;
}

/* Work from `from` on, breaks not counted, until it is done. */
static gint64
work_past_breaks (const Calendar *calendar, gint64 from, gint64 work)
{
    for (guint i = first_ending_after (calendar->breaks, from); i < calendar->breaks->len && work > 0; i++) {
        const Window *pause = &g_array_index (calendar->breaks, Window, i);
        gint64 gap = MAX (pause->from - from, 0);
        if (gap >= work)
            break;
        work -= gap;
        from = pause->to;
    }
    return from + work;
}

gint64
calendar_after_work (const Calendar *calendar, gint64 from, gint64 work, gboolean hands)
{
    const GArray *shifts = calendar->shifts;
    if (work <= 0)
        return from;
    if (shifts->len == 0)
        return hands ? work_past_breaks (calendar, from, work) : from + work;
    for (guint i = first_ending_after (shifts, from); i < shifts->len; i++) {
        const Window *shift = &g_array_index (shifts, Window, i);
        gint64 begin = MAX (from, shift->from);
        gint64 there = shift->to - begin - (hands ? breaks_within (calendar, begin, shift->to) : 0);
        if (there >= work)
            return hands ? work_past_breaks (calendar, begin, work) : begin + work;
        work -= there;
    }
    return NEVER;
}
