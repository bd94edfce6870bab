/* SPDX-License-Identifier: MIT */
/* Why a task did not stay at its published time. For this room only. */
#ifndef RUNGWISE_BATCH_CHANGES_WHY_H
#define RUNGWISE_BATCH_CHANGES_WHY_H

#include "batch/plan.h"

typedef struct Reasons Reasons;

/* Of the timetable that was found: who uses what when. Cost: sorting its tasks. Transfer full. */
Reasons *reasons_new (const Planning *planning);
void reasons_free (Reasons *reasons);
/* What is in the way of a unit that goes on by its route, were all that is left of it done at the published times, while the others
 * are where they are now; where `change->first` was to begin before now, that. Sets `why` and what belongs to it. */
void reasons_find (const Reasons *reasons, guint unit, BatchChange *change);

#endif
