/* SPDX-License-Identifier: MIT */
#ifndef RUNGWISE_ROUTE_NONE_JSON_H
#define RUNGWISE_ROUTE_NONE_JSON_H

#include "reports/reports.h"

#include <jansson.h>

/* Why there is no route, as the key `none` of docs/route-json.md has it; NULL where the report has no such account.
 * Transfer full. */
json_t *none_to_json (const RouteReport *report);

#endif
