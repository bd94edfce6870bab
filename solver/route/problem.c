/* SPDX-License-Identifier: MIT */
/* The grounded problem's own small questions, and its end. */
#include "route/problem.h"

void
clause_free (Clause *clause)
{
    for (guint i = 0; i < clause->count; i++)
        g_free (clause->literals[i].in);
    g_free (clause->literals);
    g_free (clause);
}

Clause *
clause_copy (const Clause *clause, const guint *sizes)
{
    Clause *copy = g_new0 (Clause, 1);
    copy->count = clause->count;
    copy->literals = g_new0 (Literal, clause->count + 1);
    for (guint i = 0; i < clause->count; i++) {
        copy->literals[i].var = clause->literals[i].var;
        copy->literals[i].in = g_memdup2 (clause->literals[i].in, sizes[clause->literals[i].var]);
    }
    return copy;
}

void
sum_free (Sum *sum)
{
    for (guint i = 0; i < sum->n_slots; i++) {
        g_free (sum->load[i]);
        g_free (sum->supply[i]);
    }
    g_free (sum->load);
    g_free (sum->supply);
    g_free (sum);
}

void
write_free (Write *write)
{
    g_array_unref (write->effects);
    g_ptr_array_unref (write->before);
    g_free (write);
}

void
end_unless_free (EndUnless *unless)
{
    g_ptr_array_unref (unless->clauses);
    g_free (unless);
}

void
problem_free (Problem *problem)
{
    for (guint i = 0; i < problem->n_vars; i++) {
        g_free (problem->vars[i].triple);
        g_free (problem->vars[i].goal);
        g_free (problem->vars[i].stays);
        g_free (problem->vars[i].odd_fit);
        g_free (problem->vars[i].odd_take);
        g_free (problem->vars[i].began);
        g_free (problem->vars[i].began_floor);
        g_strfreev (problem->vars[i].label);
        g_clear_pointer (&problem->pages[i], g_ptr_array_unref);
    }
    g_free (problem->pages);
    g_ptr_array_unref (problem->quiet_on);
    g_ptr_array_unref (problem->end_unless);
    g_free (problem->vars);
    g_array_unref (problem->triples);
    g_ptr_array_unref (problem->start);
    g_ptr_array_unref (problem->standby);
    g_ptr_array_unref (problem->end);
    for (guint i = 0; i < METHOD_COUNT; i++)
        g_ptr_array_unref (problem->bars[i]);
    g_ptr_array_unref (problem->sums);
    g_ptr_array_unref (problem->writes);
    g_free (problem);
}

gboolean
clauses_hold (const GPtrArray *clauses, const guint16 *values)
{
    for (guint i = 0; i < clauses->len; i++)
        if (!clause_holds (clauses->pdata[i], values))
            return FALSE;
    return TRUE;
}

gboolean
problem_live (const Problem *problem, guint var, const guint16 *values)
{
    for (int server = problem->vars[var].server; server >= 0; server = problem->vars[server].server)
        if (values[server] == 0)
            return FALSE;
    return TRUE;
}

gboolean
sum_holds (const Problem *problem, const Sum *sum, const guint16 *values)
{
    double load = sum->base, supply = 0, largest = 0;
    for (guint v = 0; v < problem->n_slots; v++) {
        if (values[v] == 0 || !problem_live (problem, v, values))
            continue;
        load += sum->load[v][values[v]];
        supply += sum->supply[v][values[v]];
        largest = MAX (largest, sum->supply[v][values[v]]);
    }
    return load <= supply - (sum->lose_largest ? largest : 0) + TOTAL_SLACK;
}

static gboolean
sums_hold (const Problem *problem, const guint16 *values, gboolean to_start, gboolean on_standby, guint bars)
{
    for (guint i = 0; i < problem->sums->len; i++) {
        const Sum *sum = problem->sums->pdata[i];
        gboolean asked =
            (to_start && sum->needed_to_start) || (on_standby && sum->needed_on_standby) || (bars & sum->bars) != 0;
        if (asked && !sum_holds (problem, sum, values))
            return FALSE;
    }
    return TRUE;
}

gboolean
problem_starts (const Problem *problem, const guint16 *values)
{
    return clauses_hold (problem->start, values) && sums_hold (problem, values, TRUE, FALSE, 0);
}

gboolean
problem_standby_quiet (const Problem *problem, const guint16 *values)
{
    return clauses_hold (problem->standby, values) && sums_hold (problem, values, FALSE, TRUE, 0);
}

gboolean
problem_start_can_be_tried (const Problem *problem, const guint16 *values)
{
    if (!clauses_hold (problem->quiet_on, values) || !problem_standby_quiet (problem, values))
        return FALSE;
    for (guint i = 0; i < problem->sums->len; i++) {
        const Sum *sum = problem->sums->pdata[i];
        if (sum->harms_on && !sum_holds (problem, sum, values))
            return FALSE;
    }
    return TRUE;
}

gboolean
problem_page_can_be_read (const Problem *problem, guint var, const guint16 *values)
{
    return problem->pages[var] != NULL && clauses_hold (problem->pages[var], values) &&
           problem_standby_quiet (problem, values);
}

gboolean
problem_method_barred (const Problem *problem, Method method, const guint16 *values)
{
    return !clauses_hold (problem->bars[method], values) ||
           !sums_hold (problem, values, FALSE, FALSE, METHOD_BIT (method));
}

gboolean
problem_goal_met (const Problem *problem, const guint16 *values)
{
    for (guint v = 0; v < problem->n_vars; v++)
        if (!problem->vars[v].goal[values[v]])
            return FALSE;
    return clauses_hold (problem->end, values);
}

void
problem_count_wear (Problem *problem, guint var)
{
    if (problem->vars[var].wear < 0)
        problem->vars[var].wear = (int) problem->n_floors++;
}

gboolean
problem_at_hand (const Problem *problem, guint triple, const guint16 *values)
{
    guint fitted = 0;
    for (guint v = 0; v < problem->n_slots; v++)
        if (values[v] != 0 && problem->vars[v].triple[values[v]] == triple)
            fitted++;
    return fitted < g_array_index (problem->triples, Triple, triple).count;
}

gboolean
variable_may_begin (const Variable *variable, guint value)
{
    if (variable->began == NULL)
        return value == variable->initial;
    for (guint r = 0; r < variable->n_releases; r++)
        if (variable->began[r] == (int) value)
            return TRUE;
    return FALSE;
}

gboolean
variable_begins_within (const Variable *variable, const guint8 *in)
{
    if (variable->began == NULL)
        return in[variable->initial];
    for (guint r = 0; r < variable->n_releases; r++)
        if (variable->began[r] >= 0 && !in[variable->began[r]])
            return FALSE;
    return TRUE;
}

static guint
group_root (const guint *group, guint var)
{
    while (group[var] != var)
        var = group[var];
    return var;
}

guint *
problem_groups (const Problem *problem)
{
    guint *group = g_new (guint, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        group[v] = v;
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        guint first = group_root (group, g_array_index (write->effects, Effect, 0).var);
        for (guint e = 1; e < write->effects->len; e++)
            group[group_root (group, g_array_index (write->effects, Effect, e).var)] = first;
    }
    for (guint v = 0; v < problem->n_vars; v++)
        group[v] = group_root (group, v);
    return group;
}

const char *
problem_variable_name (const Problem *problem, guint var)
{
    const Board *board = problem->unit->board;
    return problem->vars[var].is_slot ? board_slot (board, problem->vars[var].index)->name
                                      : board_component (board, problem->vars[var].index)->name;
}

guint16 *
problem_initial_values (const Problem *problem)
{
    guint16 *values = g_new (guint16, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        values[v] = (guint16) problem->vars[v].initial;
    return values;
}
