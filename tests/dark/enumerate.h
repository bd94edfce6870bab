/* SPDX-License-Identifier: MIT */
/* Enumerate: every state that a unit's board could be in, and what the check room finds broken in each.
 *
 * source: docs/method.md, "Why a unit is dark", read as loops over every part, release and revision, and the checker. Nothing
 * of the route or explain rooms is used. */
#ifndef DARK_ENUMERATE_H
#define DARK_ENUMERATE_H

#include "check/check.h"

/* Of each state, as bits. Slots come first in `alike`, then components (a failed one: that it is failed), then the revision,
 * then redundancy. Rules come first in `broken`, then the `while-running` of each component. */
typedef struct {
    guint64 alike;         /* what is as the unit has it; a release: not here, see `releases` */
    guint64 broken;        /* what keeps it from starting */
    guint64 stated_broken; /* ... by a stated no */
    gboolean failed;       /* a failed write keeps it from starting */
    Starts starts;
} Enumerated;

typedef struct {
    const Library *library; /* borrowed */
    const Shop *shop;       /* borrowed */
    const Unit *unit;       /* borrowed */
    guint n_slots, n_components, n_rules;
    GArray **held;    /* owned; per slot: Held, what it may hold */
    guint *sizes;     /* owned; per component: releases, and one more for a failed one */
    GArray *states;   /* Enumerated; owned; the last component counting fastest, slots before components, revision and
                           redundancy slowest */
    GArray *releases; /* guint8; owned; per state and component */
} Enumeration;

/* NULL when there are more than `most` states. Transfer full. */
Enumeration *enumerate (const Library *library, const Shop *shop, const Unit *unit, guint most);
void enumeration_free (Enumeration *all);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Enumeration, enumeration_free)

guint enumeration_facts (const Enumeration *all);
guint enumeration_bit_of_component (const Enumeration *all, guint component);
guint enumeration_bit_of_revision (const Enumeration *all);
guint enumeration_bit_of_redundancy (const Enumeration *all);
/* The rule, or component whose `while-running`, that an id and a place mean. */
guint enumeration_bit_of_rule (const Enumeration *all, const char *id, Mark at);

/* What of a state is as the unit has it in this case. */
guint64 enumeration_alike (const Enumeration *all, guint state, const guint *releases);

/* All minimal sets of facts with which no state starts, and all minimal corrections: GArray of guint64, ascending. Transfer
 * full. By going through all subsets of the facts. */
GArray *enumeration_sets (const Enumeration *all, const guint *releases);
GArray *enumeration_corrections (const Enumeration *all, const guint *releases);
/* Whether with these facts, and these rules alone, no state starts. */
gboolean enumeration_keeps_dark (const Enumeration *all, const guint *releases, guint64 facts, guint64 rules,
                                 gboolean stated_alone);

#endif
