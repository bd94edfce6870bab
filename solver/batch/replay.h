/* SPDX-License-Identifier: MIT */
/* Replay: the parts of batch_check(). Each returns NULL, or one sentence on what is wrong first (transfer full). They share
 * nothing with what planned the batch but the book, the checker of routes and the structs of batch.h. */
#ifndef RUNGWISE_BATCH_REPLAY_H
#define RUNGWISE_BATCH_REPLAY_H

#include "batch/batch.h"

/* The unit as its tasks find it. */
const Unit *replayed_unit (const BatchUnit *unit);
const BatchMode *replayed_mode (const Batch *batch, const BatchUnit *unit);

/* The unit's first record that has entries; NULL: there is none. */
const Record *replayed_record (const BatchQuestion *question, const char *id);
/* So many of its entries, from the first one on, are of routes that the unit has left before its published one. */
guint replayed_entries_before (const BatchUnit *unit, const PublishedUnit *published);
/* The same thing done, with the same part. */
gboolean replayed_same_step (const Step *one, const Step *other);
/* Whether its plan tries a start or reads a page in front of the step. FALSE without branches. */
gboolean replayed_reads_before (const Board *board, const BatchMode *mode, guint step);

/* Every mode in use walked in every case, and every unit held against the one that was walked. */
char *replay_routes (const BatchQuestion *question, const Batch *batch);
/* Every task as long as its step takes, in its order, inside shifts and outside breaks. */
char *replay_times (const BatchQuestion *question, const Batch *batch);
/* What is done or under way stands in the published timetable at its time, and where a unit has a record, that says so. */
char *replay_begun (const BatchQuestion *question, const Batch *batch);
/* No unit is left open, or goes to another technician while it is open, where it need not. After replay_times(). */
char *replay_openings (const BatchQuestion *question, const Batch *batch);
/* No technician in two places, no two units at one bench place; but for steps under way that are more than the shop has of either. */
char *replay_bench (const BatchQuestion *question, const Batch *batch);
/* What the published timetable has under way, and no record contradicts, goes on as it was published. */
char *replay_under_way (const BatchQuestion *question, const Batch *batch);
/* Every part in one place at a time, no more of them than there are, pulled ones lent only once they are out. */
char *replay_parts (const BatchQuestion *question, const Batch *batch);
/* One pulled part: whose it is, and that it was given before it is lent. */
char *replay_pulled (const BatchQuestion *question, const Batch *batch, const BatchPart *part);
gboolean replayed_alike (const BatchPart *left, const BatchPart *right);
/* What may be in a unit that was set aside for its record is given to no other. */
char *replay_withheld (const BatchQuestion *question, const Batch *batch);
/* Plans with branches: the modes are their worst cases, and stock, lent parts and what is said hold in every case. After the others. */
char *replay_branches (const BatchQuestion *question, const Batch *batch);

#endif
