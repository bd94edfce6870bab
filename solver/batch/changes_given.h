/* SPDX-License-Identifier: MIT */
/* How many parts of each pool there are at a moment. For this room only. */
#ifndef RUNGWISE_BATCH_CHANGES_GIVEN_H
#define RUNGWISE_BATCH_CHANGES_GIVEN_H

#include "batch/plan.h"

typedef struct PoolsGiven PoolsGiven;

/* By the timetable that was found. Cost: one pass over what units give, and sorting it. Transfer full. */
PoolsGiven *pools_given_new (const Planning *planning);
void pools_given_free (PoolsGiven *given);
/* Parts of a pool at the moment: the shop's, and what units have given by then. Cost: a bisection. */
guint pools_given_at (const PoolsGiven *given, guint pool, gint64 moment);

#endif
