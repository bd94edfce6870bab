/* SPDX-License-Identifier: MIT */
/* What a route costs, as one number that orders like (steps, insertions, minutes) in turn, and adds like each of them.
 * 20 bits of steps, 12 of insertions, 32 of tenths of a minute: none can overflow before memory does. */
#ifndef RUNGWISE_ROUTE_COST_H
#define RUNGWISE_ROUTE_COST_H

#include "route/problem.h"

typedef guint64 Cost;

#define COST_STEP      ((Cost) 1 << 44)
#define COST_INSERTION ((Cost) 1 << 32)
#define COST_NEVER     G_MAXUINT64

static inline guint
cost_steps (Cost cost)
{
    return (guint) (cost >> 44);
}

static inline guint
cost_insertions (Cost cost)
{
    return (guint) (cost >> 32) & 0xfff;
}

static inline guint32
cost_tenths (Cost cost)
{
    return (guint32) cost;
}

static inline Cost
cost_add (Cost left, Cost right)
{
    return left == COST_NEVER || right == COST_NEVER ? COST_NEVER : left + right;
}

/* How the unit is powered after the last step; fresh: no step was made yet. */
typedef enum { MODE_FRESH, MODE_OFF, MODE_ON, MODE_STANDBY, MODE_COUNT } Mode;

/* Taking out or fitting the part that `value` stands for, without what opening costs. */
static inline Cost
cost_remove (const Problem *problem, guint var, guint value)
{
    const Triple *triple = &g_array_index (problem->triples, Triple, problem->vars[var].triple[value]);
    return COST_STEP + problem->remove_tenths[triple->part->kind];
}

static inline Cost
cost_fit (const Problem *problem, guint var, guint value)
{
    const Triple *triple = &g_array_index (problem->triples, Triple, problem->vars[var].triple[value]);
    return COST_STEP + problem->fit_tenths[triple->part->kind] +
           (triple->part->kind == KIND_PROCESSOR ? COST_INSERTION : 0);
}

/* From one value of a slot to another, by removing and fitting. */
static inline Cost
cost_exchange (const Problem *problem, guint var, guint from, guint to)
{
    if (from == to)
        return 0;
    return (from != 0 ? cost_remove (problem, var, from) : 0) + (to != 0 ? cost_fit (problem, var, to) : 0);
}

/* Going over to power-off work, to a host write, to a controller write, to the end. */
static inline Cost
cost_go_off (const Problem *problem, Mode mode)
{
    return mode != MODE_OFF ? problem->opening_tenths : 0;
}

static inline Cost
cost_go_on (const Problem *problem, Mode mode)
{
    return mode != MODE_ON ? problem->start_tenths : 0;
}

static inline Cost
cost_end (const Problem *problem, Mode mode)
{
    return mode == MODE_ON || mode == MODE_FRESH ? 0 : problem->start_tenths;
}

static inline Mode
mode_of (Method method)
{
    return method == METHOD_HOST ? MODE_ON : method == METHOD_CONTROLLER ? MODE_STANDBY : MODE_OFF;
}

/* What a write by `method` costs beside its own minutes, coming from `mode`. */
static inline Cost
cost_power (const Problem *problem, Method method, Mode mode)
{
    return method == METHOD_HOST ? cost_go_on (problem, mode) : method == METHOD_CLIP ? cost_go_off (problem, mode) : 0;
}

#endif
