/* SPDX-License-Identifier: MIT */
/* Beliefs: the least worst-case number of steps, or of insertions, of all plans with branches, by trying everything.
 *
 * docs/method.md, "Plans with branches", read line by line into loops over sets of cases. No bound, no collapsing; asked of
 * the check room alone, nothing is shared with the planner. */
#ifndef BRANCHES_BELIEFS_H
#define BRANCHES_BELIEFS_H

#include "singles.h"

enum { MOST_CASES = 8, NO_SINGLE = -1 };

typedef enum {
    PLAN_THERE,
    PLAN_NONE, /* none that serves every case which has a route of its own; or no case has one */
    PLAN_TOO_LARGE,
} PlanKind;

/* What an objective minimises first (docs/method.md, "Objectives"). */
typedef enum { COUNT_STEPS, COUNT_INSERTIONS } Counted;

typedef struct {
    PlanKind kind;
    guint worst; /* PLAN_THERE: what is counted, in the worst case */
    int single;  /* PLAN_THERE: of one route that serves every case with nothing read; NO_SINGLE: there is none */
    guint n_cases;
    gboolean hopeless[MOST_CASES]; /* no route, even were it known from the start; in the order of unit_cases() */
    guint n_hopeless;
    guint alone[MOST_CASES]; /* of a case that is known from the start; of a hopeless one: 0 */
    guint beliefs;           /* looked at */
} PlanAnswer;

/* With more than `most` beliefs, or states, it is PLAN_TOO_LARGE. */
PlanAnswer beliefs_search (const Question *question, Counted counted, guint most);

#endif
