/* SPDX-License-Identifier: MIT */
/* Outcomes: what a run ended with, as the exit status that scripts read.
 *
 * The statuses come in blocks: 0 answered; 10-19 about routes; 20-29 about states and written routes; 30-39 the input;
 * 40-49 this program or its output. docs/commands.md's table is made from outcome_each(). */
#ifndef RUNGWISE_OUTCOME_H
#define RUNGWISE_OUTCOME_H

#include "explain/explain.h"

typedef enum {
    OUTCOME_ANSWERED = 0,
    OUTCOME_BEST_FOUND = 10,
    OUTCOME_NO_ROUTE = 11,
    OUTCOME_NOT_FOUND = 12,
    OUTCOME_READ_FIRST = 13,
    OUTCOME_STOPPED = 14,
    OUTCOME_SOME_ASIDE = 15,
    OUTCOME_DOES_NOT_START = 20,
    OUTCOME_NOT_KNOWN = 21,
    OUTCOME_SOME_START = 22,
    OUTCOME_REFUSED = 23,
    OUTCOME_REFUTED = 24,
    OUTCOME_EVIDENCE_CONFLICTS = 25,
    OUTCOME_BAD_INPUT = 30,
    OUTCOME_BAD_USAGE = 31,
    OUTCOME_OWN_FAULT = 40,
    OUTCOME_CANNOT_WRITE = 41,
} Outcome;

typedef struct {
    Outcome outcome;
    const char *commands; /* static: which commands end so */
    const char *sentence; /* static */
} OutcomeRow;

/* All outcomes, ascending by status. `count` is set to how many. Transfer none. */
const OutcomeRow *outcome_each (guint *count);

/* What `plan` ends with. */
Outcome outcome_of_answer (const RouteAnswer *answer);

/* The outcome that counts when several units were asked about: does not start, then not known, then only some
 * releases, then answered. */
Outcome outcome_worse_start (Outcome left, Outcome right);

#endif
