/* SPDX-License-Identifier: MIT */
/* What a batch that was planned anew went by, and what it changed: for the overview, the page, its sheets and the JSON; for batch_*.c
 * only. Each does nothing where the batch is a first plan. */
#ifndef RUNGWISE_BATCH_CHANGES_REPORT_H
#define RUNGWISE_BATCH_CHANGES_REPORT_H

#include "reports/batch_view.h"
#include "reports/json.h"
#include "reports/paper.h"

/* Which timetable it replaces, how many tasks moved, which records it went by, what counts as done without one, what is out of use. */
void batch_say_replan (Paper *paper, const BatchView *view);
/* The overview's list: some units, and why. */
void batch_say_changes (Paper *paper, const BatchView *view);
/* The page's list: every unit and step, with what was and what is. */
void batch_page_put_changes (const BatchView *view, GString *out);
/* Whether the unit's sheet replaces another one, or need not be printed again. */
void batch_page_put_sheet_change (const BatchView *view, const BatchUnit *unit, GString *out);
/* What stands where a step is ticked off. Markup; static. */
const char *batch_tick_words (const BatchView *view, const BatchTask *task);

/* The timetable whose sheet of the unit holds as it is; NULL: it is this one's. */
const char *batch_sheet_still_holds (const BatchView *view, guint unit);
/* What the timetable that is replaced has of the unit; NULL: nothing. */
const PublishedUnit *batch_published_unit (const BatchView *view, guint unit);
/* The task that a published step has now; NULL: it goes by another route, or is set aside. */
const BatchTask *batch_step_now (const BatchView *view, guint unit, guint step);
/* It is still to be done and differs in anything, or was still to be done and is not any more. */
gboolean batch_step_changed (const BatchView *view, guint unit, guint step);
/* "35d9ca5e of 2034-03-06T07:00". Transfer full. */
char *batch_replaced_words (const BatchView *view);
/* "dorvan-4c a1 #2, from the loan shelf: set aside in LK-2003 (bench.yaml:7:5)". Transfer full. */
char *batch_lost_words (const BatchLost *lost);
/* What changed for a unit and why, one sentence without its id. Transfer full. */
char *batch_change_words (const BatchView *view, guint unit);

void batch_json_replan (json_t *head, const BatchView *view);
/* Of a task with a start that is one of its own: when the step itself ends, when the start begins, who does it. */
void batch_json_last_start (json_t *object, const LastStart *start);
void batch_json_task_done (json_t *object, const BatchView *view, const BatchTask *task);
/* NULL: nothing changed for it. Transfer full. */
json_t *batch_json_change (const BatchView *view, guint unit);

#endif
