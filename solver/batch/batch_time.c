/* SPDX-License-Identifier: MIT */
/* A batch's times in words, and when a unit is due. */
#include "batch/plan.h"

#include <math.h>
#include <stdio.h>

enum { DAY = 24 * 60 * 10, WEEK = 7 * DAY, MINUTE = 10 };

gint64
tenths (double minutes)
{
    return llround (minutes * MINUTE);
}

char *
batch_time_words (const BatchClock *clock, gint64 time)
{
    static const char *const days[] = { "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun" };
    gint64 minutes = time / MINUTE + (time % MINUTE > 0); /* due times may be before time 0 */

    if (clock->begin != NULL) {
        g_autoptr (GDateTime) then = g_date_time_add_minutes (clock->begin, (int) minutes);
        return g_date_time_format (then, "%Y-%m-%dT%H:%M");
    }
    gint64 whole = (clock->from_monday + minutes * MINUTE) / MINUTE;
    gint64 week = whole * MINUTE / WEEK, day = whole * MINUTE / DAY % 7, of_day = whole % (24 * 60);
    g_autofree char *later = week > 0 ? g_strdup_printf ("+%" G_GINT64_FORMAT, week) : g_strdup ("");
    return g_strdup_printf ("%s%s %02d:%02d", days[day], later, (int) (of_day / 60), (int) (of_day % 60));
}

/* Minutes after midnight at which the last shift that begins on the day ends; -1: there is none. */
static int
last_shift_ends (const Shop *shop, guint day)
{
    int last = -1;

    for (guint i = 0; shop->shifts != NULL && i < shop->shifts->len; i++) {
        const Shift *shift = &g_array_index (shop->shifts, Shift, i);
        int ends = (int) (shift->to <= shift->from ? shift->to + 24 * 60 : shift->to);

        if ((shift->days & (1u << day)) != 0)
            last = MAX (last, ends);
    }
    return last;
}

/* A day alone is the end of its last shift; without one, of the day. */
static gint64
minutes_of_day (const Shop *shop, const GDateTime *day)
{
    int ends = last_shift_ends (shop, (guint) g_date_time_get_day_of_week ((GDateTime *) day) - 1);

    return ends >= 0 ? ends : 24 * 60;
}

gint64
unit_due (const Shop *shop, const BatchClock *clock, const Unit *unit)
{
    int year = 0, month = 0, day = 0, hour = 0, minute = 0;

    if (unit->due == NULL || clock->begin == NULL)
        return BATCH_NOT_DUE;
    int read = sscanf (unit->due, "%4d-%2d-%2dT%2d:%2d", &year, &month, &day, &hour, &minute);
    g_autoptr (GDateTime) date = read >= 3 ? g_date_time_new_utc (year, month, day, 0, 0, 0) : NULL;
    if (date == NULL)
        return BATCH_NOT_DUE;
    gint64 minutes = g_date_time_difference (date, clock->begin) / G_TIME_SPAN_MINUTE;
    minutes += read == 5 ? hour * 60 + minute : minutes_of_day (shop, date);
    return minutes * MINUTE;
}

gboolean
batch_unit_is_due (const BatchUnit *unit)
{
    return unit->due != BATCH_NOT_DUE;
}
