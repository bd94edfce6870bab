/* SPDX-License-Identifier: MIT */
/* Compare: hands a job over as files, asks for a route and holds the answer against the exhaustive search's; walks the route
 * with the model's own rules. compare_back.c: what comes back from each step, and when a write fails. */
#ifndef RANDOM_COMPARE_H
#define RANDOM_COMPARE_H

#include "exhaustive.h"

typedef enum {
    AGREES,
    DIFFERS_REFUSED, /* the files were not accepted */
    DIFFERS_CLAIM,
    DIFFERS_STEPS,
    DIFFERS_INSERTIONS,
    DIFFERS_OPENINGS,
    DIFFERS_MINUTES,
    DIFFERS_WALK,     /* the route breaks a rule of the model */
    DIFFERS_CASES,    /* the account of the cases of a unit with unknown releases */
    DIFFERS_BOUND,    /* a lower bound above the shortest length */
    DIFFERS_CHECKER,  /* the program's checker judges a step differently */
    DIFFERS_BACK,     /* what it takes to come back from a step */
    DIFFERS_ORDER,    /* the first no-return step could come later */
    DIFFERS_FALLBACK, /* the way back from a failed write */
    DIFFERS_DIED,
    NOT_COMPARED, /* too large to try everything */
} Difference;

/* Routes by one goal. `answer` is the exhaustive search's by steps; by other goals it is worked out here. `why` is set unless
 * the answers agree; transfer full. */
Difference compare_job (const Job *job, Goal goal, const Answer *answer, char **why);

/* The ways back from each step of the route by this goal, and whether another order had its first no-return step later.
 * `answer` plays no part; nor below. */
Difference compare_back (const Job *job, Goal goal, const Answer *answer, char **why);
/* The fallback of each write of the route by this goal. */
Difference compare_fallbacks (const Job *job, Goal goal, const Answer *answer, char **why);

/* The program's checker against the model, on random steps. `answer` plays no part. */
Difference compare_walks (const Job *job, const Answer *answer, char **why);

/* Runs a kept case: files of one job in one, its first line "# expect: claim ..., steps N, ...". */
Difference compare_kept (const char *path, char **why);

#endif
