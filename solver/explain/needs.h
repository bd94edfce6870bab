/* SPDX-License-Identifier: MIT */
/* Needs: what a route draws on that another one could do without. For alternatives.c only.
 *
 * Owns:   the list of all that a question's routes can need: each lot of the shop, each method, opening the unit.
 * Calls:  check (carries steps out to see how many of a lot are in at a time), book. */
#ifndef RUNGWISE_EXPLAIN_NEEDS_H
#define RUNGWISE_EXPLAIN_NEEDS_H

#include "explain/explain.h"

/* A set of needs as text, NEED_IN or NEED_OUT for each in turn: lots in the shop's order, methods, opening. It serves
 * as a key as it is. */
typedef char NeedSet;
#define NEED_IN  'x'
#define NEED_OUT '.'

guint need_count (const Question *question);
/* Nothing in it. Transfer full, as of the others. */
NeedSet *need_set_new (const Question *question);
NeedSet *need_set_of_route (const Question *question, const GArray *steps);
gboolean need_set_is_within (const NeedSet *part, const NeedSet *whole);
gboolean need_sets_meet (const NeedSet *left, const NeedSet *right);

/* Fills `needed` in; its lots are new, and count what is in at a time at the most. */
void needed_of_route (const Question *question, const GArray *steps, Needed *needed);

/* The words for a need that was ruled out: "the loaner dorvan-8 (stepping a1)". Transfer full. */
char *need_in_words (const Question *question, guint need);

/* The shop and the want without these needs. The want borrows all but `keep_slot` from the question's, which `keep` owns
 * where opening is ruled out. */
Shop *shop_without (const Question *question, const NeedSet *without);
Want want_without (const Question *question, const NeedSet *without, gboolean **keep);

#endif
