/* SPDX-License-Identifier: MIT */
/* Beliefs, and the search over them, as branched*.c share them. Method: docs/method.md, "Plans with branches". */
#ifndef RUNGWISE_ROUTE_BRANCHED_PARTS_H
#define RUNGWISE_ROUTE_BRANCHED_PARTS_H

#include "route/bound.h"
#include "route/branched.h"
#include "route/search.h"

/* More combinations of possible releases than this are not looked at, nor more cases that the question tells apart. */
#define MOST_BRANCHED_COMBINATIONS 2048
#define MOST_BRANCHED_CASES        512

/* What is told of cases together: what the objective minimises first, and the rest of it. */
typedef struct {
    guint64 lead, rest;
} CostSum;

/* Cases of the unit that the question cannot tell apart. */
typedef struct {
    GPtrArray *cases;  /* const guint*; owned, its members borrowed from Beliefs.unit_cases */
    guint16 *first;    /* owned: what a row says of it at the start */
    GPtrArray *end;    /* Clause*; owned, its members borrowed: what its last state has to hold beside starting */
    gboolean hopeless; /* it has no route even when it is known */
} CaseClass;

/* A plan from one belief on. Once made it is const, and may be part of several. */
typedef struct Plan {
    const guint16 *row; /* the belief that it begins with; borrowed */
    GArray *moves;      /* Move; owned */
    Then then;
    guint component; /* THEN_READ: which variable */
    gboolean dark;
    gboolean known;  /* all moves are of one known case, so their order is free */
    GPtrArray *next; /* Plan*; owned, its members borrowed */
    CostSum sum;     /* over its cases that are not hopeless */
    guint worst;     /* of them, what the objective minimises first */
} Plan;

/* Everything that one search needs, and all that it makes.
 *
 * A belief is a row of numbers: its length; how the unit is powered, and the rank of the last work on a slot (search.c);
 * the number of cases; what each slot holds; then for each case, in order, its class, the value of each component, each
 * floor and count of fittings. */
typedef struct {
    Problem *problem;                 /* owned; its start is moved to the moment that is looked at */
    Bound *bound;                     /* owned */
    GPtrArray *unit_cases;            /* guint*; owned */
    GPtrArray *classes;               /* CaseClass*; owned */
    GArray *class_of;                 /* guint, index of its class, per member of unit_cases; owned */
    GPtrArray *end;                   /* the problem's own, while another takes its place; owned */
    guint *left;                      /* owned; per slot: fittings that it may still have at the start */
    guint n_components, head, stride; /* of rows: where the cases begin, and numbers per case */
    Cost dark_cost;                   /* waiting for a unit that stays dark */
    GHashTable *rows;                 /* owned: every row that was met, each once: equal rows are one pointer */
    GPtrArray *plans;                 /* owned: every plan */
    GHashTable *known;                /* row of one case -> Plan* or NULL: the best from there on */
    GHashTable *solved;               /* row -> Solved beliefs (branched_search.c); owned */
    const RouteOptions *options;
    guint64 opened;       /* beliefs */
    guint64 effort;       /* what is left of it: a state of a known case counts 1, a belief as many as it has cases */
    guint best, lower;    /* as in RouteProgress */
    gboolean out;         /* of effort, or stopped */
    gboolean stopped;
    gboolean complete; /* nothing was left out so far */
} Beliefs;

/* NULL with `*reason` (transfer full) when there are too many cases, or the question is too large. Borrows all that it is
 * given. Transfer full. */
Beliefs *beliefs_new (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                      const RouteOptions *options, char **reason);
void beliefs_free (Beliefs *beliefs);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Beliefs, beliefs_free)

/* ---- Rows ---- */

static inline guint
row_count (const guint16 *row)
{
    return row[2];
}

static inline Mode
row_mode (const guint16 *row)
{
    return (Mode) (row[1] % MODE_COUNT);
}

static inline guint
row_rank (const guint16 *row)
{
    return row[1] / MODE_COUNT;
}

static inline const guint16 *
row_slots (const guint16 *row)
{
    return row + 3;
}

/* What the row says of its case `at`: class, components, floors. */
static inline const guint16 *
row_case (const Beliefs *beliefs, const guint16 *row, guint at)
{
    return row + beliefs->head + (gsize) at * beliefs->stride;
}

static inline const CaseClass *
row_class (const Beliefs *beliefs, const guint16 *row, guint at)
{
    return beliefs->classes->pdata[row_case (beliefs, row, at)[0]];
}

/* Rows belong to this table. Transfer full. */
GHashTable *row_table_new (void);
/* Every case, at the start. */
const guint16 *row_first (Beliefs *beliefs);
/* Those of its cases that are marked. Work on slots may begin anew. */
const guint16 *row_part (Beliefs *beliefs, const guint16 *row, const guint8 *marked);
/* The row after a move, which has to be allowed in all cases; NULL: it is not. `starts`, `quiet`: as row_look() says.
 * `*cost`: of the move. */
const guint16 *row_move (Beliefs *beliefs, const guint16 *row, const Move *move, const guint8 *starts,
                         const guint8 *quiet, Cost *cost);
/* The values of all variables in a case. */
void row_values (const Beliefs *beliefs, const guint16 *row, guint at, guint16 *values);
/* Per case: it starts; nothing harms on standby. */
void row_look (const Beliefs *beliefs, const guint16 *row, guint8 *starts, guint8 *quiet);
/* In every case. */
gboolean row_may_end (const Beliefs *beliefs, const guint16 *row);
gboolean row_may_try (const Beliefs *beliefs, const guint16 *row);
gboolean row_may_read (const Beliefs *beliefs, const guint16 *row, guint var);
/* Cases of the unit that are not hopeless. */
guint row_weight (const Beliefs *beliefs, const guint16 *row);
/* The problem begins with this row's case `at`. */
void beliefs_move_start (Beliefs *beliefs, const guint16 *row, guint at);

/* ---- Costs of cases together ---- */

static inline CostSum
sum_plus (CostSum left, CostSum right)
{
    return (CostSum){ left.lead + right.lead, left.rest + right.rest };
}

static inline gboolean
sum_is_less (CostSum left, CostSum right)
{
    return left.lead != right.lead ? left.lead < right.lead : left.rest < right.rest;
}

/* So many cases that cost the same. */
CostSum sum_of (const Beliefs *beliefs, Cost cost, guint weight);

/* Asks the caller, who is told of so many more opened states. FALSE: stop. `data`: the Beliefs. */
gboolean beliefs_go_on (guint64 opened, gpointer data);

/* ---- Plans ---- */

/* Belongs to `beliefs`. */
Plan *plan_new (Beliefs *beliefs, const guint16 *row);
/* The best plan for the one case of a row; NULL: there is none. */
const Plan *plan_for_known (Beliefs *beliefs, const guint16 *row);
/* The plan that takes no case beyond `most` of what the objective minimises first, and of these the least in sum. NULL: there
 * is none, and none below `*next` either (G_MAXUINT: none at all); or the effort ran out. */
const Plan *plan_for_belief (Beliefs *beliefs, const guint16 *row, guint most, guint *next);
/* As a tree of steps. Transfer full. */
Branch *plan_to_branch (Beliefs *beliefs, const Plan *plan);

/* The questions that the branches are; of the problem only what it is about is asked, nothing that was grounded. Transfer full (GPtrArray of BranchLeg*). */
void branch_leg_free (BranchLeg *leg);
GPtrArray *branched_legs (const Problem *problem, const RouteOptions *options, const Branch *plan, Claim claim);

#endif
