/* SPDX-License-Identifier: MIT */
/* The parts of the bench sheet that stand in files of their own. */
#ifndef RUNGWISE_ROUTE_TEXT_H
#define RUNGWISE_ROUTE_TEXT_H

#include "reports/account.h"
#include "reports/paper.h"
#include "reports/reports.h"

/* The numbered steps under their power headings, and the last start. */
void route_text_steps (Paper *paper, const RouteReport *report, const RouteAccount *account);

/* For an answer without a route that is no "read first". */
void route_text_none (Paper *paper, const RouteReport *report);

/* What to do when a write fails, and what is left to do before the unit goes: both for the end of the sheet, and nothing
 * where there is nothing to say. */
void route_text_recovery (Paper *paper, const RouteReport *report, const RouteAccount *account);
void route_text_before_it_leaves (Paper *paper, const RouteReport *report, const RouteAccount *account);

/* The cautions in full that are first due, and one line with the ids of those that were said before. */
void route_text_cautions (Paper *paper, guint indent, const GArray *due);

#endif
