/* SPDX-License-Identifier: MIT */
/* Solve: one grounded problem, by libsolv's layers and by the best-first search, into one claim. */
#ifndef RUNGWISE_ROUTE_SOLVE_H
#define RUNGWISE_ROUTE_SOLVE_H

#include "route/moves.h"
#include "route/route.h"

typedef struct {
    Claim claim;
    gboolean stopped; /* the caller asked for it */
    GArray *moves;    /* Move; owned; NULL without a route */
    Cost cost;
    guint lower_bound; /* as in RouteAnswer */
    guint64 searched;
    guint solver_runs, layers;
    gboolean is_familiar; /* `moves` are the familiar steps as they stand: none cost less */
    const char *proof;    /* static */
    char *reason;         /* owned, nullable */
} Solved;

/* May make the problem's search states larger (problem_count_wear). */
Solved *solve_problem (Problem *problem, const RouteOptions *options);
void solved_free (Solved *solved);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Solved, solved_free)

#endif
