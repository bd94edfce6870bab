/* SPDX-License-Identifier: MIT */
/* Back: whether, and in how many steps, a unit comes back to how it last started; and the order of a route's moves that
 * keeps that open the longest. Method: docs/method.md, "No return". */
#ifndef RUNGWISE_ROUTE_BACK_H
#define RUNGWISE_ROUTE_BACK_H

#include "route/moves.h"

/* A moment of a route. */
typedef struct {
    State *state;    /* owned; in the unit's first case */
    guint8 *written; /* owned; per component: it was written since the beginning, so its release is known */
    gboolean starts; /* in every case */
} Moment;

Moment *moment_new (const Problem *problem, const State *state, const guint8 *written, gboolean starts);
Moment *moment_begin (const Problem *problem);
void moment_free (Moment *moment);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Moment, moment_free)
/* The moment after `step`; `starts`: whether the unit does then, in every case. */
Moment *moment_after (const Moment *before, const Step *step, const Problem *problem, gboolean starts);

/* How much may be spent on one way back. */
typedef struct {
    guint64 states;       /* most that its search may open */
    gboolean search_only; /* libsolv is not asked */
} BackEffort;

/* The way from one moment back to an earlier one that starts. */
WayBack way_back (const Problem *problem, const Moment *from, const Moment *to, BackEffort effort);

/* Every slot may still be filled `fits` times, or as often as at the earlier moment. */
gboolean wear_allows (const Problem *problem, const Moment *now, const Moment *earlier, guint fits);
/* By taking out and fitting parts alone, since nothing else differs; FALSE: that is not all, or a socket is worn, or a part
 * stays. Cheap. */
gboolean way_back_by_parts (const Problem *problem, const Moment *from, const Moment *to, WayBack *way);

/* The way back after each step from number `first` (counted from 0) on; there is one moment (Moment*) more than there are
 * steps. Of the problem only what it is about is asked, nothing that was grounded. `search_only`: libsolv is not. Transfer full
 * (GArray of WayBack). */
GArray *moments_ways_back (const Problem *problem, const GPtrArray *moments, guint first, gboolean search_only);

/* For each move of a sound route the way back after it. Transfer full (GArray of WayBack). */
GArray *moves_ways_back (const Problem *problem, const GArray *moves);

/* Puts the first no-return move as late as may be, where moves on different slots and components may change places at
 * the same cost. FALSE: it stays as it is. */
gboolean moves_keep_open (const Problem *problem, GArray *moves);

#endif
