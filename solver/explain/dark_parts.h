/* SPDX-License-Identifier: MIT */
/* Dark: what its files share. */
#ifndef RUNGWISE_EXPLAIN_DARK_PARTS_H
#define RUNGWISE_EXPLAIN_DARK_PARTS_H

#include "explain/dark.h"
#include "route/start.h"

typedef struct {
    const Library *library; /* borrowed */
    const Shop *shop;       /* borrowed */
    const Unit *unit;       /* borrowed */
    GPtrArray *spaces;      /* StartSpace*, one per revision of the board; owned; NULL: a rule is too large to ground */
    guint most_sets;
} DarkAsking;

/* Whether a failed write of the component keeps the unit dark by itself: of all but spare images. */
gboolean dark_failure_stops (const Unit *unit, guint component);

/* dark_facts.c: the facts of a case, numbered; those that starting does not depend on are none. Transfer full. */
GPtrArray *dark_facts_collect (const DarkAsking *asking, const DarkCase *one);
void dark_fact_free (gpointer data);
/* Gives a release's fact its words anew, when the case holds more releases than before. */
void dark_facts_say_releases (const Unit *unit, DarkCase *one);

/* dark_sets.c: fills the facts, sets and corrections of a case that does not start. */
void dark_case_explain (const DarkAsking *asking, DarkCase *one);
void dark_set_free (gpointer data);

/* dark_rules.c: the rule, or `while-running`, that a maker of the spaces stands for. Transfer full. */
DarkRule *dark_rule_new (const DarkAsking *asking, const DarkCase *one, const GArray *facts, guint maker);
/* Whether it is broken as things stand. */
gboolean dark_maker_is_broken (const DarkAsking *asking, const DarkCase *one, guint maker);

/* dark_merge.c: cases that differ in one component's releases alone become one. */
void dark_cases_merge (const Unit *unit, GPtrArray *cases);

#endif
