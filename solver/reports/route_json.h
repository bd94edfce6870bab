/* SPDX-License-Identifier: MIT */
/* The parts of a route's JSON that stand in files of their own: docs/route-json.md. */
#ifndef RUNGWISE_ROUTE_JSON_H
#define RUNGWISE_ROUTE_JSON_H

#include "reports/beside.h"
#include "reports/json.h"

const char *json_claim_word (Claim claim);
/* Steps, insertions, openings, starts, minutes, attended. */
json_t *json_counts (const Walk *walk);
/* An amount of what the objective minimises first: steps, insertions, minutes. */
json_t *json_amount (Objective objective, guint amount);
/* Cautions that are due. */
json_t *json_cautions (const GArray *due);
/* Steps as a written route has them (docs/files.md, "Route"). */
json_t *json_written_steps (const Board *board, const GArray *steps);

/* `cautions`, `steps`, `last-start`: what is done, with all that is said of it. `account` NULL: without steps. */
void json_set_steps (json_t *object, const RouteReport *report, const RouteAccount *account);

/* One step of the route with all that is said of it. */
json_t *json_step (const RouteReport *report, const RouteAccount *account, guint index);

/* `sockets`, `equal-images`, `looks`, `alternatives`: each only where there is something to say. */
void json_set_beside (json_t *document, const RouteReport *report, const RouteAccount *account);
void json_set_alternatives (json_t *document, const RouteReport *report);

#endif
