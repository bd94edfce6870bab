/* SPDX-License-Identifier: MIT */
/* Dark: why a state does not start, as minimal sets of facts of the unit, over all releases that it may have.
 *
 * Owns:   the facts of a unit, the cases that rules tell apart, the sets of each.
 * Calls:  route (the grounded start: route/start.h), none_sets, check, book.
 * Never:  plans.
 * Method: docs/method.md, "Why a unit is dark". */
#ifndef RUNGWISE_DARK_H
#define RUNGWISE_DARK_H

#include "check/check.h"

typedef enum {
    DARK_HELD,      /* what a slot holds */
    DARK_EMPTY,     /* that a slot holds nothing */
    DARK_RELEASE,   /* the release of a component, or that it is one of the case's */
    DARK_FAILED,    /* that the last write of a component failed */
    DARK_REVISION,  /* the board's revision */
    DARK_REDUNDANT, /* that the shop asks for redundant supplies */
} DarkFactKind;

typedef struct {
    DarkFactKind kind;
    guint index; /* slot, component */
    char *says;  /* owned: "cpu1 holds elvane-14 b1" */
    Mark at;     /* where the unit, or the shop, says so */
} DarkFact;

/* A rule that a set needs. */
typedef struct {
    const char *id, *says; /* as in Broken: of a rule, or "while-running" */
    Source source;
    Mark at;
    const Broken *broken; /* how it is broken as things stand, with its facts; borrowed from the case; NULL: it is not */
} DarkRule;

/* Facts that together keep the unit from starting, whatever else it had; none of them can be left out. */
typedef struct {
    GArray *facts;    /* guint, indices of DarkCase.facts, ascending; owned */
    GPtrArray *rules; /* DarkRule*: with these rules, each of them needed, that is so; owned; empty for a failed write */
    gboolean stated;  /* it takes no missing statement to break them: a stated no */
} DarkSet;

/* Combinations of releases that the unit may have and that no rule tells apart. */
typedef struct {
    gboolean **may_be;   /* owned; per component, per release: a combination of these */
    guint64 members;     /* how many combinations */
    guint *releases;     /* owned; the first of them */
    Starts starts;
    GPtrArray *broken;   /* Broken*: of that first one, warnings too; owned */
    GPtrArray *facts;    /* DarkFact*; owned; empty where it starts */
    GPtrArray *sets;     /* DarkSet*, smallest first, then in the order of the facts; owned */
    GPtrArray *corrections; /* GArray of guint: facts that, changed together, let it start; each needed; fewest first */
    gboolean complete;   /* both lists hold all there are */
} DarkCase;

typedef struct {
    GPtrArray *cases; /* DarkCase*, in the order of their first combinations; owned; empty when there are too many */
    guint64 combinations;
} DarkAnswer;

#define DARK_MOST_CASES 256 /* that the rules tell apart */
#define DARK_MOST_SETS 24   /* per case */

/* `most_sets` 0: DARK_MOST_SETS. Transfer full. */
DarkAnswer *dark_find (const Library *library, const Shop *shop, const Unit *unit, guint most_sets);
void dark_answer_free (DarkAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DarkAnswer, dark_answer_free)

#endif
