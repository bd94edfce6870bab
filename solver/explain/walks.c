/* SPDX-License-Identifier: MIT */
/* Walked routes in the order of an objective. */
#include "explain/explain.h"

#include <math.h>

#define MOST_COUNTS 4

/* What the objective minimises, first things first (docs/method.md, "Objectives"). */
static void
counts_in_order (Objective objective, const Walk *walk, double counts[MOST_COUNTS])
{
    double minutes = round (walk->minutes * 10); /* tenths, as costs are counted */
    const double by[OBJECTIVE_COUNT][MOST_COUNTS] = {
        [OBJECTIVE_STEPS] = { walk->steps, walk->insertions, minutes, 0 },
        [OBJECTIVE_HANDLING] = { walk->insertions, walk->openings, walk->steps, minutes },
        [OBJECTIVE_TIME] = { minutes, walk->insertions, walk->steps, 0 },
    };

    for (guint i = 0; i < MOST_COUNTS; i++)
        counts[i] = by[objective][i];
}

int
walks_compare (Objective objective, const Walk *left, const Walk *right)
{
    double of_left[MOST_COUNTS], of_right[MOST_COUNTS];

    counts_in_order (objective, left, of_left);
    counts_in_order (objective, right, of_right);
    for (guint i = 0; i < MOST_COUNTS; i++)
        if (of_left[i] != of_right[i])
            return of_left[i] < of_right[i] ? -1 : 1;
    return 0;
}
