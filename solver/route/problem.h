/* SPDX-License-Identifier: MIT */
/* Problem: a unit, a want and a shop, grounded: variables with small domains, clauses over them, writes that set them.
 *
 * Owns:   the one grounded form that bound, search and layered encoding share. Built once per question, then const.
 * Calls:  book.
 * Method: docs/method.md, "Grounding" and "Collapsing".
 *
 * A variable is a slot (values: 0 is empty, the others are triples of model, stepping, owner) or a component (values:
 * classes of releases that this question cannot tell apart, and one more for "unknown" where the unit has several
 * possible releases). A literal is "this variable has a value in this set"; a clause is an `or` of literals on
 * different variables; a condition is an `and` of clauses. Negation is the complement of a set, so there is none. */
#ifndef RUNGWISE_ROUTE_PROBLEM_H
#define RUNGWISE_ROUTE_PROBLEM_H

#include "route/route.h"

typedef struct {
    guint var;
    guint8 *in; /* owned; one byte per value of the variable: 1 when it is in the set */
} Literal;

/* Literals are sorted by variable, one per variable. No literal at all: false. */
typedef struct {
    guint count;
    Literal *literals; /* owned */
} Clause;

void clause_free (Clause *clause);
Clause *clause_copy (const Clause *clause, const guint *sizes);

/* What a slot can hold, and how many of it there are. */
typedef struct {
    const Part *part;
    const char *stepping;
    Owner owner;
    const char *bound; /* to whom it is bound already; NULL: to nobody */
    guint count;
} Triple;

/* How the unit is powered after the last step; fresh: no step was made yet. */
typedef enum { MODE_FRESH, MODE_OFF, MODE_ON, MODE_STANDBY, MODE_COUNT } Mode;

typedef struct {
    gboolean is_slot;
    guint index;    /* of the slot or component on the board */
    guint size;     /* values */
    guint initial;  /* value at the start */
    gboolean fixed; /* never changes: pinned, or nothing depends on it; a fixed variable stands in no clause */
    int server;     /* slots: the variable of the slot that keeps it alive; -1: none */
    /* slots: triple of each value (index into Problem.triples); entry 0 unused */
    guint *triple;     /* owned; NULL for components */
    char **label;      /* owned, NULL-terminated: what each value is, for people ("1.4.0, 1.6.0"; "own elvane-14 b1") */
    guint8 *goal;      /* owned: which values may stand at the end */
    int floor;         /* components: index of its floor in a search state; -1: floors never matter to it */
    guint start_floor; /* components: floor level at the start (while grounding: release index + 1; 0: none) */
    guint n_releases;  /* components: releases on the board, before any of them became one value */
    int *began; /* components of a problem by case whose release is not known; owned; per release the value in the
                          cases that begin with it, -1: none does. NULL: every case begins with `initial`. With it, `initial`
                          and `start_floor` are the lowest of these */
    guint *began_floor;         /* owned; with `began`: the floor level at the start of these cases */
    guint levels;               /* components: number of floor levels */
    guint left;                 /* slots: fittings that it may still have; G_MAXUINT: any number */
    int wear;                   /* slots: index of its count of fittings in a search state; -1: not counted there */
    guint8 *stays;              /* slots; owned: values that are not taken out again */
    guint8 *odd_fit, *odd_take; /* slots; owned: values whose fitting, or removal, is not among the familiar steps */
} Variable;

/* One total that must stay within another. */
typedef struct {
    double base; /* load that does not depend on the state */
    guint n_slots;
    double **load;   /* owned; per slot and value: what it adds */
    double **supply; /* owned; per slot and value: what it adds on the other side */
    gboolean lose_largest;
    gboolean needed_to_start, needed_on_standby;
    gboolean harms_on; /* breaking it harms while on */
    guint bars;        /* METHOD_BIT mask */
} Sum;

typedef struct {
    guint var;
    guint value;
    guint max_level; /* allowed only while the floor of `var` is at this level or below */
    guint raise_to;  /* afterwards the floor is at least at this level */
} Effect;

typedef struct {
    guint component, release; /* what is written, for the step */
    Method method;
    Mode mode;         /* how the unit is powered for it, and after it */
    GArray *effects;   /* Effect; owned; sorted by var; the written component is among them */
    GPtrArray *before; /* Clause*; owned: must hold in the state before */
    gboolean start_before, start_after, standby_quiet;
    Cost cost;    /* of the step itself, without what starting or opening costs */
    gboolean odd; /* it is not among the familiar steps */
} Write;

/* What the last state has to hold in every case that did not begin with this release of this component. */
typedef struct {
    guint var, release;
    GPtrArray *clauses; /* Clause*; owned */
} EndUnless;

typedef struct {
    const Library *library; /* borrowed */
    const Shop *shop;       /* borrowed */
    const Unit *unit;       /* borrowed */
    const Want *want;       /* borrowed */
    guint n_vars, n_slots;  /* slots come first; variable i < n_slots is slot i, the others are components in order */
    Variable *vars;         /* owned */
    guint n_floors;         /* counts that a search state carries beside the values: floors and fittings */
    GArray *triples;        /* Triple; owned */
    GPtrArray *start;       /* Clause*: hold in every state that starts */
    GPtrArray *standby;     /* Clause*: hold around writes on standby */
    GPtrArray *end;         /* Clause*: hold in the last state, beside start */
    GPtrArray *bars[METHOD_COUNT]; /* Clause*: hold before writes by the method */
    GPtrArray *sums;               /* Sum* */
    GPtrArray *writes;             /* Write* */
    gboolean by_case;      /* each possible release is a value of its own, none is "unknown" (problem_new_by_case) */
    GPtrArray *quiet_on;   /* Clause*: hold where a start may be tried; by case only */
    GPtrArray **pages;     /* per variable, Clause*: hold where its page may be read; NULL: it has none; by case only */
    GPtrArray *end_unless; /* EndUnless*; by case only */
    Mode begin_mode;       /* how the unit is powered at the start */
    Objective objective;
    const Weights *weights;
    Cost opening_cost, start_cost;
    Cost remove_cost[KIND_COUNT], fit_cost[KIND_COUNT];
} Problem;

void sum_free (Sum *sum);
void write_free (Write *write);
void end_unless_free (EndUnless *unless);
void problem_free (Problem *problem);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Problem, problem_free)

/* Grounds the question. NULL with `*reason` (transfer full) when a rule is too large to ground. The result is reduced:
 * values that cannot help are gone, variables that nothing depends on are fixed, releases that nothing tells apart are
 * one value. */
Problem *problem_new (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                      const RouteOptions *options, char **reason);

/* The same by case: what may be one of several releases has no value "unknown", but `began`; and what a plan with branches
 * asks beside steps is grounded too. Reduced only as far as every case, and every plan with branches, allows. */
Problem *problem_new_by_case (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                              const RouteOptions *options, char **reason);

/* Steps of reduction, each sound for every shortest route (docs/method.md, "Collapsing"); problem_new calls them. */
void reduce_problem (Problem *problem);

/* Whether values satisfy things. `values` has one entry per variable. */
static inline gboolean
clause_holds (const Clause *clause, const guint16 *values)
{
    for (guint i = 0; i < clause->count; i++)
        if (clause->literals[i].in[values[clause->literals[i].var]])
            return TRUE;
    return FALSE;
}

/* Totals are added up from decimals: a load this little above its limit is within it. */
#define TOTAL_SLACK 1e-6

gboolean clauses_hold (const GPtrArray *clauses, const guint16 *values);
gboolean sum_holds (const Problem *problem, const Sum *sum, const guint16 *values);
gboolean problem_starts (const Problem *problem, const guint16 *values);
gboolean problem_standby_quiet (const Problem *problem, const guint16 *values);
/* Whether a start may be tried: nothing that is broken harms while on or on standby. By case only. */
gboolean problem_start_can_be_tried (const Problem *problem, const guint16 *values);
/* Whether the page of the component shows its release. By case only. */
gboolean problem_page_can_be_read (const Problem *problem, guint var, const guint16 *values);
gboolean problem_method_barred (const Problem *problem, Method method, const guint16 *values);
/* The want alone; whether it starts is another question. */
gboolean problem_goal_met (const Problem *problem, const guint16 *values);
/* Whether one more of `triple` is at hand: fewer are fitted than there are. */
gboolean problem_at_hand (const Problem *problem, guint triple, const guint16 *values);
/* From here on the search counts the fittings of this slot: for slots that a route wore out. */
void problem_count_wear (Problem *problem, guint var);
/* The values at the start, one per variable. Transfer full. */
guint16 *problem_initial_values (const Problem *problem);
/* Whether some case begins with the variable at this value; whether every case begins with it at one of the set. */
gboolean variable_may_begin (const Variable *variable, guint value);
gboolean variable_begins_within (const Variable *variable, const guint8 *in);
/* The name of the slot or component. */
const char *problem_variable_name (const Problem *problem, guint var);
/* Per variable, a number that components share when one file writes both (directly or by way of others); slots have
 * their own. Transfer full. */
guint *problem_groups (const Problem *problem);
/* A part in a slot is live. */
gboolean problem_live (const Problem *problem, guint var, const guint16 *values);

#endif
