/* SPDX-License-Identifier: MIT */
/* Check: does this state start, and is every step of this route allowed? Plain loops over the book.
 *
 * Owns:   the one implementation of docs/method.md, "Words made exact", that every answer passes.
 * Calls:  book, text.
 * Never:  includes a libsolv header, or anything of the packages or route rooms.
 * Method: docs/method.md, "Words made exact". */
#ifndef RUNGWISE_CHECK_H
#define RUNGWISE_CHECK_H

#include "book/book.h"

/* What a slot holds at one moment. part NULL: empty. */
typedef struct {
    const Part *part;
    const char *stepping;
    Owner owner;
} Held;

/* What a unit has at one moment, every release known. */
typedef struct {
    const Board *board; /* borrowed from the book */
    guint revision;
    guint *releases; /* owned; per component */
    int *floors;     /* owned; per component; -1: none */
    Held *held;      /* owned; per slot */
} State;

void state_free (State *state);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (State, state_free)
State *state_copy (const State *state);
/* The unit's state in one of its cases: `releases` has one index per component (NULL: the lowest possible each). */
State *state_from_unit (const Unit *unit, const guint *releases);

/* The cases of a unit: each combination of the releases it may have, as arrays of one index per component.
 * Transfer full (GPtrArray of guint*). NULL when there are more than `most`. */
GPtrArray *unit_cases (const Unit *unit, guint most);

/* How sure a broken rule is. */
typedef enum {
    SURE_STATED,     /* a fact says no */
    SURE_NOT_STATED, /* no fact says yes */
} Sureness;

/* A fact that takes part in breaking a rule, with its place in the files. */
typedef struct {
    char *text; /* owned: "cpu1 holds elvane-14 (generation elvane, stepping b1)" */
    Mark at;
} Fact;

/* One broken rule. */
typedef struct {
    const char *rule; /* id; "while-running" for a release's own while-running */
    const char *says;
    Breaking breaking;
    guint powers, methods; /* as in Rule */
    Sureness sureness;
    GPtrArray *facts; /* Fact*; owned */
    Source source;
    Mark at; /* of the rule */
} Broken;

/* Every rule that this state breaks, warnings included, in the order of the rules and then of slots.
 * Transfer full (GPtrArray of Broken*). */
GPtrArray *check_state (const Library *library, const Shop *shop, const State *state);

typedef enum { STARTS_YES, STARTS_NO, STARTS_NOT_KNOWN } Starts;
/* STARTS_NOT_KNOWN when all that stands in the way is a support that is not stated. */
Starts broken_verdict (const GPtrArray *broken);
gboolean state_starts (const Library *library, const Shop *shop, const State *state);

/* Whether a failed write of `component` can be recovered in `state` (before the write) by a method of the mask
 * returned; 0: no recovery here. */
guint recovery_methods (const Shop *shop, const State *state, guint component);

/* What one step of a walked route did. */
typedef struct {
    gboolean starts_before, starts_after;
    double minutes, attended; /* of the step itself */
    gboolean opens;           /* first of a run of off-power steps */
    gboolean needs_start;     /* a start is made before it: a host write that follows none */
    guint recovery;           /* METHOD_BIT mask; writes: what recovers a failed one, 0: nothing (docs/walk-rules.md) */
    gboolean raises_floor;    /* writes: afterwards something that could be written before can't be */
} WalkedStep;

/* The outcome of walking a route in one case. */
typedef struct {
    gboolean sound;
    guint first_bad;  /* with !sound: index of the first bad step; == number of steps: the end is bad */
    const char *rule; /* interned id of what it breaks: one of those in docs/walk-rules.md; NULL with sound */
    char *why;        /* owned; one sentence; NULL with sound */
    GArray *walked;   /* WalkedStep, up to the first bad step */
    guint steps, insertions, openings, starts;
    double minutes, attended;
    State *last; /* owned */
} Walk;

void walk_free (Walk *walk);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Walk, walk_free)

/* Walks `steps` (GArray of Step) from `start`; with `want` NULL any end is allowed. Transfer full.
 * `start` is also what the slots began with. */
Walk *check_walk (const Library *library, const Shop *shop, const Want *want, const State *start, const GArray *steps);

#endif
