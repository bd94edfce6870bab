/* SPDX-License-Identifier: MIT */
/* Facts of a random job, straight from the abstract model (tests/random/model.h): no file, no loader, and none of the
 * functions by which the exhaustive search judges steps. */
#ifndef CLINGO_FACTS_OF_JOB_H
#define CLINGO_FACTS_OF_JOB_H

#include "facts.h"
#include "model.h"

/* Everything that route.lp asks for. Transfer full. */
char *facts_of_job (const Job *job);

/* facts_of_laws.c: conditions and rules. */
/* "fact(about,EXPRESSION)" with the versions on offer that answer its comparisons; nothing for an empty condition. */
void facts_condition (Facts *facts, const Job *job, const char *fact, const char *about, const Cond *cond);
void facts_of_laws (Facts *facts, const Job *job);

#endif
