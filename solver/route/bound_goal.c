/* SPDX-License-Identifier: MIT */
/* What each variable may be at the end: the want, narrowed by what must hold for the last state to start. */
#include "route/bound_parts.h"
#include "route/reduce.h"

/* Least that a slot adds to the load whatever else is so: nothing if it may be dead. */
static double
least_load (const Problem *problem, const Sum *sum, guint8 *const *domains, guint var)
{
    for (int server = problem->vars[var].server; server >= 0; server = problem->vars[server].server)
        if (domains[server][0])
            return 0;
    double least = G_MAXDOUBLE;
    for (guint value = 0; value < problem->vars[var].size; value++)
        if (domains[var][value])
            least = MIN (least, sum->load[var][value]);
    return least;
}

static double
most_supply (const Problem *problem, const Sum *sum, guint8 *const *domains, guint var)
{
    double most = 0;
    for (guint value = 0; value < problem->vars[var].size; value++)
        if (domains[var][value])
            most = MAX (most, sum->supply[var][value]);
    return most;
}

/* Can the total hold with `var` at `value` and everything else at its best? */
static gboolean
sum_may_hold (const Problem *problem, const Sum *sum, guint8 *const *domains, guint var, guint value)
{
    double load = sum->base, supply = 0, largest = 0;
    for (guint v = 0; v < problem->n_slots; v++) {
        gboolean counts = v == var && problem->vars[v].server < 0;
        load += counts ? sum->load[v][value] : least_load (problem, sum, domains, v);
        double gives = v == var ? sum->supply[v][value] : most_supply (problem, sum, domains, v);
        supply += gives;
        largest = MAX (largest, gives);
    }
    return load <= supply - (sum->lose_largest ? largest : 0) + TOTAL_SLACK;
}

static gboolean
narrow_by_sum (const Problem *problem, const Sum *sum, guint8 **domains)
{
    gboolean narrowed = FALSE;
    for (guint v = 0; v < problem->n_slots; v++)
        for (guint value = 0; value < problem->vars[v].size; value++)
            if (domains[v][value] && !sum_may_hold (problem, sum, domains, v, value)) {
                domains[v][value] = 0;
                narrowed = TRUE;
            }
    return narrowed;
}

guint8 **
bound_goal_domains (const Problem *problem)
{
    guint8 **domains = reduce_domains (problem);
    for (guint v = 0; v < problem->n_vars; v++)
        for (guint value = 0; value < problem->vars[v].size; value++)
            domains[v][value] = domains[v][value] && problem->vars[v].goal[value];
    const GPtrArray *lists[] = { problem->start, problem->end };
    gboolean possible = TRUE;
    for (gboolean narrowed = TRUE; narrowed && possible;) {
        possible = reduce_propagate_lists (problem, domains, lists, G_N_ELEMENTS (lists));
        narrowed = FALSE;
        for (guint s = 0; s < problem->sums->len && possible; s++) {
            const Sum *sum = problem->sums->pdata[s];
            narrowed = (sum->needed_to_start && narrow_by_sum (problem, sum, domains)) || narrowed;
        }
    }
    for (guint v = 0; v < problem->n_vars && possible; v++) {
        gboolean any = FALSE;
        for (guint value = 0; value < problem->vars[v].size; value++)
            any = any || domains[v][value];
        possible = any;
    }
    if (!possible) {
        g_strfreev ((char **) domains);
        return NULL;
    }
    return domains;
}
