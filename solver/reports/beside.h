/* SPDX-License-Identifier: MIT */
/* What stands beside the steps of a route, looked up once for text and JSON: ways back, fallbacks, what to look at before
 * a part is blamed, what sockets have had, images that end alike. */
#ifndef RUNGWISE_BESIDE_H
#define RUNGWISE_BESIDE_H

#include "reports/account.h"
#include "reports/reports.h"

/* NULL where the answer has none. */
const WayBack *report_way_back (const RouteReport *report, guint index);
const Fallback *report_fallback (const RouteReport *report, guint index);

/* What to look at after the step, if it fits something: LookFirst*, borrowed, in the order of the files. Transfer
 * container. */
GPtrArray *looks_after (const Library *library, const Step *step);
/* What to look at after any of the steps, each once. */
GPtrArray *looks_of_steps (const Library *library, const GArray *steps);

/* One socket with a rated number of insertions. */
typedef struct {
    guint slot;
    guint had;        /* before this route */
    gboolean counted; /* FALSE: not stated, taken as 0 */
    guint after;      /* this route */
    guint rated;
    gboolean worn; /* at or above 90 % of what is rated, after this route */
} SocketCount;

/* In the board's order. Transfer full (GArray of SocketCount). */
GArray *socket_counts (const Unit *unit, const State *last);

/* Components that the route writes, and whose spare image holds the same release at the end: indices of the active ones.
 * Transfer full (GArray of guint). */
GArray *components_with_equal_images (const RouteReport *report, const State *last);

#endif
