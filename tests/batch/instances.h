/* SPDX-License-Identifier: MIT */
/* Published scheduling instances, as timetables.
 *
 * Job shops: jobs and machines in the first line, then per job pairs of machine and duration. Projects: the .sm files of PSPLIB. */
#ifndef RUNGWISE_TESTS_BATCH_INSTANCES_H
#define RUNGWISE_TESTS_BATCH_INSTANCES_H

#include "batch/timetable.h"

/* These end the process with a message when the file cannot be read. Transfer full. */
Timetable *read_jobshop (const char *path);
Timetable *read_project (const char *path);

/* The number in a column (from 0) of the line of OPTIMA.tsv that begins with `name`. */
gint64 read_optimum (const char *path, const char *name, guint column);

#endif
