/* SPDX-License-Identifier: MIT */
/* All minimal sets of facts that leave no way, found by asking: is there a way when only these facts are kept?
 *
 * Owns:   the order in which it asks. Knows nothing of what the facts say.
 * Calls:  the function that it is given. Its answers have to be monotone: where there is no way with some facts, there
 *         is none with more.
 * Method: docs/method.md, "Explaining". */
#ifndef RUNGWISE_EXPLAIN_NONE_SETS_H
#define RUNGWISE_EXPLAIN_NONE_SETS_H

#include "explain/fact_set.h"

typedef enum { WAY_NONE, WAY_OPEN, WAY_UNDECIDED } WayAnswer;

/* Whether there is a way with these facts kept and all others dropped. */
typedef WayAnswer (*AskWay) (const FactSet *kept, gpointer data);

typedef struct {
    GArray *forbidding;  /* FactSet; owned: with these facts alone there is no way; smallest first */
    GArray *corrections; /* FactSet; owned: without these there is one, and each of them has to go; smallest first */
    gboolean minimal;    /* no set of `forbidding` has a fact that it does not need */
    gboolean complete;   /* both lists hold all there are */
    guint asked;
} NoneSets;

/* For `n_facts` facts (at most FACTS_MOST) with which, all kept, there is no way. Facts with high numbers are dropped
 * first where there is a choice. `late` facts are all kept while sets and corrections are looked for; then each set is
 * freed of those that it does not need. So every set is minimal in all its facts, and the lists are complete in those
 * that are not late. Stops after `most_asked` questions or `most_sets` sets. Transfer full. */
NoneSets *none_sets_find (guint n_facts, const FactSet *late, AskWay ask, gpointer data, guint most_asked,
                          guint most_sets);
void none_sets_free (NoneSets *sets);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NoneSets, none_sets_free)

#endif
