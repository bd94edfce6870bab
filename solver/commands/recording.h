/* SPDX-License-Identifier: MIT */
/* Recording: what the files of `rungwise record` share; for record*.c only. */
#ifndef RUNGWISE_RECORDING_H
#define RUNGWISE_RECORDING_H

#include "commands/load.h"
#include "commands/record_file.h"

/* One run of the command. */
typedef struct {
    const Options *options; /* `own_options` */
    Options own_options;    /* as they were given, with the number of a step that was called by its label; owns nothing */
    const char *path; /* of the record, as it was named; borrowed */
    RecordFile *file;
    GPtrArray *others; /* char*: every other file that is read; owned */
} Recording;

/* ---- Reading (record_read.c) ---- */

/* Fills in `others`: every file that the PATHs stand for but the record itself, which may lie in one of the folders: it is read
 * as it was or as it is to be, and never as both. */
void recording_list_others (Recording *recording, Complaints *complaints);
/* Everything, with the record as it stands in `record_path` (NULL: without). What is wrong is left in `complaints`. */
Outcome recording_read (const Recording *recording, const char *record_path, Complaints *complaints, Loaded *loaded);
/* The record as it stands and its unit; for one that is not there yet NULL, and the unit that it is to be of. OUTCOME_ANSWERED,
 * or what to end with. */
Outcome recording_present (const Recording *recording, const Loaded *loaded, const Record **present, Unit **unit);
/* The records that were read from this file. Transfer container. */
GPtrArray *recording_records_in (const Library *library, const char *path);

/* ---- The route (record_route.c) ---- */

/* What a new record of the unit begins with: its head, with the route that it is of. OUTCOME_ANSWERED, or what to end with. */
Outcome recording_append_head (GString *yaml, const Recording *recording, const Loaded *loaded, const Unit *unit);

/* ---- Reading it back (record_check.c) ---- */

/* What came of the new entry. */
typedef struct {
    char *step;          /* owned; what a step of a published timetable is, in words; NULL: it goes by no such step */
    gboolean by_earlier; /* it is a step of a route that the unit has left */
    GString *remarks;    /* owned; what a person may want to look at again, a line each; NULL: nothing */
} Recorded;

/* Fills in `remarks`: the last entry of the record against those before it, and against itself (record_remarks.c). */
void recording_remark (const Loaded *loaded, const Record *record, Recorded *recorded);

void recorded_clear (Recorded *recorded);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Recorded, recorded_clear)

/* The file's draft has to be read as the record with one more entry, and it has to be possible that it happened. `before`: the
 * text without it; `column`: of its dash. OUTCOME_ANSWERED, or what to end with. */
Outcome recording_check_draft (const Recording *recording, const Record *present, const GString *before, guint column,
                               Recorded *recorded);

#endif
