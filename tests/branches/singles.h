/* SPDX-License-Identifier: MIT */
/* Singles: states of a unit with every release known, each once, and the steps that the checker allows in them.
 *
 * Owns:   the table of states, and every step that the shop and the unit's own parts could make.
 * Calls:  the check room alone: what is allowed is asked of it, step by step, as check_walk() does; but each state is held
 *         against the rules only once. */
#ifndef BRANCHES_SINGLES_H
#define BRANCHES_SINGLES_H

#include "check/branches.h"

/* What is asked. All borrowed. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;
} Question;

typedef enum {
    MEETS_NO,
    MEETS_YES,
    MEETS_BY_CASE, /* that hangs on what the unit began with, which the state does not say */
} Meets;

/* One step that is allowed. */
typedef struct {
    guint step; /* index of Singles.steps */
    guint to;   /* index of the state after it */
} Onward;

typedef struct {
    State *state;      /* owned */
    GPtrArray *broken; /* Broken*; owned */
    gboolean starts;
    Meets meets;      /* the want */
    GArray *moves;    /* Onward, by ascending step; owned; NULL: not looked at yet */
    gboolean is_read; /* looked at: */
    gboolean may_try; /* a start */
    guint pages;      /* bits of components whose page may be read */
} Single;

typedef struct {
    Question question;
    GArray *steps;     /* Step; owned */
    GPtrArray *all;    /* Single*; owned */
    GHashTable *index; /* GBytes of a state -> its index */
} Singles;

Singles *singles_new (const Question *question);
void singles_free (Singles *singles);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Singles, singles_free)

/* Index of the state; added if it is new. `state` is taken over. */
guint singles_add (Singles *singles, State *state);
/* Transfer none; it stays where it is. singles_moves(): with its moves; singles_reads(): with what may be read in it. */
const Single *singles_at (const Singles *singles, guint index);
const Single *singles_moves (Singles *singles, guint index);
const Single *singles_reads (Singles *singles, guint index);

#endif
