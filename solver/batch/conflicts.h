/* SPDX-License-Identifier: MIT */
/* Trying everything where a use begins within its task. Method: docs/timetable.md, "Everything". */
#ifndef RUNGWISE_BATCH_CONFLICTS_H
#define RUNGWISE_BATCH_CONFLICTS_H

#include "batch/search.h"

/* So much of a resource from `lead` after the beginning of one task to `back` after that of another. A gain: `last` gives it, `back`
 * after its beginning. */
typedef struct {
    guint resource;
    gint64 amount;
    guint first, last; /* into Flat.task */
    gint64 lead, back;
} HeldUse;

/* Adds what a mode holds and gains. held, gains: of HeldUse. */
void search_add_held (const Search *search, guint mode, GArray *held, GArray *gains);

/* Every way out of every moment with too little, at most so many tasks placed. Sets all_proved when it is through. */
void search_conflicts (Search *search, guint64 most_placed);

#endif
