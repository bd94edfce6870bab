/* SPDX-License-Identifier: MIT */
/* A batch as its reports look at it: what they share, looked up once.
 *
 * Owns:   the order of units and tasks in time, what each step moves, the mark of the plan, words for numbered parts and times.
 * Calls:  batch (reads its answer), check (carries steps out), words.
 * Method: docs/batch.md, "What is written". */
#ifndef RUNGWISE_BATCH_VIEW_H
#define RUNGWISE_BATCH_VIEW_H

#include "reports/reports.h"

/* Of the JSON. */
#define BATCH_SCHEMA_NAME    "rungwise-batch"
#define BATCH_SCHEMA_VERSION 1

/* A mode that some unit goes by. */
typedef struct {
    const BatchClass *of;
    const BatchMode *mode;
    guint class, number; /* of the class, from 0; of the mode in it */
    guint units;         /* that go by it */
    GArray *moved;       /* Held, one per step: the part that it moves; of a write nothing; owned */
    struct BatchWords *words; /* with branches; owned; NULL without (batch_branches.h) */
} BatchWay;

/* One task of the whole batch. */
typedef struct {
    guint unit, step; /* index of the unit; of the task among its own */
    gint64 begins;
    gboolean is_start; /* the start behind that task, where it is one of its own */
} BatchMoment;

struct BatchView {
    const BatchReport *report;
    const Batch *batch;
    const BatchClock *clock;
    GPtrArray *ways;   /* BatchWay*, classes in order, their modes in order; owned */
    guint **way_of;    /* owned: per class, per mode: its place in `ways`; G_MAXUINT: nobody goes by it */
    GArray *order;     /* guint: the planned units, by their beginning, then place, then as given; owned */
    GArray *moments;   /* BatchMoment: every task, by its beginning, then in that order; owned */
    gint64 ends;       /* of the last task; 0 without any */
    guint planned;     /* units */
    guint *rank;       /* owned: per unit, its place in `order`; of one that is set aside nothing that counts */
    GPtrArray *situations; /* char*, per class: as batch_situations() says; owned */
    char *table;       /* owned: as RFC 4180 has it */
    char *mark;        /* owned: eight digits that tell this timetable from another */
    GHashTable *lent;   /* BatchUnit* -> GPtrArray of BatchPart*: parts of its own that are lent on; owned */
    GHashTable *sheets; /* BatchWay* -> ModeSheet*, those that a page needed; owned */
};

const BatchUnit *view_unit (const BatchView *view, guint index);
/* Of a unit that is planned: its n-th task, and what it goes by. */
const BatchTask *view_task (const BatchUnit *unit, guint index);
const char *view_situation (const BatchView *view, guint class);
const BatchWay *view_way (const BatchView *view, const BatchUnit *unit);
const Step *view_step (const BatchView *view, const BatchUnit *unit, const BatchTask *task);
/* The first moment and the last one of a unit that is planned. */
gint64 view_begins (const BatchUnit *unit);
gint64 view_ends (const BatchUnit *unit);
/* How much later it ends than it is due; 0: in time, or not due. Tenths of a minute. */
gint64 view_late (const BatchUnit *unit);

/* A last step's task without the start behind it, where that is one of its own, or that start alone (batch_last_start.c). */
BatchTask batch_piece (const BatchTask *task, gboolean is_start);
BatchTask view_piece (const BatchView *view, const BatchMoment *moment);

/* ---- Parts of units that are lent on (batch_lent.c) ---- */

/* Parts that units of the batch lend each other, by their own unit. Transfer full. */
GHashTable *batch_lent_by_unit (const BatchView *view);
/* BatchPart*, of this unit, lent on; NULL: none. */
const GPtrArray *view_lent (const BatchView *view, const BatchUnit *unit);
/* That one which this step of the unit takes out; NULL: it is not lent on. */
const BatchPart *view_lent_by_step (const BatchView *view, const BatchUnit *unit, guint step);
/* When the last unit that borrows the part has given it back. */
gint64 batch_part_is_back (const BatchPart *part);
/* When a planned unit may leave: its work is done, and each part of its own that was lent on is back. */
gint64 view_leaves (const BatchView *view, const BatchUnit *unit);
/* Whose part a task moves, where that is not what its owner alone says: "lent by that unit", "back to LK-2022", "to be lent to
 * LK-2013". NULL: as words_owner() and words_give_back() say. Transfer full. */
char *batch_whose_words (const BatchView *view, const BatchUnit *unit, const BatchTask *task);

/* ---- Words; transfer full ---- */

/* "dorvan-8 a1 #1"; of a pulled one "dorvan-8 a1 of LK-0107, serial D10442". */
char *batch_part_words (const BatchView *view, const BatchPart *part);
/* "elvane-14 b1". */
char *batch_short_part (const Part *part, const char *stepping);
/* What a task does, with the numbered part that it moves; with branches also what it is called on the situation's sheet, on what
 * it depends, and what is read before it. */
char *batch_task_words (const BatchView *view, const BatchUnit *unit, const BatchTask *task);
/* The same, also of a start that is a task of its own: "start it and see that it runs". */
char *batch_moment_words (const BatchView *view, const BatchMoment *moment);
/* "07:15", of a time as batch_time_words() rounds it. */
char *batch_hour_words (const BatchClock *clock, gint64 time);
/* "Mon 2034-03-06"; without a date "Mon", "Tue+1". */
char *batch_day_words (const BatchClock *clock, gint64 time);
/* The day, counted from the Monday of the batch's week. */
gint64 batch_day (const BatchClock *clock, gint64 time);
/* "2 h 15 min". */
char *batch_length_words (gint64 tenths);
/* The same of time that goes by, nights too: from two days on "22 days 23 h 49 min". */
char *batch_span_words (gint64 tenths);
/* Per class (GPtrArray of char*), what sets its units apart from those of the other classes with its board. */
GPtrArray *batch_situations (const BatchView *view);
/* "3" of a number from 0; "-" where there is none. */
char *batch_number_words (guint number);

/* Why units are set aside: "no-route". Static. */
const char *batch_aside_key (Aside aside);

#endif
