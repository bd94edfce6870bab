/* SPDX-License-Identifier: MIT */
/* Units that stand open between two steps (docs/batch.md, "Openings"), for text, page and JSON; for batch_*.c only. */
#ifndef RUNGWISE_BATCH_LEFT_OPEN_H
#define RUNGWISE_BATCH_LEFT_OPEN_H

#include "reports/batch_view.h"
#include "reports/json.h"
#include "reports/paper.h"

/* `step` may be behind the last one: the start, where that is a task of its own. */
/* Above the step: how long the unit has stood open, who left it, what to do before one reaches in. Nothing where it has not. */
void batch_say_left_open (Paper *paper, const BatchView *view, const BatchUnit *unit, guint step);
/* Behind the step: how to leave the unit that stays open from then on. */
void batch_say_leave_open (Paper *paper, const BatchView *view, const BatchUnit *unit, guint step);
/* Of the whole batch: openings that stay open over the end of a shift or change hands, loaners that stay in. */
void batch_say_openings (Paper *paper, const BatchView *view);
/* Of a loaner, or a part that is lent on. */
gboolean batch_stay_is_over_shift_end (const BatchView *view, const BatchStay *stay);
/* NULL where the unit is not left open before the step. Transfer full. */
json_t *batch_left_open_json (const BatchView *view, const BatchUnit *unit, guint step);

#endif
