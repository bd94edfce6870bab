/* SPDX-License-Identifier: MIT */
/* Needs: sets of values that a variable must reach, propagated backwards through the conditions of the last write. */
#include "route/bound_parts.h"

#include <string.h>

/* ---- What a write asks of one variable ---- */

static void
narrow_by_units (const GPtrArray *clauses, guint var, guint size, guint8 *allowed)
{
    for (guint i = 0; i < clauses->len; i++) {
        const Clause *clause = clauses->pdata[i];
        if (clause->count != 1 || clause->literals[0].var != var)
            continue;
        for (guint value = 0; value < size; value++)
            allowed[value] &= clause->literals[0].in[value];
    }
}

/* Which values of `var` the state before `write` may have, as far as clauses about `var` alone say. */
static void
allowed_before (const Problem *problem, const Write *write, guint var, guint8 *allowed)
{
    guint size = problem->vars[var].size;
    memset (allowed, 1, size);
    narrow_by_units (write->before, var, size, allowed);
    narrow_by_units (problem->bars[write->method], var, size, allowed);
    if (write->start_before)
        narrow_by_units (problem->start, var, size, allowed);
    if (write->standby_quiet)
        narrow_by_units (problem->standby, var, size, allowed);
}

static const Effect *
effect_on (const Write *write, guint var)
{
    for (guint e = 0; e < write->effects->len; e++)
        if (g_array_index (write->effects, Effect, e).var == var)
            return &g_array_index (write->effects, Effect, e);
    return NULL;
}

/* ---- Costs of one variable ---- */

void
bound_component_costs (const Problem *problem, guint var, const guint8 *in, Cost *cost)
{
    guint size = problem->vars[var].size;
    g_autofree guint8 *allowed = g_new (guint8, size);
    for (guint value = 0; value < size; value++)
        cost[value] = in[value] ? 0 : COST_NEVER;
    for (gboolean cheaper = TRUE; cheaper;) {
        cheaper = FALSE;
        for (guint w = 0; w < problem->writes->len; w++) {
            const Write *write = problem->writes->pdata[w];
            const Effect *effect = effect_on (write, var);
            if (effect == NULL || cost[effect->value] == COST_NEVER)
                continue;
            Cost through = cost[effect->value] + write->cost;
            allowed_before (problem, write, var, allowed);
            for (guint value = 0; value < size; value++)
                if (allowed[value] && cost[value] > through) {
                    cost[value] = through;
                    cheaper = TRUE;
                }
        }
    }
}

/* Into the set and from there to where the slot may end. */
static void
slot_distances (const Problem *problem, Need *need, const guint8 *goal)
{
    guint size = problem->vars[need->var].size;
    for (guint value = 0; value < size; value++) {
        need->cost[value] = COST_NEVER;
        for (guint via = 0; via < size; via++)
            for (guint end = 0; need->in[via] && end < size; end++)
                if (goal[end])
                    need->cost[value] = MIN (need->cost[value], cost_exchange (problem, need->var, value, via) +
                                                                    cost_exchange (problem, need->var, via, end));
    }
}

/* ---- Building ---- */

static void
need_free (Need *need)
{
    g_free (need->in);
    g_free (need->cost);
    g_free (need->joint);
    g_array_unref (need->calls);
    g_free (need);
}

static gboolean
share_a_value (const guint8 *left, const guint8 *right, guint size)
{
    for (guint value = 0; value < size; value++)
        if (left[value] && right[value])
            return TRUE;
    return FALSE;
}

static Need *
need_new (const Needs *needs, guint var, const guint8 *in)
{
    const Problem *problem = needs->problem;
    const Variable *variable = &problem->vars[var];
    Need *need = g_new0 (Need, 1);
    need->var = var;
    need->is_slot = variable->is_slot;
    need->fills = !in[0];
    need->in = g_memdup2 (in, variable->size);
    need->cost = g_new0 (Cost, variable->size);
    need->calls = g_array_new (FALSE, FALSE, sizeof (guint));
    need->meets_goal = share_a_value (in, needs->goal[var], variable->size);
    if (variable->is_slot)
        slot_distances (problem, need, needs->goal[var]);
    else
        bound_component_costs (problem, var, in, need->cost);
    if (needs->joint[needs->group[var]] != NULL)
        need->joint = joint_costs (needs->joint[needs->group[var]], var, in);
    return need;
}

/* The need for this set, made when it is new; -1 when it says nothing, or there are too many. */
static int
need_find (Needs *needs, guint var, const guint8 *in)
{
    const Variable *variable = &needs->problem->vars[var];
    guint members = 0;
    for (guint value = 0; value < variable->size; value++)
        members += in[value];
    if (variable->fixed || members == variable->size)
        return -1;
    for (guint i = 0; i < needs->needs->len; i++) {
        const Need *need = needs->needs->pdata[i];
        if (need->var == var && memcmp (need->in, in, variable->size) == 0)
            return (int) i;
    }
    if (needs->needs->len >= BOUND_MOST_NEEDS)
        return -1;
    g_ptr_array_add (needs->needs, need_new (needs, var, in));
    return (int) needs->needs->len - 1;
}

/* What the state before the first write into the set must look like: the union over all writes that lead into it. NULL:
 * there is none. */
static guint8 **
asked_before (const Problem *problem, const Need *need)
{
    guint8 **asked = NULL;
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        const Effect *effect = effect_on (write, need->var);
        if (effect == NULL || !need->in[effect->value])
            continue;
        guint8 **domains = bound_before_write (problem, write, need->var, need->in);
        if (domains == NULL)
            continue;
        if (asked == NULL) {
            asked = domains;
            continue;
        }
        for (guint v = 0; v < problem->n_vars; v++)
            for (guint value = 0; value < problem->vars[v].size; value++)
                asked[v][value] |= domains[v][value];
        g_strfreev ((char **) domains);
    }
    return asked;
}

static void
call_needs (Needs *needs, guint index)
{
    const Problem *problem = needs->problem;
    guint8 **asked = asked_before (problem, needs->needs->pdata[index]);
    for (guint v = 0; asked != NULL && v < problem->n_vars; v++) {
        int called = need_find (needs, v, asked[v]);
        if (called >= 0 && called != (int) index) {
            guint call = (guint) called;
            g_array_append_val (((Need *) needs->needs->pdata[index])->calls, call);
        }
    }
    g_strfreev ((char **) asked);
}

static void
compare_needs (Needs *needs)
{
    guint n = needs->needs->len;
    needs->apart = g_new0 (guint8, n * n + 1);
    for (guint i = 0; i < n; i++)
        for (guint k = 0; k < n; k++) {
            const Need *left = needs->needs->pdata[i], *right = needs->needs->pdata[k];
            needs->apart[i * n + k] =
                left->var == right->var && !share_a_value (left->in, right->in, needs->problem->vars[left->var].size);
        }
}

Needs *
needs_new (const Problem *problem, guint8 *const *goal)
{
    Needs *needs = g_new0 (Needs, 1);
    needs->problem = problem;
    needs->goal = goal;
    needs->needs = g_ptr_array_new_with_free_func ((GDestroyNotify) need_free);
    needs->roots = g_array_new (FALSE, FALSE, sizeof (guint));
    needs->scratch = g_new0 (Cost, problem->n_vars + 1);
    needs_make_groups (needs);
    for (guint v = 0; v < problem->n_vars; v++) {
        int root = need_find (needs, v, goal[v]);
        if (root >= 0) {
            guint index = (guint) root;
            g_array_append_val (needs->roots, index);
        }
    }
    for (guint i = 0; i < needs->needs->len; i++)
        if (!((Need *) needs->needs->pdata[i])->is_slot)
            call_needs (needs, i);
    compare_needs (needs);
    return needs;
}

void
needs_free (Needs *needs)
{
    for (guint v = 0; v < needs->problem->n_vars; v++)
        joint_free (needs->joint[v]);
    g_free (needs->joint);
    g_ptr_array_unref (needs->needs);
    g_array_unref (needs->roots);
    g_free (needs->group);
    g_free (needs->bundle);
    g_free (needs->apart);
    g_free (needs->scratch);
    g_free (needs);
}
