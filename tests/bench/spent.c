/* SPDX-License-Identifier: MIT */
#include "spent.h"

#include <sys/resource.h>

static gint64
spent_by (int who)
{
    struct rusage usage;

    if (getrusage (who, &usage) != 0)
        g_error ("getrusage does not say what was spent");
    return (gint64) (usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) * G_USEC_PER_SEC + usage.ru_utime.tv_usec +
           usage.ru_stime.tv_usec;
}

gint64
spent_now (void)
{
    return spent_by (RUSAGE_SELF) + spent_by (RUSAGE_CHILDREN);
}

Spent *
spent_new (void)
{
    return g_array_new (FALSE, FALSE, sizeof (gint64));
}

void
spent_add (Spent *times, gint64 microseconds)
{
    g_array_append_val (times, microseconds);
}

static int
by_time (gconstpointer left, gconstpointer right)
{
    gint64 l = *(const gint64 *) left, r = *(const gint64 *) right;
    return (l > r) - (l < r);
}

double
spent_ms (Spent *times, guint part, guint of)
{
    g_assert (times->len > 0 && part <= of);
    g_array_sort (times, by_time);
    return (double) g_array_index (times, gint64, MIN (times->len * part / of, times->len - 1)) / 1000;
}
