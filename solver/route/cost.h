/* SPDX-License-Identifier: MIT */
/* What steps cost in the objective of a problem. */
#ifndef RUNGWISE_ROUTE_COST_H
#define RUNGWISE_ROUTE_COST_H

#include "route/problem.h"

/* What the objective minimises first: steps, insertions, tenths of a minute. */
static inline guint
cost_lead (const Problem *problem, Cost cost)
{
    return (guint) (cost >> problem->weights->lead_shift);
}

static inline guint
cost_steps (const Problem *problem, Cost cost)
{
    return (guint) (cost >> problem->weights->step_shift) & problem->weights->step_mask;
}

/* The least cost with so much of what is minimised first. */
static inline Cost
cost_of_lead (const Problem *problem, guint lead)
{
    return (Cost) lead << problem->weights->lead_shift;
}

static inline Cost
cost_add (Cost left, Cost right)
{
    return left == COST_NEVER || right == COST_NEVER ? COST_NEVER : left + right;
}

/* Taking out or fitting the part that `value` stands for, without what opening costs. */
static inline Cost
cost_remove (const Problem *problem, guint var, guint value)
{
    const Variable *slot = &problem->vars[var];
    PartKind kind = g_array_index (problem->triples, Triple, slot->triple[value]).part->kind;
    return problem->remove_cost[kind] + (slot->odd_take[value] ? problem->weights->odd : 0);
}

static inline Cost
cost_fit (const Problem *problem, guint var, guint value)
{
    const Variable *slot = &problem->vars[var];
    PartKind kind = g_array_index (problem->triples, Triple, slot->triple[value]).part->kind;
    return problem->fit_cost[kind] + (slot->odd_fit[value] ? problem->weights->odd : 0);
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
    return mode != MODE_OFF ? problem->opening_cost : 0;
}

static inline Cost
cost_go_on (const Problem *problem, Mode mode)
{
    return mode != MODE_ON ? problem->start_cost : 0;
}

static inline Cost
cost_end (const Problem *problem, Mode mode)
{
    return mode == MODE_ON || mode == MODE_FRESH ? 0 : problem->start_cost;
}

/* What a write costs beside itself, coming from `mode`. */
static inline Cost
cost_power (const Problem *problem, const Write *write, Mode mode)
{
    return write->mode == MODE_ON    ? cost_go_on (problem, mode)
           : write->mode == MODE_OFF ? cost_go_off (problem, mode)
                                     : 0;
}

#endif
