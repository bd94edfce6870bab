/* SPDX-License-Identifier: MIT */
/* Branch jobs: random small jobs (tests/random) whose units have releases that are not known, and pages that show some. */
#ifndef BRANCHES_BRANCH_JOB_H
#define BRANCHES_BRANCH_JOB_H

#include "generate.h"
#include "load_job.h"

/* docs/files.md, "Firmware", `page`. */
typedef struct {
    gboolean there;
    int tenths; /* of a minute */
    Cond requires;
} Page;

typedef struct {
    Job job;
    Page pages[MAX_FIRMWARE];
} BranchJob;

/* One draw. The same seed gives the same job. */
void branch_job_draw (guint64 seed, BranchJob *branch_job);
/* All files of it in one, after a comment with the seed. Transfer full. */
char *branch_job_text (const BranchJob *branch_job, guint64 seed);
/* As load_job(). */
gboolean branch_job_load (const BranchJob *branch_job, LoadedJob *loaded, char **why);

#endif
