/* SPDX-License-Identifier: MIT */
/* The tables of a page. For page*.c only. */
#ifndef RUNGWISE_PAGE_PARTS_H
#define RUNGWISE_PAGE_PARTS_H

#include "reports/account.h"
#include "reports/paper.h"
#include "reports/reports.h"

/* Adds what is on the paper, and frees it. */
void page_put_paper (Paper *paper, GString *out);

/* The steps as a table with boxes to tick. */
void page_put_steps (const RouteReport *report, const RouteAccount *account, GString *out);

/* What to fetch from the loan shelf and from stock before the work begins, and what goes back after which step; with
 * boxes to tick. Nothing where nothing is fetched or given back. */
void page_put_parts (const RouteReport *report, const RouteAccount *account, GString *out);

/* Below the head of the page, everything that is to be said of an answer. */
void page_put_answer (const RouteReport *report, GString *out);

/* A plan with branches: below the head of the page, everything. */
void page_put_branches (const RouteReport *report, GString *out);

/* The alternatives as a table, and their steps. Nothing where none were asked for. */
void page_put_alternatives (const RouteReport *report, GString *out);

#endif
