/* SPDX-License-Identifier: MIT */
/* The beliefs that are looked at, and how one is opened. */
#ifndef BRANCHES_BELIEFS_PARTS_H
#define BRANCHES_BELIEFS_PARTS_H

#include "beliefs.h"

enum { ABSENT = -1, UNREACHED = G_MAXINT };

typedef struct {
    int at[MOST_CASES]; /* index of the case's state; ABSENT: another belief's */
} Key;

typedef struct {
    Key key;
    int from;          /* the belief that led here first; -1: the root */
    int step;          /* ... by this step; -1: by something that was read */
    gboolean opened;   /* its edges and splits are known */
    GArray *edges;     /* Edge; owned */
    GPtrArray *splits; /* GArray of int: the beliefs that it splits into; owned */
    int value;         /* what it costs to the end in the worst case; UNREACHED: no plan is known */
} Belief;

typedef struct {
    int to, cost;
} Edge;

typedef struct {
    Singles *singles;       /* borrowed */
    const GPtrArray *cases; /* borrowed; guint* */
    PlanAnswer *answer;     /* borrowed: what is hopeless */
    gboolean may_read;
    Counted counted;
    guint most;
    GPtrArray *beliefs; /* Belief*; owned */
    GHashTable *index;  /* Key* borrowed from its belief -> its number */
    GArray *layer;      /* int: to open, of the least cost; owned */
    GArray *after;      /* int: for one more; some of them in the layer too, and opened there; owned */
} Search;

Belief *belief_at (const Search *search, int number);
/* The belief's number. It is opened with `layer`, if it was not before, unless it gives up. */
int add_belief (Search *search, const Key *key, int from, int step, GArray *layer);
/* Its end, its edges and its splits, unless they are known. */
void open_belief (Search *search, int number);

#endif
