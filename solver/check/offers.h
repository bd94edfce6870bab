/* SPDX-License-Identifier: MIT */
/* What a state offers, and whether an expression holds on it. docs/files.md, "Expressions". */
#ifndef RUNGWISE_CHECK_OFFERS_H
#define RUNGWISE_CHECK_OFFERS_H

#include "check/check.h"

typedef enum { OFFERED_BY_BOARD, OFFERED_BY_COMPONENT, OFFERED_BY_SLOT } OfferedBy;

/* One name that is offered, and by what. */
typedef struct {
    Provide provide;
    OfferedBy by;
    guint index; /* of the component or slot */
} Offer;

/* All that the board, its releases and its live parts offer; a failed component offers nothing. Transfer full (GArray
 * of Offer). */
GArray *offers_of_state (const State *state);

/* What one release alone offers, for expressions that stand for the releases of one component. Transfer full. */
GArray *offers_of_release (const Board *board, guint component, guint release);

/* One atom against one offer. */
gboolean offer_answers (const Board *board, const Offer *offer, const Expr *atom);

/* Whether the expression holds on these offers. `expr` must not be NULL. */
gboolean offers_satisfy (const Board *board, const GArray *offers, const Expr *expr);

/* `requires` true and `conflicts` false; either may be NULL. */
gboolean offers_allow (const Board *board, const GArray *offers, const Expr *needs, const Expr *conflicts);

#endif
