/* SPDX-License-Identifier: MIT */
/* Rows of tables that are no units of the batch, and for what mistake; for batch_*.c only. */
#ifndef RUNGWISE_BATCH_ROWS_H
#define RUNGWISE_BATCH_ROWS_H

#include "reports/batch_view.h"
#include "reports/json.h"
#include "reports/paper.h"

/* Which they are, with the first mistake of each, under a heading. Nothing where there are none. */
void batch_say_rows (Paper *paper, const BatchView *view);
/* All of them. Transfer full. */
json_t *batch_rows_to_json (const BatchView *view);

#endif
