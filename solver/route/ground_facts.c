/* SPDX-License-Identifier: MIT */
/* Rules about what is known of parts and releases, and the built-in ones; the other forms are in ground_rules.c. */
#include "route/ground.h"

#include <string.h>

static const Formula *
needs (Ground *ground, const Expr *requires, const Expr *conflicts)
{
    Formulas *arena = ground->arena;
    const Formula *both = formula_constant (arena, TRUE);
    if (requires != NULL)
        both = ground_expression (ground, requires);
    if (conflicts != NULL)
        both = formula_and (arena, both, formula_not (arena, ground_expression (ground, conflicts)));
    return both;
}

void
ground_when (Ground *ground, const Rule *rule)
{
    const Formula *then = needs (ground, rule->requires, rule->conflicts);
    if (rule->when != NULL)
        then = formula_or (ground->arena, formula_not (ground->arena, ground_expression (ground, rule->when)), then);
    ground_emit_rule (ground, rule, then);
}

/* Which releases state that they start the part; `not_stated`: or state nothing of it. */
static void
allow_answers (Ground *ground, guint slot, guint value, guint other, gboolean not_stated, guint8 *in)
{
    const Problem *problem = ground->problem;
    const Component *component = board_component (problem->unit->board, problem->vars[other].index);
    const Triple *triple = ground_triple (ground, slot, value);
    for (guint r = 0; r < component->releases->len; r++) {
        SupportAnswer answer =
            release_support (component_release (component, r), triple->part->generation, triple->stepping, NULL);
        in[r] = answer == SUPPORT_YES || (not_stated && answer == SUPPORT_NOT_STATED);
    }
}

static void
allow_known (Ground *ground, const Rule *rule G_GNUC_UNUSED, guint slot, guint value, guint other, guint8 *in)
{
    allow_answers (ground, slot, value, other, FALSE, in);
}

static void
allow_not_denied (Ground *ground, const Rule *rule G_GNUC_UNUSED, guint slot, guint value, guint other, guint8 *in)
{
    allow_answers (ground, slot, value, other, TRUE, in);
}

static void
knows (Ground *ground, const Rule *rule, Allowed allowed)
{
    const Problem *problem = ground->problem;
    const Board *board = problem->unit->board;
    for (guint slot = 0; slot < problem->n_slots; slot++) {
        if (board_slot (board, slot)->takes != rule->kind)
            continue;
        for (guint c = 0; c < board->components->len; c++)
            if (board_component (board, c)->states_starts)
                ground_pair (ground, rule, slot, problem->n_slots + c, allowed, FALSE);
    }
}

void
ground_knows (Ground *ground, const Rule *rule)
{
    knows (ground, rule, allow_known);
}

void
ground_knows_unless_denied (Ground *ground, const Rule *rule)
{
    knows (ground, rule, allow_not_denied);
}

void
ground_own (Ground *ground, const Rule *rule)
{
    for (guint slot = 0; slot < ground->problem->n_slots; slot++) {
        for (guint value = 1; value < ground->sizes[slot]; value++) {
            const Part *part = ground_triple (ground, slot, value)->part;
            if (part->requires == NULL && part->conflicts == NULL)
                continue;
            g_autofree guint8 *in = g_new0 (guint8, ground->sizes[slot]);
            in[value] = 1;
            ground_emit_rule (ground, rule,
                              ground_implication (ground, slot, in, needs (ground, part->requires, part->conflicts)));
        }
    }
}

/* Of a slot and the one that it is over, exactly one is populated, live or not. */
void
ground_one_of (Ground *ground, const Rule *rule)
{
    const Board *board = ground->problem->unit->board;
    Formulas *arena = ground->arena;
    for (guint slot = 0; slot < board->slots->len; slot++) {
        const Slot *over = board_slot (board, slot);
        if (over->takes != rule->kind || over->over < 0 ||
            board_slot (board, (guint) over->over)->takes != rule->under_kind)
            continue;
        const Formula *one = ground_populated (ground, slot), *other = ground_populated (ground, (guint) over->over);
        ground_emit_rule (ground, rule, formula_or (arena, one, other));
        ground_emit_rule (ground, rule, formula_or (arena, formula_not (arena, one), formula_not (arena, other)));
    }
}

/* A part that is bound to somebody else; or that is lent, and would be bound here. */
static gboolean
breaks_binds (const Board *board, const Rule *rule, const Triple *triple)
{
    if (rule->binds_lent)
        return triple->part->binds && triple->bound == NULL && triple->owner == OWNER_LOAN && board->binds != NULL;
    return triple->bound != NULL && triple->bound != board->binds;
}

void
ground_binds (Ground *ground, const Rule *rule)
{
    const Board *board = ground->problem->unit->board;
    for (guint slot = 0; slot < board->slots->len; slot++) {
        if (board_slot (board, slot)->takes != rule->kind)
            continue;
        g_autofree guint8 *breaks = g_new0 (guint8, ground->sizes[slot]);
        for (guint value = 1; value < ground->sizes[slot]; value++)
            breaks[value] = breaks_binds (board, rule, ground_triple (ground, slot, value));
        ground_emit_rule (ground, rule,
                          ground_implication (ground, slot, breaks, formula_constant (ground->arena, FALSE)));
    }
}

/* Nothing in a component whose write failed can be relied on. */
void
ground_failed (Ground *ground)
{
    Problem *problem = ground->problem;
    for (guint v = problem->n_slots; v < problem->n_vars; v++) {
        guint releases = board_component (problem->unit->board, problem->vars[v].index)->releases->len;
        if (ground->sizes[v] == releases ||
            board_component (problem->unit->board, problem->vars[v].index)->spare_of != NULL)
            continue;
        g_autofree guint8 *in = g_new (guint8, ground->sizes[v]);
        for (guint value = 0; value < ground->sizes[v]; value++)
            in[value] = value < releases;
        ground_emit (ground, formula_literal (ground->arena, v, in), problem->start,
                     problem_variable_name (problem, v));
    }
}

void
ground_running (Ground *ground, guint index)
{
    Problem *problem = ground->problem;
    const Component *component = board_component (problem->unit->board, index);
    guint var = problem->n_slots + index;
    for (guint r = 0; r < component->releases->len; r++) {
        const Release *release = component_release (component, r);
        if (release->running_requires == NULL && release->running_conflicts == NULL)
            continue;
        g_autofree guint8 *others = g_new (guint8, ground->sizes[var]);
        memset (others, 1, ground->sizes[var]);
        others[r] = 0;
        const Formula *then = needs (ground, release->running_requires, release->running_conflicts);
        ground_emit (ground, formula_or (ground->arena, formula_literal (ground->arena, var, others), then),
                     problem->start, release->name);
    }
}

void
ground_while_running (Ground *ground)
{
    for (guint c = 0; c < ground->problem->unit->board->components->len; c++)
        ground_running (ground, c);
}
