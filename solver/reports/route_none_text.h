/* SPDX-License-Identifier: MIT */
/* The part of a sheet without a route that says why there is none, and what would open one. */
#ifndef RUNGWISE_ROUTE_NONE_TEXT_H
#define RUNGWISE_ROUTE_NONE_TEXT_H

#include "reports/paper.h"
#include "reports/reports.h"

/* The sets of facts that forbid a route, and the additions; for a report whose `none` is not NULL. */
void none_text_facts (Paper *paper, const RouteReport *report);
void none_text_additions (Paper *paper, const NoRoute *none);

#endif
