/* SPDX-License-Identifier: MIT */
/* Blocking facts: what may stand in the way of a route, said in sentences, and dropped for a while.
 *
 * Dropping a fact never takes a route away: docs/method.md, "Explaining", says for each kind what it means. */
#ifndef RUNGWISE_EXPLAIN_BLOCKING_FACTS_H
#define RUNGWISE_EXPLAIN_BLOCKING_FACTS_H

#include "explain/changes.h"
#include "explain/explain.h"

/* The question that is looked into; all borrowed, all changed while it is. */
typedef struct {
    Library *library;
    Shop *shop;
    Unit *unit;
    Want *want;
} Asked;

/* All that concern this board and question, the want's first and the shop's last. Transfer full. */
GPtrArray *blocking_facts_collect (const Asked *asked);
void blocking_fact_free (gpointer data);

/* The question without this fact, until `changes` are undone. */
void blocking_fact_drop (const Asked *asked, const BlockingFact *fact, Changes *changes);

/* Whether the shop, the order or the maker could have it otherwise for this unit. */
gboolean fact_can_be_lifted (const BlockingFact *fact);

/* Gives `says`, `at` and `source`. */
void blocking_fact_say (const Asked *asked, BlockingFact *fact);

/* ---- What parts of the book are worth adding ---- */

/* Whether a part of this kind can be what is missing: a rule asks for one, or looks at more of it than what it adds to a
 * load; or another slot lives by it; or it is wanted. */
gboolean asked_kind_matters (const Asked *asked, PartKind kind);
/* Slots of the board that take this kind. */
guint asked_slots_of (const Asked *asked, PartKind kind);
/* Whether some slot takes the part: it suits the slot by every rule that compares a part with its slot, or it is what
 * the want asks of it. */
gboolean asked_has_use (const Asked *asked, const Part *part);
/* The shop with one lot more, until `changes` are undone. */
void asked_add_lot (const Asked *asked, Lot lot, Changes *changes);
/* To whom one of this part would have to be bound to be lent for long: to whom the board binds; NULL: to nobody. */
const char *asked_binds_part (const Asked *asked, const Part *part);

/* The shop without the parts that no slot of this board takes, until `changes` are undone: what they could do in a
 * socket that they were not made for is no way out. */
void asked_leave_useless_lots (const Asked *asked, Changes *changes);

typedef void (*EachStepping) (const Part *part, const char *stepping, gpointer data);
/* Calls `each` for every stepping (NULL where it has none) of every part of `kind` that has a use. */
void asked_each_part (const Asked *asked, PartKind kind, EachStepping each, gpointer data);

/* Whether the slot is tied to one that the want mentions (docs/method.md, "Tied slots"). */
gboolean asked_slot_is_tied (const Asked *asked, guint slot);
/* What its releases state of a generation and stepping: no release yes, and the newest no. */
gboolean support_is_denied (const Component *component, const char *generation, const char *stepping);
/* Whether an expression (nullable) names the board. */
gboolean expression_names_board (const Expr *expr, const Board *board);

#endif
