/* SPDX-License-Identifier: MIT */
/* Broken rules and the facts that break them, put into words. */
#ifndef RUNGWISE_CHECK_FACTS_H
#define RUNGWISE_CHECK_FACTS_H

#include "check/check.h"

/* A list that owns its Broken. Transfer full. */
GPtrArray *broken_list_new (void);

/* A rule that is broken, with no facts yet; added to `found`, which owns it. */
Broken *broken_add_rule (GPtrArray *found, const Rule *rule);

/* A release whose own `while-running` is broken. */
Broken *broken_add_running (GPtrArray *found, const Release *release);

/* A component whose last write failed. */
Broken *broken_add_failed (GPtrArray *found, const Component *component);

/* Whether it keeps the unit from being started: what stops, and what would harm while on. */
gboolean broken_keeps_dark (const Broken *broken);

/* Adds a fact; one that is already there is not repeated. */
void broken_add_fact (Broken *broken, Mark at, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* "cpu1 holds elvane-14 (generation elvane, stepping b1)"; with an `attribute` its value too. Says so when the slot is
 * empty or dead. */
void broken_add_slot (Broken *broken, const State *state, guint slot, const char *attribute);

/* "required here: controller >= 1.20" (or "must not be here: ..."), then what the state has of each name in it. */
void broken_add_expression (Broken *broken, const State *state, const GArray *offers, const char *heading,
                            const Expr *expr);

/* Like the last, without the heading. */
void broken_add_answers (Broken *broken, const State *state, const GArray *offers, const Expr *expr);

/* "elvane-14 b1", or "low-sink" for a part without steppings. Transfer full. */
char *part_in_words (const Part *part, const char *stepping);

/* The same, and "bound to alderbank" where it is; "nothing" for an empty slot. Transfer full. */
char *held_in_words (const Held *held);

/* "book.yaml:31", or "the command line" where there is no place. Transfer full. */
char *mark_in_words (Mark at);

/* "rule knows-processor, \"sentence\": fact (place); fact (place)". Transfer full. */
char *broken_in_words (const Broken *broken);

/* "135", "S1840 or S1841", or "not stated" (attribute NULL). Transfer full. */
char *attribute_in_words (const Attribute *attribute);

#endif
