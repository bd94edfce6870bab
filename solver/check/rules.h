/* SPDX-License-Identifier: MIT */
/* One function per form of rule, as docs/files.md, "Rules" has them. Each adds what it finds broken. */
#ifndef RUNGWISE_CHECK_RULES_H
#define RUNGWISE_CHECK_RULES_H

#include "check/check.h"

/* A state that is being looked at, and what was found broken in it. All borrowed. */
typedef struct {
    const Shop *shop;
    const State *state;
    const GArray *offers; /* Offer, of the whole state */
    GPtrArray *found;     /* Broken* */
} Look;

/* `same`: a part that disagrees is said once, beside the first earlier one that it disagrees with. */
void look_at_same (const Look *look, const Rule *rule);
void look_at_before (const Look *look, const Rule *rule);
void look_at_at_least (const Look *look, const Rule *rule);
void look_at_sum (const Look *look, const Rule *rule);
void look_at_some (const Look *look, const Rule *rule);
void look_at_when (const Look *look, const Rule *rule);
void look_at_knows (const Look *look, const Rule *rule);
void look_at_own (const Look *look, const Rule *rule);
void look_at_one_of (const Look *look, const Rule *rule);
void look_at_binds (const Look *look, const Rule *rule);

/* `failed-write` for every failed component; like the next no rule of the rule files, but true of every machine. */
void look_at_failed (const Look *look);

/* `while-running` of every present release. */
void look_at_running (const Look *look);

#endif
