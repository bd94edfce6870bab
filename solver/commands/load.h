/* SPDX-License-Identifier: MIT */
/* Load: the files that a command line names, the rules with them, and what a command needs of them. */
#ifndef RUNGWISE_LOAD_H
#define RUNGWISE_LOAD_H

#include "commands/command.h"

typedef struct {
    Library *library; /* owned */
    Shop *stand_in;   /* owned; the default shop where the files hold none; NULL otherwise */
    Shop *shop;       /* borrowed from one of these */
} Loaded;

void loaded_clear (Loaded *loaded);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Loaded, loaded_clear)

/* Reads everything. OUTCOME_ANSWERED, or what to end with after the complaint was printed. */
Outcome load_all (const char *command, const Options *options, Loaded *loaded);

/* Reads the rules and these files or folders (NULL-terminated); what is wrong in them is left to the caller to say, and
 * then OUTCOME_BAD_INPUT. */
Outcome load_paths (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
                    Loaded *loaded);
/* The same for a batch: mistakes in rows of tables go to `row_complaints` and end nothing. */
Outcome load_rows (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
                   Complaints *row_complaints, Loaded *loaded);
/* All that is wrong, to standard error. OUTCOME_BAD_INPUT. */
Outcome load_complain (Complaints *complaints);

/* Complains, and returns OUTCOME_BAD_USAGE, when the answer is to go over one of the files that are read. `paths`:
 * NULL-terminated files and folders. */
Outcome load_output_is_safe (const char *command, const Options *options, const char *const *paths);

/* The one unit; NULL after a complaint. */
Unit *load_one_unit (const char *command, const Loaded *loaded);

#endif
