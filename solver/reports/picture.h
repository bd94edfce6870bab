/* SPDX-License-Identifier: MIT */
/* The picture of a route, for the page. */
#ifndef RUNGWISE_PICTURE_H
#define RUNGWISE_PICTURE_H

#include "reports/account.h"
#include "reports/reports.h"

/* Adds the strips, A4 portrait wide, each an <svg> of its own so that none is cut by the end of a page, what they leave
 * out, and what their signs mean. `report` has a route; `account`: NULL for one without steps. */
void picture_put_in_page (const RouteReport *report, const RouteAccount *account, GString *out);

/* "Unit LK-0107, board dunnock-1s, revision r2". Transfer full. */
char *picture_title (const RouteReport *report);

#endif
