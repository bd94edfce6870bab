/* SPDX-License-Identifier: MIT */
/* Grounding's working state, shared by ground*.c only. */
#ifndef RUNGWISE_ROUTE_GROUND_H
#define RUNGWISE_ROUTE_GROUND_H

#include "route/formula.h"

typedef struct {
    Problem *problem;     /* being built */
    Formulas *arena;      /* owned */
    guint *sizes;         /* owned; values per variable */
    GArray ***offers;     /* owned; [var][value]: GArray of Provide */
    GArray *board_offers; /* owned; Provide */
    char *too_large;      /* owned; set once something could not be ground */
} Ground;

/* What an expression says of a state. */
const Formula *ground_expression (Ground *ground, const Expr *expr);
/* The part in a slot is live. */
const Formula *ground_live (Ground *ground, guint slot);
/* Something is in the slot. */
const Formula *ground_populated (Ground *ground, guint slot);
/* Of slots' formulas (one per slot), at least one holds for a slot that is live. Slots with one server are taken
 * together, so that the clauses grow with the servers, not with the slots. */
const Formula *ground_any_live (Ground *ground, const Formula *const *in_slot);
/* The clauses of a formula, added to `out`; `what` names it should it be too large. */
void ground_emit (Ground *ground, const Formula *formula, GPtrArray *out, const char *what);

/* Every rule of the library, into start, standby, bars and sums; and `while-running`, into start. */
void ground_rules (Ground *ground);
/* Every write that the shop and the want allow at all. */
void ground_writes (Ground *ground);

/* The part and stepping of a slot's value; NULL for empty. */
static inline const Triple *
ground_triple (const Ground *ground, guint slot, guint value)
{
    const Problem *problem = ground->problem;
    return value == 0 ? NULL : &g_array_index (problem->triples, Triple, problem->vars[slot].triple[value]);
}

#endif
