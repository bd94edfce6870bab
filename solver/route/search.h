/* SPDX-License-Identifier: MIT */
/* Search: best-first over the collapsed states, led by the bound. Exhaustive when it is let to end.
 *
 * Owns:   its states; nothing outlives search_run but the result.
 * Calls:  problem, bound. Shares no code with the layered encoding: it is the second opinion.
 * Method: docs/method.md, "The second opinion". */
#ifndef RUNGWISE_ROUTE_SEARCH_H
#define RUNGWISE_ROUTE_SEARCH_H

#include "route/bound.h"

/* One move of the grounded problem. */
typedef struct {
    gboolean is_write;
    guint write;      /* index into Problem.writes */
    guint var, value; /* slot moves: what goes in; 0: what is there comes out */
} Move;

typedef struct {
    gboolean exhausted; /* nothing was left out: `cost` is the least there is, or there is no route */
    Cost cost;          /* of the best route; COST_NEVER: none was found */
    GArray *moves;      /* Move; owned; NULL without a route */
    Cost least_open;    /* with !exhausted: no route is cheaper than this */
    guint64 opened;     /* states opened */
} SearchResult;

/* How far to go. Only the parts of costs in `mask` count: SEARCH_ALL is exact in all of them; fewer (Weights.coarse) let it
 * go deep at once. */
typedef struct {
    Cost ceiling; /* nothing dearer is looked for; COST_NEVER: anything */
    Cost mask;
    gboolean any;                                      /* stop at the first route that is met */
    guint64 most;                                      /* states to open */
    gboolean (*go_on) (guint64 opened, gpointer data); /* nullable; asked now and then; FALSE: give up */
    gpointer data;
} SearchLimits;

SearchResult *search_run (const Problem *problem, const Bound *bound, const SearchLimits *limits);
#define SEARCH_ALL COST_NEVER
void search_result_free (SearchResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SearchResult, search_result_free)

#endif
