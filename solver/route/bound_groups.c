/* SPDX-License-Identifier: MIT */
/* Which components are looked at together: those that one file writes, and those whose writes ask about one another in a
 * circle, where each alone would seem to be able to go further than it can. */
#include "route/bound_parts.h"

/* Whether a write of `var` asks about `other`. */
static gboolean
asks_about (const Problem *problem, guint var, guint other)
{
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        gboolean sets = FALSE;
        for (guint e = 0; e < write->effects->len; e++)
            sets = sets || g_array_index (write->effects, Effect, e).var == var;
        for (guint c = 0; sets && c < write->before->len; c++) {
            const Clause *clause = write->before->pdata[c];
            for (guint l = 0; l < clause->count; l++)
                if (clause->literals[l].var == other)
                    return TRUE;
        }
    }
    return FALSE;
}

/* reach[a * n + b]: a's writes ask about b, directly or by way of others. Transfer full. */
static guint8 *
reachable (const Problem *problem)
{
    guint n = problem->n_vars, first = problem->n_slots;
    guint8 *reach = g_new0 (guint8, n * n + 1);
    for (guint a = first; a < n; a++)
        for (guint b = first; b < n; b++)
            reach[a * n + b] = a != b && asks_about (problem, a, b);
    for (guint via = first; via < n; via++)
        for (guint a = first; a < n; a++)
            for (guint b = first; b < n; b++)
                reach[a * n + b] |= reach[a * n + via] && reach[via * n + b];
    return reach;
}

static guint64
combinations (const Needs *needs, guint group)
{
    guint64 product = 1;
    for (guint v = needs->problem->n_slots; v < needs->problem->n_vars; v++)
        if (needs->group[v] == group && !needs->problem->vars[v].fixed)
            product *= needs->problem->vars[v].size;
    return product;
}

static void
join (Needs *needs, guint left, guint right)
{
    guint from = needs->group[right], to = needs->group[left];
    for (guint v = 0; v < needs->problem->n_vars; v++)
        if (needs->group[v] == from)
            needs->group[v] = to;
}

static void
join_circles (Needs *needs)
{
    guint n = needs->problem->n_vars;
    g_autofree guint8 *reach = reachable (needs->problem);
    for (guint a = needs->problem->n_slots; a < n; a++)
        for (guint b = a + 1; b < n; b++)
            if (reach[a * n + b] && reach[b * n + a] && needs->group[a] != needs->group[b] &&
                combinations (needs, needs->group[a]) * combinations (needs, needs->group[b]) <= MOST_JOINT)
                join (needs, a, b);
}

void
needs_make_groups (Needs *needs)
{
    const Problem *problem = needs->problem;
    needs->bundle = problem_groups (problem);
    needs->group = problem_groups (problem);
    needs->joint = g_new0 (Joint *, problem->n_vars + 1);
    join_circles (needs);
    for (guint group = problem->n_slots; group < problem->n_vars; group++) {
        g_autoptr (GArray) members = g_array_new (FALSE, FALSE, sizeof (guint));
        for (guint v = problem->n_slots; v < problem->n_vars; v++)
            if (needs->group[v] == group && !problem->vars[v].fixed)
                g_array_append_val (members, v);
        if (members->len > 1 && combinations (needs, group) <= MOST_JOINT)
            needs->joint[group] = joint_new (problem, members);
    }
}
