/* SPDX-License-Identifier: MIT */
/* Reading times without a zone: the shop's own. */
#include "commands/clock.h"

#include <stdio.h>
#include <string.h>

enum { MINUTES_IN_DAY = 24 * 60, DAYS_IN_WEEK = 7, TENTHS = 10 };

#define DATE_AND_TIME "YYYY-MM-DDTHH:MM"

/* NULL: it is no such time. Transfer full. */
static GDateTime *
read_date (const char *text)
{
    int year = 0, month = 0, day = 0, hour = 0, minute = 0, read = 0;

    for (gsize i = 0; i < strlen (DATE_AND_TIME); i++) {
        gboolean digit = strchr ("-T:", DATE_AND_TIME[i]) == NULL;

        if (digit ? !g_ascii_isdigit (text[i]) : text[i] != DATE_AND_TIME[i])
            return NULL;
    }
    if (sscanf (text, "%4d-%2d-%2dT%2d:%2d%n", &year, &month, &day, &hour, &minute, &read) != 5 || text[read] != '\0')
        return NULL;
    return g_date_time_new_utc (year, month, day, hour, minute, 0);
}

static gint64
first_shift (const Shop *shop)
{
    gint64 first = G_MAXINT64;

    for (guint i = 0; shop->shifts != NULL && i < shop->shifts->len; i++) {
        const Shift *shift = &g_array_index (shop->shifts, Shift, i);

        for (guint day = 0; day < DAYS_IN_WEEK; day++)
            if (shift->days & (1u << day))
                first = MIN (first, (gint64) day * MINUTES_IN_DAY + shift->from);
    }
    return first == G_MAXINT64 ? 0 : first;
}

Outcome
clock_begin (const char *begin, const Shop *shop, BatchClock *clock)
{
    GDateTime *then = begin == NULL ? NULL : read_date (begin);

    *clock = (BatchClock){ NULL, 0 };
    if (begin == NULL) {
        clock->from_monday = first_shift (shop) * TENTHS;
        return OUTCOME_ANSWERED;
    }
    if (then == NULL)
        return usage_error ("batch", "a date and a time of the shop's own clock: --begin 2034-03-06T07:00",
                            "--begin %s is no such time", begin);
    clock->begin = then;
    clock->from_monday = ((gint64) (g_date_time_get_day_of_week (then) - 1) * MINUTES_IN_DAY +
                          g_date_time_get_hour (then) * 60 + g_date_time_get_minute (then)) *
                         TENTHS;
    return OUTCOME_ANSWERED;
}

/* "Tue+1 09:30", in minutes from the Monday of the first week; -1: it is no such time. */
static gint64
read_day_and_time (const char *text)
{
    static const char *const days[] = { "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun" };
    int hour = 0, minute = 0, week = 0, read = 0;

    for (guint day = 0; day < G_N_ELEMENTS (days); day++) {
        const char *rest = text + strlen (days[day]);

        if (!g_str_has_prefix (text, days[day]))
            continue;
        if (*rest == '+' && g_ascii_isdigit (rest[1]) && sscanf (rest, "+%4d%n", &week, &read) == 1)
            rest += read;
        if (sscanf (rest, " %2d:%2d%n", &hour, &minute, &read) != 2 || rest[read] != '\0' || hour < 0 || hour > 23 ||
            minute < 0 || minute > 59)
            return -1;
        return ((gint64) week * DAYS_IN_WEEK + day) * MINUTES_IN_DAY + hour * 60 + minute;
    }
    return -1;
}

Outcome
clock_now (const char *now, const BatchClock *clock, gint64 *tenths)
{
    g_autoptr (GDateTime) then = clock->begin == NULL ? NULL : read_date (now);
    gint64 minutes = clock->begin == NULL ? read_day_and_time (now) : -1;

    if (then != NULL)
        *tenths = g_date_time_difference (then, clock->begin) / G_TIME_SPAN_MINUTE * TENTHS;
    else if (minutes >= 0)
        *tenths = minutes * TENTHS - clock->from_monday;
    else
        return usage_error ("batch",
                            clock->begin != NULL ? "a date and a time: --now 2034-03-06T09:30"
                                                 : "a day and a time, since the batch has no date: --now 'Tue+1 09:30'",
                            "--now %s is no such time", now);
    if (*tenths >= 0)
        return OUTCOME_ANSWERED;
    return usage_error ("batch", "a time from the beginning of the batch on", "--now %s is before the batch begins", now);
}
