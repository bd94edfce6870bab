/* SPDX-License-Identifier: MIT */
/* Releases that nothing tells apart, and writes that do the same, or nothing. */
#include "route/reduce.h"

#include <string.h>

static gboolean
is_let_off_beginning (const Problem *problem, guint var, guint release)
{
    for (guint i = 0; i < problem->end_unless->len; i++) {
        const EndUnless *unless = problem->end_unless->pdata[i];
        if (unless->var == var && unless->release == release)
            return TRUE;
    }
    return FALSE;
}

/* A start, or a page, shows the release of a case. That says something of what is to come only where the cases that begin
 * with these values differ in more than the name of the release: in their floors, or in what they have to end with. */
static gboolean
beginning_tells (const Problem *problem, guint var, guint left, guint right)
{
    const Variable *variable = &problem->vars[var];
    const guint *floor = NULL;
    for (guint r = 0; variable->began != NULL && r < variable->n_releases; r++) {
        if (variable->began[r] != (int) left && variable->began[r] != (int) right)
            continue;
        if (is_let_off_beginning (problem, var, r) || (floor != NULL && *floor != variable->began_floor[r]))
            return TRUE;
        floor = &variable->began_floor[r];
    }
    return FALSE;
}

static gboolean
told_apart (const Problem *problem, const GPtrArray *lists, guint var, guint left, guint right)
{
    const Variable *variable = &problem->vars[var];
    if (variable->goal[left] != variable->goal[right])
        return TRUE;
    if (beginning_tells (problem, var, left, right))
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

gboolean
reduce_collapse_releases (Problem *problem)
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
    return left->method == right->method && left->cost == right->cost && left->mode == right->mode &&
           left->start_before == right->start_before && left->start_after == right->start_after &&
           left->effects->len == right->effects->len &&
           memcmp (left->effects->data, right->effects->data, left->effects->len * sizeof (Effect)) == 0 &&
           clauses_equal (problem, left->before, right->before);
}

/* Of writes that do the same, the newest release stays: what a technician would take. */
gboolean
reduce_drop_repeated_writes (Problem *problem)
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

gboolean
reduce_drop_idle_writes (Problem *problem)
{
    gboolean changed = FALSE;
    for (guint w = problem->writes->len; w-- > 0;)
        if (changes_nothing (problem, problem->writes->pdata[w])) {
            g_ptr_array_remove_index (problem->writes, w);
            changed = TRUE;
        }
    return changed;
}
