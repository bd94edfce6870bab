/* SPDX-License-Identifier: MIT */
/* Values that no route reaches, and values with which nothing starts. */
#include "route/reduce.h"

#include <string.h>

/* ---- Values that are never reached ---- */

static gboolean
may_hold (const Clause *clause, guint8 *const *reached, const Problem *problem)
{
    for (guint i = 0; i < clause->count; i++)
        for (guint value = 0; value < problem->vars[clause->literals[i].var].size; value++)
            if (clause->literals[i].in[value] && reached[clause->literals[i].var][value])
                return TRUE;
    return FALSE;
}

static gboolean
all_may_hold (const GPtrArray *clauses, guint8 *const *reached, const Problem *problem)
{
    for (guint i = 0; i < clauses->len; i++)
        if (!may_hold (clauses->pdata[i], reached, problem))
            return FALSE;
    return TRUE;
}

static gboolean
write_may_happen (const Problem *problem, const Write *write, guint8 *const *reached)
{
    return all_may_hold (write->before, reached, problem) &&
           all_may_hold (problem->bars[write->method], reached, problem) &&
           (!write->start_before || all_may_hold (problem->start, reached, problem)) &&
           (!write->standby_quiet || all_may_hold (problem->standby, reached, problem));
}

/* What can be reached when nothing that was reached is ever lost again: more than the truth, never less. */
static void
spread (const Problem *problem, guint8 **reached, guint8 *happens)
{
    for (gboolean grew = TRUE; grew;) {
        grew = FALSE;
        for (guint w = 0; w < problem->writes->len; w++) {
            const Write *write = problem->writes->pdata[w];
            if (happens[w] || !write_may_happen (problem, write, reached))
                continue;
            grew = happens[w] = TRUE;
            for (guint e = 0; e < write->effects->len; e++) {
                const Effect *effect = &g_array_index (write->effects, Effect, e);
                reached[effect->var][effect->value] = 1;
            }
        }
    }
}

gboolean
reduce_drop_unreached (Problem *problem)
{
    guint8 **reached = g_new0 (guint8 *, problem->n_vars + 1);
    g_autofree guint8 *happens = g_new0 (guint8, problem->writes->len + 1);
    gboolean changed = FALSE;
    for (guint v = 0; v < problem->n_vars; v++) {
        reached[v] = g_new0 (guint8, problem->vars[v].size);
        memset (reached[v], problem->vars[v].is_slot, problem->vars[v].size);
        for (guint value = 0; value < problem->vars[v].size; value++)
            reached[v][value] |= variable_may_begin (&problem->vars[v], value);
    }
    spread (problem, reached, happens);
    for (guint w = problem->writes->len; w-- > 0;)
        if (!happens[w]) {
            g_ptr_array_remove_index (problem->writes, w);
            changed = TRUE;
        }
    for (guint v = problem->n_slots; v < problem->n_vars; v++)
        changed = reduce_keep_values (problem, v, reached[v]) || changed;
    g_strfreev ((char **) reached);
    return changed;
}

/* ---- Values with which nothing starts ---- */

/* Narrows `domains` by one clause. FALSE: it cannot hold. */
static gboolean
narrow_by_clause (const Problem *problem, const Clause *clause, guint8 **domains, gboolean *narrowed)
{
    const Literal *open = NULL;
    guint opens = 0;
    for (guint l = 0; l < clause->count && opens < 2; l++)
        for (guint value = 0; value < problem->vars[clause->literals[l].var].size; value++)
            if (clause->literals[l].in[value] && domains[clause->literals[l].var][value]) {
                open = &clause->literals[l];
                opens++;
                break;
            }
    for (guint value = 0; opens == 1 && value < problem->vars[open->var].size; value++)
        if (domains[open->var][value] && !open->in[value]) {
            domains[open->var][value] = 0;
            *narrowed = TRUE;
        }
    return opens > 0;
}

gboolean
reduce_propagate_lists (const Problem *problem, guint8 **domains, const GPtrArray *const *lists, guint n)
{
    for (gboolean narrowed = TRUE; narrowed;) {
        narrowed = FALSE;
        for (guint i = 0; i < n; i++)
            for (guint c = 0; lists[i] != NULL && c < lists[i]->len; c++)
                if (!narrow_by_clause (problem, lists[i]->pdata[c], domains, &narrowed))
                    return FALSE;
    }
    return TRUE;
}

gboolean
reduce_propagate (const Problem *problem, guint8 **domains)
{
    const GPtrArray *start = problem->start;
    return reduce_propagate_lists (problem, domains, &start, 1);
}

guint8 **
reduce_domains (const Problem *problem)
{
    guint8 **domains = g_new0 (guint8 *, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++) {
        domains[v] = g_new0 (guint8, problem->vars[v].size);
        if (problem->vars[v].fixed)
            domains[v][problem->vars[v].initial] = 1;
        else
            memset (domains[v], 1, problem->vars[v].size);
    }
    return domains;
}

/* Which values of `var` some starting state may have, as far as propagation sees. Transfer full. */
static guint8 *
may_start (const Problem *problem, guint var)
{
    guint size = problem->vars[var].size;
    guint8 *can = g_new0 (guint8, size);
    for (guint value = 0; value < size; value++) {
        guint8 **domains = reduce_domains (problem);
        memset (domains[var], 0, size);
        domains[var][value] = 1;
        can[value] = reduce_propagate (problem, domains);
        g_strfreev ((char **) domains);
    }
    return can;
}

/* Given that every starting state has `var` in `can`, the other start clauses may take the rest as true. */
static void
strengthen (Problem *problem, guint var, const guint8 *can)
{
    guint size = problem->vars[var].size;
    for (guint i = 0; i < problem->start->len; i++) {
        Clause *clause = problem->start->pdata[i];
        if (clause->count < 2)
            continue;
        for (guint l = 0; l < clause->count; l++)
            for (guint value = 0; clause->literals[l].var == var && value < size; value++)
                clause->literals[l].in[value] |= !can[value];
    }
    reduce_settle_list (problem, problem->start);
    guint members = 0;
    for (guint value = 0; value < size; value++)
        members += can[value];
    if (members == size)
        return;
    for (guint i = problem->start->len; i-- > 0;) {
        const Clause *clause = problem->start->pdata[i];
        if (clause->count == 1 && clause->literals[0].var == var)
            g_ptr_array_remove_index (problem->start, i);
    }
    Clause *only = g_new0 (Clause, 1);
    only->count = members > 0 ? 1 : 0;
    only->literals = g_new0 (Literal, 1);
    if (members > 0)
        only->literals[0] = (Literal){ var, g_memdup2 (can, size) };
    g_ptr_array_add (problem->start, only);
}

/* Some of these clauses holds by this value, and would not by an empty slot. */
static gboolean
value_helps (const GPtrArray *clauses, guint var, guint value)
{
    for (guint c = 0; c < clauses->len; c++) {
        const Clause *clause = clauses->pdata[c];
        for (guint l = 0; l < clause->count; l++)
            if (clause->literals[l].var == var && clause->literals[l].in[value] && !clause->literals[l].in[0])
                return TRUE;
    }
    return FALSE;
}

/* Every write by the method needs a unit that starts. */
static gboolean
always_starts (const Problem *problem, Method method)
{
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        if (write->method == method && !write->start_before)
            return FALSE;
    }
    return TRUE;
}

/* In everything but starting (and what needs a unit that starts), is `value` no better than an empty slot? */
static gboolean
empty_serves_as_well (const Problem *problem, guint var, guint value)
{
    for (guint s = 0; s < problem->sums->len; s++) {
        const Sum *sum = problem->sums->pdata[s];
        if (sum->needed_on_standby || sum->bars != 0)
            return FALSE;
    }
    if (value_helps (problem->standby, var, value) || value_helps (problem->end, var, value))
        return FALSE;
    for (guint v = problem->n_slots; v < problem->n_vars; v++)
        if (problem->pages[v] != NULL && value_helps (problem->pages[v], var, value))
            return FALSE;
    for (guint m = 0; m < METHOD_COUNT; m++)
        if (value_helps (problem->bars[m], var, value) && !always_starts (problem, (Method) m))
            return FALSE;
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        if (!write->start_before && value_helps (write->before, var, value))
            return FALSE;
    }
    return TRUE;
}

gboolean
reduce_drop_never_starting (Problem *problem)
{
    gboolean changed = FALSE;
    for (guint v = 0; v < problem->n_vars; v++) {
        Variable *var = &problem->vars[v];
        if (var->fixed)
            continue;
        g_autofree guint8 *can = may_start (problem, v);
        strengthen (problem, v, can);
        g_autofree guint8 *keep = g_new0 (guint8, var->size);
        for (guint value = 0; value < var->size; value++) {
            var->goal[value] = var->goal[value] && can[value];
            keep[value] = can[value] || value == var->initial || !var->is_slot || value == 0 ||
                          !empty_serves_as_well (problem, v, value);
        }
        changed = reduce_keep_values (problem, v, keep) || changed;
    }
    return changed;
}
