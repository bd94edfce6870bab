/* SPDX-License-Identifier: MIT */
/* Ways back of a route that was found elsewhere. A header of its own: the route room and the timetable both have modes. */
#ifndef RUNGWISE_BATCH_WAYS_H
#define RUNGWISE_BATCH_WAYS_H

#include "check/check.h"

/* Combinations of releases that a route is walked in: a unit with more of them keeps to no route. */
enum { BATCH_MOST_CASES = 1024 };

/* Per step of a sound route (GArray of WayBack), looked for by search alone; NULL: the question is too large.
 * Cost: milliseconds. Transfer full. */
GArray *ways_back_of_steps (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
                            const GArray *steps);

#endif
