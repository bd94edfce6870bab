/* SPDX-License-Identifier: MIT */
/* From a question to a grounded problem: expressions, unknown releases, what work costs; and putting it together. */
#include "route/ground.h"

#include <string.h>

/* ---- Expressions ---- */

const Formula *
ground_populated (Ground *ground, guint slot)
{
    g_autofree guint8 *in = g_new (guint8, ground->sizes[slot]);
    for (guint value = 0; value < ground->sizes[slot]; value++)
        in[value] = value != 0;
    return formula_literal (ground->arena, slot, in);
}

const Formula *
ground_live (Ground *ground, guint slot)
{
    const Formula *live = formula_constant (ground->arena, TRUE);
    for (int server = ground->problem->vars[slot].server; server >= 0; server = ground->problem->vars[server].server)
        live = formula_and (ground->arena, live, ground_populated (ground, server));
    return live;
}

static gboolean
offers_answer (const Board *board, const GArray *offers, const Expr *atom)
{
    for (guint i = 0; i < offers->len; i++) {
        const Provide *offer = &g_array_index (offers, Provide, i);
        if (offer->name == atom->name && board_version_answers (board, atom, offer->version))
            return TRUE;
    }
    return FALSE;
}

const Formula *
ground_any_live (Ground *ground, const Formula *const *in_slot)
{
    Formulas *arena = ground->arena;
    const Formula *any = formula_constant (arena, FALSE);
    for (guint first = 0; first < ground->problem->n_slots; first++) {
        const Formula *together = formula_constant (arena, FALSE);
        int server = ground->problem->vars[first].server;
        gboolean earlier = FALSE;
        for (guint slot = 0; slot < first; slot++)
            earlier = earlier || ground->problem->vars[slot].server == server;
        for (guint slot = first; slot < ground->problem->n_slots && !earlier; slot++)
            if (ground->problem->vars[slot].server == server)
                together = formula_or (arena, together, in_slot[slot]);
        any = formula_or (arena, any, formula_and (arena, together, ground_live (ground, first)));
    }
    return any;
}

static const Formula *
ground_atom (Ground *ground, const Expr *atom)
{
    const Problem *problem = ground->problem;
    const Board *board = problem->unit->board;
    g_autofree const Formula **offered = g_new0 (const Formula *, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++) {
        g_autofree guint8 *in = g_new0 (guint8, ground->sizes[v]);
        for (guint value = 0; value < ground->sizes[v]; value++)
            in[value] = offers_answer (board, ground->offers[v][value], atom);
        offered[v] = formula_literal (ground->arena, v, in);
    }
    const Formula *any = formula_constant (ground->arena, offers_answer (board, ground->board_offers, atom));
    any = formula_or (ground->arena, any, ground_any_live (ground, offered));
    for (guint v = problem->n_slots; v < problem->n_vars; v++)
        any = formula_or (ground->arena, any, offered[v]);
    return any;
}

const Formula *
ground_expression (Ground *ground, const Expr *expr)
{
    if (expr->kind == EXPR_ATOM)
        return ground_atom (ground, expr);
    const Formula *left = ground_expression (ground, expr->left);
    const Formula *right = ground_expression (ground, expr->right);
    if (expr->kind == EXPR_AND)
        return formula_and (ground->arena, left, right);
    if (expr->kind == EXPR_IF)
        right = formula_not (ground->arena, right);
    return formula_or (ground->arena, left, right);
}

void
ground_emit (Ground *ground, const Formula *formula, GPtrArray *out, const char *what)
{
    if (!formula_to_clauses (ground->arena, formula, out) && ground->too_large == NULL)
        ground->too_large = g_strdup_printf ("%s: the expression branches too much to plan with", what);
}

/* ---- Putting it together ---- */

static gboolean
is_failed (const Problem *problem, guint var)
{
    return problem->unit->failed != NULL && problem->unit->failed[problem->vars[var].index];
}

static void
collect_offers (Ground *ground)
{
    Problem *problem = ground->problem;
    const Board *board = problem->unit->board;
    ground->board_offers = g_array_new (FALSE, FALSE, sizeof (Provide));
    board_each_provide (board, problem->unit->revision, ground->board_offers);
    ground->offers = g_new0 (GArray **, problem->n_vars);
    for (guint v = 0; v < problem->n_vars; v++) {
        const Variable *var = &problem->vars[v];
        ground->offers[v] = g_new0 (GArray *, ground->sizes[v]);
        for (guint value = 0; value < ground->sizes[v]; value++) {
            GArray *offers = ground->offers[v][value] = g_array_new (FALSE, FALSE, sizeof (Provide));
            if (!var->is_slot && value == board_component (board, var->index)->releases->len) {
                continue; /* failed: it offers nothing */
            } else if (!var->is_slot) {
                const Component *component = board_component (board, var->index);
                release_each_provide (component, component_release (component, value), offers);
            } else if (value != 0) {
                const Triple *triple = ground_triple (ground, v, value);
                Provide slot = { board_slot (board, v)->name, NULL };
                part_each_provide (triple->part, triple->stepping, offers);
                g_array_append_val (offers, slot);
            }
        }
    }
}

void
ground_open (Ground *ground, Problem *problem)
{
    *ground = (Ground){ .problem = problem, .sizes = g_new (guint, problem->n_vars + 1) };
    for (guint v = 0; v < problem->n_vars; v++) {
        const Variable *var = &problem->vars[v];
        ground->sizes[v] = var->is_slot || is_failed (problem, v)
                               ? var->size
                               : board_component (problem->unit->board, var->index)->releases->len;
    }
    ground->arena = formulas_new (ground->sizes, problem->n_vars);
    collect_offers (ground);
}

void
ground_close (Ground *ground)
{
    for (guint v = 0; v < ground->problem->n_vars; v++) {
        for (guint value = 0; value < ground->sizes[v]; value++)
            g_array_unref (ground->offers[v][value]);
        g_free (ground->offers[v]);
    }
    g_free (ground->offers);
    g_array_unref (ground->board_offers);
    g_clear_pointer (&ground->arena, formulas_free);
    g_free (ground->sizes);
}

static void
extend_literal (const Problem *problem, Literal *literal)
{
    const Variable *var = &problem->vars[literal->var];
    if (var->is_slot)
        return;
    guint releases = board_component (problem->unit->board, var->index)->releases->len;
    if (var->size == releases || is_failed (problem, literal->var))
        return;
    const gboolean *may_be = problem->unit->releases[var->index].may_be;
    literal->in = g_renew (guint8, literal->in, var->size);
    literal->in[releases] = TRUE;
    for (guint r = 0; r < releases; r++)
        if (may_be[r] && !literal->in[r])
            literal->in[releases] = FALSE;
}

/* What is not known ends as it began, whatever that was; so it never ends at another release. */
static void
extend_end (const Problem *problem, Literal *literal)
{
    Variable *var = &problem->vars[literal->var];
    guint releases = board_component (problem->unit->board, var->index)->releases->len;
    gboolean active = board_component (problem->unit->board, var->index)->spare != NULL;
    extend_literal (problem, literal);
    if (active && var->size > releases && !is_failed (problem, literal->var))
        literal->in[releases] = TRUE;
}

/* Gives the value "unknown" its place in every literal: in the set when every release that it may be is. For a clause
 * over independent variables that is exact (docs/method.md, "Unknown releases"). */
static void
extend_clauses (const Problem *problem, GPtrArray *clauses)
{
    for (guint i = 0; i < clauses->len; i++) {
        Clause *clause = clauses->pdata[i];
        for (guint l = 0; l < clause->count; l++)
            extend_literal (problem, &clause->literals[l]);
    }
}

static void
extend_unknown (Problem *problem)
{
    extend_clauses (problem, problem->start);
    extend_clauses (problem, problem->standby);
    for (guint m = 0; m < METHOD_COUNT; m++)
        extend_clauses (problem, problem->bars[m]);
    for (guint w = 0; w < problem->writes->len; w++)
        extend_clauses (problem, ((Write *) problem->writes->pdata[w])->before);
    for (guint i = 0; i < problem->end->len; i++) {
        Clause *clause = problem->end->pdata[i];
        for (guint l = 0; l < clause->count; l++)
            extend_end (problem, &clause->literals[l]);
    }
}

Cost
ground_cost (const Problem *problem, double minutes)
{
    return (Cost) (minutes * 10 + 0.5) * problem->weights->tenth;
}

static void
price_work (Problem *problem)
{
    const Weights *weights = problem->weights;
    const Shop *shop = problem->shop;
    problem->opening_cost = weights->opening + ground_cost (problem, shop->opening_minutes);
    problem->start_cost = ground_cost (problem, shop->start_minutes);
    for (guint k = 0; k < KIND_COUNT; k++) {
        problem->remove_cost[k] = weights->step + ground_cost (problem, shop->remove_minutes[k]);
        problem->fit_cost[k] = weights->step + ground_cost (problem, shop->fit_minutes[k]) +
                               (k == KIND_PROCESSOR ? weights->insertion : 0);
    }
}

Problem *
problem_empty (const Library *library, const Shop *shop, const Unit *unit, const Want *want, Objective objective)
{
    Problem *problem = g_new0 (Problem, 1);
    problem->library = library;
    problem->shop = shop;
    problem->unit = unit;
    problem->want = want;
    problem->n_slots = unit->board->slots->len;
    problem->n_vars = problem->n_slots + unit->board->components->len;
    problem->vars = g_new0 (Variable, problem->n_vars + 1);
    problem->triples = g_array_new (FALSE, TRUE, sizeof (Triple));
    problem->start = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    problem->standby = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    problem->end = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    for (guint m = 0; m < METHOD_COUNT; m++)
        problem->bars[m] = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    problem->sums = g_ptr_array_new_with_free_func ((GDestroyNotify) sum_free);
    problem->writes = g_ptr_array_new_with_free_func ((GDestroyNotify) write_free);
    problem->quiet_on = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    problem->pages = g_new0 (GPtrArray *, problem->n_vars + 1);
    problem->end_unless = g_ptr_array_new_with_free_func ((GDestroyNotify) end_unless_free);
    problem->objective = objective;
    problem->weights = objective_weights (objective);
    price_work (problem);
    return problem;
}

/* Few fittings left: the search counts them from the start. Otherwise only if a route turns out to need too many. */
#define FEW_LEFT 4
/* No second try where a plan with branches is looked for. */
#define FEW_LEFT_BY_CASE 10

static void
count_wear (Problem *problem)
{
    for (guint s = 0; s < problem->n_slots; s++)
        if (problem->vars[s].left < (problem->by_case ? FEW_LEFT_BY_CASE : FEW_LEFT))
            problem_count_wear (problem, s);
}

/* Grounds and reduces an empty problem, which is consumed. */
static Problem *
fill (Problem *empty, const RouteOptions *options, char **reason)
{
    g_autoptr (Problem) problem = empty;
    ground_variables (problem, options->familiar);
    Ground ground;
    ground_open (&ground, problem);
    ground_rules (&ground);
    ground_writes (&ground, options->familiar);
    ground_ends (&ground);
    ground_pages (&ground);
    ground_close (&ground);
    if (ground.too_large != NULL) {
        *reason = ground.too_large;
        return NULL;
    }
    extend_unknown (problem);
    reduce_problem (problem);
    count_wear (problem);
    return g_steal_pointer (&problem);
}

Problem *
problem_new (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const RouteOptions *options,
             char **reason)
{
    return fill (problem_empty (library, shop, unit, want, options->objective), options, reason);
}

Problem *
problem_new_by_case (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                     const RouteOptions *options, char **reason)
{
    Problem *problem = problem_empty (library, shop, unit, want, options->objective);
    problem->by_case = TRUE;
    return fill (problem, options, reason);
}
