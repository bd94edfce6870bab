/* SPDX-License-Identifier: MIT */
/* Branching: what a batch has to know of a plan with branches beyond the steps of its worst case.
 *
 * Owns:   where it is read on that way, what other ways take beyond it, which cases have no way.
 * Calls:  check (the plan as a tree).
 * Method: docs/batch.md, "Plans with branches". */
#ifndef RUNGWISE_BATCH_BRANCHING_H
#define RUNGWISE_BATCH_BRANCHING_H

#include "check/branches.h"

/* A start that is tried, or a page that is read, on the way of the worst case. */
typedef struct {
    guint before;               /* the step of the mode that comes next; as many as it has: none does */
    const Branch *after, *next; /* borrowed from the plan: what it follows, what the worst case goes on with */
    double minutes;             /* on that way: a start and the wait where it stays dark; the page's */
} BatchReading;

typedef struct {
    const guint *releases; /* borrowed from the plan: the worst case, whose way the mode's steps are */
    GArray *readings;      /* BatchReading, in their order; owned */
    GArray *legs;          /* guint per step of the mode: the leg of the answer that it is of; owned */
    guint common;          /* steps before the first reading: they are made in every case */
    GArray *stock, *lent;  /* Lot: what other ways take beyond the mode, at most so many; owned */
    double longer;         /* minutes that another case takes beyond the worst one's */
    guint given_up;        /* cases that turn out to have no way */
} BatchBranching;

#endif
