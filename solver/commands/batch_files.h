/* SPDX-License-Identifier: MIT */
/* Batch files: the folder of a batch's page, table and JSON. */
#ifndef RUNGWISE_BATCH_FILES_H
#define RUNGWISE_BATCH_FILES_H

#include "commands/command.h"

/* Complains, and returns OUTCOME_BAD_USAGE, when a file that would be written is one that is read. `read`: NULL-terminated. */
Outcome batch_files_are_safe (const Options *options, const char *const *read);
/* Writes them, each whole or not at all, the JSON last; then removes further pages that a bigger batch left there. Returns
 * `outcome`, or OUTCOME_CANNOT_WRITE after a complaint; then those before it are written. */
Outcome batch_files_write (const Options *options, BatchView *view, Outcome outcome);

#endif
