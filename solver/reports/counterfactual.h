/* SPDX-License-Identifier: MIT */
/* Counterfactual: what the checker says of a route without one of its steps.
 *
 * Owns:   nothing between calls.
 * Calls:  check (walks the shortened route in each case of the unit).
 * Never:  says what that means; that is reasons.c. */
#ifndef RUNGWISE_COUNTERFACTUAL_H
#define RUNGWISE_COUNTERFACTUAL_H

#include "check/check.h"

/* A route that is sound, and the unit that it is for. All borrowed. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;        /* nullable: any end is allowed */
    const GArray *steps;     /* Step */
    const GPtrArray *states; /* State*: before each step and after the last, in the first case */
    const GPtrArray *cases;  /* guint*: releases by component; NULL: there are too many, only the first is looked at */
    const GPtrArray *starts; /* State*: where each of the cases begins; NULL: at the unit as it is */
    const GPtrArray *labels; /* char*: what the steps are called (account.h, step_label()); NULL: their numbers */
} RouteJob;

/* What happens without a step. */
typedef struct {
    gboolean *left_out; /* owned; per step: it, and what makes no sense without it */
    Walk *walk;         /* owned; of the first case in which something is refused; NULL: nothing is, in any case */
    int refused;        /* index in the route of the step that is refused; -1: the end is */
    guint at_case;      /* index of that case */
} Without;

/* Leaves out the step; of a removal also the fitting that follows in the same slot; of a fitting of a part that comes out
 * again, that removal too. Removals later in that slot take out whatever is there. Cost: a walk of the route, and one
 * more for each case in which nothing is refused. */
void without_step (const RouteJob *job, guint index, Without *without);
void without_clear (Without *without);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Without, without_clear)

/* The next step after `index` that works on the same slot; -1: none. Steps that fit or remove only. */
int next_on_slot (const RouteJob *job, guint index);

/* The facts that keep a state from starting, each with its place, of the first such rule; the rule's own sentence where it
 * has none; NULL: the state starts. Transfer full. */
char *what_keeps_dark (const RouteJob *job, const State *state);

#endif
