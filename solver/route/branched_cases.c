/* SPDX-License-Identifier: MIT */
/* The cases of a unit as the grounded question sees them. */
#include "route/branched_parts.h"

#include <string.h>

static void
case_class_free (CaseClass *one)
{
    g_ptr_array_unref (one->cases);
    g_ptr_array_unref (one->end);
    g_free (one->first);
    g_free (one);
}

static void
plan_free (Plan *plan)
{
    g_array_unref (plan->moves);
    g_ptr_array_unref (plan->next);
    g_free (plan);
}

Plan *
plan_new (Beliefs *beliefs, const guint16 *row)
{
    Plan *plan = g_new0 (Plan, 1);
    plan->row = row;
    plan->moves = g_array_new (FALSE, FALSE, sizeof (Move));
    plan->next = g_ptr_array_new ();
    g_ptr_array_add (beliefs->plans, plan);
    return plan;
}

/* ---- Cases ---- */

/* What a row says of the case at the start, but for its class. Transfer full. */
static guint16 *
first_of (const Beliefs *beliefs, const guint *releases)
{
    const Problem *problem = beliefs->problem;
    guint16 *first = g_new0 (guint16, beliefs->stride + 1), *floors = first + 1 + beliefs->n_components;
    for (guint c = 0; c < beliefs->n_components; c++) {
        const Variable *var = &problem->vars[problem->n_slots + c];
        gboolean differs = var->began != NULL && !var->fixed;
        first[1 + c] = (guint16) (differs ? (guint) var->began[releases[c]] : var->initial);
        if (var->floor >= 0)
            floors[var->floor] = (guint16) (differs ? var->began_floor[releases[c]] : var->start_floor);
    }
    return first;
}

/* Clauses of the end that this case has to hold beside what every case has to. Transfer container. */
static GPtrArray *
end_of (const Problem *problem, const guint *releases)
{
    GPtrArray *end = g_ptr_array_new ();
    for (guint i = 0; i < problem->end_unless->len; i++) {
        const EndUnless *unless = problem->end_unless->pdata[i];
        for (guint c = 0; releases[unless->var - problem->n_slots] != unless->release && c < unless->clauses->len; c++)
            g_ptr_array_add (end, unless->clauses->pdata[c]);
    }
    return end;
}

static gboolean
same_members (const GPtrArray *left, const GPtrArray *right)
{
    return left->len == right->len &&
           (left->len == 0 || memcmp (left->pdata, right->pdata, left->len * sizeof (gpointer)) == 0);
}

static void
add_case (Beliefs *beliefs, const guint *releases)
{
    g_autofree guint16 *first = first_of (beliefs, releases);
    g_autoptr (GPtrArray) end = end_of (beliefs->problem, releases);
    for (guint i = 0; i < beliefs->classes->len; i++) {
        CaseClass *there = beliefs->classes->pdata[i];
        if (memcmp (there->first + 1, first + 1, (beliefs->stride - 1) * sizeof (guint16)) == 0 &&
            same_members (there->end, end)) {
            g_ptr_array_add (there->cases, (gpointer) releases);
            g_array_append_val (beliefs->class_of, i);
            return;
        }
    }
    guint index = beliefs->classes->len;
    CaseClass *one = g_new0 (CaseClass, 1);
    first[0] = (guint16) index;
    one->first = g_steal_pointer (&first);
    one->cases = g_ptr_array_new ();
    one->end = g_steal_pointer (&end);
    g_ptr_array_add (one->cases, (gpointer) releases);
    g_ptr_array_add (beliefs->classes, one);
    g_array_append_val (beliefs->class_of, index);
}

/* ---- Beliefs ---- */

/* Cases that nothing in the question tells apart are one: these have to be few enough, and fit into a row. */
static gboolean
part_into_classes (Beliefs *beliefs)
{
    guint fitting = (G_MAXUINT16 - beliefs->head) / beliefs->stride, most = MIN (MOST_BRANCHED_CASES, fitting);
    for (guint i = 0; i < beliefs->unit_cases->len && beliefs->classes->len <= most; i++)
        add_case (beliefs, beliefs->unit_cases->pdata[i]);
    return beliefs->classes->len <= most;
}

static void
set_up (Beliefs *beliefs, const Shop *shop, const Board *board)
{
    Problem *problem = beliefs->problem;
    beliefs->n_components = problem->n_vars - problem->n_slots;
    beliefs->head = 3 + problem->n_slots;
    beliefs->stride = 1 + beliefs->n_components + problem->n_floors;
    beliefs->dark_cost = (Cost) (shop_dark_after_minutes (shop, board) * 10 + 0.5) * problem->weights->tenth;
    beliefs->left = g_new (guint, problem->n_slots + 1);
    for (guint s = 0; s < problem->n_slots; s++)
        beliefs->left[s] = problem->vars[s].left;
    beliefs->end = problem->end;
    beliefs->classes = g_ptr_array_new_with_free_func ((GDestroyNotify) case_class_free);
    beliefs->class_of = g_array_new (FALSE, FALSE, sizeof (guint));
    beliefs->rows = row_table_new ();
    beliefs->plans = g_ptr_array_new_with_free_func ((GDestroyNotify) plan_free);
    beliefs->known = g_hash_table_new (NULL, NULL);
    beliefs->solved = g_hash_table_new_full (NULL, NULL, NULL, g_free);
    beliefs->bound = bound_new (problem);
}

static char *
too_many (void)
{
    return g_strdup ("too many combinations of possible releases for a plan with branches; read one first");
}

Beliefs *
beliefs_new (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const RouteOptions *options,
             char **reason)
{
    g_autoptr (GPtrArray) cases = unit_cases (unit, MOST_BRANCHED_COMBINATIONS);
    RouteOptions own = *options;
    own.familiar = NULL;
    if (cases == NULL) {
        *reason = too_many ();
        return NULL;
    }
    Problem *problem = problem_new_by_case (library, shop, unit, want, &own, reason);
    if (problem == NULL)
        return NULL;
    g_autoptr (Beliefs) beliefs = g_new0 (Beliefs, 1);
    beliefs->problem = problem;
    beliefs->unit_cases = g_steal_pointer (&cases);
    beliefs->options = options;
    beliefs->complete = TRUE;
    beliefs->best = G_MAXUINT;
    set_up (beliefs, shop, unit->board);
    if (!part_into_classes (beliefs)) {
        *reason = too_many ();
        return NULL;
    }
    return g_steal_pointer (&beliefs);
}

void
beliefs_free (Beliefs *beliefs)
{
    if (beliefs->problem->end != beliefs->end)
        g_ptr_array_unref (beliefs->problem->end);
    beliefs->problem->end = beliefs->end;
    bound_free (beliefs->bound);
    g_hash_table_unref (beliefs->known);
    g_hash_table_unref (beliefs->solved);
    g_ptr_array_unref (beliefs->plans);
    g_hash_table_unref (beliefs->rows);
    g_array_unref (beliefs->class_of);
    g_ptr_array_unref (beliefs->classes);
    g_ptr_array_unref (beliefs->unit_cases);
    g_free (beliefs->left);
    problem_free (beliefs->problem);
    g_free (beliefs);
}

/* The problem's own clauses, and those that this case has to hold beside them. */
static void
set_end (Beliefs *beliefs, const CaseClass *one)
{
    if (beliefs->problem->end_unless->len == 0)
        return;
    GPtrArray *end = g_ptr_array_new ();
    g_ptr_array_extend (end, beliefs->end, NULL, NULL);
    g_ptr_array_extend (end, one->end, NULL, NULL);
    if (beliefs->problem->end != beliefs->end)
        g_ptr_array_unref (beliefs->problem->end);
    beliefs->problem->end = end;
}

void
beliefs_move_start (Beliefs *beliefs, const guint16 *row, guint at)
{
    Problem *problem = beliefs->problem;
    const guint16 *one = row_case (beliefs, row, at), *floors = one + 1 + beliefs->n_components;
    problem->begin_mode = row_mode (row);
    for (guint v = 0; v < problem->n_vars; v++) {
        Variable *var = &problem->vars[v];
        var->initial = var->is_slot ? row_slots (row)[v] : one[1 + v - problem->n_slots];
        if (var->floor >= 0)
            var->start_floor = floors[var->floor];
        if (var->wear >= 0)
            var->left = beliefs->left[v] - floors[var->wear];
    }
    set_end (beliefs, row_class (beliefs, row, at));
}
