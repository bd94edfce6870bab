/* SPDX-License-Identifier: MIT */
/* bench_scale JOBS...: first timetable and default effort for so many jobs in 100 kinds, each checked; times beside the first. */
#include "generate.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

static double
now_seconds (void)
{
    struct timespec at;
    clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &at);
    return (double) at.tv_sec + (double) at.tv_nsec / 1e9;
}

/* Solves with so many timetables; returns the seconds. */
static double
measure (const Timetable *timetable, guint64 most_tried, TimetableCost *cost, guint64 *tried)
{
    ScheduleOptions options = { .seed = 1, .most_tried = most_tried };
    double begin = now_seconds ();
    g_autoptr (Schedule) schedule = timetable_solve (timetable, &options);
    double spent = now_seconds () - begin;
    g_autofree char *wrong = timetable_check (timetable, schedule);
    if (wrong != NULL || schedule->left_out > 0) {
        fprintf (stderr, "%s\n", wrong != NULL ? wrong : "jobs are left out");
        exit (1);
    }
    *cost = schedule->cost;
    *tried = schedule->tried;
    return spent;
}

int
main (int argc, char **argv)
{
    double unit = 0;
    printf ("%8s %8s %9s %7s %9s %6s %10s %12s %12s %9s\n", "jobs", "tasks", "first-s", "ratio", "default-s", "tried",
            "finish", "late-first", "late", "peak-MiB");
    for (int i = 1; i < argc; i++) {
        Drawn drawn = { .seed = 1,
                        .jobs = (guint) atoi (argv[i]),
                        .kinds = 100,
                        .least_tasks = 8,
                        .most_tasks = 12,
                        .most_modes = 2,
                        .stations = 8,
                        .hands = 6,
                        .places = 12,
                        .longest = 300,
                        .shift = 4800,
                        .night = 9600,
                        .pause = 300,
                        .due = TRUE,
                        .lent = TRUE };
        g_autoptr (Timetable) timetable = draw_batch (&drawn);
        TimetableCost first, best;
        guint64 tried;
        guint tasks = 0;
        for (guint k = 0; k < timetable->jobs->len; k++) {
            const Job *job = g_ptr_array_index (timetable->jobs, k);
            tasks += ((const Mode *) g_ptr_array_index (job->modes, 0))->tasks->len;
        }
        double first_s = measure (timetable, 1, &first, &tried), default_s = measure (timetable, 0, &best, &tried);
        struct rusage usage;
        getrusage (RUSAGE_SELF, &usage);
        unit = unit > 0 ? unit : first_s / tasks;
        printf ("%8u %8u %9.3f %7.2f %9.3f %6" G_GUINT64_FORMAT " %10" G_GINT64_FORMAT " %12" G_GINT64_FORMAT
                " %12" G_GINT64_FORMAT " %9ld\n",
                drawn.jobs, tasks, first_s, first_s / tasks / unit, default_s, tried, best.finish, first.lateness,
                best.lateness, usage.ru_maxrss / 1024);
    }
    return 0;
}
