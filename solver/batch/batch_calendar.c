/* SPDX-License-Identifier: MIT */
/* The shop's week as windows of time from the beginning of a batch. */
#include "batch/plan.h"

enum { MINUTE = 10, DAY = 24 * 60 * MINUTE, WEEK = 7 * DAY };

static int
compare_windows (gconstpointer a, gconstpointer b)
{
    const Window *left = a, *right = b;
    return (left->from > right->from) - (left->from < right->from);
}

/* Without what lies before time 0. */
static void
add_window (GArray *windows, gint64 from, gint64 to)
{
    Window window = { MAX (from, 0), to };

    if (window.to > window.from)
        g_array_append_val (windows, window);
}

/* The pieces of one shift in the week that begins at `monday`. */
static void
add_shift (Calendar *calendar, const Shift *shift, gint64 monday)
{
    for (guint day = 0; day < 7; day++) {
        gint64 midnight = monday + day * DAY;
        guint to = shift->to <= shift->from ? shift->to + 24 * 60 : shift->to;

        if ((shift->days & (1u << day)) == 0)
            continue;
        add_window (calendar->shifts, midnight + (gint64) shift->from * MINUTE, midnight + (gint64) to * MINUTE);
        for (guint i = 0; i < shift->breaks->len; i++) {
            const ShiftBreak *pause = &g_array_index (shift->breaks, ShiftBreak, i);
            guint begins = pause->from < shift->from ? pause->from + 24 * 60 : pause->from;
            guint ends = pause->to <= shift->from ? pause->to + 24 * 60 : pause->to;

            add_window (calendar->breaks, midnight + (gint64) begins * MINUTE, midnight + (gint64) ends * MINUTE);
        }
    }
}

/* Windows that touch become one: a task may run from one shift into the next. */
static void
join_windows (GArray *windows)
{
    guint kept = 0;

    g_array_sort (windows, compare_windows);
    for (guint i = 0; i < windows->len; i++) {
        Window *last = kept > 0 ? &g_array_index (windows, Window, kept - 1) : NULL,
               *next = &g_array_index (windows, Window, i);

        if (last != NULL && next->from <= last->to)
            last->to = MAX (last->to, next->to);
        else
            g_array_index (windows, Window, kept++) = *next;
    }
    g_array_set_size (windows, kept);
}

static gint64
minutes_of_week (const Shop *shop)
{
    gint64 minutes = 0;

    for (guint i = 0; i < shop->shifts->len; i++) {
        const Shift *shift = &g_array_index (shop->shifts, Shift, i);
        gint64 length = (gint64) (shift->to <= shift->from ? shift->to + 24 * 60 : shift->to) - (gint64) shift->from;

        for (guint k = 0; k < shift->breaks->len; k++) {
            const ShiftBreak *pause = &g_array_index (shift->breaks, ShiftBreak, k);
            length -= (pause->to + 24 * 60 - pause->from) % (24 * 60);
        }
        for (guint day = 0; day < 7; day++)
            minutes += (shift->days & (1u << day)) != 0 ? MAX (length, 0) : 0;
    }
    return minutes;
}

void
calendar_fill (Calendar *calendar, const Shop *shop, const BatchClock *clock, gint64 work)
{
    if (shop->shifts == NULL || shop->shifts->len == 0)
        return;
    gint64 weeks = work / MAX (minutes_of_week (shop) * MINUTE, 1) + 3;
    /* From the week before: a shift of its Sunday may pass midnight. */
    for (gint64 week = -1; week < weeks; week++)
        for (guint i = 0; i < shop->shifts->len; i++)
            add_shift (calendar, &g_array_index (shop->shifts, Shift, i), week * WEEK - clock->from_monday);
    join_windows (calendar->shifts);
    join_windows (calendar->breaks);
}

static void
note_stretch (gint64 length, gint64 *shortest, gint64 *longest)
{
    if (length <= 0)
        return;
    *shortest = MIN (*shortest, length);
    *longest = MAX (*longest, length);
}

void
calendar_stretches (const Shop *shop, const BatchClock *clock, gint64 *shortest, gint64 *longest)
{
    Calendar calendar = { g_array_new (FALSE, FALSE, sizeof (Window)), g_array_new (FALSE, FALSE, sizeof (Window)) };
    guint next = 0;

    calendar_fill (&calendar, shop, clock, 0);
    *shortest = G_MAXINT64;
    *longest = calendar.shifts->len > 0 ? 0 : G_MAXINT64;
    for (guint i = 0; i < calendar.shifts->len; i++) {
        const Window *shift = &g_array_index (calendar.shifts, Window, i);
        gint64 from = shift->from;

        for (; next < calendar.breaks->len && g_array_index (calendar.breaks, Window, next).from < shift->to; next++) {
            const Window *pause = &g_array_index (calendar.breaks, Window, next);

            note_stretch (pause->from - from, shortest, longest);
            from = MAX (from, pause->to);
        }
        note_stretch (shift->to - from, shortest, longest);
    }
    g_array_unref (calendar.shifts);
    g_array_unref (calendar.breaks);
}
