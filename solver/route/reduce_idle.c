/* SPDX-License-Identifier: MIT */
/* Variables that no shortest route touches, and floors that never stand in the way. */
#include "route/reduce.h"

#include <string.h>

/* ---- Totals that hold whatever happens ---- */

static double
largest_of (const double *values, guint size)
{
    double largest = 0;
    for (guint i = 0; i < size; i++)
        largest = MAX (largest, values[i]);
    return largest;
}

static gboolean
surely_live (const Problem *problem, guint var, const guint8 *still)
{
    for (int server = problem->vars[var].server; server >= 0; server = problem->vars[server].server)
        if (!still[server] || problem->vars[server].initial == 0)
            return FALSE;
    return TRUE;
}

static gboolean
sum_is_idle (const Problem *problem, const Sum *sum, const guint8 *still)
{
    double load = sum->base, supply = 0, largest = 0;
    for (guint v = 0; v < problem->n_slots; v++) {
        const Variable *var = &problem->vars[v];
        load += still[v] ? sum->load[v][var->initial] : largest_of (sum->load[v], var->size);
        if (!still[v] || !surely_live (problem, v, still))
            continue;
        supply += sum->supply[v][var->initial];
        largest = MAX (largest, sum->supply[v][var->initial]);
    }
    return load <= supply - (sum->lose_largest ? largest : 0) + TOTAL_SLACK;
}

/* Would any other value of `var` help a total? A slot that serves others helps by going dark with them. */
static gboolean
sum_wants_change (const Problem *problem, const Sum *sum, guint var)
{
    const Variable *variable = &problem->vars[var];
    if (!variable->is_slot)
        return FALSE;
    for (guint value = 0; value < variable->size; value++)
        if (sum->load[var][value] < sum->load[var][variable->initial] ||
            sum->supply[var][value] > sum->supply[var][variable->initial])
            return TRUE;
    for (guint v = 0; v < problem->n_slots; v++)
        for (int server = problem->vars[v].server; server >= 0; server = problem->vars[server].server)
            if ((guint) server == var && (largest_of (sum->load[v], problem->vars[v].size) > 0 ||
                                          largest_of (sum->supply[v], problem->vars[v].size) > 0))
                return TRUE;
    return FALSE;
}

/* ---- Variables whose initial value is as good as any
 * ------------------------------------------------------------------
 *
 * `still` is the largest set of variables that can all stay as they are at once: it begins with everything, and loses
 * what is shown to be needed elsewhere until nothing more is lost. Staying together, they keep every clause that any of
 * them could keep by changing. */

static gboolean
clause_lets_stay (const Problem *problem, const Clause *clause, const guint8 *still)
{
    gboolean asked = FALSE;
    for (guint l = 0; l < clause->count; l++) {
        const Literal *literal = &clause->literals[l];
        if (!still[literal->var])
            continue;
        if (variable_begins_within (&problem->vars[literal->var], literal->in))
            return TRUE;
        asked = TRUE;
    }
    return !asked;
}

static gboolean
lose (guint8 *still, guint var)
{
    gboolean lost = still[var];
    still[var] = FALSE;
    return lost;
}

static gboolean
lose_by_list (const Problem *problem, const GPtrArray *clauses, guint8 *still)
{
    gboolean lost = FALSE;
    for (guint c = 0; c < clauses->len; c++) {
        const Clause *clause = clauses->pdata[c];
        for (guint l = 0; l < clause->count && !clause_lets_stay (problem, clause, still); l++)
            lost = lose (still, clause->literals[l].var) || lost;
    }
    return lost;
}

/* What stays ends as it began: then nothing is asked for its sake at the end. */
static gboolean
is_let_off (const Problem *problem, const GPtrArray *clauses, const guint8 *still)
{
    for (guint i = 0; i < problem->end_unless->len; i++) {
        const EndUnless *unless = problem->end_unless->pdata[i];
        if (unless->clauses == clauses)
            return still[unless->var];
    }
    return FALSE;
}

static gboolean
lose_by_clauses (const Problem *problem, const GPtrArray *lists, guint8 *still)
{
    gboolean lost = FALSE;
    for (guint i = 0; i < lists->len; i++)
        if (!is_let_off (problem, lists->pdata[i], still))
            lost = lose_by_list (problem, lists->pdata[i], still) || lost;
    return lost;
}

static gboolean
lose_by_sums (const Problem *problem, guint8 *still)
{
    gboolean lost = FALSE;
    for (guint s = 0; s < problem->sums->len; s++) {
        if (sum_is_idle (problem, problem->sums->pdata[s], still))
            continue;
        for (guint v = 0; v < problem->n_slots; v++)
            if (!problem->vars[v].fixed && sum_wants_change (problem, problem->sums->pdata[s], v))
                lost = lose (still, v) || lost;
    }
    return lost;
}

/* An own part that stays where it is cannot serve in another slot that still moves. */
static gboolean
part_is_awaited (const Problem *problem, guint slot, const guint8 *still)
{
    const Variable *var = &problem->vars[slot];
    if (var->initial == 0)
        return FALSE;
    for (guint other = 0; other < problem->n_slots; other++)
        for (guint value = 1; !still[other] && value < problem->vars[other].size; value++)
            if (problem->vars[other].triple[value] == var->triple[var->initial])
                return TRUE;
    return FALSE;
}

/* A write that changes something that moves as well as this component cannot be left out for its sake. */
static gboolean
write_is_shared (const Problem *problem, guint component, const guint8 *still)
{
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        gboolean sets = FALSE, moves = FALSE;
        for (guint e = 0; e < write->effects->len; e++) {
            guint var = g_array_index (write->effects, Effect, e).var;
            sets = sets || var == component;
            moves = moves || !still[var];
        }
        if (sets && moves)
            return TRUE;
    }
    return FALSE;
}

static gboolean
lose_by_sharing (const Problem *problem, guint8 *still)
{
    gboolean lost = FALSE;
    for (guint v = 0; v < problem->n_vars; v++) {
        const Variable *var = &problem->vars[v];
        if (!still[v] || var->fixed)
            continue;
        if (!variable_begins_within (var, var->goal) ||
            (var->is_slot ? part_is_awaited (problem, v, still) : write_is_shared (problem, v, still)))
            lost = lose (still, v);
    }
    return lost;
}

gboolean
reduce_fix_idle (Problem *problem)
{
    g_autoptr (GPtrArray) lists = reduce_lists (problem);
    g_autofree guint8 *still = g_new (guint8, problem->n_vars + 1);
    memset (still, 1, problem->n_vars + 1);
    for (gboolean lost = TRUE; lost;) {
        lost = lose_by_clauses (problem, lists, still);
        lost = lose_by_sums (problem, still) || lost;
        lost = lose_by_sharing (problem, still) || lost;
    }
    gboolean changed = FALSE;
    for (guint v = 0; v < problem->n_vars; v++) {
        changed = changed || (still[v] && !problem->vars[v].fixed);
        problem->vars[v].fixed = still[v];
    }
    for (guint i = problem->end_unless->len; i-- > 0;)
        if (still[((const EndUnless *) problem->end_unless->pdata[i])->var])
            g_ptr_array_remove_index (problem->end_unless, i);
    for (guint w = problem->writes->len; w-- > 0;) {
        const Write *write = problem->writes->pdata[w];
        if (problem->vars[g_array_index (write->effects, Effect, 0).var].fixed)
            g_ptr_array_remove_index (problem->writes, w);
    }
    for (guint s = problem->sums->len; s-- > 0;)
        if (sum_is_idle (problem, problem->sums->pdata[s], still))
            g_ptr_array_remove_index (problem->sums, s);
    return changed;
}

/* ---- Floors ---- */

static int
by_number (gconstpointer left, gconstpointer right)
{
    guint l = *(const guint *) left, r = *(const guint *) right;
    return (l > r) - (l < r);
}

static void
drop_below_floor (Problem *problem, guint var)
{
    for (guint w = problem->writes->len; w-- > 0;) {
        const Write *write = problem->writes->pdata[w];
        for (guint e = 0; e < write->effects->len; e++) {
            const Effect *effect = &g_array_index (write->effects, Effect, e);
            if (effect->var == var && effect->max_level < problem->vars[var].start_floor) {
                g_ptr_array_remove_index (problem->writes, w);
                break;
            }
        }
    }
}

/* The limits that writes of the component keep to, ascending, each once. Transfer full. */
static GArray *
limits_of (const Problem *problem, guint var)
{
    GArray *limits = g_array_new (FALSE, FALSE, sizeof (guint));
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        for (guint e = 0; e < write->effects->len; e++)
            if (g_array_index (write->effects, Effect, e).var == var)
                g_array_append_val (limits, g_array_index (write->effects, Effect, e).max_level);
    }
    g_array_sort (limits, by_number);
    for (guint i = limits->len; i-- > 1;)
        if (g_array_index (limits, guint, i) == g_array_index (limits, guint, i - 1))
            g_array_remove_index (limits, i);
    return limits;
}

/* How many limits a floor rules out: all that a search needs to know of it. */
static guint
level_of (const GArray *limits, guint floor)
{
    guint level = 0;
    while (level < limits->len && g_array_index (limits, guint, level) < floor)
        level++;
    return level;
}

/* The floors at the start; the highest of them is returned. */
static guint
number_first_levels (Variable *variable, const GArray *limits)
{
    guint highest = variable->start_floor = level_of (limits, variable->start_floor);
    for (guint r = 0; variable->began != NULL && r < variable->n_releases; r++) {
        variable->began_floor[r] = level_of (limits, variable->began_floor[r]);
        highest = MAX (highest, variable->began_floor[r]);
    }
    return highest;
}

static void
forget_first_levels (Variable *variable)
{
    variable->start_floor = 0;
    for (guint r = 0; variable->began != NULL && r < variable->n_releases; r++)
        variable->began_floor[r] = 0;
}

static void
number_levels_of (Problem *problem, guint var)
{
    g_autoptr (GArray) limits = limits_of (problem, var);
    guint highest = number_first_levels (&problem->vars[var], limits), lowest_limit = G_MAXUINT;
    for (guint pass = 0; pass < 2; pass++)
        for (guint w = 0; w < problem->writes->len; w++) {
            Write *write = problem->writes->pdata[w];
            for (guint e = 0; e < write->effects->len; e++) {
                Effect *effect = &g_array_index (write->effects, Effect, e);
                if (effect->var != var)
                    continue;
                if (pass == 1 && lowest_limit >= highest) {
                    effect->max_level = effect->raise_to = 0;
                } else if (pass == 0) {
                    effect->max_level = level_of (limits, effect->max_level);
                    effect->raise_to = level_of (limits, effect->raise_to);
                    lowest_limit = MIN (lowest_limit, effect->max_level);
                    highest = MAX (highest, effect->raise_to);
                }
            }
        }
    gboolean matters = lowest_limit < highest;
    problem->vars[var].levels = matters ? highest + 1 : 1;
    if (!matters)
        forget_first_levels (&problem->vars[var]);
    problem->vars[var].floor = matters ? (int) problem->n_floors++ : -1;
}

void
reduce_floors (Problem *problem)
{
    problem->n_floors = 0;
    for (guint v = problem->n_slots; v < problem->n_vars; v++) {
        drop_below_floor (problem, v);
        number_levels_of (problem, v);
    }
}
