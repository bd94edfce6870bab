/* SPDX-License-Identifier: MIT */
/* Route: finds the shortest safe order of steps from a unit's state to a want.
 *
 * Owns:   the grounded problem, its lower bound, the best-first search and the layered encoding.
 * Calls:  packages (one problem per number of layers), check (walks each answer), book.
 * Never:  reads files, prints, or includes a libsolv header.
 * Method: docs/method.md. */
#ifndef RUNGWISE_ROUTE_H
#define RUNGWISE_ROUTE_H

#include "check/check.h"
#include "route/objective.h"

typedef enum {
    CLAIM_PROVED_SHORTEST,
    CLAIM_BEST_FOUND,
    CLAIM_NO_ROUTE,   /* proved */
    CLAIM_NOT_FOUND,  /* within the effort */
    CLAIM_READ_FIRST, /* no one route serves every possible release, but something can be read first */
    CLAIM_FAULT,      /* an answer that the checker refused: this program's own fault */
    CLAIM_BRANCHES,   /* a plan with branches: RouteAnswer.branches says what is claimed of it */
} Claim;

/* Where long work stands. */
typedef struct {
    const char *doing; /* static: "searching" */
    guint64 opened;    /* states that the search has opened in this run */
    guint layers;      /* that libsolv is at work on; 0: it is not */
    guint best;        /* of the best route so far, as RouteAnswer.lower_bound counts; G_MAXUINT: none yet */
    guint lower_bound; /* as in RouteAnswer */
    Objective objective;
} RouteProgress;

typedef struct {
    Objective objective;
    gboolean any_route;     /* stop at the first route there is: all that is asked is whether there is one */
    gboolean search_only;   /* leave libsolv out: what the search does not settle stays open */
    gboolean no_branches;   /* where no one route serves all cases, no plan with branches is looked for */
    gboolean no_ways_back;  /* leave out what comes back from each step: RouteAnswer.ways_back stays NULL */
    const GArray *familiar; /* nullable, Step: of routes that cost the same, one with few steps that are not in here */
    guint64 search_states;  /* most states that the best-first search may open; 0: the default */
    /* Asked now and then during long work; FALSE: stop, and answer with what there is. NULL: never asked. */
    gboolean (*go_on) (const RouteProgress *progress, gpointer data);
    gpointer go_on_data;
} RouteOptions;

/* Possible releases of the component to read that lead to the same answer, once it is read. */
typedef struct {
    gboolean *may_be; /* owned; one per release of that component: it belongs to this case */
    guint members;    /* how many combinations with the releases of other components this stands for */
    Claim claim;      /* of one route that serves all of them */
    GArray *steps;    /* Step; owned; NULL without a route */
} RouteCase;

/* What it takes to bring a unit back to the last state before a step that started (docs/method.md, "No return"). */
typedef enum {
    BACK_NONE_BEFORE, /* no state before it starts: there is nothing to come back to */
    BACK_WAY,         /* `steps` lead back */
    BACK_NO_RETURN,
    BACK_OPEN, /* not settled within the effort */
} BackKind;

typedef struct {
    BackKind kind;
    guint steps;      /* BACK_WAY: fewest, proved ... */
    gboolean at_most; /* ... unless this: so many are enough, perhaps fewer are */
    gboolean unknown; /* BACK_NO_RETURN: because it is not known what to write back */
} WayBack;

typedef struct {
    Claim claim;
    Objective objective;
    gboolean stopped;  /* go_on said so */
    GArray *steps;     /* Step; owned; NULL without a route */
    GArray *ways_back; /* WayBack, one per step; owned; NULL without a route */
    Walk *walk;        /* owned; the checker's account of it (first case); NULL without a route */
    guint lower_bound; /* least that any route has of what the objective minimises first, proved: steps, insertions,
                          tenths of a minute */
    guint64 searched;  /* states that the best-first search opened */
    guint solver_runs, layers; /* libsolv problems solved; layers of the last */
    const char *proof;         /* static: how the claim was reached: "bound met", "search exhausted", ... */
    char *reason;              /* owned, nullable: why there is no route, or what went wrong */
    GPtrArray *cases;          /* RouteCase*; only with CLAIM_READ_FIRST */
    guint read_first;          /* with CLAIM_READ_FIRST: the component whose release to read first */
    gboolean *floor_assumed;   /* owned; per component: the floor was not given and matters */
    struct BranchAnswer *branches; /* (route/branched.h) owned; with CLAIM_BRANCHES; NULL otherwise */
} RouteAnswer;

RouteAnswer *route_find (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                         const RouteOptions *options);
/* What libsolv is given for this question, as a case that replays (packages.h), with remarks that say what names and
 * versions stand for: over `n_layers` layers (0: the fewest possible) and at most `most_steps` steps (0: any number).
 * NULL with `*reason` (transfer full) when there is nothing to give: the question is too large, or hopeless. */
char *route_packages (const Library *library, const Shop *shop, const Unit *unit, const Want *want, guint n_layers,
                      guint most_steps, char **reason);

/* The same steps (GArray of Step) in the same order; NULL equals NULL alone. */
gboolean route_steps_equal (const GArray *left, const GArray *right);

void route_answer_free (RouteAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RouteAnswer, route_answer_free)

#endif
