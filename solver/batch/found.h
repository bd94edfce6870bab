/* SPDX-License-Identifier: MIT */
/* What records say in words. For this room only. */
#ifndef RUNGWISE_BATCH_FOUND_H
#define RUNGWISE_BATCH_FOUND_H

#include "batch/plan.h"

/* Fills in `found`, once every unit has its tasks and the routes that it has left. */
void found_collect (Planning *planning);
/* Per unit, whether the published timetable does not show all of its own, or of those of one that is to lend it a part of its own.
 * Only once they are collected. Transfer full. */
gboolean *found_fresh (const Batch *batch);
/* The number of the unit's last entry with words; 0: none has any. */
guint found_last_shown (const BatchReplan *replan, guint unit);
/* The last entry of the unit's record about this step (from 1) of the route that it goes by. NULL: there is none. */
const RecordEntry *found_last_about (const Planning *planning, guint unit, guint number);

#endif
