/* SPDX-License-Identifier: MIT */
/* Reasons: does every step of a loaded job's route have one? Apart from the model, whose names clash with the reports'. */
#ifndef RANDOM_REASONS_H
#define RANDOM_REASONS_H

#include "load_job.h"

#include "route/route.h"

typedef struct {
    guint routes, steps, doubled;
} Seen;

/* NULL: all is as it should be. `seen` counts what was looked at. Transfer full. */
char *reasons_are_wrong (const LoadedJob *loaded, Objective objective, Seen *seen);

#endif
