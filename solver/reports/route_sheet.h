/* SPDX-License-Identifier: MIT */
/* The bench sheet being written; for route_*_text.c only. */
#ifndef RUNGWISE_ROUTE_SHEET_H
#define RUNGWISE_ROUTE_SHEET_H

#include "reports/beside.h"
#include "reports/route_text.h"

#define SHEET_STEP_INDENT   2
#define SHEET_DETAIL_INDENT 9

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

/* What the step does, or with `next` the exchange that both make. Transfer full. */
char *sheet_sentence (const Sheet *sheet, const StepAccount *step, const StepAccount *next);
/* The same of a removal or fitting alone. `part`: what the part is called; `whose`: whose it is or goes back to; NULL: as the step says. */
char *sheet_sentence_of_move (const Sheet *sheet, const StepAccount *step, const char *part, const char *whose);
/* One step on the page of a unit in a batch: what is done, what to do when it fails; without times, reasons, looks and cautions.
 * `part` (nullable): which of several equal parts it moves. `whose`: as above. */
void sheet_step_in_brief (const Sheet *sheet, guint index, const char *part, const char *whose);
void sheet_step_cautions (const Sheet *sheet, guint index);
/* File, effect, what to do when it fails, settings. */
void sheet_write_details (const Sheet *sheet, guint index);
/* Times, whether the unit starts, and what it takes to come back from after the step (of `last` when two are one). */
void sheet_times_and_return (const Sheet *sheet, guint first, guint last);
/* What can't be undone after a step, and what is taken to be so before it. */
void sheet_return_in_brief (const Sheet *sheet, guint index);

#endif
