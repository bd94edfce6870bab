/* SPDX-License-Identifier: MIT */
/* A plan with branches as one SVG file. */
#ifndef RUNGWISE_BRANCHES_PICTURE_H
#define RUNGWISE_BRANCHES_PICTURE_H

#include "reports/reports.h"

/* The strips of each part under its title, part A first, and where each reading leads in words. Transfer full. */
char *branches_svg (const RouteReport *report);

#endif
