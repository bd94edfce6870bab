/* SPDX-License-Identifier: MIT */
/* Compare a plan: the planner's answer to a question with unknown releases, held against the exhaustive one. */
#ifndef BRANCHES_COMPARE_PLAN_H
#define BRANCHES_COMPARE_PLAN_H

#include "beliefs.h"

/* What the planner's plan has in it. */
typedef struct {
    gboolean branches;   /* it is a plan with branches */
    gboolean proved;     /* ... and said to be least in the worst case */
    guint begins_with;   /* steps of the common beginning, before anything is read */
    gboolean some_dark;  /* a start is tried that comes out either way */
    gboolean reads_page; /* a page tells cases apart */
    guint given_up;      /* cases */
    guint depth;         /* branches in a row, most */
} PlanShape;

/* What the two differ in, in words; NULL: they agree. `shape` is filled in where they do. Transfer full. */
char *plan_differs (const Question *question, Counted counted, const PlanAnswer *expected, PlanShape *shape);
/* The planner's answer in words, branch by branch. Transfer full. */
char *plan_in_words (const Question *question, Counted counted);

#endif
