/* SPDX-License-Identifier: MIT */
/* The parts of the planner each on their own against the exhaustive search: the bound never says too much, the search
 * alone is exact, and the package encoding alone finds a route of the shortest length and refutes one step fewer. */
#ifndef RANDOM_COMPARE_PARTS_H
#define RANDOM_COMPARE_PARTS_H

#include "book/book.h"

/* What the exhaustive search says; steps -1: no route. `objective` is the program's number of it. The model's own types stay out of here: they share names with
 * the program's. */
typedef struct {
    int steps, insertions, openings, tenths, objective;
} Expected;

/* `why` is set unless the parts agree; transfer full. */
gboolean parts_agree (const Library *library, const Shop *shop, const Unit *unit, const Want *want, Expected expected,
                      char **why);

#endif
