/* SPDX-License-Identifier: MIT */
/* What route.c and branched*.c share. */
#ifndef RUNGWISE_ROUTE_PARTS_H
#define RUNGWISE_ROUTE_PARTS_H

#include "route/route.h"

/* The same steps in the same order; NULL equals NULL alone. */
gboolean route_steps_equal (const GArray *left, const GArray *right);
/* Fills in `floor_assumed` for the steps of an answer about this unit. */
void route_mark_assumed_floors (const Unit *unit, RouteAnswer *answer);

#endif
