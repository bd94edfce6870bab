/* SPDX-License-Identifier: MIT */
/* Order of checks: which to make first so that the fault is found in the fewest expected minutes.
 *
 * Owns:   the rule of probability over cost, and the exact treatment of a last check that need not be made.
 * Calls:  nothing of this program.
 * Source: Kalagnanam and Henrion 1990; Heckerman, Breese and Rommelse 1995 (docs/method.md, "Order of checks"). */
#ifndef RUNGWISE_ORDER_H
#define RUNGWISE_ORDER_H

#include <glib.h>

typedef struct {
    double probability; /* that the one fault is what this check finds; not negative */
    double minutes;     /* not negative */
    gboolean first;     /* made before all that are not: it is spoilt by making another */
} OrderCheck;

/* Expected minutes of making `checks` in `order` (indices, `count` of them) until the fault is found. Exactly one
 * fault; what the probabilities leave to 1 is a fault that no check finds: all checks are made then. `skip_last`: the
 * last check is not made, its fault being the only one left; allowed only where nothing is left to 1. */
double order_expected_minutes (const OrderCheck *checks, const guint *order, guint count, gboolean skip_last);
/* The order with the least of that, of those that begin with the checks to be made `first`. By probability over
 * minutes, larger first, ties by index; with `skip_last` each check that may be the last is tried there, the others by
 * the ratio. Transfer full (`count` indices). Cost: count squared. */
guint *order_best (const OrderCheck *checks, guint count, gboolean skip_last);
/* The likeliest first, after those to be made `first`, ties by index: what one does without counting minutes. Transfer
 * full. */
guint *order_likeliest (const OrderCheck *checks, guint count);

#endif
