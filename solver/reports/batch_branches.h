/* SPDX-License-Identifier: MIT */
/* Units that go by a plan with branches: what their steps are called and depend on, and what is said of the other branches.
 *
 * Wording: as on the situation's sheet (branches_text.h): parts with letters, steps "C2", conditions "it stays dark". */
#ifndef RUNGWISE_BATCH_BRANCHES_H
#define RUNGWISE_BATCH_BRANCHES_H

#include "reports/batch_view.h"
#include "reports/paper.h"

typedef struct BatchWords {
    GPtrArray *labels;     /* char* per step: "C2"; owned */
    GPtrArray *conditions; /* char* per step: "it stays dark"; NULL: it is made in any case; owned */
} BatchWords;

/* NULL without branches. Transfer full. */
BatchWords *batch_words_new (const BatchClass *class, const BatchMode *mode);
void batch_words_free (BatchWords *words);

/* "start it and read what it shows; then C2, only if it stays dark: ". `open`: nothing has been read yet. Empty without branches.
 * Transfer full. */
char *batch_words_before (const BatchWay *way, gboolean open, guint step);
/* "; then start it and read what it shows", behind the last step; else empty. Transfer full. */
char *batch_words_behind (const BatchWay *way, gboolean open, guint step);

/* What leads to the leg with that index, from the beginning on: "it stays dark"; of several readings with where each is: "at first it stays
 * dark, and after C4 the page shows system 1.0.0". NULL: nothing. Transfer full. */
char *batch_leg_condition (const BatchClass *class, const BatchMode *mode, guint leg);
/* "in part D, if it stays dark": the parts of the plan that fit such a part, of those that the mode does not go through. Transfer full. */
char *batch_lot_condition (const BatchWay *way, const Lot *lot);
/* "system 2.2.0": with which releases there is no way; NULL: there is one with all. Transfer full. */
char *batch_no_way_releases (const BatchWay *way);
/* "where it stays dark (part D)": how that shows. Transfer full. */
char *batch_no_way_shows (const BatchWay *way);
/* Units that go by the way and depend on what is read yet (const char*: ids), in the order of work. Transfer container. */
GPtrArray *batch_open_ids (const BatchView *view, const BatchWay *way);

/* Whether some unit does. */
gboolean batch_has_open (const BatchView *view);
/* What depends on what is read, way by way. Nothing where nothing does. */
void batch_say_branches (Paper *paper, const BatchView *view);

#endif
