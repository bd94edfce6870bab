/* SPDX-License-Identifier: MIT */
/* A set of combinations of releases as few products of sets, so that it can be said whole and short.
 *
 * Calls: nothing but the board's components. Every combination is in exactly one of the products, and each product holds only combinations
 * of the set. */
#ifndef RUNGWISE_RELEASES_SPLIT_H
#define RUNGWISE_RELEASES_SPLIT_H

#include "reports/words.h"

/* One product: per component of the board which of its releases, as one flag each; NULL: that component was left out. */
typedef struct {
    guint count;       /* components */
    gboolean **may_be; /* owned */
} ReleaseProduct;

/* `cases`: guint* per case, distinct in the components that are not left out. `left_out`: a flag per component. Few, not proved fewest; up to
 * four components every order of splitting is tried. Cost: the cases, times the orders that are tried. Transfer full (GPtrArray of
 * ReleaseProduct*). */
GPtrArray *releases_split (const Unit *unit, const GPtrArray *cases, const gboolean *left_out);

#endif
