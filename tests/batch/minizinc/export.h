/* SPDX-License-Identifier: MIT */
/* A timetable as data for timetable.mzn. */
#ifndef RUNGWISE_TESTS_BATCH_MINIZINC_EXPORT_H
#define RUNGWISE_TESTS_BATCH_MINIZINC_EXPORT_H

#include "batch/timetable.h"

/* horizon: no task need end later. Neither fixed nor published tasks are written. Transfer full. */
char *export_timetable (const Timetable *timetable, gint64 horizon, gint64 most_lateness);

#endif
