/* SPDX-License-Identifier: MIT */
/* Causes: those that looks find, by name, where shops, signs and observations speak of them. */
#ifndef RUNGWISE_CAUSES_H
#define RUNGWISE_CAUSES_H

#include "book/evidence.h"
#include "book/loader.h"

#define ANY_RULE "any-rule" /* what a sign calls every broken rule; no name of a cause */
#define NOTHING  "nothing"  /* what a look found that found nothing; no name of a cause */

/* NULL when no look finds it. */
const Cause *causes_find (const Loader *loader, const char *id);
/* NULL when there is none of that id. */
const LookFirst *looks_find (const Loader *loader, const char *id);
const Rule *rules_find (const Loader *loader, const char *id);
/* Appends the ids of all causes, in the order of their looks. */
void causes_add_names (const Loader *loader, GPtrArray *names);
/* A cause by its name; NULL after a complaint. */
const Cause *read_cause_name (Loader *loader, const Node *node, const char *key);
/* Whether a name that no look finds is a mistake: without any look in the run nobody can say. */
gboolean causes_are_known (const Loader *loader);

#endif
