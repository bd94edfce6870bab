/* SPDX-License-Identifier: MIT */
/* Load: the files that a command line names, the rules with them, and what a command needs of them. */
#ifndef RUNGWISE_LOAD_H
#define RUNGWISE_LOAD_H

#include "commands/command.h"

/* The timetable that --published names. */
typedef struct {
    const char *path;          /* borrowed */
    char *text;                /* owned */
    BatchPublished *timetable; /* owned; NULL: none is named */
} Published;

void published_clear (Published *published);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Published, published_clear)

typedef struct {
    Library *library;    /* owned */
    Shop *stand_in;      /* owned; the default shop where the files hold none; NULL otherwise */
    Shop *shop;          /* borrowed from one of these */
    Complaints *in_rows; /* owned; mistakes in rows of tables, where they end nothing; NULL: they do */
    Published published; /* for what is about one unit; a batch has its own */
} Loaded;

void loaded_clear (Loaded *loaded);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Loaded, loaded_clear)

/* Reads everything; with --unit or --published as load_one_of_rows() does. OUTCOME_ANSWERED, or what to end with after the complaint was
 * printed. */
Outcome load_all (const char *command, const Options *options, Loaded *loaded);

/* Reads the rules and these files or folders (NULL-terminated), for a batch; what is wrong in them is left to the caller to
 * say, and then OUTCOME_BAD_INPUT. Mistakes in rows of tables go to `row_complaints` and end nothing. */
Outcome load_rows (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
                   Complaints *row_complaints, Loaded *loaded);
/* The same, for one of the units: mistakes in rows go to `loaded->in_rows`. */
Outcome load_one_of_rows (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
                          Loaded *loaded);
/* Reads the JSON of a batch's last run, of which the units that were read are some. OUTCOME_ANSWERED, or what to end with; then
 * what is wrong is in `complaints`, or was said. */
Outcome load_published (const char *path, Complaints *complaints, Loaded *loaded);
/* All that is wrong, to standard error. OUTCOME_BAD_INPUT. */
Outcome load_complain (Complaints *complaints);

/* Complains, and returns OUTCOME_BAD_USAGE, when the answer is to go over one of the files that are read. `paths`:
 * NULL-terminated files and folders. */
Outcome load_output_is_safe (const char *command, const Options *options, const char *const *paths);

/* ---- Which unit (load_unit.c) ---- */

/* The unit of this id, or where it is NULL the only one there is. A mistake in its own row is complained about, those in rows
 * of other units are said. OUTCOME_ANSWERED, or what to end with. */
Outcome load_unit (const char *command, const Loaded *loaded, const char *id, Unit **unit);
/* What the unit is to become: of several units the want that is its own, else the only one in the files. NULL where there is none,
 * which is complained about where one is needed. OUTCOME_ANSWERED, or what to end with. */
Outcome load_want (const char *command, const Loaded *loaded, const Unit *unit, gboolean is_needed, Want **want);

#endif
