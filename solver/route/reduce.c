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
    for (guint m = 0; m < METHOD_COUNT; m++)
        g_ptr_array_add (lists, problem->bars[m]);
    for (guint w = 0; w < problem->writes->len; w++)
        g_ptr_array_add (lists, ((Write *) problem->writes->pdata[w])->before);
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
        always = always || members == var->size || (var->fixed && literal.in[var->initial]);
        if (members == 0 || var->fixed)
            g_free (literal.in);
        else
            clause->literals[kept++] = literal;
    }
    clause->count = kept;
    return always;
}

static void
settle_list (const Problem *problem, GPtrArray *clauses)
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
        settle_list (problem, lists->pdata[i]);
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
        for (guint s = 0; s < problem->sums->len; s++) {
            Sum *sum = problem->sums->pdata[s];
            sum->load[var][to] = sum->load[var][value];
            sum->supply[var][to] = sum->supply[var][value];
        }
    }
    variable->initial = (guint) map[variable->initial];
    variable->size = new_size;
}

/* Keeps the values marked, in their order. */
static gboolean
keep_values (Problem *problem, guint var, const guint8 *keep)
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

static gboolean
drop_unreached (Problem *problem)
{
    guint8 **reached = g_new0 (guint8 *, problem->n_vars + 1);
    g_autofree guint8 *happens = g_new0 (guint8, problem->writes->len + 1);
    gboolean changed = FALSE;
    for (guint v = 0; v < problem->n_vars; v++) {
        reached[v] = g_new0 (guint8, problem->vars[v].size);
        memset (reached[v], problem->vars[v].is_slot, problem->vars[v].size);
        reached[v][problem->vars[v].initial] = 1;
    }
    spread (problem, reached, happens);
    for (guint w = problem->writes->len; w-- > 0;)
        if (!happens[w]) {
            g_ptr_array_remove_index (problem->writes, w);
            changed = TRUE;
        }
    for (guint v = problem->n_slots; v < problem->n_vars; v++)
        changed = keep_values (problem, v, reached[v]) || changed;
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
    settle_list (problem, problem->start);
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

/* In everything but starting, is `value` no better than an empty slot? */
static gboolean
empty_serves_as_well (const Problem *problem, guint var, guint value)
{
    for (guint s = 0; s < problem->sums->len; s++) {
        const Sum *sum = problem->sums->pdata[s];
        if (sum->needed_on_standby || sum->bars != 0)
            return FALSE;
    }
    g_autoptr (GPtrArray) lists = reduce_lists ((Problem *) problem);
    for (guint i = 0; i < lists->len; i++) {
        const GPtrArray *clauses = lists->pdata[i];
        if (clauses == problem->start)
            continue;
        for (guint c = 0; c < clauses->len; c++) {
            const Clause *clause = clauses->pdata[c];
            for (guint l = 0; l < clause->count; l++)
                if (clause->literals[l].var == var && clause->literals[l].in[value] && !clause->literals[l].in[0])
                    return FALSE;
        }
    }
    return TRUE;
}

static gboolean
drop_never_starting (Problem *problem)
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
        changed = keep_values (problem, v, keep) || changed;
    }
    return changed;
}

/* ---- Releases that nothing tells apart ---- */

static gboolean
told_apart (const Problem *problem, const GPtrArray *lists, guint var, guint left, guint right)
{
    if (problem->vars[var].goal[left] != problem->vars[var].goal[right])
        return TRUE;
    for (guint i = 0; i < lists->len; i++) {
        const GPtrArray *clauses = lists->pdata[i];
        for (guint c = 0; c < clauses->len; c++) {
            const Clause *clause = clauses->pdata[c];
            for (guint l = 0; l < clause->count; l++)
                if (clause->literals[l].var == var && clause->literals[l].in[left] != clause->literals[l].in[right])
                    return TRUE;
        }
    }
    return FALSE;
}

static gboolean
collapse_releases (Problem *problem)
{
    gboolean changed = FALSE;
    for (guint v = problem->n_slots; v < problem->n_vars; v++) {
        guint size = problem->vars[v].size, classes = 0;
        g_autoptr (GPtrArray) lists = reduce_lists (problem);
        g_autofree int *map = g_new (int, size);
        for (guint value = 0; value < size; value++) {
            map[value] = -1;
            for (guint earlier = 0; earlier < value && map[value] < 0; earlier++)
                if (!told_apart (problem, lists, v, earlier, value))
                    map[value] = map[earlier];
            if (map[value] < 0)
                map[value] = (int) classes++;
        }
        if (classes == size)
            continue;
        reduce_remap (problem, v, map, classes);
        changed = TRUE;
    }
    return changed;
}

static gboolean
clauses_equal (const Problem *problem, const GPtrArray *left, const GPtrArray *right)
{
    if (left->len != right->len)
        return FALSE;
    for (guint i = 0; i < left->len; i++) {
        const Clause *l = left->pdata[i], *r = right->pdata[i];
        if (l->count != r->count)
            return FALSE;
        for (guint k = 0; k < l->count; k++)
            if (l->literals[k].var != r->literals[k].var ||
                memcmp (l->literals[k].in, r->literals[k].in, problem->vars[l->literals[k].var].size) != 0)
                return FALSE;
    }
    return TRUE;
}

static gboolean
writes_equal (const Problem *problem, const Write *left, const Write *right)
{
    return left->method == right->method && left->tenths == right->tenths &&
           left->start_before == right->start_before && left->start_after == right->start_after &&
           left->effects->len == right->effects->len &&
           memcmp (left->effects->data, right->effects->data, left->effects->len * sizeof (Effect)) == 0 &&
           clauses_equal (problem, left->before, right->before);
}

/* Of writes that do the same, the newest release stays: what a technician would take. */
static gboolean
drop_repeated_writes (Problem *problem)
{
    gboolean changed = FALSE;
    for (guint left = problem->writes->len; left-- > 0;) {
        gboolean repeated = FALSE;
        for (guint right = left + 1; right < problem->writes->len && !repeated; right++)
            repeated = writes_equal (problem, problem->writes->pdata[left], problem->writes->pdata[right]);
        if (repeated) {
            g_ptr_array_remove_index (problem->writes, left);
            changed = TRUE;
        }
    }
    return changed;
}

/* A write that leaves every value as it must have been before never helps. */
static gboolean
changes_nothing (const Problem *problem, const Write *write)
{
    for (guint e = 0; e < write->effects->len; e++)
        if (problem->vars[g_array_index (write->effects, Effect, e).var].size > 1)
            return FALSE;
    return TRUE;
}

static gboolean
drop_idle_writes (Problem *problem)
{
    gboolean changed = FALSE;
    for (guint w = problem->writes->len; w-- > 0;)
        if (changes_nothing (problem, problem->writes->pdata[w])) {
            g_ptr_array_remove_index (problem->writes, w);
            changed = TRUE;
        }
    return changed;
}

void
reduce_problem (Problem *problem)
{
    reduce_floors (problem);
    reduce_settle (problem);
    for (gboolean changed = TRUE; changed;) {
        changed = drop_unreached (problem);
        reduce_settle (problem);
        changed = drop_never_starting (problem) || changed;
        reduce_settle (problem);
        changed = reduce_fix_idle (problem) || changed;
        reduce_settle (problem);
        changed = collapse_releases (problem) || changed;
        reduce_settle (problem);
        changed = drop_idle_writes (problem) || changed;
        changed = drop_repeated_writes (problem) || changed;
        reduce_floors (problem);
    }
}
