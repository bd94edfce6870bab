/* SPDX-License-Identifier: MIT */
/* By trying: the shortest length of a small job by doing everything that the checker allows, breadth first. Uses the
 * book and the check room only: no bound, no collapsing, nothing of the search. */
#ifndef BY_TRYING_H
#define BY_TRYING_H

#include "book/book.h"

/* Fewest steps from the unit, whose releases are all known, to the want. G_MAXUINT: no route, or more than
 * `most_states` states were met; then `*met` (nullable) is above it. Cost: states times steps that the book knows. */
guint shortest_by_trying (const Library *library, guint most_states, guint *met);

#endif
