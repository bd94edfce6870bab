/* SPDX-License-Identifier: MIT */
/* Start: what its files share. A domain is a set of values per variable, as bits; all of them lie in one row of words. */
#ifndef RUNGWISE_ROUTE_START_PARTS_H
#define RUNGWISE_ROUTE_START_PARTS_H

#include "route/problem.h"
#include "route/start.h"

typedef struct {
    guint var;
    guint mask; /* first word of its set in StartSpace.masks */
} StartLiteral;

/* A `knows` rule is grounded twice; of the two only one counts in any question. */
typedef enum { COUNTS_ALWAYS, COUNTS_STATED, COUNTS_UNLESS_DENIED } StartCounts;

typedef struct {
    guint first, count; /* in StartSpace.literals */
    guint maker;
    StartCounts counts;
} StartClause;

typedef struct {
    Sum *sum; /* owned */
    guint maker;
    gboolean by_shop;   /* the largest supply is lost where the shop asks for redundancy */
    gboolean *concerns; /* owned; per slot: it adds to one of the sides */
} StartSum;

struct StartSpace {
    guint n_vars, n_slots, n_makers, n_words;
    guint *sizes;      /* owned; values per variable; slots first, then components */
    guint *word;       /* owned; first word of each variable, and of the end */
    guint *held;       /* owned; the value that the unit has; of a component with several, the first */
    int *server;       /* owned; per slot; -1: none */
    gboolean *failed;  /* owned; per component: a spare image that failed, whose last value says so */
    gboolean *matters; /* owned; per variable: a clause or a sum depends on it */
    gboolean *made;    /* owned; per maker: it made a clause or a sum */
    guint **classes;   /* owned; per component and release */
    GArray *masks;     /* guint64; owned */
    GArray *literals;  /* StartLiteral; owned */
    GArray *clauses;   /* StartClause; owned */
    guint *occurs;     /* owned; first of each variable in `occurring`, and the end */
    guint *occurring;  /* owned; indices of clauses */
    GPtrArray *sums;   /* StartSum*; owned */
    guint64 *all;      /* owned; every domain whole */
    guint64 *settled;  /* owned; the same after all clauses that count usually; NULL: nothing starts at all */
};

/* A question on its way. */
typedef struct {
    const StartSpace *space;
    const StartQuestion *question; /* NULL: every clause, no sum */
    guint *queue;                  /* owned; variables whose domains changed; never more than there are */
    gboolean *queued;              /* owned */
    guint n_queued;
    guint64 left; /* decisions */
} StartSearch;

static inline const guint64 *
start_mask (const StartSpace *space, const StartLiteral *literal)
{
    return &g_array_index (space->masks, guint64, literal->mask);
}

static inline gboolean
start_has (const StartSpace *space, const guint64 *domain, guint var, guint value)
{
    return (domain[space->word[var] + value / 64] >> (value % 64) & 1) != 0;
}

/* start_domains.c: every variable of a problem with none; its `initial` is what the unit holds, or has at the lowest. */
void start_domains (Problem *problem);

/* start_ask.c */
void start_search_init (StartSearch *search, const StartSpace *space, const StartQuestion *question);
void start_search_clear (StartSearch *search);
/* Every domain after the clauses that count. FALSE: no state is left. */
gboolean start_settle (StartSearch *search, guint64 *domain);
/* Keeps of a variable what is in `mask`. FALSE: nothing is left of it. */
gboolean start_narrow (StartSearch *search, guint64 *domain, guint var, const guint64 *mask);

/* start_sums.c: takes away what no total bears, whatever else is chosen. FALSE: no state is left. */
gboolean start_bear_sums (StartSearch *search, guint64 *domain);

#endif
