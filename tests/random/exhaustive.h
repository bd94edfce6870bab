/* SPDX-License-Identifier: MIT */
/* Exhaustive: the shortest route of a small job by trying everything.
 *
 * Layer by layer (Dijkstra's method where every step costs one first): each world keeps the fewest insertions and then
 * minutes with which it was reached in its layer. Worlds are kept whole, releases and floors of every case, slots and
 * the power of the last step, so that openings and starts are counted exactly. No bound, no collapsing. */
#ifndef RANDOM_EXHAUSTIVE_H
#define RANDOM_EXHAUSTIVE_H

#include "world.h"

typedef enum { ANSWER_ROUTE, ANSWER_NONE, ANSWER_TOO_LARGE } AnswerKind;

typedef struct {
    AnswerKind kind;
    int steps, insertions, tenths;
    int worlds;               /* looked at */
    gboolean borrows, writes; /* the route found has a loaner in it; a write */
    GArray *moves;            /* Move; NULL without a route; owned */
} Answer;

/* `most_worlds` bounds the memory; a job with more is ANSWER_TOO_LARGE. */
Answer exhaustive_answer (const Play *play, int most_worlds);
void answer_clear (Answer *answer);

#endif
