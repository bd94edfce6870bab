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
    const State *start; /* what the components began with; for parts its `unit` says it */
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

/* The part of step_is_allowed() that is about writes. */
gboolean write_is_allowed (const Walker *walker, const Step *step, Refusal *refusal);

/* How a unit is powered while this write is done. */
Powered step_powered (const Board *board, const Step *write);
/* Done with mains out: the unit is opened, a programmer is on its flash chip, or its recovery jumper is set. */
gboolean step_is_off_power (const Board *board, const Step *step);
gboolean step_is_on_a_running_unit (const Board *board, const Step *step);

/* Power before a write and, once the state after it is known, after it. */
gboolean write_power_is_safe_before (const Walker *walker, const Step *step, Refusal *refusal);
gboolean write_is_allowed_after (const Walker *walker, const Step *step, const GPtrArray *broken_after,
                                 Refusal *refusal);

/* All that one write sets: the release's own component first; by `spare` that alone. What the board lacks of
 * `also-writes` is left out: there is nothing that could take it. Transfer full (GArray of Written). */
GArray *step_writes (const Board *board, const Step *step);

/* Methods that recover what the file writes; 0 when one of its components has none. Where no single method recovers
 * all of them, every method that one of them needs. */
guint step_recovery (const Walker *walker, const Step *step);

/* The first component that could not be recovered if writing all of `written` failed; -1: each could. */
int write_without_recovery (const Shop *shop, const State *state, const GArray *written);

/* Whether the end is as docs/method.md, "The end" asks. Always, without a want. */
gboolean end_is_allowed (const Walker *walker, Refusal *refusal);

#endif
