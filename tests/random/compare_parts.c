/* SPDX-License-Identifier: MIT */
#include "compare_parts.h"

#include "route/layers.h"

/* Refuting grows steeply with the length; longer routes are left to the search. */
enum { MOST_REFUTED = 5, SECONDS = 10 };

static char *
costs_text (const char *what, Cost found, Cost expected)
{
    return g_strdup_printf ("%s: %u steps, %u insertions, %u tenths; expected %u, %u, %u", what, cost_steps (found),
                            cost_insertions (found), cost_tenths (found), cost_steps (expected),
                            cost_insertions (expected), cost_tenths (expected));
}

/* With a table of everything, and with the smallest one that may be asked for. */
static gboolean
bound_agrees (const Problem *problem, Bound *bound, Cost expected, char **why)
{
    g_autofree guint16 *values = problem_initial_values (problem);
    Cost needs = bound_by_needs (bound, values);
    if (needs != COST_NEVER) {
        bound_make_table (bound, expected == COST_NEVER ? 3 : cost_steps (expected));
        Cost small = bound_of (bound, values, MODE_FRESH);
        if (expected != COST_NEVER && small > expected) {
            *why = costs_text ("the bound of the small table", small, expected);
            return FALSE;
        }
        bound_make_table (bound, G_MAXUINT);
        Cost whole = bound_of (bound, values, MODE_FRESH);
        needs = MAX (needs, whole);
    }
    if (needs <= expected)
        return TRUE;
    *why = costs_text ("the bound", needs, expected);
    return FALSE;
}

static gboolean
search_agrees (const Problem *problem, const Bound *bound, Cost expected, char **why)
{
    const SearchLimits whole = { COST_NEVER, SEARCH_ALL, G_MAXUINT64, NULL, NULL };
    const SearchLimits steps = { COST_NEVER, SEARCH_STEPS, G_MAXUINT64, NULL, NULL };
    g_autoptr (SearchResult) result = search_run (problem, bound, &whole);
    if (!result->exhausted || result->cost != expected) {
        *why = costs_text ("the search alone", result->cost, expected);
        return FALSE;
    }
    g_autoptr (SearchResult) quick = search_run (problem, bound, &steps);
    if ((quick->cost & SEARCH_STEPS) == (expected & SEARCH_STEPS))
        return TRUE;
    *why = costs_text ("the search without minutes", quick->cost, expected);
    return FALSE;
}

static gboolean
layers_agree (const Problem *problem, Cost expected, char **why)
{
    guint steps = expected == COST_NEVER ? 3 : cost_steps (expected);
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
    if (cost_steps (moves_cost (problem, moves)) != steps) {
        *why = costs_text ("the packages' route", moves_cost (problem, moves), expected);
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
    g_autoptr (Problem) problem = problem_new (library, shop, unit, want, why);
    if (problem == NULL)
        return FALSE;
    Cost cost = expected.steps < 0 ? COST_NEVER
                                   : (guint) expected.steps * COST_STEP + (guint) expected.insertions * COST_INSERTION +
                                         (guint) expected.tenths;
    g_autoptr (Bound) bound = bound_new (problem);
    g_autofree guint16 *values = problem_initial_values (problem);
    if (!bound_agrees (problem, bound, cost, why))
        return FALSE;
    if (bound_by_needs (bound, values) != COST_NEVER && !search_agrees (problem, bound, cost, why))
        return FALSE;
    return layers_agree (problem, cost, why);
}
