/* SPDX-License-Identifier: MIT */
/* The bench sheet being written; for route_*_text.c only. */
#ifndef RUNGWISE_ROUTE_SHEET_H
#define RUNGWISE_ROUTE_SHEET_H

#include "reports/route_text.h"

typedef struct {
    Paper *paper;
    const RouteReport *report;
    const RouteAccount *account;
} Sheet;

static inline const StepAccount *
sheet_step (const Sheet *sheet, guint index)
{
    return g_ptr_array_index (sheet->account->steps, index);
}

static inline const Board *
sheet_board (const Sheet *sheet)
{
    return sheet->report->unit->board;
}

#endif
