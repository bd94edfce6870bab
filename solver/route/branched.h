/* SPDX-License-Identifier: MIT */
/* Branched: the plan with branches for a unit whose releases are not all known, least in the worst case.
 *
 * Owns:   the search over beliefs: sets of cases that nothing has told apart yet.
 * Calls:  the grounded problem, its bound and search for single cases; check (walks each plan in each case).
 * Method: docs/method.md, "Plans with branches". */
#ifndef RUNGWISE_ROUTE_BRANCHED_H
#define RUNGWISE_ROUTE_BRANCHED_H

#include "check/branches.h"
#include "route/route.h"

/* One branch, as a question of its own. */
typedef struct {
    const Branch *branch; /* borrowed from the plan */
    guint depth;          /* 0: the common beginning */
    int parent;           /* index of the leg that it follows; -1 */
    Unit *unit; /* owned: as it stands when the branch begins, with the releases it may then have (per component) */
    RouteAnswer *answer; /* owned: `steps`, `walk` (of the first case), `ways_back`; any claim */
} BranchLeg;

typedef struct BranchAnswer {
    /* PROVED_SHORTEST: least in the worst case; BEST_FOUND; NO_ROUTE: no case has a route even when it is known; NOT_FOUND:
     * some have, and there is no plan (nothing tells the cases apart), or none was found; FAULT: the checker refused it. */
    Claim claim;
    Branch *plan;    /* owned; NULL without one */
    GPtrArray *legs; /* BranchLeg*, each branch of the plan before those that follow it; owned; NULL without a plan */
    BranchCheck *check; /* owned; NULL without a plan */
    guint lower_bound;  /* of the worst case, in what the objective minimises first (as RouteAnswer.lower_bound) */
    guint64 searched;   /* beliefs opened */
    gboolean stopped;   /* go_on said so */
    gboolean too_many;  /* NOT_FOUND: nothing was searched; there are more cases than are looked at, or the question is too
                           large */
    guint single_steps; /* of one route that serves every case without reading; 0: there is none */
    char *reason;       /* owned, nullable: what went wrong */
} BranchAnswer;

/* `single`: the best route that serves every case as it is, NULL where there is none; a plan with branches has to be
 * better than it in what the objective minimises first, or NULL is returned. Cases that have no route even when they are
 * known are carried along: every step is legal in them too, and where nothing but them is left the plan gives up.
 * Without a single route, NOT_FOUND with the reason where there are more cases than are looked at; they, and the states of
 * `search_states`, are counted over all cases together: docs/method.md, "Plans with branches". NULL is returned only with a
 * single route. Transfer full. */
BranchAnswer *branched_find (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                             const RouteOptions *options, const RouteAnswer *single);
void branch_answer_free (BranchAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BranchAnswer, branch_answer_free)

#endif
