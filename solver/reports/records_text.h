/* SPDX-License-Identifier: MIT */
/* Bench records in a plan: what it was planned on from, and how to go on recording. `records`: const Record*, in the order
 * of work; NULL or empty: there are none. */
#ifndef RUNGWISE_RECORDS_TEXT_H
#define RUNGWISE_RECORDS_TEXT_H

#include "reports/paper.h"
#include "reports/reports.h"

gboolean records_are_there (const GPtrArray *records);
/* Of all of them together. */
guint records_entries (const GPtrArray *records);
/* `the record "LK-0107" (2 entries)`, or `the records "a" (1 entry) and "b" (2 entries)`. Transfer full. */
char *records_in_words (const GPtrArray *records);
gboolean records_have_failed_entry (const GPtrArray *records);
/* The last: the one that the work stands at. There has to be one. */
const Record *records_last (const GPtrArray *records);

/* What the plan is called as a route. One that goes on from records says from which entry on, so that no record of an
 * earlier plan is read against it. Transfer full. */
char *records_route_title (const RouteReport *report);

/* How to keep a record of a plan that goes on from records: nothing for any other, and nothing without steps. */
void records_text_going_on (Paper *paper, const RouteReport *report);
/* How a unit of a batch is recorded. */
void records_text_by_batch (Paper *paper);
/* What a fit that stays dark is recorded as. */
void records_text_dark_fit (Paper *paper);

#endif
