/* SPDX-License-Identifier: MIT */
/* A plan with branches while it is walked: where each case stands, and the first thing that is wrong. */
#ifndef RUNGWISE_BRANCHES_PARTS_H
#define RUNGWISE_BRANCHES_PARTS_H

#include "check/branches.h"

/* All borrowed but `path` and `why`. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;
    const GPtrArray *cases; /* guint*: the unit's, in the order of unit_cases() */
    GArray *costs;          /* BranchCost, one per case of `cases`; filled in on the way */
    GArray *path;           /* Step; owned: from the root to where the walk is */
    char *why;              /* owned; NULL as long as nothing is wrong */
} PlanWalk;

/* A case where the walk is. */
typedef struct {
    guint index;     /* of PlanWalk.cases */
    State *state;    /* owned */
    gboolean starts; /* at THEN_TRY */
    guint next;      /* index of the branch that it goes on in */
} Standing;

/* A list that owns its Standing. Transfer full. */
GPtrArray *standings_new (void);
/* Its state is `state`, taken over. */
void standings_add (GPtrArray *standings, guint index, State *state);

/* Fills `why` in; always FALSE, so that a caller can return it. The sentence begins with the moment: "after step 3: ". */
gboolean plan_refuse (PlanWalk *walk, const char *format, ...) G_GNUC_PRINTF (2, 3);
/* The same; before that the case, if the unit has several: "where system began at 1.0.2, after step 3: ". */
gboolean plan_refuse_case (PlanWalk *walk, guint index, const char *format, ...) G_GNUC_PRINTF (3, 4);
/* A step that is not allowed; `number` from 1, counted from the root. */
gboolean plan_refuse_step (PlanWalk *walk, guint index, guint number, const char *why);

/* The releases are that case of the unit. */
gboolean plan_is_case (const PlanWalk *walk, guint index, const guint *releases);

/* The root's cases are the unit's, each once. Adds where they stand, in the order of the unit's. */
gboolean plan_begins_with_all_cases (PlanWalk *walk, const Branch *root, GPtrArray *standings);
/* Each case stands in exactly one of the branch's `next`, which hold no others, and is told so. */
gboolean plan_parts_cases (PlanWalk *walk, const Branch *branch, GPtrArray *standings);
/* Cases that what `branch` reads does not tell apart have the same `next`, and dark ones a dark one. */
gboolean plan_keeps_alike_together (PlanWalk *walk, const Branch *branch, const GPtrArray *standings);

/* Walks the standings through the branch and all that follows it. */
gboolean plan_walk_branch (PlanWalk *walk, const Branch *branch, GPtrArray *standings);

#endif
