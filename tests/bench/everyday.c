/* SPDX-License-Identifier: MIT */
/* everyday [COUNT [SEED]]: how long planning takes for random small units of every kind, in this process: files read are not
 * counted. Prints the median, the 99th percentile and the longest, beside the exhaustive search's. */
#include "generate.h"
#include "load_job.h"

#include "route/route.h"

#include <stdio.h>
#include <stdlib.h>

static int
by_time (gconstpointer left, gconstpointer right)
{
    gint64 l = *(const gint64 *) left, r = *(const gint64 *) right;
    return (l > r) - (l < r);
}

static void
tell (const char *who, GArray *times)
{
    g_array_sort (times, by_time);
    printf ("%-12s %10.3f %10.3f %10.3f\n", who, (double) g_array_index (times, gint64, times->len / 2) / 1000,
            (double) g_array_index (times, gint64, times->len * 99 / 100) / 1000,
            (double) g_array_index (times, gint64, times->len - 1) / 1000);
}

static gint64
time_ours (const Job *job)
{
    g_auto (LoadedJob) loaded = { 0 };
    g_autofree char *why = NULL;
    if (!load_job (job, &loaded, &why))
        g_error ("%s", why);
    gint64 began = g_get_monotonic_time ();
    g_autoptr (RouteAnswer) answer = route_find (loaded.library, loaded.shop, loaded.unit, loaded.want, NULL);
    gint64 took = g_get_monotonic_time () - began;
    if (answer->claim == CLAIM_FAULT)
        g_error ("%s", answer->reason);
    return took;
}

static gint64
time_exhaustive (const Job *job)
{
    Play play;
    gint64 began = g_get_monotonic_time ();
    play_setup (&play, job, -1);
    Answer answer = exhaustive_answer (&play, GOAL_STEPS, MOST_WORLDS);
    answer_clear (&answer);
    return g_get_monotonic_time () - began;
}

int
main (int argc, char **argv)
{
    int count = argc > 1 ? atoi (argv[1]) : 1000;
    guint64 seed = argc > 2 ? g_ascii_strtoull (argv[2], NULL, 10) : 1;
    g_autoptr (GArray) ours = g_array_new (FALSE, FALSE, sizeof (gint64));
    g_autoptr (GArray) exhaustive = g_array_new (FALSE, FALSE, sizeof (gint64));
    if (count < 1) {
        fprintf (stderr, "usage: everyday [COUNT [SEED]]\n");
        return 2;
    }
    for (int i = 0; i < count; i++) {
        Job job;
        Answer answer;
        generate_suitable (seed + (guint64) i, &job, &answer);
        answer_clear (&answer);
        gint64 one = time_ours (&job), other = time_exhaustive (&job);
        g_array_append_val (ours, one);
        g_array_append_val (exhaustive, other);
    }
    printf ("%-12s %10s %10s %10s   (ms, %d units from seed %" G_GUINT64_FORMAT ")\n", "", "median", "99 %", "longest",
            count, seed);
    tell ("rungwise", ours);
    tell ("exhaustive", exhaustive);
    return 0;
}
