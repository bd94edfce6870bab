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

/* A problem with variables that nothing is said of yet. Transfer full. */
Problem *problem_empty (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                        Objective objective);
/* Once the problem's variables have their values; closed when the last clause is there. */
void ground_open (Ground *ground, Problem *problem);
void ground_close (Ground *ground);

/* Every variable: its domain, what it is at the start, and what it may be at the end. */
void ground_variables (Problem *problem, const GArray *familiar);
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
/* One of them, into the same. */
void ground_rule (Ground *ground, const Rule *rule);
/* ---- Between the files that ground rules ---- */

/* The clauses of a rule, where they go by what breaking it does. */
void ground_emit_rule (Ground *ground, const Rule *rule, const Formula *formula);
/* Whenever the slot holds one of the set and is live, `then` holds. */
const Formula *ground_implication (Ground *ground, guint slot, const guint8 *in, const Formula *then);
/* For each value of `slot`, `allowed` says which values of `other` go with it; values with equal answers share one
 * clause. `dead_is_allowed`: a part in a dead `other` is no part. */
typedef void (*Allowed) (Ground *ground, const Rule *rule, guint slot, guint value, guint other, guint8 *in);
void ground_pair (Ground *ground, const Rule *rule, guint slot, guint other, Allowed allowed, gboolean dead_is_allowed);
void ground_when (Ground *ground, const Rule *rule);
void ground_knows (Ground *ground, const Rule *rule);
/* The same, with a support that no release states taken for a yes. */
void ground_knows_unless_denied (Ground *ground, const Rule *rule);
void ground_own (Ground *ground, const Rule *rule);
void ground_one_of (Ground *ground, const Rule *rule);
void ground_binds (Ground *ground, const Rule *rule);
void ground_while_running (Ground *ground);
/* Of one component. */
void ground_running (Ground *ground, guint component);
void ground_failed (Ground *ground);

/* Every write that the shop and the want allow at all; those that are not among `familiar` (nullable) are odd. */
void ground_writes (Ground *ground, const GArray *familiar);
/* What the last state has to hold beside starting: that spare images follow. */
void ground_ends (Ground *ground);
/* What must hold for a page to be read; by case only. */
void ground_pages (Ground *ground);
/* What so many minutes cost. */
Cost ground_cost (const Problem *problem, double minutes);
/* Whether a release is as an expression on the releases of its component asks. */
gboolean release_meets (const Board *board, const Component *component, guint release, const Expr *expr);

/* The part and stepping of a slot's value; NULL for empty. */
static inline const Triple *
ground_triple (const Ground *ground, guint slot, guint value)
{
    const Problem *problem = ground->problem;
    return value == 0 ? NULL : &g_array_index (problem->triples, Triple, problem->vars[slot].triple[value]);
}

#endif
