/* SPDX-License-Identifier: MIT */
/* Explain: what an experienced colleague says beside a route, or instead of one.
 *
 * Owns:   alternatives, fallbacks of writes, the sets of facts that forbid a route, the additions that open one.
 * Calls:  route (plans smaller and other questions), check, book.
 * Never:  prints, or shows a route that the checker has not walked.
 * Method: docs/method.md, "Explaining". */
#ifndef RUNGWISE_EXPLAIN_H
#define RUNGWISE_EXPLAIN_H

#include "route/route.h"

/* One question, as a command asks it. All borrowed. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;
    const RouteOptions *options;
} Question;

/* Which of two walked routes is the better one by the objective: below 0, 0, above 0, as qsort asks. */
int walks_compare (Objective objective, const Walk *left, const Walk *right);

/* ---- Alternatives ---- */

/* What a route cannot do without. */
typedef struct {
    guint methods;  /* METHOD_BIT mask */
    gboolean opens; /* the unit is opened */
    GArray *lots;   /* Lot: what is borrowed or taken from stock, and how many at a time at the most; owned */
} Needed;

typedef struct {
    RouteAnswer *answer; /* owned; with a route that the checker walked */
    Needed needed;
    GPtrArray *without; /* char*: what was ruled out to find it, in words ("the loaner dorvan-8 a1"); owned */
} Alternative;

void alternative_free (Alternative *alternative);

/* Up to `most` routes, cheapest first, the best route first of all; each can do without something that every earlier one
 * needs... that is, no earlier one's needs are a subset of its own. Transfer full (GPtrArray of Alternative*).
 * `*complete`: there are no more. Cost: a planning run per need ruled out, at most ALTERNATIVES_MOST_PLANS. */
#define ALTERNATIVES_MOST_PLANS 60
GPtrArray *alternatives_find (const Question *question, guint most, gboolean *complete);

/* ---- When a write fails ---- */

typedef enum { FALLBACK_ROUTE, FALLBACK_NONE, FALLBACK_OPEN } FallbackKind;

/* The way from a failed write back to a state that starts. */
typedef struct {
    FallbackKind kind;
    GArray *steps;          /* Step; owned; NULL without a route */
    gboolean proved;        /* nothing shorter leads to a start */
    gboolean reaches_after; /* its end is the state that the write was to reach: the route goes on behind it */
} Fallback;

/* One per step of `steps` (GArray of Step), which start at the unit in its first case; FALLBACK_NONE with no steps for
 * those that are no writes. Walked by the checker. Transfer full (GArray of Fallback, cleared with it). */
GArray *fallbacks_find (const Question *question, const GArray *steps);

/* ---- No route ---- */

typedef enum {
    FACT_RULE,    /* a rule of the rule files */
    FACT_SUPPORT, /* what the releases of a component state of a generation and stepping */
    FACT_FROM,    /* `from` of a release */
    FACT_TO_WRITE,
    FACT_RUNNING,
    FACT_LOWEST,
    FACT_WITHDRAWN,
    FACT_METHOD,    /* `requires` of a method */
    FACT_PART,      /* `requires` and `conflicts` of a part */
    FACT_NO_METHOD, /* the shop lacks a method */
    FACT_LOANERS,   /* the loan shelf holds no more than it does */
    FACT_STOCK,
    FACT_RECOVERY,  /* the shop asks for recovery */
    FACT_VERIFIED,  /* the shop asks for a start after each write */
    FACT_REDUNDANT, /* the shop asks for redundant supplies */
    FACT_WANT_SLOT,
    FACT_WANT_RELEASE,
    FACT_KEEP,
    FACT_STAYS,      /* a slot that the want does not mention ends as it began (a tied one: not empty) */
    FACT_FLOOR,      /* the unit's floor */
    FACT_FAILED,     /* the last write of a component failed */
    FACT_INSERTIONS, /* the fittings that a slot is rated for */
    FACT_SPARE,      /* a spare image ends at the release of the active one */
    FACT_BINDS,      /* a part binds itself for good */
} FactKind;

/* Something that forbids, and that could be otherwise. */
typedef struct {
    FactKind kind;
    guint index;  /* of the rule, component, slot; LOANERS, STOCK: a PartKind; NO_METHOD: the method */
    guint index2; /* of the release, method; KEEP: 0 for a slot, 1 for a component */
    const Part *part;
    const char *generation, *stepping;
    char *says; /* owned; a sentence */
    Source source;
    Mark at;
    gboolean
        of_shop; /* another shop or order could have it otherwise; the board, the book and the unit are as they are */
    gboolean stated_no; /* the book states a no, rather than no yes */
} BlockingFact;

typedef enum {
    NONE_NEVER,         /* whatever the shop had: a stated no of the board, its releases or the parts */
    NONE_NOT_KNOWN,     /* whatever the shop had, as far as the book states */
    NONE_NOT_FROM_HERE, /* whatever the shop had: such a unit may start, and the book leaves no way to it from this one */
    NONE_NOT_WITH_THIS, /* not with what the shop has and allows, and what the order leaves alone */
    NONE_NOT_SETTLED,   /* proved that there is no route, and not found out why within the effort */
} NoneKind;

/* Something that would open a route, tried for real. */
typedef struct {
    FactKind opens;   /* the kind of fact that it lifts, or lifts in part */
    guint fact;       /* that fact, as in NoRoute.facts */
    const Part *part; /* LOANERS, STOCK; NULL otherwise */
    const char *stepping;
    const char *bound;   /* to whom the part is bound already; NULL: to nobody */
    guint count;         /* of the part */
    char *says;          /* owned: "lend one dorvan-8 a1" */
    RouteAnswer *answer; /* owned; the route that it opens, walked by the checker with the addition in place */
} Addition;

typedef struct {
    NoneKind kind;
    GPtrArray *facts;  /* BlockingFact*; owned: all that were looked at */
    GPtrArray *sets;   /* GArray of guint, indices of facts: each set forbids, none is larger than it has to be; owned.
                             Those that no shop can help come first */
    gboolean minimal;  /* that none is larger than it has to be is proved */
    gboolean complete; /* every minimal choice of facts other than rules is there, with one choice of rules each */
    GPtrArray *lifts;  /* GArray of guint, likewise: without these facts, which are the shop's, the order's or a
                             withdrawal, there is a way, and all of them have to go; fewest first; owned */
    GPtrArray *additions; /* Addition*, cheapest route first; owned */
    guint tried;          /* additions that were tried */
    gboolean all_tried;   /* every addition of the book was tried, or can't open a way */
    guint plans;          /* planning runs that it took */
} NoRoute;

void no_route_free (NoRoute *none);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NoRoute, no_route_free)

/* For a question that has no route (proved), its unit's releases known or not. `library`, `shop`, `unit` and `want` are
 * changed while it works and are again as they were when it returns; so they must not be shared with another thread.
 * Cost: planning runs, at most NO_ROUTE_MOST_PLANS; fewer facts and sets, and `complete` FALSE, where that ends it. */
#define NO_ROUTE_MOST_PLANS 4000
NoRoute *no_route_explain (Library *library, Shop *shop, Unit *unit, Want *want, const RouteOptions *options);

#endif
