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
    const char *bound; /* to whom the part has bound itself; NULL: to nobody */
} Held;

/* What a unit has at one moment, every release known. */
typedef struct {
    const Board *board; /* borrowed from the book */
    guint revision;
    guint *releases;  /* owned; per component; of a failed one: what it had before */
    int *floors;      /* owned; per component; -1: none */
    gboolean *failed; /* owned; per component: its last write failed, and nothing in it can be relied on */
    Held *held;       /* owned; per slot */
    guint *fittings;  /* owned; per slot: how often something was fitted in it since `unit` */
    const Unit *unit; /* borrowed: what the unit's own parts are, what the slots began with, what sockets bear */
} State;

void state_free (State *state);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (State, state_free)
State *state_copy (const State *state);
/* The unit's state in one of its cases: `releases` has one index per component (NULL: the lowest possible each). */
State *state_from_unit (const Unit *unit, const guint *releases);

/* Carries the step out, whether or not it is allowed. */
void state_apply (State *state, const Step *step);
/* Everything that `step`, a write, would set is failed from here on. */
void state_fail (State *state, const Step *step);
/* The same releases, failures and parts, owners included; floors and counts of fittings may differ. */
gboolean state_equal (const State *left, const State *right);
/* The state as a unit in the middle of its work: floors stated, the unit's own parts that it doesn't hold `pulled`, slots
 * that began as they did. Borrows names and the book; `failed` etc. as in the state. Transfer full (unit_free). */
Unit *unit_at_state (const State *state);

/* What a bench record leaves: the unit as it stands, the shop without parts that were set aside, and the steps of the
 * route that are still to do. */
typedef struct {
    Unit *unit;   /* owned */
    Shop *shop;   /* owned */
    GArray *left; /* Step; owned: of `route`, those that no entry names as done, in order */
    State *state; /* owned; in its first case */
} Resumed;

/* Applies `record` to `unit` (docs/files.md, "Record"). `route` is the one that entries name steps of by number; NULL: none
 * was given. NULL, and complaints with file, line and column, where an entry can't have happened: no such step, a
 * part that was not there. Transfer full. */
Resumed *resume_from_record (const Shop *shop, const Unit *unit, const WrittenRoute *route, const Record *record,
                             Complaints *complaints);
void resumed_free (Resumed *resumed);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Resumed, resumed_free)

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
    const char *rule; /* id; "while-running" for a release's own while-running, "failed-write" for a failed component */
    const char *says;
    Breaking breaking;
    guint powers, methods; /* as in Rule */
    Sureness sureness;
    GPtrArray *facts; /* Fact*; owned */
    Source source;
    Mark at; /* of the rule */
} Broken;

/* Every rule that this state breaks, warnings included: failed components first, then in the order of the rules and of
 * slots, then `while-running`.
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
    gboolean needs_start;     /* a start is made before it: a write on a running unit that follows none */
    guint recovery;           /* METHOD_BIT mask; writes: what recovers a failed one, 0: nothing (docs/walk-rules.md) */
    gboolean raises_floor;    /* writes: afterwards something that could be written before can't be */
    gboolean binds_part;      /* fits: once started here, the part is bound for good */
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
 * What slots and components began with, `start->unit` says; where it says nothing of the components, `start` does. */
Walk *check_walk (const Library *library, const Shop *shop, const Want *want, const State *start, const GArray *steps);

#endif
