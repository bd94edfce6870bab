/* SPDX-License-Identifier: MIT */
/* A timetable as flat arrays, for the search: every task of every mode of every job has one number.
 *
 * Owns:  the arrays. Borrows the calendar from the timetable, which outlives it.
 * Never: changes once made.
 * Method: docs/timetable.md, "Building one". */
#ifndef RUNGWISE_BATCH_FLAT_H
#define RUNGWISE_BATCH_FLAT_H

#include "batch/timetable.h"

#define FOR_GOOD G_MAXINT64 /* as a length: until it is given back */
#define NEVER    G_MAXINT64 /* as a time */

typedef struct {
    guint resource;
    gint32 amount;
    gint64 lead;   /* from the beginning of the task on until then nothing of it; of what its end gives too */
    gint64 length; /* from there on; FOR_GOOD: a span over several tasks */
} FlatUse;

/* The four kinds of use lie one after another in Flat.uses from `use_at` on. */
typedef struct {
    gint64 duration, attended, not_before, fixed, published;
    guint mode; /* into Flat.mode */
    guint use_at;
    guint16 needs; /* what must be free: of one resource, how much when, less what the task itself gives back by then */
    guint16 holds;            /* what is taken */
    guint16 closes;           /* what its end gives back of spans over several tasks */
    guint16 gains;            /* what its end adds for good */
    guint before_at, befores; /* into Flat.links: tasks that end before it begins */
    guint next_at, nexts;     /* tasks that begin after its end */
    gint64 head, tail; /* from 0 to its beginning, from its end to the end of its mode: at least; resources left out */
} FlatTask;

typedef struct {
    guint job;
    guint first, tasks; /* into Flat.task */
    guint insertions;
    gint64 attended, shortest_end; /* at least; NEVER: it fits nowhere */
    gboolean gains, needs_gains;   /* it has some; it needs more of a resource than there is at the start */
} FlatMode;

typedef struct {
    guint first, modes; /* into Flat.mode */
    gint64 due, weight;
    gboolean possible; /* in one of its modes at least */
} FlatJob;

typedef struct {
    const Calendar *calendar; /* borrowed */
    guint jobs, modes, tasks, resources;
    int hands;               /* as in Timetable */
    gboolean hands_in_spans; /* some span is over the hands too */
    gboolean long_spans;     /* some span is over several tasks */
    gboolean leads;          /* some use begins later than its task */
    FlatJob *job;            /* owned, as the rest */
    FlatMode *mode;
    FlatTask *task;
    guint *order;  /* of each mode's tasks, from its `first` on: one that no task stands before its `before` */
    GArray *uses;  /* FlatUse */
    GArray *links; /* guint */
    gint64 *capacity, *most; /* per resource: at the start, and with the gains of all jobs (the best mode of each) */
    gboolean due, published, gains,
        choices; /* some job is due; some task is published; there are gains; modes to choose */
    gint64 goal_lateness,
        goal_finish;        /* of the published timetable, as long as its tasks are now; 0: nothing is published */
    gboolean all_published; /* every job has a mode that was */
} Flat;

Flat *flat_new (const Timetable *timetable);
void flat_free (Flat *flat);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Flat, flat_free)

/* As if nothing had been published. */
void flat_forget_published (Flat *flat);

static inline const FlatUse *
flat_needs (const Flat *flat, const FlatTask *task)
{
    return &g_array_index (flat->uses, FlatUse, task->use_at);
}

static inline const FlatUse *
flat_holds (const Flat *flat, const FlatTask *task)
{
    return flat_needs (flat, task) + task->needs;
}

static inline const FlatUse *
flat_closes (const Flat *flat, const FlatTask *task)
{
    return flat_holds (flat, task) + task->holds;
}

static inline const FlatUse *
flat_gains (const Flat *flat, const FlatTask *task)
{
    return flat_closes (flat, task) + task->closes;
}

static inline const guint *
flat_befores (const Flat *flat, const FlatTask *task)
{
    return &g_array_index (flat->links, guint, task->before_at);
}

static inline const guint *
flat_nexts (const Flat *flat, const FlatTask *task)
{
    return &g_array_index (flat->links, guint, task->next_at);
}

/* Per job: the nearest one before it that is the same, due time and weight too, and not `never`; G_MAXUINT: none. Nothing of it
 * has begun. Cost: quadratic in jobs. */
void flat_fill_twins (const Flat *flat, const gboolean *never, guint *twin);

/* The earliest time from `from` on at which the calendar lets a task begin; NEVER: none. */
gint64 calendar_earliest (const Calendar *calendar, gint64 from, gint64 duration, gint64 attended);

/* When so many tenths of a minute of work within shifts, begun at `from`, can be over; breaks left out where `hands` is set. */
gint64 calendar_after_work (const Calendar *calendar, gint64 from, gint64 work, gboolean hands);

#endif
