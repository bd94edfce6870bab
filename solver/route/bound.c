/* SPDX-License-Identifier: MIT */
/* The bound adds up parts that never count a step twice: the table for processor slots (and the writes of the
 * components in it, or not), the needs of every other slot, and per group of components the dearest need. The better of
 * the two ways of adding counts. */
#include "route/bound.h"
#include "route/bound_parts.h"

struct Bound {
    const Problem *problem; /* borrowed */
    guint8 **goal;          /* owned; NULL: no state meets the want and starts */
    Needs *needs;           /* owned */
    Table *table;           /* owned */
    guint8 *in_table;       /* owned; per variable */
    guint8 *group_in_table; /* owned; per group: one of its components is in the table */
    Cost *scratch;          /* owned; per group */
};

Bound *
bound_new (const Problem *problem)
{
    Bound *bound = g_new0 (Bound, 1);
    bound->problem = problem;
    bound->goal = bound_goal_domains (problem);
    bound->scratch = g_new0 (Cost, problem->n_vars + 1);
    bound->in_table = g_new0 (guint8, problem->n_vars + 1);
    bound->group_in_table = g_new0 (guint8, problem->n_vars + 1);
    if (bound->goal != NULL)
        bound->needs = needs_new (problem, bound->goal);
    return bound;
}

static gboolean
ask_needs (const Bound *bound, const guint16 *values, guint *layers)
{
    if (bound->goal == NULL)
        return FALSE;
    return needs_cost (bound->needs, values, bound->scratch, layers);
}

void
bound_make_table (Bound *bound, guint most_steps)
{
    const Problem *problem = bound->problem;
    g_return_if_fail (bound->goal != NULL);
    g_autofree guint16 *values = problem_initial_values (problem);
    ask_needs (bound, values, NULL);
    g_clear_pointer (&bound->table, table_free);
    bound->table = table_new (problem, bound->goal, most_steps, bound->needs->group, bound->scratch);
    for (guint i = 0; i < bound->table->vars->len; i++) {
        guint v = g_array_index (bound->table->vars, guint, i);
        bound->in_table[v] = TRUE;
        bound->group_in_table[bound->needs->group[v]] = TRUE;
    }
}

void
bound_free (Bound *bound)
{
    g_strfreev ((char **) bound->goal);
    g_clear_pointer (&bound->needs, needs_free);
    g_clear_pointer (&bound->table, table_free);
    g_free (bound->in_table);
    g_free (bound->group_in_table);
    g_free (bound->scratch);
    g_free (bound);
}

Cost
bound_of (const Bound *bound, const guint16 *values, Mode mode)
{
    const Problem *problem = bound->problem;
    if (!ask_needs (bound, values, NULL))
        return COST_NEVER;
    guint entry = table_index (bound->table, values) * MODE_COUNT + mode;
    Cost with_writes = bound->table->with_writes[entry], slots_only = bound->table->slots_only[entry];
    if (slots_only == COST_NEVER)
        return COST_NEVER;
    Cost needs_alone = 0;
    for (guint group = 0; group < problem->n_vars; group++) {
        needs_alone += bound->scratch[group];
        if (problem->vars[group].is_slot && bound->in_table[group])
            continue;
        slots_only += bound->scratch[group];
        if (!bound->group_in_table[group])
            with_writes += bound->scratch[group];
    }
    return MAX (needs_alone, MAX (with_writes, slots_only));
}

Cost
bound_by_needs (const Bound *bound, const guint16 *values)
{
    Cost sum = 0;
    if (!ask_needs (bound, values, NULL))
        return COST_NEVER;
    for (guint group = 0; group < bound->problem->n_vars; group++)
        sum += bound->scratch[group];
    return sum;
}

guint
bound_layers (const Bound *bound, const guint16 *values)
{
    guint layers = 0;
    ask_needs (bound, values, &layers);
    return layers;
}
