/* SPDX-License-Identifier: MIT */
/* The parts of a batch's overview and page that stand in files of their own; for batch_*.c only. */
#ifndef RUNGWISE_BATCH_SHEET_H
#define RUNGWISE_BATCH_SHEET_H

#include "reports/batch_aside.h"
#include "reports/batch_branches.h"
#include "reports/batch_view.h"
#include "reports/branches_plan.h"
#include "reports/page_parts.h"

/* How many units, from when to when, what is proved, how late, how much work. */
void batch_say_head (Paper *paper, const BatchView *view);
/* Units that are set aside with their reasons, and what would help. Nothing where there are none. */
void batch_say_aside (Paper *paper, const BatchView *view);

/* Which technician begins what when, day by day. Nothing without a task. */
void batch_say_days (Paper *paper, const BatchView *view);

/* How many parts are lent on by the units that they are of, and which units that makes late; nothing where none are. */
void batch_say_lent (Paper *paper, const BatchView *view);
/* Where a unit's own parts are while they are lent on, and from when on it can leave; nothing where none are. */
void batch_page_put_lent_head (const BatchView *view, const BatchUnit *unit, GString *out);
/* When a part of another unit is there to be fetched: at the step that fits it, seldom before. Nothing for other parts. */
void batch_page_put_lent_from (const BatchView *view, const BatchUnit *unit, const BatchTask *task, GString *out);
/* A box to tick for each of them, once it is back. */
void batch_page_put_lent_ticks (const BatchView *view, const BatchUnit *unit, GString *out);
/* What a unit gives back, one sentence a part. Transfer full (GPtrArray of char*). */
GPtrArray *batch_given_back (const BatchView *view, const BatchUnit *unit);
/* Ids of the units that go this way with a part of another unit, in order of work. Transfer container. */
GPtrArray *batch_borrow_from_units (const BatchView *view, const BatchWay *way);
/* In what a route differs from the best one of its situation: ", one that spares dorvan-4c a1", ", with elvane-14 b1 instead of
 * elvane-14 b0", ", by another way". Transfer full; NULL: it is the best one. */
char *batch_mode_difference (const BatchView *view, const BatchWay *way);

/* What becomes of a part that is pulled from a unit of the batch. */
typedef struct {
    guint unit, step;       /* index of the unit; of its task that takes it out for good */
    const BatchPart *lent;  /* NULL: it is not lent on */
} PulledPart;

/* In order of time. Transfer full (GArray of PulledPart). */
GArray *batch_pulled (const BatchView *view);

/* `href="..."` of the sheet of a unit, as seen from the first page. */
void batch_page_put_href (const BatchView *view, guint unit, GString *out);

/* Words in a table, no date of which is broken at the end of a line. */
void batch_page_put_dated (const char *words, GString *out);

/* Timetable, one strip for each shift, until the page has as many bars as are well drawn. */
void batch_page_put_chart (const BatchView *view, GString *out);
/* What to take from stock and from the loan shelf, which files to have. */
void batch_page_put_pick_list (const BatchView *view, GString *out);
/* Where each numbered part goes, and what is pulled. */
void batch_page_put_travels (const BatchView *view, GString *out);
/* Who does what when, technician by technician, day by day. */
void batch_page_put_work (const BatchView *view, GString *out);
/* Situations with the routes that their units go by. */
void batch_page_put_situations (const BatchView *view, GString *out);

/* A route of a mode, ready to be said. */
typedef struct {
    const BatchWay *way;
    Shop *shop;            /* owned: holds what the mode borrows, pulled parts too */
    GPtrArray *starts;     /* State*: with branches, the case that the steps are of; owned */
    AccountPart part;      /* with branches */
    GArray *fallbacks;     /* Fallback per step; owned */
    RouteAccount *account; /* owned */
    RouteReport report;    /* of the steps, as one route */
    RouteAnswer answer;    /* borrows all that it has */
    RouteReport whole;     /* with branches: of the plan */
    PlanSheet *plan;       /* ... and its parts; owned; NULL without */
} ModeSheet;

/* Cost: planning runs for failed writes. Transfer full. */
ModeSheet *mode_sheet_new (const BatchView *view, const BatchWay *way);
void mode_sheet_free (gpointer data);

/* The sheet of one unit, on a page of its own. Sets the serials in `sheet` to that unit's. */
void batch_page_put_unit (const BatchView *view, guint unit, ModeSheet *sheet, GString *out);
/* The class of the largest type that keeps a unit's sheet on one page of A4, else on two: "", " near", ... Static. */
const char *batch_page_size (const char *markup);
/* With branches (batch_page_branches.c), while the unit depends on what is read: what its sheet says at the top; what is read before
 * the step, across the table; behind the last one with as many as there are. `way`: number of the situation, from 1. */
void batch_page_put_open_head (const BatchUnit *unit, const ModeSheet *sheet, guint way, GString *out);
void batch_page_put_readings (const BatchUnit *unit, const ModeSheet *sheet, guint step, guint way, GString *out);
/* In the row of the reading with that index: how it is recorded (batch_page_record.c). */
void batch_say_record_reading (Paper *paper, const BatchUnit *unit, const ModeSheet *sheet, guint index);
/* Which of the record's steps it is, under its time: its name is another one. */
void batch_page_put_number (const ModeSheet *sheet, guint step, GString *out);
/* "Only if it stays dark:" above a step; nothing where it is made in any case. */
void batch_page_put_condition (const BatchUnit *unit, const ModeSheet *sheet, guint step, GString *out);
/* What stands above the first step behind a reading: what was read leaves the unit running, or on standby. FALSE: it is no such step. */
gboolean batch_say_above_branch (Paper *paper, const ModeSheet *sheet, guint step);
/* The way ends with a reading, which needs no further start. */
gboolean batch_ends_read (const ModeSheet *sheet);
/* From when to when and by whom, in a cell that is left open; the day only where it is another one than that on which the unit's
 * work begins. */
void batch_page_put_when (const BatchView *view, const BatchUnit *unit, const BatchTask *task, GString *out);
/* What stands above the start at the end, and its row; nothing where the route ends on a running unit. */
void batch_page_put_last_start (const BatchView *view, const BatchUnit *unit, const ModeSheet *sheet, GString *out);
/* What stands across the table of a unit: power, starts, cautions, readings. Frees the paper. */
void batch_page_put_across (Paper *paper, const char *class, GString *out);

/* The whole bench sheet of a situation's route, on pages of its own. */
void batch_page_put_mode (const BatchView *view, const ModeSheet *sheet, GString *out);

/* The style sheet of what only a batch has. Static. */
const char *batch_page_style (void);

#endif
