/* SPDX-License-Identifier: MIT */
/* Output: an answer to standard output or to a file, whole or not at all, and never over a file that was read. */
#ifndef RUNGWISE_OUTPUT_H
#define RUNGWISE_OUTPUT_H

#include "commands/options.h"
#include "reports/outcome.h"

/* Whether to colour what goes where the options say. Reads NO_COLOR and TERM. */
gboolean output_has_colour (const Options *options);

/* Makes lines as wide as the terminal, within what reads well, where standard output is one. */
void output_fit_terminal (void);

/* Whether the file that the options name for the answer is one that is read when `paths` (NULL-terminated files and
 * folders) are. Cost: one look at each file of the folders. */
gboolean output_would_replace_input (const Options *options, const char *const *paths);

/* Whether this path is such a file. */
gboolean output_is_input (const char *file, const char *const *paths);

/* Makes a folder, and those around it, where there is none. OUTCOME_ANSWERED, or OUTCOME_CANNOT_WRITE after a complaint. */
Outcome output_make_folder (const char *folder);
/* Writes `text` to a file, and complains when that fails. Returns `outcome`, or OUTCOME_CANNOT_WRITE. */
Outcome output_write_file (const char *path, const char *text, Outcome outcome);

/* Writes `text` where the options say, and complains when that fails. Returns `outcome`, or OUTCOME_CANNOT_WRITE. */
Outcome output_write (const Options *options, const char *text, Outcome outcome);

#endif
