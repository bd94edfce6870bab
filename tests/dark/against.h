/* SPDX-License-Identifier: MIT */
/* Against: a dark unit's sets beside those of the enumeration, in every combination of its releases. */
#ifndef DARK_AGAINST_H
#define DARK_AGAINST_H

#include "enumerate.h"

#include "explain/dark.h"

typedef struct {
    guint units, combinations, dark, sets, corrections, rules, stated, cases, classes, cut_short;
} Tally;

/* What is wrong, as a sentence; NULL: all is as the enumeration has it. `tally` counts what was compared. Transfer full. */
char *against_enumeration (const Enumeration *all, const DarkAnswer *answer, Tally *tally);
/* Releases of one class are told apart by no state. */
char *classes_are_wrong (const Enumeration *all, Tally *tally);
/* The facts of a set as the enumeration has them. */
guint64 facts_of_indices (const Enumeration *all, const DarkCase *one, const GArray *indices);

#endif
