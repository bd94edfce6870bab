/* SPDX-License-Identifier: MIT */
/* What records say in words, for the overview, the page, its sheets and the JSON; for batch_*.c only. Nothing of it is understood here,
 * so nothing is left out. Each does nothing in a first plan, which goes by no record. */
#ifndef RUNGWISE_BATCH_FOUND_REPORT_H
#define RUNGWISE_BATCH_FOUND_REPORT_H

#include "reports/batch_view.h"
#include "reports/json.h"
#include "reports/paper.h"

/* Whether the unit's own record has words. */
gboolean batch_has_found (const BatchView *view, guint unit);
/* The overview's list: some of them. */
void batch_say_found (Paper *paper, const BatchView *view);
/* The page's list: all of them. */
void batch_page_put_found (const BatchView *view, GString *out);
/* On the sheet of a unit, those of its own record, and of the records of units that are to lend it a part of theirs. */
void batch_page_put_sheet_found (const BatchView *view, const BatchUnit *unit, GString *out);
/* Of the unit with that index; NULL: there are none. Transfer full. */
json_t *batch_json_found (const BatchView *view, guint unit);

#endif
