/* SPDX-License-Identifier: MIT */
/* Bound: what any route from a state costs at the least, in steps, insertions and minutes.
 *
 * Owns:   tables made once per problem; a bound is then a few additions and look-ups.
 * Calls:  problem only; shares nothing with the layered encoding.
 * Method: docs/method.md, "The lower bound". Never more than the cheapest route costs (admissible), in the order of
 *         Cost; COST_NEVER: no route at all. */
#ifndef RUNGWISE_ROUTE_BOUND_H
#define RUNGWISE_ROUTE_BOUND_H

#include "route/cost.h"

typedef struct Bound Bound;

/* Cheap: goal and needs, no table yet. */
Bound *bound_new (const Problem *problem);
/* Makes the table (again), without which bound_of may not be called. With a route known, `most_steps` is its number of
 * steps, and the bound may be COST_NEVER for states that no route of as few steps passes; G_MAXUINT otherwise. Cost:
 * states of the pattern times moves. */
void bound_make_table (Bound *bound, guint most_steps);
/* A weaker bound that needs no table; COST_NEVER: no state meets the want and starts, as far as goal and needs see. */
Cost bound_by_needs (const Bound *bound, const guint16 *values);
void bound_free (Bound *bound);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Bound, bound_free)

/* `values` has one entry per variable of the problem. */
Cost bound_of (const Bound *bound, const guint16 *values, Mode mode);

/* Fewest layers in which each component gets where it has to, at one write a layer. Needs no table. */
guint bound_layers (const Bound *bound, const guint16 *values);

#endif
