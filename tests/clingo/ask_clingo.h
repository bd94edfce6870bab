/* SPDX-License-Identifier: MIT */
/* Ask clingo: runs clingo 5.4 on route.lp and a job's facts, in a child process, and reads its JSON. */
#ifndef CLINGO_ASK_CLINGO_H
#define CLINGO_ASK_CLINGO_H

#include <glib.h>

typedef enum {
    CLINGO_ROUTE,     /* of `steps` steps, and none of fewer */
    CLINGO_NONE,      /* none of up to as many steps as were asked for; says nothing about more */
    CLINGO_UNDECIDED, /* the time was over */
} ClingoKind;

enum { CLINGO_MOST_COSTS = 4 };

typedef struct {
    ClingoKind kind;
    int steps;                    /* by "steps": its length; by other objectives one of the costs says it */
    int costs[CLINGO_MOST_COSTS]; /* in the order of the objective; by "steps" those after the steps */
    int cost_count;
    char *route; /* owned, nullable: its steps, as clingo writes them */
} ClingoAnswer;

/* Plans of up to `horizon` steps, for at most `seconds`, by an objective: "steps" (one length after another), "handling" or
 * "time" (all lengths at once). Ends the program when clingo does not run, or says what it does not say of a well-formed
 * job: nothing could be compared then. */
ClingoAnswer ask_clingo (const char *facts, const char *objective, int horizon, int seconds);
void clingo_answer_clear (ClingoAnswer *answer);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (ClingoAnswer, clingo_answer_clear)

#endif
