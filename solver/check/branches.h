/* SPDX-License-Identifier: MIT */
/* Branches: a plan whose later steps depend on what is read on the way, and its check in every case.
 *
 * Owns:   the plan as a tree, and the walk of each case of a unit through it.
 * Calls:  check, book.
 * Never:  plans, or includes anything of the packages or route rooms.
 * Method: docs/method.md, "Plans with branches". */
#ifndef RUNGWISE_BRANCHES_H
#define RUNGWISE_BRANCHES_H

#include "check/check.h"

typedef enum {
    THEN_END,     /* the unit starts and meets the want */
    THEN_TRY,     /* the unit is started: where it does, each release shows; where it stays dark, that is known */
    THEN_READ,    /* the controller's page shows the release of `component`, on standby */
    THEN_GIVE_UP, /* no order of steps leads on in any of the cases that get here */
} Then;

/* A run of steps, and what comes after it. */
typedef struct Branch {
    GPtrArray *cases; /* guint* per case: the releases that the unit *began* with, by component; owned; never empty */
    GArray *steps;    /* Step; owned; made in all of these cases; may be empty */
    Then then;
    guint component;  /* THEN_READ */
    gboolean dark;    /* the unit stayed dark at the THEN_TRY before it */
    GPtrArray *next;  /* Branch*; owned; THEN_TRY, THEN_READ: where it goes on, each case in exactly one; else empty */
} Branch;

/* No cases, no steps, THEN_END. Transfer full. */
Branch *branch_new (void);
void branch_free (Branch *branch);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Branch, branch_free)
/* A copy of a case: `n_components` releases. Transfer full. */
guint *branch_case_copy (const guint *releases, guint n_components);

/* What it takes in one case: its own way from the root to an end. */
typedef struct {
    const guint *releases; /* borrowed from the root's cases */
    gboolean given_up;
    guint steps, insertions, tries, dark_tries, reads;
    double minutes; /* the walk's; a start for each try, the time to wait for each dark one, the page's for each read */
} BranchCost;

typedef struct {
    gboolean sound;
    char *why;     /* owned; one sentence, with the case and the step; NULL with sound */
    GArray *costs; /* BranchCost, one per case of the unit; owned; empty unless sound */
    guint worst_steps;     /* over the cases that are not given up */
    double expected_steps; /* ... each of them equally likely */
    double worst_minutes, expected_minutes;
    guint given_up; /* cases */
} BranchCheck;

/* Walks every case of the unit through the plan. It is sound when
 * - the root's cases are exactly the unit's, and the cases of each branch's `next` are its own, each once;
 * - cases that nothing tells apart go on together: at THEN_TRY all dark ones in the one branch that is `dark`; those that
 *   start (with equal releases of all components at that moment) in one that is not; at THEN_READ those with equal
 *   releases of the component;
 * - at THEN_TRY no rule that harms while on is broken in any case, nothing harms on standby; at THEN_READ the component has
 *   a page, its `requires` holds, nothing harms while standby, and the component has not failed;
 * - the steps from the root to each end are sound for check_walk in each case that gets there, with the want at
 *   THEN_END and any end at THEN_GIVE_UP.
 * Whether a case that is given up has a route after all is not judged: that takes a planner (route/branched.h).
 * `most`: most cases. NULL when there are more. Transfer full. */
BranchCheck *check_branches (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                             const Branch *plan, guint most);
void branch_check_free (BranchCheck *check);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BranchCheck, branch_check_free)

/* Whether the page of a component shows its release in this state. */
gboolean page_can_be_read (const Library *library, const Shop *shop, const State *state, guint component);
/* Whether a start may be tried: nothing that is broken harms while on or on standby. */
gboolean start_can_be_tried (const Library *library, const Shop *shop, const State *state);

#endif
