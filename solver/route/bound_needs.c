/* SPDX-License-Identifier: MIT */
/* Needs: sets of values that a variable must reach, propagated backwards through the conditions of the last write. */
#include "route/bound_parts.h"

#include <string.h>

/* More needs than this add nothing in practice; the bound stays admissible without them. */
#define MOST_NEEDS 192

/* ---- What a write asks of one variable ----------------------------------------------------------------------------
 */

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

/* ---- Distances ------------------------------------------------------------------------------------------------------
 */

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
            Cost through = cost[effect->value] + COST_STEP + write->tenths;
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

/* ---- Building
 * ---------------------------------------------------------------------------------------------------------- */

static void
need_free (Need *need)
{
    g_free (need->in);
    g_free (need->cost);
    g_array_unref (need->calls);
    g_free (need);
}

/* The need for this set, made when it is new; -1 when it says nothing, or there are too many. */
static int
need_find (Needs *needs, const Problem *problem, guint var, const guint8 *in, guint8 *const *goal)
{
    const Variable *variable = &problem->vars[var];
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
    if (needs->needs->len >= MOST_NEEDS)
        return -1;
    Need *need = g_new0 (Need, 1);
    need->var = var;
    need->is_slot = variable->is_slot;
    need->in = g_memdup2 (in, variable->size);
    need->cost = g_new0 (Cost, variable->size);
    need->calls = g_array_new (FALSE, FALSE, sizeof (guint));
    if (variable->is_slot)
        slot_distances (problem, need, goal[var]);
    else
        bound_component_costs (problem, var, in, need->cost);
    g_ptr_array_add (needs->needs, need);
    return (int) needs->needs->len - 1;
}

/* What the last write into the set asks of `other`: the union over all writes that lead into it. FALSE: nothing. */
static gboolean
asked_by_last_write (const Problem *problem, const Need *need, guint other, guint8 *asked)
{
    guint size = problem->vars[other].size;
    g_autofree guint8 *allowed = g_new (guint8, size);
    gboolean any = FALSE;
    memset (asked, 0, size);
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        const Effect *effect = effect_on (write, need->var);
        if (effect == NULL || !need->in[effect->value])
            continue;
        any = TRUE;
        allowed_before (problem, write, other, allowed);
        for (guint value = 0; value < size; value++)
            asked[value] |= allowed[value];
    }
    return any;
}

static void
call_needs (Needs *needs, const Problem *problem, guint index, guint8 *const *goal)
{
    for (guint other = 0; other < problem->n_vars; other++) {
        const Need *need = needs->needs->pdata[index];
        if (other == need->var || problem->vars[other].fixed)
            continue;
        g_autofree guint8 *asked = g_new (guint8, problem->vars[other].size);
        if (!asked_by_last_write (problem, need, other, asked))
            continue;
        int called = need_find (needs, problem, other, asked, goal);
        if (called >= 0) {
            guint call = (guint) called;
            g_array_append_val (((Need *) needs->needs->pdata[index])->calls, call);
        }
    }
}

Needs *
needs_new (const Problem *problem, guint8 *const *goal)
{
    Needs *needs = g_new0 (Needs, 1);
    needs->needs = g_ptr_array_new_with_free_func ((GDestroyNotify) need_free);
    needs->roots = g_array_new (FALSE, FALSE, sizeof (guint));
    needs->group = problem_groups (problem);
    for (guint v = 0; v < problem->n_vars; v++) {
        int root = need_find (needs, problem, v, goal[v], goal);
        if (root >= 0) {
            guint index = (guint) root;
            g_array_append_val (needs->roots, index);
        }
    }
    for (guint i = 0; i < needs->needs->len; i++)
        if (!problem->vars[((Need *) needs->needs->pdata[i])->var].is_slot)
            call_needs (needs, problem, i, goal);
    return needs;
}

void
needs_free (Needs *needs)
{
    g_ptr_array_unref (needs->needs);
    g_array_unref (needs->roots);
    g_free (needs->group);
    g_free (needs);
}

/* ---- Asking
 * ------------------------------------------------------------------------------------------------------------ */

gboolean
needs_cost (const Needs *needs, const guint16 *values, Cost *per_group, guint *layers)
{
    guint stack[MOST_NEEDS + 1], depth = 0;
    guint8 seen[MOST_NEEDS] = { 0 };
    for (guint i = 0; i < needs->roots->len; i++) {
        guint root = g_array_index (needs->roots, guint, i);
        seen[root] = 1;
        stack[depth++] = root;
    }
    while (depth > 0) {
        const Need *need = needs->needs->pdata[stack[--depth]];
        guint value = values[need->var];
        Cost cost = need->cost[value];
        if (cost == COST_NEVER)
            return FALSE;
        guint group = needs->group[need->var];
        per_group[group] = MAX (per_group[group], cost);
        if (layers != NULL)
            *layers = MAX (*layers, need->is_slot ? 0 : cost_steps (cost));
        if (need->in[value])
            continue;
        for (guint i = 0; i < need->calls->len; i++) {
            guint call = g_array_index (need->calls, guint, i);
            if (!seen[call]) {
                seen[call] = 1;
                stack[depth++] = call;
            }
        }
    }
    return TRUE;
}
