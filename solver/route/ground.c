/* SPDX-License-Identifier: MIT */
/* From files to variables: domains of slots and components, floors, what may stand at the end. */
#include "route/ground.h"

/* ---- Triples and domains ---- */

static guint
triple_add (Problem *problem, const Part *part, const char *stepping, Owner owner, guint count)
{
    for (guint i = 0; i < problem->triples->len; i++) {
        Triple *there = &g_array_index (problem->triples, Triple, i);
        if (there->part == part && there->stepping == stepping && there->owner == owner) {
            there->count += count;
            return i;
        }
    }
    Triple triple = { part, stepping, owner, count };
    g_array_append_val (problem->triples, triple);
    return problem->triples->len - 1;
}

static void
collect_triples (Problem *problem)
{
    const Board *board = problem->unit->board;
    for (guint s = 0; s < board->slots->len; s++) {
        const Fitted *fitted = &problem->unit->fitted[s];
        if (fitted->part != NULL)
            triple_add (problem, fitted->part, fitted->stepping, OWNER_UNIT, 1);
    }
    const GArray *lots = problem->shop->lots;
    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        if (lot->count > 0)
            triple_add (problem, lot->part, lot->stepping, lot->owner, lot->count);
    }
}

static void
slot_variable (Problem *problem, guint slot)
{
    Variable *var = &problem->vars[slot];
    const Slot *there = board_slot (problem->unit->board, slot);
    const Fitted *fitted = &problem->unit->fitted[slot];
    var->is_slot = TRUE;
    var->index = slot;
    var->server = there->served_by;
    var->floor = -1;
    var->triple = g_new0 (guint, problem->triples->len + 1);
    var->size = 1;
    for (guint t = 0; t < problem->triples->len; t++) {
        const Triple *triple = &g_array_index (problem->triples, Triple, t);
        if (triple->part->kind != there->takes)
            continue;
        if (triple->part == fitted->part && triple->stepping == fitted->stepping && triple->owner == OWNER_UNIT)
            var->initial = var->size;
        var->triple[var->size++] = t;
    }
}

static void
component_variable (Problem *problem, guint index)
{
    Variable *var = &problem->vars[problem->n_slots + index];
    const Component *component = board_component (problem->unit->board, index);
    const UnitRelease *known = &problem->unit->releases[index];
    var->index = index;
    var->server = -1;
    var->floor = -1;
    var->size = component->releases->len + (known->count > 1 ? 1 : 0);
    var->initial = component->releases->len; /* "unknown", unless it is known */
    var->start_floor = (guint) (known->floor + 1);
    for (guint r = 0; r < component->releases->len; r++) {
        if (!known->may_be[r])
            continue;
        if (known->count == 1)
            var->initial = r;
        var->start_floor = MAX (var->start_floor, (guint) (component_release (component, r)->lowest + 1));
    }
}

static char *
label_of (const Problem *problem, const Variable *var, guint value)
{
    if (!var->is_slot) {
        const Component *component = board_component (problem->unit->board, var->index);
        return g_strdup (value < component->releases->len ? component_release (component, value)->name : "unknown");
    }
    if (value == 0)
        return g_strdup ("empty");
    const Triple *triple = &g_array_index (problem->triples, Triple, var->triple[value]);
    return g_strconcat (owner_name (triple->owner), " ", triple->part->name, triple->stepping ? " " : NULL,
                        triple->stepping, NULL);
}

static void
label_values (Problem *problem)
{
    for (guint v = 0; v < problem->n_vars; v++) {
        Variable *var = &problem->vars[v];
        var->label = g_new0 (char *, var->size + 1);
        for (guint value = 0; value < var->size; value++)
            var->label[value] = label_of (problem, var, value);
    }
}

/* ---- What may stand at the end ---- */

/* Which slots are tied to one that the want mentions, directly or by way of others. Transfer full. */
static gboolean *
tied_slots (const Problem *problem)
{
    g_autoptr (GArray) queue = g_array_new (FALSE, FALSE, sizeof (guint));
    gboolean *tied = g_new0 (gboolean, problem->n_slots + 1);
    for (guint s = 0; s < problem->n_slots; s++)
        if (problem->want->slots[s].kind != WANT_NOTHING) {
            tied[s] = TRUE;
            g_array_append_val (queue, s);
        }
    for (guint i = 0; i < queue->len; i++)
        for (guint s = 0; s < problem->n_slots; s++)
            if (!tied[s] &&
                rules_tie_kinds (problem->library->rules, problem->unit->board, g_array_index (queue, guint, i), s)) {
                tied[s] = TRUE;
                g_array_append_val (queue, s);
            }
    return tied;
}

static void
slot_goal (Problem *problem, guint slot, gboolean is_tied)
{
    Variable *var = &problem->vars[slot];
    const WantSlot *want = &problem->want->slots[slot];
    gboolean tied = want->kind == WANT_NOTHING && is_tied;
    var->goal = g_new0 (guint8, var->size);
    for (guint value = 0; value < var->size; value++) {
        const Triple *triple = value == 0 ? NULL : &g_array_index (problem->triples, Triple, var->triple[value]);
        gboolean lent = triple != NULL && triple->owner == OWNER_LOAN;
        if (want->kind != WANT_NOTHING)
            var->goal[value] =
                !lent && want_slot_is_met (want, triple ? triple->part : NULL, triple ? triple->stepping : NULL);
        else
            var->goal[value] = value == var->initial || (tied && triple != NULL && !lent);
    }
}

typedef struct {
    const Board *board;
    const Component *component;
    guint release;
} ReleaseAtom;

static gboolean
release_answers (const Expr *atom, gpointer data)
{
    const ReleaseAtom *about = data;
    return atom->name == about->component->name &&
           board_version_answers (about->board, atom, component_release (about->component, about->release)->name);
}

static void
component_goal (Problem *problem, guint index)
{
    Variable *var = &problem->vars[problem->n_slots + index];
    const Board *board = problem->unit->board;
    const Component *component = board_component (board, index);
    const Expr *want = problem->want->firmware[index];
    guint releases = component->releases->len;
    var->goal = g_new0 (guint8, var->size);
    gboolean all = TRUE;
    for (guint r = 0; r < releases; r++) {
        ReleaseAtom about = { board, component, r };
        var->goal[r] = want == NULL || expression_holds (want, release_answers, &about);
        if (problem->unit->releases[index].may_be[r])
            all = all && var->goal[r];
    }
    if (var->size > releases)
        var->goal[releases] = all;
}

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
            if (!var->is_slot) {
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

static void
ground_clear (Ground *ground)
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
    if (var->size == releases)
        return;
    const gboolean *may_be = problem->unit->releases[var->index].may_be;
    literal->in = g_renew (guint8, literal->in, var->size);
    literal->in[releases] = TRUE;
    for (guint r = 0; r < releases; r++)
        if (may_be[r] && !literal->in[r])
            literal->in[releases] = FALSE;
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
}

static guint32
tenths (double minutes)
{
    return (guint32) (minutes * 10 + 0.5);
}

static Problem *
problem_empty (const Library *library, const Shop *shop, const Unit *unit, const Want *want)
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
    for (guint m = 0; m < METHOD_COUNT; m++)
        problem->bars[m] = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    problem->sums = g_ptr_array_new_with_free_func ((GDestroyNotify) sum_free);
    problem->writes = g_ptr_array_new_with_free_func ((GDestroyNotify) write_free);
    problem->opening_tenths = tenths (shop->opening_minutes);
    problem->start_tenths = tenths (shop->start_minutes);
    for (guint k = 0; k < KIND_COUNT; k++) {
        problem->remove_tenths[k] = tenths (shop->remove_minutes[k]);
        problem->fit_tenths[k] = tenths (shop->fit_minutes[k]);
    }
    return problem;
}

static void
make_variables (Problem *problem)
{
    collect_triples (problem);
    g_autofree gboolean *tied = tied_slots (problem);
    for (guint s = 0; s < problem->n_slots; s++) {
        slot_variable (problem, s);
        slot_goal (problem, s, tied[s]);
        problem->vars[s].fixed = problem->want->keep_slot[s];
    }
    for (guint c = 0; c + problem->n_slots < problem->n_vars; c++) {
        component_variable (problem, c);
        component_goal (problem, c);
        problem->vars[problem->n_slots + c].fixed = problem->want->keep_component[c];
    }
}

Problem *
problem_new (const Library *library, const Shop *shop, const Unit *unit, const Want *want, char **reason)
{
    g_autoptr (Problem) problem = problem_empty (library, shop, unit, want);
    make_variables (problem);
    label_values (problem);
    Ground ground = { .problem = problem };
    ground.sizes = g_new (guint, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        ground.sizes[v] = problem->vars[v].is_slot
                              ? problem->vars[v].size
                              : board_component (unit->board, problem->vars[v].index)->releases->len;
    ground.arena = formulas_new (ground.sizes, problem->n_vars);
    collect_offers (&ground);
    ground_rules (&ground);
    ground_writes (&ground);
    ground_clear (&ground);
    if (ground.too_large != NULL) {
        *reason = ground.too_large;
        return NULL;
    }
    extend_unknown (problem);
    reduce_problem (problem);
    return g_steal_pointer (&problem);
}
