/* SPDX-License-Identifier: MIT */
/* Formulas over literals, and their way into clauses. Nodes live in one arena and go with it. */
#ifndef RUNGWISE_ROUTE_FORMULA_H
#define RUNGWISE_ROUTE_FORMULA_H

#include "route/problem.h"

typedef struct Formula Formula;
typedef struct Formulas Formulas;

/* `sizes` (borrowed) has the number of values of each variable. */
Formulas *formulas_new (const guint *sizes, guint n_vars);
void formulas_free (Formulas *arena);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Formulas, formulas_free)

const Formula *formula_constant (Formulas *arena, gboolean value);
/* Copies `in`. */
const Formula *formula_literal (Formulas *arena, guint var, const guint8 *in);
const Formula *formula_and (Formulas *arena, const Formula *left, const Formula *right);
const Formula *formula_or (Formulas *arena, const Formula *left, const Formula *right);
const Formula *formula_not (Formulas *arena, const Formula *formula);

/* Appends the clauses of `formula` to `out`. FALSE when there would be more than a few thousand: a rule that nests too
 * deeply to be of use. Cost: the product of the alternatives, as for any distribution of `or` over `and`. */
gboolean formula_to_clauses (Formulas *arena, const Formula *formula, GPtrArray *out);

#endif
