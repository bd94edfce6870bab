/* SPDX-License-Identifier: MIT */
/* Dependency expressions: `name op version`, joined by `and`, `or`, `if` and parentheses.
 * Grammar and truth table: docs/files.md, "Expressions". */
#ifndef RUNGWISE_EXPRESSION_H
#define RUNGWISE_EXPRESSION_H

#include "text/text.h"

typedef enum { EXPR_ATOM, EXPR_AND, EXPR_OR, EXPR_IF } ExprKind;

/* A node. EXPR_IF is "left if right": true when right is false. */
typedef struct Expr Expr;
struct Expr {
    ExprKind kind;
    Mark at;
    const char *name; /* atom: interned; one or two words ("controller", "board wren-2s") */
    VersionOp op;     /* atom: OP_ANY when only the name must be there */
    char *version;    /* atom: owned; NULL with OP_ANY */
    Expr *left;       /* owned; NULL for an atom */
    Expr *right;      /* owned; NULL for an atom */
};

/* Parses `text`, which starts at `at`. Where a comparison has no name before it (`>= 1.4.0`, or a bare version),
 * `implied_name` is its name; NULL forbids that. NULL after a complaint. Transfer full. */
Expr *expression_parse (const char *text, Mark at, const char *implied_name, Complaints *complaints);
void expression_free (Expr *expr);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Expr, expression_free)

/* A copy in which atoms named `name` (interned) are named `new_name` instead (interned; both NULL: none). NULL for NULL.
 * Transfer full. */
Expr *expression_copy (const Expr *expr, const char *name, const char *new_name);

/* The expression as a person would write it. Transfer full. */
char *expression_to_string (const Expr *expr);

/* Whether an atom holds is the caller's to say; this joins the answers. */
typedef gboolean (*ExprAtomHolds) (const Expr *atom, gpointer data);
gboolean expression_holds (const Expr *expr, ExprAtomHolds atom_holds, gpointer data);

/* Calls `visit` for every atom, left to right. */
typedef void (*ExprVisit) (const Expr *atom, gpointer data);
void expression_each_atom (const Expr *expr, ExprVisit visit, gpointer data);

#endif
