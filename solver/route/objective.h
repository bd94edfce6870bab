/* SPDX-License-Identifier: MIT */
/* What a route is to have least of, and costs as one number that orders like that: docs/method.md, "Objectives". */
#ifndef RUNGWISE_ROUTE_OBJECTIVE_H
#define RUNGWISE_ROUTE_OBJECTIVE_H

#include <glib.h>

typedef enum { OBJECTIVE_STEPS, OBJECTIVE_HANDLING, OBJECTIVE_TIME, OBJECTIVE_COUNT } Objective;
const char *objective_name (Objective objective); /* "handling" */

/* The parts of an objective as bit fields of one number, what counts most on top: it orders like the parts in turn, and adds
 * like each of them. */
typedef guint64 Cost;

#define COST_NEVER G_MAXUINT64

/* What one of each adds. 0: does not count. */
typedef struct {
    Cost step, insertion, opening, tenth; /* of a minute */
    Cost odd;                             /* a step that is not among the familiar ones */
    guint lead_shift;                     /* where the first part begins */
    guint step_shift, step_mask;          /* where the steps stand */
    Cost coarse;                          /* mask: the parts that are worth a search of their own before the rest */
} Weights;

/* Fields are wide enough for 1,023 insertions and openings, 262,143 steps (handling: 1,023) and 100,000 hours. */
const Weights *objective_weights (Objective objective);

#endif
