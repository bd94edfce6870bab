/* SPDX-License-Identifier: MIT */
/* Compare walks: the program's checker against the model's rules, on steps taken at random, allowed and not. */
#ifndef RANDOM_COMPARE_WALK_H
#define RANDOM_COMPARE_WALK_H

#include "load_job.h"

/* FALSE, with `why`, at the first step that the two judge differently, or where they differ on whether it starts. */
gboolean walks_agree (const Job *job, const LoadedJob *loaded, char **why);

#endif
