/* SPDX-License-Identifier: MIT */
/* Formulas are kept without negation: the complement of a literal's set is a literal again. */
#include "route/formula.h"

#include <string.h>

/* Above this a rule is refused rather than ground: no rule of a real machine comes near. */
#define MOST_CLAUSES 4096

typedef enum { NODE_TRUE, NODE_FALSE, NODE_LITERAL, NODE_AND, NODE_OR } NodeKind;

struct Formula {
    NodeKind kind;
    guint var;
    guint8 *in;                  /* owned by the arena */
    const Formula *left, *right; /* borrowed from the arena */
};

struct Formulas {
    const guint *sizes;
    guint n_vars;
    GPtrArray *blocks; /* everything to free */
    const Formula *yes, *no;
};

static Formula *
node_new (Formulas *arena, NodeKind kind)
{
    Formula *node = g_new0 (Formula, 1);
    node->kind = kind;
    g_ptr_array_add (arena->blocks, node);
    return node;
}

Formulas *
formulas_new (const guint *sizes, guint n_vars)
{
    Formulas *arena = g_new0 (Formulas, 1);
    arena->sizes = sizes;
    arena->n_vars = n_vars;
    arena->blocks = g_ptr_array_new_with_free_func (g_free);
    arena->yes = node_new (arena, NODE_TRUE);
    arena->no = node_new (arena, NODE_FALSE);
    return arena;
}

void
formulas_free (Formulas *arena)
{
    g_ptr_array_unref (arena->blocks);
    g_free (arena);
}

const Formula *
formula_constant (Formulas *arena, gboolean value)
{
    return value ? arena->yes : arena->no;
}

const Formula *
formula_literal (Formulas *arena, guint var, const guint8 *in)
{
    guint size = arena->sizes[var], members = 0;
    for (guint i = 0; i < size; i++)
        members += in[i] ? 1 : 0;
    if (members == 0 || members == size)
        return formula_constant (arena, members != 0);
    Formula *node = node_new (arena, NODE_LITERAL);
    node->var = var;
    node->in = g_memdup2 (in, size);
    g_ptr_array_add (arena->blocks, node->in);
    return node;
}

static const Formula *
join (Formulas *arena, NodeKind kind, const Formula *left, const Formula *right)
{
    const Formula *unit = kind == NODE_AND ? arena->yes : arena->no;
    const Formula *zero = kind == NODE_AND ? arena->no : arena->yes;
    if (left == zero || right == zero)
        return zero;
    if (left == unit)
        return right;
    if (right == unit)
        return left;
    Formula *node = node_new (arena, kind);
    node->left = left;
    node->right = right;
    return node;
}

const Formula *
formula_and (Formulas *arena, const Formula *left, const Formula *right)
{
    return join (arena, NODE_AND, left, right);
}

const Formula *
formula_or (Formulas *arena, const Formula *left, const Formula *right)
{
    return join (arena, NODE_OR, left, right);
}

static const Formula *
complement (Formulas *arena, const Formula *literal)
{
    guint size = arena->sizes[literal->var];
    g_autofree guint8 *out = g_new (guint8, size);
    for (guint i = 0; i < size; i++)
        out[i] = !literal->in[i];
    return formula_literal (arena, literal->var, out);
}

const Formula *
formula_not (Formulas *arena, const Formula *formula)
{
    switch (formula->kind) {
    case NODE_TRUE:
        return arena->no;
    case NODE_FALSE:
        return arena->yes;
    case NODE_LITERAL:
        return complement (arena, formula);
    case NODE_AND:
        return formula_or (arena, formula_not (arena, formula->left), formula_not (arena, formula->right));
    case NODE_OR:
        return formula_and (arena, formula_not (arena, formula->left), formula_not (arena, formula->right));
    }
    g_assert_not_reached ();
}

/* NULL when the clause became true. Takes both over. */
static Clause *
clause_union (Formulas *arena, Clause *left, Clause *right)
{
    Clause *out = g_new0 (Clause, 1);
    out->literals = g_new0 (Literal, left->count + right->count + 1);
    gboolean is_true = FALSE;
    guint l = 0, r = 0;
    while (l < left->count || r < right->count) {
        gboolean take_left = r == right->count || (l < left->count && left->literals[l].var <= right->literals[r].var);
        Literal *next = take_left ? &left->literals[l++] : &right->literals[r++];
        Literal *last = out->count > 0 ? &out->literals[out->count - 1] : NULL;
        if (last == NULL || last->var != next->var) {
            out->literals[out->count++] = *next;
            next->in = NULL;
            continue;
        }
        guint members = 0;
        for (guint i = 0; i < arena->sizes[last->var]; i++)
            members += (last->in[i] |= next->in[i]) ? 1 : 0;
        is_true = is_true || members == arena->sizes[last->var];
    }
    clause_free (left);
    clause_free (right);
    if (is_true)
        g_clear_pointer (&out, clause_free);
    return out;
}

static Clause *
clause_of_literal (Formulas *arena, const Formula *literal)
{
    Clause *clause = g_new0 (Clause, 1);
    clause->count = 1;
    clause->literals = g_new0 (Literal, 1);
    clause->literals[0].var = literal->var;
    clause->literals[0].in = g_memdup2 (literal->in, arena->sizes[literal->var]);
    return clause;
}

gboolean
formula_to_clauses (Formulas *arena, const Formula *formula, GPtrArray *out)
{
    switch (formula->kind) {
    case NODE_TRUE:
        return TRUE;
    case NODE_FALSE: {
        Clause *never = g_new0 (Clause, 1);
        never->literals = g_new0 (Literal, 1);
        g_ptr_array_add (out, never);
        return TRUE;
    }
    case NODE_LITERAL:
        g_ptr_array_add (out, clause_of_literal (arena, formula));
        return TRUE;
    case NODE_AND:
        return formula_to_clauses (arena, formula->left, out) && formula_to_clauses (arena, formula->right, out);
    case NODE_OR:
        break;
    }
    g_autoptr (GPtrArray) left = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    g_autoptr (GPtrArray) right = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    if (!formula_to_clauses (arena, formula->left, left) || !formula_to_clauses (arena, formula->right, right))
        return FALSE;
    if ((guint64) left->len * right->len > MOST_CLAUSES)
        return FALSE;
    for (guint l = 0; l < left->len; l++)
        for (guint r = 0; r < right->len; r++) {
            Clause *clause = clause_union (arena, clause_copy (left->pdata[l], arena->sizes),
                                           clause_copy (right->pdata[r], arena->sizes));
            if (clause != NULL)
                g_ptr_array_add (out, clause);
        }
    return TRUE;
}
