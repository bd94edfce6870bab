/* SPDX-License-Identifier: MIT */
/* The bench records of a batch. For this room only. */
#ifndef RUNGWISE_BATCH_RECORDS_H
#define RUNGWISE_BATCH_RECORDS_H

#include "batch/plan.h"

/* By the clock on the wall, whatever its zone: the batch's own times have none. From time 0; G_MININT64: not known. */
gint64 record_entry_time (const BatchClock *clock, const RecordEntry *entry);
/* In a first plan nothing is gone by them: says so. */
void records_say_unused (Planning *planning);
/* Counts what was gone by, and says which entries are timed after now or before the batch begins. */
void records_count (Planning *planning);

#endif
