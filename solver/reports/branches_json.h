/* SPDX-License-Identifier: MIT */
/* A plan with branches as JSON: docs/route-json.md, "Plans with branches". */
#ifndef RUNGWISE_BRANCHES_JSON_H
#define RUNGWISE_BRANCHES_JSON_H

#include "reports/route_json.h"

/* `cautions`, `steps`: the common beginning, so that the document is a written route as any; `branches`: the plan. */
void json_set_branches (json_t *document, const RouteReport *report);

#endif
