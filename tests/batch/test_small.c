/* SPDX-License-Identifier: MIT */
/* Small random batches against trying everything: the whole cost, proved. test_small [FIRST-SEED COUNT [within]]; within: uses
 * begin and end, gains come, within tasks. */
#include "exhaustive.h"
#include "generate.h"

#include <stdio.h>
#include <stdlib.h>

static gboolean failed;

static void
say_failure (guint64 seed, const char *what, const TimetableCost *ours, const TimetableCost *theirs)
{
    failed = TRUE;
    fprintf (stderr, "seed %" G_GUINT64_FORMAT ": %s\n", seed, what);
    for (const TimetableCost *cost = ours; cost != NULL; cost = cost == ours ? theirs : NULL)
        fprintf (stderr,
                 "  late %" G_GINT64_FORMAT ", ends %" G_GINT64_FORMAT ", insertions %" G_GUINT64_FORMAT
                 ", attended %" G_GINT64_FORMAT "\n",
                 cost->lateness, cost->finish, cost->insertions, cost->attended);
}

static gboolean
bound_holds (const TimetableCost *bound, const TimetableCost *best)
{
    return bound->lateness <= best->lateness && bound->finish <= best->finish &&
           bound->insertions <= best->insertions && bound->attended <= best->attended;
}

/* Sizes go with the seed, so that what takes the exhaustive search long is drawn seldom. */
static Timetable *
draw_small (guint64 seed, gboolean within)
{
    guint jobs = 1 + (guint) (seed % 6);
    Drawn drawn = { .seed = seed,
                    .jobs = jobs,
                    .kinds = seed % 3 == 0 ? 2 : 0,
                    .least_tasks = 2,
                    .most_tasks = jobs > 4   ? 2
                                  : jobs > 3 ? 3
                                             : 4,
                    .most_modes = seed % 2 == 0 && jobs < 6 ? 2 : 1,
                    .stations = 2,
                    .hands = (guint) (seed / 3 % 3),
                    .places = 2 + (guint) (seed / 5 % 2),
                    .longest = 5,
                    .shift = seed % 4 < 2 ? 0 : 12,
                    .night = 5,
                    .pause = seed % 4 == 3 ? 2 : 0,
                    .due = seed / 2 % 3 > 0,
                    .lent = seed % 5 > 0,
                    .within = within };
    return draw_batch (&drawn);
}

static guint64
check_seed (guint64 seed, gboolean within)
{
    g_autoptr (Timetable) timetable = draw_small (seed, within);
    ScheduleOptions options = { .seed = seed };
    g_autoptr (Schedule) schedule = timetable_solve (timetable, &options);
    g_autofree char *wrong = timetable_check (timetable, schedule);
    g_autofree gboolean *wanted = g_new0 (gboolean, timetable->jobs->len);
    TimetableCost best;
    guint64 states;
    for (guint i = 0; i < timetable->jobs->len; i++)
        wanted[i] = schedule->mode[i] != G_MAXUINT;
    if (wrong != NULL)
        say_failure (seed, wrong, &schedule->cost, NULL);
    else if (!try_everything (timetable, wanted, &best, &states))
        say_failure (seed, "trying everything finds none", &schedule->cost, NULL);
    else if (timetable_cost_compare (&best, &schedule->cost) != 0)
        say_failure (seed, "trying everything finds another cost (ours first)", &schedule->cost, &best);
    else if (!schedule->proved)
        say_failure (seed, "it is not proved", &schedule->cost, &best);
    else if (!bound_holds (&schedule->bound, &best))
        say_failure (seed, "the bound is above the best (bound first)", &schedule->bound, &best);
    /* With one job less left out there must be nothing at all. */
    for (guint i = 0; i < timetable->jobs->len; i++) {
        if (wanted[i])
            continue;
        wanted[i] = TRUE;
        if (try_everything (timetable, wanted, &best, &states))
            say_failure (seed, "a job is left out that could be done", &schedule->cost, &best);
        wanted[i] = FALSE;
    }
    return states;
}

int
main (int argc, char **argv)
{
    guint64 first = argc > 1 ? g_ascii_strtoull (argv[1], NULL, 10) : 1;
    guint64 count = argc > 2 ? g_ascii_strtoull (argv[2], NULL, 10) : 200, states = 0;
    for (guint64 seed = first; seed < first + count; seed++)
        states += check_seed (seed, argc > 3 && g_str_equal (argv[3], "within"));
    printf ("%" G_GUINT64_FORMAT " batches, %" G_GUINT64_FORMAT " states of the exhaustive search\n", count, states);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
