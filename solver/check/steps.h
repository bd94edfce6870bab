/* SPDX-License-Identifier: MIT */
/* Steps: may this one be done here? Each "no" has an id (docs/walk-rules.md) and a sentence. */
#ifndef RUNGWISE_CHECK_STEPS_H
#define RUNGWISE_CHECK_STEPS_H

#include "check/check.h"

/* Why a step or an end is refused. rule NULL: it isn't. */
typedef struct {
    const char *rule; /* interned */
    char *why;        /* owned */
} Refusal;

/* Fills the refusal in; always FALSE, so that a caller can return it. `rule` must be static text. */
gboolean refuse (Refusal *refusal, const char *rule, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* Power on: FALSE, and a refusal, when one of these broken rules keeps the unit from starting. `when` begins the
 * sentence: "at the end". */
gboolean refuse_unless_starts (const GPtrArray *broken_list, const char *rule, const char *when, Refusal *refusal);

/* Where a route has got to. All borrowed but `state` and `broken`. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Want *want;   /* nullable: any end is allowed, nothing is kept */
    const State *start; /* what the unit's own parts are, and what the slots began with */
    State *state;       /* owned; at this moment */
    GPtrArray *broken;  /* owned; Broken*, of that state */
} Walker;

/* One component that a file writes. */
typedef struct {
    guint component, release;
} Written;

/* Step names only what there is: safe to look up after this. */
gboolean step_is_known (const Walker *walker, const Step *step, Refusal *refusal);

/* All conditions on the state before. The step must be known. */
gboolean step_is_allowed (const Walker *walker, const Step *step, Refusal *refusal);

/* Conditions of a write on the state after it. */
gboolean write_is_allowed_after (const Walker *walker, const Step *step, const GPtrArray *broken_after,
                                 Refusal *refusal);

/* The part of step_is_allowed() that is about writes. */
gboolean write_is_allowed (const Walker *walker, const Step *step, Refusal *refusal);

/* All that one file writes: the release's own component first. What the board lacks of `also-writes` is left out: there
 * is nothing that could take it. Transfer full (GArray of Written). */
GArray *step_writes (const Board *board, const Step *step);

/* Carries the step out. */
void step_apply (const Step *step, State *state);

/* Methods that recover what the file writes; 0 when one of its components has none. Where no single method recovers
 * all of them, every method that one of them needs. */
guint step_recovery (const Walker *walker, const Step *step);

/* Whether the end is as docs/method.md, "The end" asks. Always, without a want. */
gboolean end_is_allowed (const Walker *walker, Refusal *refusal);

#endif
