/* SPDX-License-Identifier: MIT */
/* Random batches: stations, hands, lent parts, bench places, shifts and breaks. The same numbers give the same batch. */
#ifndef RUNGWISE_TESTS_BATCH_GENERATE_H
#define RUNGWISE_TESTS_BATCH_GENERATE_H

#include "batch/timetable.h"

typedef struct {
    guint64 seed;
    guint jobs, kinds; /* jobs are of so many kinds (0: each of its own) */
    guint least_tasks, most_tasks, most_modes;
    guint stations, hands, places; /* resources of capacity 1; capacities */
    gint64 longest;                /* task */
    gint64 shift, night;           /* lengths; 0: no shifts */
    gint64 pause;                  /* in the middle of each shift; 0: none */
    gboolean due, lent;            /* some jobs are due; some borrow a part over several tasks, some give one */
    gboolean within;               /* spans begin and end, gains come, within tasks */
} Drawn;

/* Transfer full. */
Timetable *draw_batch (const Drawn *drawn);

#endif
