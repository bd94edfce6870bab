/* SPDX-License-Identifier: MIT */
/* Building one timetable from a list of tasks: each in turn as early as what is there already leaves it.
 *
 * A span over several tasks is held for good from its first task on, until its last task is placed and gives back the rest. A task
 * that finds no time waits until something is given back or gained.
 * Method: docs/timetable.md, "Building one". */
#ifndef RUNGWISE_BATCH_BUILD_H
#define RUNGWISE_BATCH_BUILD_H

#include "batch/profile.h"

enum { MOVED_AS_LATE = 10 }; /* a published task that moves weighs as much as ending so many tenths of a minute later */

/* The tasks of the modes that are used, those before a task before it in the list. */
typedef struct {
    guint *mode; /* owned; per job, into Flat.mode; G_MAXUINT: left out */
    guint *list; /* owned; into Flat.task */
    guint count;
    guint8 *keep; /* owned; per task of Flat: it begins no earlier than it was published */
    guint left_out;
    TimetableCost cost;
    /* The cost, but being better than the published timetable counts for nothing, and ending later is weighed against what
     * moves: both are in `finish`. */
    TimetableCost sought;
} Draft;

/* What is placed, and what that leaves. */
typedef struct {
    const Flat *flat;        /* borrowed */
    Profile *profile;        /* owned; per resource */
    gint64 *start;           /* owned, as the rest; per task of Flat; -1: not placed */
    gint64 *ready;           /* the end of those before it that are placed */
    guint *waits;            /* how many before it are not placed */
    guint *cause;            /* the resource that its beginning waited for last; G_MAXUINT: none, or a task before it */
    gint64 *cause_at;        /* since when there was enough of it */
    guint *place;            /* where the task is in the list */
    GArray *pending;         /* guint: tasks that found no time */
    gint64 *job_end;         /* per job: not before then */
    gint64 lateness, finish; /* of all that is placed: at least; all of a job counts from its first task on */
    gint64 moved;            /* of all that is placed: published, but for another time */
    const guint8 *keep;      /* borrowed from the draft; NULL: none */
} Chart;

Chart *chart_new (const Flat *flat);
void chart_free (Chart *chart);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Chart, chart_free)

/* Takes everything out and readies the tasks of the modes for being placed. */
void chart_reset (Chart *chart, const Draft *draft);
void chart_open_mode (Chart *chart, guint mode);

/* Earliest beginning of a task none of those before which is missing; NEVER: none as things are. */
gint64 chart_earliest (Chart *chart, guint task);
void chart_place (Chart *chart, guint task, gint64 start);
void chart_unplace (Chart *chart, guint task); /* the last one placed that is still there */

/* Places the tasks of a mode that have begun, whatever is there: what they take another job that has begun may give back or gain,
 * so that only all of them together may hold too much. FALSE: one began before one that it is after ended; nothing is placed. */
gboolean chart_place_begun (Chart *chart, guint mode);
void chart_unplace_begun (Chart *chart, guint mode);

/* Whether more of a resource is taken than there is: of which, and the first moment. */
gboolean chart_overdrawn (const Chart *chart, guint *resource, gint64 *at);

/* Builds the draft's timetable and its cost. FALSE: tasks are left that find no time (they are `pending`; all those that were
 * not reached are missing there), or it is going to be later than `limit` (nullable) in lateness and finish. */
gboolean draft_build (Draft *draft, Chart *chart, const TimetableCost *limit);

Draft *draft_new (const Flat *flat);
void draft_free (Draft *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Draft, draft_free)
void draft_copy (Draft *to, const Draft *from, const Flat *flat);

/* How many published tasks of the job are not where they were; used: its mode, G_MAXUINT: none. start: per task of Flat. */
guint64 draft_moved (const Flat *flat, const FlatJob *job, guint used, const gint64 *start);

/* Fewest left out, then what is sought, then cost. */
int draft_compare (const Draft *left, const Draft *right);

/* Sorts the list by what was built. */
void draft_sort (Draft *draft, Chart *chart);

#endif
