/* SPDX-License-Identifier: MIT */
/* Exhaustive: the best route of a small job by trying everything.
 *
 * Dijkstra's method on whole worlds: releases and floors of every case, slots, failures and the power of the last step, so
 * that openings and starts are counted exactly. No bound, no collapsing. */
#ifndef RANDOM_EXHAUSTIVE_H
#define RANDOM_EXHAUSTIVE_H

#include "table.h"

typedef enum { ANSWER_ROUTE, ANSWER_NONE, ANSWER_TOO_LARGE } AnswerKind;
/* docs/method.md, "Objectives". */
typedef enum { GOAL_STEPS, GOAL_HANDLING, GOAL_TIME, GOALS } Goal;
/* Not only the shortest: any end that starts, with any parts in the slots (docs/method.md, "When a write fails"). */
typedef enum { END_AS_WANTED, END_STARTS } EndKind;

typedef struct {
    int steps, insertions, openings, tenths;
} Counts;

typedef struct {
    AnswerKind kind;
    Counts counts;
    int worlds;               /* looked at */
    gboolean borrows, writes; /* the route found has a loaner in it; a write */
    GArray *moves;            /* Move; NULL without a route; owned */
} Answer;

/* One number that is less when the counts are better: each count in 16 bits, those that the goal does not name left out. */
guint64 goal_cost (Goal goal, Counts counts);
/* What the goal minimises first. */
int goal_first (Goal goal, Counts counts);
const char *goal_name (Goal goal); /* "handling" */
/* The counts up to here and what `move` from `world` adds. */
Counts counts_after (const Play *play, const World *world, const Move *move, Counts before);

/* `most_worlds` bounds the memory; a job with more is ANSWER_TOO_LARGE. */
Answer exhaustive_answer (const Play *play, Goal goal, int most_worlds);
/* The same from another world than the start. */
Answer exhaustive_from (const Play *play, const World *from, EndKind end, Goal goal, int most_worlds);
void answer_clear (Answer *answer);

#endif
