/* SPDX-License-Identifier: MIT */
/* What the open needs of a state cost: for each component its dearest, for components looked at together the dearest of
 * them together, and for a slot all the sets that it has to go through. */
#include "route/bound_parts.h"

/* Sets of one slot that have no value in common are gone through one after another, with a fitting for each. */
typedef struct {
    guint accepted[BOUND_MOST_NEEDS]; /* needs with nothing in common, of all slots */
    guint n;
} Visits;

static gboolean
is_apart_from_all (const Needs *needs, const Visits *visits, guint need)
{
    guint var = ((const Need *) needs->needs->pdata[need])->var;
    for (guint i = 0; i < visits->n; i++) {
        const Need *other = needs->needs->pdata[visits->accepted[i]];
        if (other->var == var && !needs->apart[need * needs->needs->len + visits->accepted[i]])
            return FALSE;
    }
    return TRUE;
}

/* `visits` fittings of the slot, and what else that makes necessary, ending as the goal lets it. */
static Cost
visits_cost (const Needs *needs, guint slot, guint visits, gboolean last_may_stay, gboolean filled_now)
{
    const Problem *problem = needs->problem;
    PartKind kind = board_slot (problem->unit->board, slot)->takes;
    Cost fit = problem->fit_cost[kind], take = problem->remove_cost[kind];
    Cost empty_at_end = needs->goal[slot][0] ? visits * fit + (visits + (filled_now ? 1 : 0)) * take : COST_NEVER;
    for (guint value = 1; value < problem->vars[slot].size; value++) {
        if (!needs->goal[slot][value])
            continue;
        guint fits = visits + (last_may_stay ? 0 : 1);
        return MIN (empty_at_end, fits * fit + (fits - (filled_now ? 0 : 1)) * take);
    }
    return empty_at_end;
}

static void
price_slot (const Needs *needs, const guint16 *values, const Visits *visits, guint slot, Cost *per_group)
{
    guint count = 0;
    gboolean last_may_stay = FALSE;
    for (guint i = 0; i < visits->n; i++) {
        const Need *need = needs->needs->pdata[visits->accepted[i]];
        if (need->var != slot)
            continue;
        last_may_stay = last_may_stay || need->meets_goal;
        count++;
    }
    if (count > 1)
        per_group[slot] = MAX (per_group[slot], visits_cost (needs, slot, count, last_may_stay, values[slot] != 0));
}

/* The components of one file count once; others of a group add up. */
static void
price_components (const Needs *needs, Cost *per_group)
{
    guint first = needs->problem->n_slots, n = needs->problem->n_vars;
    g_autofree Cost *together = g_new0 (Cost, n + 1);
    for (guint bundle = first; bundle < n; bundle++) {
        Cost dearest = 0;
        for (guint v = first; v < n; v++)
            if (needs->bundle[v] == bundle)
                dearest = MAX (dearest, needs->scratch[v]);
        together[needs->group[bundle]] += dearest;
    }
    for (guint group = first; group < n; group++)
        per_group[group] = MAX (per_group[group], together[group]);
}

static gboolean
price_need (const Needs *needs, const Need *need, const guint16 *values, Cost *per_group, guint *layers)
{
    Cost cost = need->cost[values[need->var]];
    if (cost == COST_NEVER)
        return FALSE;
    if (need->is_slot) {
        per_group[need->var] = MAX (per_group[need->var], cost);
        return TRUE;
    }
    needs->scratch[need->var] = MAX (needs->scratch[need->var], cost);
    if (layers != NULL)
        *layers = MAX (*layers, cost_steps (needs->problem, cost));
    if (need->joint == NULL)
        return TRUE;
    guint group = needs->group[need->var];
    Cost together = need->joint[joint_index (needs->joint[group], values)];
    per_group[group] = MAX (per_group[group], together);
    return together != COST_NEVER;
}

gboolean
needs_cost (const Needs *needs, const guint16 *values, Cost *per_group, guint *layers)
{
    guint stack[BOUND_MOST_NEEDS + 1], depth = 0;
    guint8 seen[BOUND_MOST_NEEDS] = { 0 };
    Visits visits;
    visits.n = 0;
    for (guint v = 0; v < needs->problem->n_vars; v++)
        per_group[v] = needs->scratch[v] = 0;
    for (guint i = 0; i < needs->roots->len; i++) {
        guint root = g_array_index (needs->roots, guint, i);
        seen[root] = 1;
        stack[depth++] = root;
    }
    while (depth > 0) {
        guint index = stack[--depth];
        const Need *need = needs->needs->pdata[index];
        if (!price_need (needs, need, values, per_group, layers))
            return FALSE;
        if (need->in[values[need->var]])
            continue;
        if (need->is_slot && need->fills && is_apart_from_all (needs, &visits, index))
            visits.accepted[visits.n++] = index;
        for (guint i = 0; i < need->calls->len; i++) {
            guint call = g_array_index (need->calls, guint, i);
            if (!seen[call]) {
                seen[call] = 1;
                stack[depth++] = call;
            }
        }
    }
    for (guint slot = 0; visits.n > 1 && slot < needs->problem->n_slots; slot++)
        price_slot (needs, values, &visits, slot, per_group);
    price_components (needs, per_group);
    return TRUE;
}
