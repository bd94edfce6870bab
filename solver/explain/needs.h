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

/* A question that is to be answered without some needs. */
typedef struct {
    Library library;   /* borrows all but its list of rules, which has one more: writing by these methods is barred */
    Expr anything;     /* true in every state of the board */
    Rule bar;          /* so this rule is always broken */
    Shop *shop;        /* owned: without these lots */
    Want want;         /* borrows all but `keep_slot` */
    gboolean *keep;    /* owned: every slot, where opening is ruled out; NULL otherwise */
    Question question; /* all of the above */
} Narrowed;

/* A method that is ruled out still recovers a write that failed: it is writing by it that is to be done without. */
void question_without (const Question *question, const NeedSet *without, Narrowed *narrowed);
void narrowed_clear (Narrowed *narrowed);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Narrowed, narrowed_clear)

#endif
