/* SPDX-License-Identifier: MIT */
/* The timetable as a table, of a view that has its order. */
#ifndef RUNGWISE_BATCH_CSV_H
#define RUNGWISE_BATCH_CSV_H

#include "reports/batch_view.h"

/* Transfer full. */
char *batch_table_of_view (const BatchView *view);

#endif
