/* SPDX-License-Identifier: MIT */
#include "compare_parts.h"

#include "route/layers.h"

/* Refuting grows steeply with the length; longer routes are left to the search. */
enum { MOST_REFUTED = 5, SECONDS = 10 };

static char *
costs_text (const char *what, const Problem *problem, Cost found, Cost expected)
{
    return g_strdup_printf (
        "by %s, %s: cost %" G_GINT64_MODIFIER "x, %u first, %u steps; expected %" G_GINT64_MODIFIER "x, %u, %u",
        objective_name (problem->objective), what, found, cost_lead (problem, found), cost_steps (problem, found),
        expected, cost_lead (problem, expected), cost_steps (problem, expected));
}

/* With a table of everything, and with the smallest one that may be asked for. */
static gboolean
bound_agrees (const Problem *problem, Bound *bound, Cost expected, char **why)
{
    g_autofree guint16 *values = problem_initial_values (problem);
    Cost needs = bound_by_needs (bound, values);
    if (needs != COST_NEVER) {
        bound_make_table (bound, expected == COST_NEVER ? 3 : cost_lead (problem, expected));
        Cost small = bound_of (bound, values, MODE_FRESH);
        if (expected != COST_NEVER && small > expected) {
            *why = costs_text ("the bound of the small table", problem, small, expected);
            return FALSE;
        }
        bound_make_table (bound, G_MAXUINT);
        Cost whole = bound_of (bound, values, MODE_FRESH);
        needs = MAX (needs, whole);
    }
    if (needs <= expected)
        return TRUE;
    *why = costs_text ("the bound", problem, needs, expected);
    return FALSE;
}

static gboolean
search_agrees (const Problem *problem, const Bound *bound, Cost expected, char **why)
{
    const Cost mask = problem->weights->coarse;
    const SearchLimits whole = { .ceiling = COST_NEVER, .mask = SEARCH_ALL, .most = G_MAXUINT64 };
    const SearchLimits coarse = { .ceiling = COST_NEVER, .mask = mask, .most = G_MAXUINT64 };
    g_autoptr (SearchResult) result = search_run (problem, bound, &whole);
    if (!result->exhausted || result->cost != expected) {
        *why = costs_text ("the search alone", problem, result->cost, expected);
        return FALSE;
    }
    g_autoptr (SearchResult) quick = search_run (problem, bound, &coarse);
    if ((quick->cost & mask) == (expected & mask))
        return TRUE;
    *why = costs_text ("the search by what counts most", problem, quick->cost, expected);
    return FALSE;
}

static gboolean
layers_agree (const Problem *problem, Cost expected, char **why)
{
    guint steps = expected == COST_NEVER ? 3 : cost_steps (problem, expected);
    const PackagesPatience patience = { SECONDS, NULL, NULL };
    g_autoptr (Layers) layers = layers_new (problem);
    g_autoptr (GArray) moves = NULL, fewer = NULL;
    if (steps == 0 || steps > MOST_REFUTED)
        return TRUE;
    PackagesOutcome outcome = layers_solve (layers, steps, steps, &patience, &moves);
    if (outcome == PACKAGES_OUT_OF_TIME) /* says nothing either way: a busy machine, or a hard refutation */
        return TRUE;
    if (outcome != (expected == COST_NEVER ? PACKAGES_REFUTED : PACKAGES_SOLVED)) {
        *why = g_strdup_printf ("the packages, %u steps over as many layers: outcome %d", steps, outcome);
        return FALSE;
    }
    if (expected == COST_NEVER)
        return TRUE;
    if (cost_steps (problem, moves_cost (problem, moves)) != steps) {
        *why = costs_text ("the packages' route", problem, moves_cost (problem, moves), expected);
        return FALSE;
    }
    if (steps < 2 || layers_solve (layers, steps - 1, steps - 1, &patience, &fewer) != PACKAGES_SOLVED)
        return TRUE;
    *why = g_strdup_printf ("the packages find a route of %u steps over as many layers", steps - 1);
    return FALSE;
}

gboolean
parts_agree (const Library *library, const Shop *shop, const Unit *unit, const Want *want, Expected expected,
             char **why)
{
    const RouteOptions options = { .objective = (Objective) expected.objective };
    g_autoptr (Problem) problem = problem_new (library, shop, unit, want, &options, why);
    if (problem == NULL)
        return FALSE;
    const Weights *weights = problem->weights;
    Cost cost = expected.steps < 0
                    ? COST_NEVER
                    : (guint) expected.steps * weights->step + (guint) expected.insertions * weights->insertion +
                          (guint) expected.openings * weights->opening + (guint) expected.tenths * weights->tenth;
    g_autoptr (Bound) bound = bound_new (problem);
    g_autofree guint16 *values = problem_initial_values (problem);
    if (!bound_agrees (problem, bound, cost, why))
        return FALSE;
    if (bound_by_needs (bound, values) != COST_NEVER && !search_agrees (problem, bound, cost, why))
        return FALSE;
    /* The packages count steps, whatever is minimised. */
    return options.objective != OBJECTIVE_STEPS || layers_agree (problem, cost, why);
}
