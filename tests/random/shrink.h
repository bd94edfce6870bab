/* SPDX-License-Identifier: MIT */
/* Shrink: makes a job smaller, one small edit at a time. */
#ifndef RANDOM_SHRINK_H
#define RANDOM_SHRINK_H

#include "model.h"

/* Whether the job still shows what it is kept for. */
typedef gboolean (*StillFails) (const Job *job, gpointer data);

/* Tries every edit on `job`, keeps those after which it still fails, until none helps. */
void shrink_job (Job *job, StillFails still_fails, gpointer data);

#endif
