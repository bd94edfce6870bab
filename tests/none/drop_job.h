/* SPDX-License-Identifier: MIT */
/* Drop a fact from a model's job: what docs/method.md, "Explaining", says that dropping means, done to the model's plain
 * arrays, so that its exhaustive search can say whether there is a way. */
#ifndef NONE_DROP_JOB_H
#define NONE_DROP_JOB_H

#include "exhaustive.h"

#include "explain/asking.h"

/* Whether `job` has a way with the facts of `kept` and without the others of `facts`, by trying everything. A unit with
 * several possible releases has one where some case has. WAY_UNDECIDED: too large for the model, or more parts than it
 * can hold. */
WayAnswer model_way (const Job *job, const Asked *asked, const GPtrArray *facts, const FactSet *kept);

#endif
