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

/* start[to] is at least start[from] + weight. */
typedef struct {
    guint from, to;
    gint64 weight;
} Edge;

/* One way out of a moment with too little: the edge, and the opposite of it for the ways behind this one. */
typedef struct {
    Edge edge, instead;
    gint64 push; /* by how much it delays, for a start */
} Way;

typedef struct {
    Search *search;
    const Flat *flat;
    GArray *edges; /* Edge */
    GArray *held;  /* HeldUse, of the modes chosen */
    GArray *gains; /* HeldUse; `first` is what gives it, from `back` after its beginning on */
    guint *mode;   /* per job; G_MAXUINT: left out */
    guint *twin;
    guint tasks;   /* of the modes chosen */
    guint64 left;  /* tasks that may still be placed */
    gint64 latest; /* no beginning of a timetable that counts is later */
    gboolean gave_up;
} Conflicts;

/* Adds what a mode holds and gains. held, gains: of HeldUse. */
void search_add_held (const Search *search, guint mode, GArray *held, GArray *gains);

/* The first moment with too little, and as few uses (guint, of `held`) as are too many then. FALSE: there is enough of all. */
gboolean conflicts_find (const Conflicts *all, const gint64 *start, GArray *uses, gint64 *moment);
/* One of those uses is over when another begins, or something more is gained by then. Transfer full (GArray of Way). */
GArray *conflicts_ways_out (const Conflicts *all, const gint64 *start, const GArray *uses, gint64 moment);

/* Every way out of every moment with too little, at most so many tasks placed. Sets all_proved when it is through. */
void search_conflicts (Search *search, guint64 most_placed);

#endif
