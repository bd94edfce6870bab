/* SPDX-License-Identifier: MIT */
/* The best timetable of a small batch by trying everything, Shares nothing with the program but the model.
 * Needs tasks that take some time, none of them fixed or published. */
#ifndef RUNGWISE_TESTS_BATCH_EXHAUSTIVE_H
#define RUNGWISE_TESTS_BATCH_EXHAUSTIVE_H

#include "batch/timetable.h"

/* FALSE: not all jobs of `wanted` (per job) can be done. states: how many were looked at. */
gboolean try_everything (const Timetable *timetable, const gboolean *wanted, TimetableCost *best, guint64 *states);

#endif
