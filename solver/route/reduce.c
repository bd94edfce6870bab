/* SPDX-License-Identifier: MIT */
/* Makes a grounded problem small without losing a shortest route. Each step's argument: docs/method.md, "Collapsing".
 */
#include "route/reduce.h"

#include <string.h>

GPtrArray *
reduce_lists (Problem *problem)
{
    GPtrArray *lists = g_ptr_array_new ();
    g_ptr_array_add (lists, problem->start);
    g_ptr_array_add (lists, problem->standby);
    g_ptr_array_add (lists, problem->end);
    for (guint m = 0; m < METHOD_COUNT; m++)
        g_ptr_array_add (lists, problem->bars[m]);
    for (guint w = 0; w < problem->writes->len; w++)
        g_ptr_array_add (lists, ((Write *) problem->writes->pdata[w])->before);
    g_ptr_array_add (lists, problem->quiet_on);
    for (guint v = 0; v < problem->n_vars; v++)
        if (problem->pages[v] != NULL)
            g_ptr_array_add (lists, problem->pages[v]);
    for (guint i = 0; i < problem->end_unless->len; i++)
        g_ptr_array_add (lists, ((EndUnless *) problem->end_unless->pdata[i])->clauses);
    return lists;
}

/* ---- Simplifying clauses ---- */

/* Drops literals that are never true; TRUE when the clause always holds. A fixed variable is its initial value. */
static gboolean
clause_settles (const Problem *problem, Clause *clause)
{
    guint kept = 0;
    gboolean always = FALSE;
    for (guint i = 0; i < clause->count; i++) {
        Literal literal = clause->literals[i];
        const Variable *var = &problem->vars[literal.var];
        guint members = 0;
        for (guint value = 0; value < var->size; value++)
            members += literal.in[value];
        always = always || members == var->size || (var->fixed && variable_begins_within (var, literal.in));
        if (members == 0 || var->fixed)
            g_free (literal.in);
        else
            clause->literals[kept++] = literal;
    }
    clause->count = kept;
    return always;
}

void
reduce_settle_list (const Problem *problem, GPtrArray *clauses)
{
    for (guint i = clauses->len; i-- > 0;)
        if (clause_settles (problem, clauses->pdata[i]))
            g_ptr_array_remove_index (clauses, i);
}

static gboolean
has_empty (const GPtrArray *clauses)
{
    for (guint i = 0; i < clauses->len; i++)
        if (((Clause *) clauses->pdata[i])->count == 0)
            return TRUE;
    return FALSE;
}

void
reduce_settle (Problem *problem)
{
    g_autoptr (GPtrArray) lists = reduce_lists (problem);
    for (guint i = 0; i < lists->len; i++)
        reduce_settle_list (problem, lists->pdata[i]);
    for (guint w = problem->writes->len; w-- > 0;)
        if (has_empty (((Write *) problem->writes->pdata[w])->before))
            g_ptr_array_remove_index (problem->writes, w);
}

/* ---- Renumbering the values of a variable ---- */

static void
remap_clauses (GPtrArray *clauses, guint var, const int *map, guint size, guint new_size)
{
    for (guint i = 0; i < clauses->len; i++) {
        Clause *clause = clauses->pdata[i];
        for (guint l = 0; l < clause->count; l++) {
            Literal *literal = &clause->literals[l];
            if (literal->var != var)
                continue;
            guint8 *in = g_new0 (guint8, new_size);
            for (guint value = 0; value < size; value++)
                if (map[value] >= 0)
                    in[map[value]] = literal->in[value];
            g_free (literal->in);
            literal->in = in;
        }
    }
}

static void
remap_writes (Problem *problem, guint var, const int *map)
{
    for (guint w = problem->writes->len; w-- > 0;) {
        Write *write = problem->writes->pdata[w];
        gboolean gone = FALSE;
        for (guint e = 0; e < write->effects->len; e++) {
            Effect *effect = &g_array_index (write->effects, Effect, e);
            if (effect->var != var)
                continue;
            gone = map[effect->value] < 0;
            if (!gone)
                effect->value = (guint) map[effect->value];
        }
        if (gone)
            g_ptr_array_remove_index (problem->writes, w);
    }
}

/* Values that become one share a label. */
static void
remap_labels (Variable *variable, const int *map, guint new_size)
{
    char **labels = g_new0 (char *, new_size + 1);
    for (guint value = 0; value < variable->size; value++) {
        if (map[value] < 0)
            continue;
        char *before = labels[map[value]];
        labels[map[value]] = before == NULL ? g_strdup (variable->label[value])
                                            : g_strconcat (before, ", ", variable->label[value], NULL);
        g_free (before);
    }
    g_strfreev (variable->label);
    variable->label = labels;
}

void
reduce_remap (Problem *problem, guint var, const int *map, guint new_size)
{
    Variable *variable = &problem->vars[var];
    remap_labels (variable, map, new_size);
    remap_writes (problem, var, map);
    g_autoptr (GPtrArray) lists = reduce_lists (problem);
    for (guint i = 0; i < lists->len; i++)
        remap_clauses (lists->pdata[i], var, map, variable->size, new_size);
    for (guint value = 0; value < variable->size; value++) {
        if (map[value] < 0)
            continue;
        guint to = (guint) map[value];
        variable->goal[to] = variable->goal[value];
        if (!variable->is_slot)
            continue;
        variable->triple[to] = variable->triple[value];
        variable->stays[to] = variable->stays[value];
        variable->odd_fit[to] = variable->odd_fit[value];
        variable->odd_take[to] = variable->odd_take[value];
        for (guint s = 0; s < problem->sums->len; s++) {
            Sum *sum = problem->sums->pdata[s];
            sum->load[var][to] = sum->load[var][value];
            sum->supply[var][to] = sum->supply[var][value];
        }
    }
    variable->initial = (guint) map[variable->initial];
    for (guint r = 0; variable->began != NULL && r < variable->n_releases; r++)
        variable->began[r] = variable->began[r] < 0 ? -1 : map[variable->began[r]];
    variable->size = new_size;
}

gboolean
reduce_keep_values (Problem *problem, guint var, const guint8 *keep)
{
    guint size = problem->vars[var].size, kept = 0;
    g_autofree int *map = g_new (int, size);
    for (guint value = 0; value < size; value++)
        map[value] = keep[value] ? (int) kept++ : -1;
    if (kept == size)
        return FALSE;
    reduce_remap (problem, var, map, kept);
    return TRUE;
}

void
reduce_problem (Problem *problem)
{
    reduce_floors (problem);
    reduce_settle (problem);
    for (gboolean changed = TRUE; changed;) {
        changed = reduce_drop_unreached (problem);
        reduce_settle (problem);
        changed = reduce_drop_never_starting (problem) || changed;
        reduce_settle (problem);
        changed = reduce_fix_idle (problem) || changed;
        reduce_settle (problem);
        changed = reduce_collapse_releases (problem) || changed;
        reduce_settle (problem);
        changed = reduce_drop_idle_writes (problem) || changed;
        changed = reduce_drop_repeated_writes (problem) || changed;
        reduce_floors (problem);
    }
}
