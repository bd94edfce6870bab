/* SPDX-License-Identifier: MIT */
/* Plans with branches in the JSON of a batch: docs/batch-json.md, "Plans with branches". */
#ifndef RUNGWISE_BATCH_BRANCHES_JSON_H
#define RUNGWISE_BATCH_BRANCHES_JSON_H

#include "reports/batch_branches.h"
#include "reports/json.h"

/* Lot by lot: `part`, `stepping`, `bound`, `count`. */
json_t *json_lots (const GArray *lots);
/* Of a mode: `branching`. */
void json_set_branching (json_t *object, const BatchClass *class, const BatchMode *mode);
/* Of a task: `label`, and as long as it depends on what is read, `if`. Nothing without branches. */
void json_set_step_of_branch (json_t *object, const BatchWay *way, const BatchUnit *unit, guint step);

#endif
