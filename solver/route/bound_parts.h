/* SPDX-License-Identifier: MIT */
/* The parts that a bound is added up from; for bound*.c only. */
#ifndef RUNGWISE_ROUTE_BOUND_PARTS_H
#define RUNGWISE_ROUTE_BOUND_PARTS_H

#include "route/cost.h"

/* What each variable may be at the end, one byte a value. NULL: no state meets the want and starts. Free with
 * g_strfreev after a cast. */
guint8 **bound_goal_domains (const Problem *problem);

/* The domains of the state just before `write` takes `var` into the set for the first time; NULL: that cannot be. Free
 * with g_strfreev after a cast. */
guint8 **bound_before_write (const Problem *problem, const Write *write, guint var, const guint8 *in);

/* Components that unlock one another, looked at together: every combination of their releases, everything else left
 * out. */
typedef struct Joint Joint;

/* `members`: components (variables), at most MOST_JOINT combinations. */
#define MOST_JOINT 1024
Joint *joint_new (const Problem *problem, const GArray *members);
void joint_free (Joint *joint);
/* Per combination, the least cost of getting `var` into the set, writes of all members counted. Transfer full. */
Cost *joint_costs (const Joint *joint, guint var, const guint8 *in);
guint joint_index (const Joint *joint, const guint16 *values);

/* "This variable must at some time have a value in this set." */
typedef struct {
    guint var;
    gboolean is_slot;
    gboolean fills; /* slots: the set is without "empty" */
    guint8 *in;     /* owned */
    Cost *cost;     /* owned; per value: the least for getting from there into the set (and, slots, on to the goal) */
    Cost *joint;    /* owned, nullable; the same per combination of its group */
    gboolean meets_goal; /* slots: some value of the set may stand at the end */
    GArray *calls;       /* guint: needs that hold too while this one is open; owned */
} Need;

/* More needs than this add nothing in practice; the bound stays admissible without them. */
#define BOUND_MOST_NEEDS 192

typedef struct {
    const Problem *problem; /* borrowed */
    guint8 *const *goal;    /* borrowed */
    GPtrArray *needs;       /* Need* */
    GArray *roots;          /* guint: needs of the goal itself */
    guint *group;  /* owned; per variable: components that one file writes, or that unlock one another, share one */
    guint *bundle; /* owned; per variable: components that one file writes share one */
    Joint **joint; /* owned; per group; NULL: a single component, or too many combinations */
    guint8 *apart; /* owned; per pair of needs: no value in common */
    Cost *scratch; /* owned; per variable */
} Needs;

/* Finds group, bundle and joint. */
void needs_make_groups (Needs *needs);
Needs *needs_new (const Problem *problem, guint8 *const *goal);
void needs_free (Needs *needs);
/* The least cost per group, into `per_group` (n_vars entries). A state from which some need cannot be met gives FALSE.
 * With `layers`, the most writes that any one need takes. */
gboolean needs_cost (const Needs *needs, const guint16 *values, Cost *per_group, guint *layers);

/* Cheapest chain of writes of one component from each value into the set, other variables ignored. */
void bound_component_costs (const Problem *problem, guint var, const guint8 *in, Cost *cost);

/* Processor slots together with the components that decide starting, searched in full without the rest. */
typedef struct {
    GArray *vars;      /* guint: the pattern, slots first; owned */
    guint *stride;     /* owned; per entry of vars */
    guint n_states;    /* without modes */
    Cost *with_writes; /* owned; per state and mode: least cost, writes of the pattern's components counted */
    Cost *slots_only;  /* owned; likewise, writes free */
} Table;

/* States that no route of at most `most_steps` steps passes are left out (G_MAXUINT: none). `apart` has, per group,
 * what its needs cost from the start: steps that the pattern cannot have, where it leaves the group out. */
Table *table_new (const Problem *problem, guint8 *const *goal, guint most_steps, const guint *group, const Cost *apart);
void table_free (Table *table);

static inline guint
table_index (const Table *table, const guint16 *values)
{
    guint index = 0;
    for (guint i = 0; i < table->vars->len; i++)
        index += table->stride[i] * values[g_array_index (table->vars, guint, i)];
    return index;
}

#endif
