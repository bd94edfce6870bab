/* SPDX-License-Identifier: MIT */
/* What is known of the bench at a replan: when things were done by the records, where a unit stood, whether it stands open. For
 * reports too. Times are from time 0; records are read by their clocks as they stand. docs/batch.md, "When it goes wrong". */
#ifndef RUNGWISE_BATCH_BENCH_H
#define RUNGWISE_BATCH_BENCH_H

#include "batch/batch.h"

/* When the last entry of its record was made, by now; G_MININT64: it has none, or that is not known. */
gint64 bench_worked_last (const BatchQuestion *question, const BatchUnit *unit);
/* A step of its present route failed last by its record, and was not done since. `time` (G_MININT64: not known) is set with TRUE. */
gboolean bench_step_failed (const BatchQuestion *question, const BatchUnit *unit, guint step, gint64 *time);
/* What was done last to the unit, whether it came to something or not, was done with the power off, and nothing since. `steps`: of
 * its present route, of which `done` are done. */
gboolean bench_stands_open (const BatchQuestion *question, const BatchUnit *unit, const GArray *steps, guint done);
/* The place where the published timetable had the unit last by now, of which it says that so many steps are done; G_MAXUINT: nowhere. */
guint bench_last_place (const PublishedUnit *published, guint done, gint64 now);

/* A unit goes on at another bench place than it was at. */
typedef struct {
    gboolean moves; /* FALSE: the rest says nothing */
    guint from, to;
    gboolean open; /* it stands open then */
} PlaceMove;

/* Nothing is said of steps that have begun. */
PlaceMove bench_move (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, guint step);

/* Since when what is in the slot is in it, by the routes that the unit has left: by its record, else by the published timetable;
 * G_MININT64: nothing says it. */
gint64 bench_fitted_since (const BatchQuestion *question, const BatchUnit *unit, guint slot);
/* From when to when a part was, or will be, in a unit: what is over by the record, else by the timetables; before that from when on the
 * timetable holds it. `to` is G_MAXINT64 where it stays. */
Window bench_stay (const BatchQuestion *question, const Batch *batch, const BatchStay *stay);

#endif
