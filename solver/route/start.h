/* SPDX-License-Identifier: MIT */
/* Start: which states of a board start at all, over everything that the book knows.
 *
 * Owns:   the rules grounded over whole domains: each slot any part of the book or empty, each component any release.
 * Calls:  grounding (ground*.c); libsolv is not asked.
 * Method: docs/method.md, "Why a unit is dark". */
#ifndef RUNGWISE_ROUTE_START_H
#define RUNGWISE_ROUTE_START_H

#include "check/check.h"

/* Every clause is kept with its *maker*, so that leaving some out needs no new grounding: maker i is rule i of the
 * library; behind the rules, one for the `while-running` of each component of the board. */
typedef struct StartSpace StartSpace;

/* For a board of this revision. What `unit` holds and has is in the domains, whatever it is: of a slot also the very
 * part that it holds, of a spare image whose write failed also that. Other failed writes are not looked at. Nothing is
 * borrowed but the book. NULL with `*reason` (transfer full) when a rule is too large. Transfer full.
 * Cost: milliseconds; the parts of the book squared, for each two slots that a rule compares. */
StartSpace *start_space_new (const Library *library, const Unit *unit, guint revision, char **reason);
void start_space_free (StartSpace *space);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StartSpace, start_space_free)

guint start_space_makers (const StartSpace *space);
/* Whether starting depends on the maker anywhere: a rule that only warns makes nothing. */
gboolean start_space_maker_matters (const StartSpace *space, guint maker);

/* What is asked of a space. All borrowed. */
typedef struct {
    const gboolean *keep_slot;      /* per slot: it holds what the unit holds */
    const gboolean *keep_component; /* per component: it has the release of `releases`; a failed spare: it is failed */
    const guint *releases;
    gboolean redundant;         /* the shop asks for redundant supplies */
    gboolean not_stated_is_yes; /* a support that no release states either way is taken for stated */
    const gboolean *left_out;   /* per maker: what it made does not count; NULL: all of it does */
    guint64 most;               /* decisions of the search */
} StartQuestion;

typedef enum { START_POSSIBLE, START_IMPOSSIBLE, START_UNDECIDED } StartAnswer;

/* Whether some state with what is kept starts. START_UNDECIDED after `most` decisions. Cost: microseconds, as a rule. */
StartAnswer start_space_ask (const StartSpace *space, const StartQuestion *question);
/* Releases of a component that no rule tells apart have the same class: the first of them. */
guint start_space_class (const StartSpace *space, guint component, guint release);
/* Whether starting depends on what the slot holds, or on the release that the component has. */
gboolean start_space_slot_matters (const StartSpace *space, guint slot);
gboolean start_space_component_matters (const StartSpace *space, guint component);

#endif
