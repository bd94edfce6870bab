/* SPDX-License-Identifier: MIT */
/* What route.c, reading.c and branched*.c share. */
#ifndef RUNGWISE_ROUTE_PARTS_H
#define RUNGWISE_ROUTE_PARTS_H

#include "route/route.h"

/* One question, as route_find was asked it. All borrowed. */
typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;
    const RouteOptions *options;
} RouteQuestion;

/* Plans for the unit as it is given, unknown releases and all. FALSE: it could not be grounded. */
gboolean route_plan_once (const RouteQuestion *question, RouteAnswer *answer);
/* Walks the steps of the answer in every case of the unit; CLAIM_FAULT where one is refused. */
void route_walk_all_cases (const RouteQuestion *question, RouteAnswer *answer);
/* Of the components whose release is not known, the one whose reading leads to a route in the most of its cases. */
void route_choose_reading (const RouteQuestion *asked, RouteAnswer *answer);
/* Fills in `floor_assumed` for the steps of an answer about this unit. */
void route_mark_assumed_floors (const Unit *unit, RouteAnswer *answer);

#endif
