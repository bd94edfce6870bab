/* SPDX-License-Identifier: MIT */
/* How late units are, by the due times that were given; for batch_*.c only. */
#ifndef RUNGWISE_BATCH_LATE_H
#define RUNGWISE_BATCH_LATE_H

#include "reports/batch_view.h"
#include "reports/paper.h"

/* How many units that are due are late, which, by how much. Nothing where none is due. */
void batch_say_late (Paper *paper, const BatchView *view);
/* A cost of the timetable with its lateness by the true due times: to the timetable, a unit that was due before the batch begins is due
 * as it begins, which leaves out the same lateness from every one. */
TimetableCost batch_true_cost (const BatchView *view, const TimetableCost *cost);

#endif
