/* SPDX-License-Identifier: MIT */
/* Offers: everything that could ever stand on a board, as names with versions, and what expressions could find there.
 *
 * An expression is taken hopefully: an atom can hold when some revision, release or part that the board takes offers
 * it, whatever else is then there; `a if b` can always hold, because b may be false. What fails even so never holds. */
#ifndef RUNGWISE_OFFERS_H
#define RUNGWISE_OFFERS_H

#include "book/loader.h"

typedef struct Offers Offers;

/* For every board of the book. Transfer full. */
Offers *offers_new (const Loader *loader);
void offers_free (Offers *offers);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Offers, offers_free)

/* What a mistaken name is worth. A book's own expressions speak of the book, so a name that nothing offers is a
 * mistake; a rule may speak of machines that are not in it, so only a name that is nearly right is. */
typedef enum { NAMES_KNOWN, NAMES_NOT_MISSPELT } NamesAsked;

/* FALSE after complaints about names that nothing offers, or about versions that are none on any of `boards` (GPtrArray
 * of const Board*). NULL expressions are fine. */
gboolean offers_check_names (const Offers *offers, const GPtrArray *boards, const Expr *expr, NamesAsked asked);

/* Whether `expr` can hold on some of these boards; no boards at all count as yes. */
gboolean offers_can_hold (const Offers *offers, const GPtrArray *boards, const Expr *expr);

/* Complains about the first atom at fault when `expr` can hold on none of these boards. */
void offers_check_can_hold (const Offers *offers, const GPtrArray *boards, const Expr *expr);

#endif
