/* SPDX-License-Identifier: MIT */
/* Timetable: when each piece of work of many jobs is done, with few hands, places and lent parts.
 *
 * Owns:   the general model (jobs with modes, tasks, resources held over spans, shifts), its checker, its bound, its search.
 * Calls:  GLib only: it knows nothing of boards. docs/timetable.md says how a batch becomes one of these.
 * Never:  prints, reads a clock, uses a random number that is not seeded.
 * Method: docs/timetable.md.
 *
 * Times are whole tenths of a minute from the start of the batch, in gint64; none is negative. */
#ifndef RUNGWISE_TIMETABLE_H
#define RUNGWISE_TIMETABLE_H

#include <glib.h>

typedef struct {
    gint64 from, to; /* [from, to) */
} Window;

/* When work is done. Ascending, not touching. */
typedef struct {
    GArray *shifts; /* Window; empty: always. A task lies wholly inside one, its unattended part too */
    GArray *breaks; /* Window; no attended part of a task overlaps one; what runs unattended runs on */
} Calendar;

typedef struct {
    char *name;     /* owned */
    guint capacity; /* at the start; gains add to it */
} Resource;

/* Not interrupted once begun. */
typedef struct {
    gint64 duration;
    gint64 attended;   /* at its beginning; at most `duration`; needs one of Timetable.hands for so long */
    GArray *after;     /* guint: tasks of this mode that end before it begins; NULL: none */
    gint64 not_before; /* 0: any time */
    gint64
        fixed; /* it began then, whatever the calendar and `not_before` say; -1: it is free. What it is after is fixed
                       * too, and the job has this one mode */
    gint64 published; /* where an earlier timetable had it; -1: nowhere */
} Task;

/* So many of a resource are held from `lead` after the beginning of `first` to `tail` before the end of `last`: tasks of the
 * mode, the same one or `last` after `first` (through others too). Held through whatever lies between, nights and breaks too.
 * lead and tail are 0, or less than the task takes; in one task something is left between them. */
typedef struct {
    guint resource, amount;
    guint first, last;
    gint64 lead, tail;
} Span;

/* From `early` before the end of `task` on there are so many more of a resource, for good. early: 0, or less than the task takes. */
typedef struct {
    guint resource, amount;
    guint task;
    gint64 early;
} Gain;

/* One way of doing a job. */
typedef struct {
    GArray *tasks;    /* Task; owned; `after` makes no circle */
    GArray *spans;    /* Span; owned */
    GArray *gains;    /* Gain; owned */
    guint insertions; /* into sockets; the fewest are wanted */
} Mode;

typedef struct {
    GPtrArray *modes; /* Mode*; owned; at least one */
    gint64 due;       /* end wanted by then; -1: none */
    guint weight;     /* of its lateness; at least 1 */
} Job;

typedef struct {
    GPtrArray *jobs;      /* Job*; owned */
    GPtrArray *resources; /* Resource*; owned */
    int hands;            /* index of the resource that attended work needs one of; -1: nobody is needed */
    Calendar calendar;
} Timetable;

Timetable *timetable_new (void); /* empty, no hands, work at any time */
void timetable_free (Timetable *timetable);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Timetable, timetable_free)

/* These return the new one, which the timetable (or job) owns, or its index. */
guint timetable_add_resource (Timetable *timetable, const char *name, guint capacity);
Job *timetable_add_job (Timetable *timetable); /* not due, weight 1 */
Mode *timetable_add_mode (Job *job);
guint timetable_add_task (Mode *mode, gint64 duration, gint64 attended); /* free, after nothing, at any time */
void timetable_add_after (Mode *mode, guint task, guint after);
/* These too return the new one, which the mode owns, until the next is added: whole tasks (lead, tail and early are 0). */
Span *timetable_add_span (Mode *mode, guint resource, guint amount, guint first, guint last);
Gain *timetable_add_gain (Mode *mode, guint resource, guint amount, guint task);

/* NULL, or one sentence on the first thing that makes no sense in it (an index out of range, a circle, a span that ends
 * before it begins, ...): such a timetable must not be solved. Linear. Transfer full. */
char *timetable_nonsense (const Timetable *timetable);

/* What is minimised, each in turn; with something published, `finish` and `moved` are weighed (docs/timetable.md, "Moves"). */
typedef struct {
    gint64 lateness; /* weights times tenths of a minute past the due times, summed */
    gint64 finish;   /* end of the last task of all */
    guint64
        moved; /* published tasks (of all modes) that do not begin then, or whose mode is not the one that is used */
    guint64 insertions;
    gint64 attended;
} TimetableCost;

int timetable_cost_compare (const TimetableCost *left, const TimetableCost *right);

typedef struct {
    guint jobs;
    guint *mode;         /* owned; per job; G_MAXUINT: the job is left out (it fits nowhere) */
    gint64 **start;      /* owned; per job, per task of its mode; NULL for a job that is left out */
    TimetableCost cost;  /* of the jobs that are not left out */
    TimetableCost bound; /* no timetable that leaves out no more has less in any one of these */
    gboolean proved;     /* nor a smaller cost, `moved` aside (docs/timetable.md) */
    gboolean stopped;    /* go_on said so */
    guint64 tried;       /* timetables that were built; of an exact search, its tasks placed over the number of tasks */
    guint left_out;      /* jobs; the fewest come before any cost */
} Schedule;

typedef struct {
    guint64 seed;
    guint64 most_tried; /* timetables to build; 0: a default that suits the size */
    gboolean (*go_on) (const TimetableCost *best, const TimetableCost *bound, gpointer data); /* nullable */
    gpointer go_on_data;
} ScheduleOptions;

/* The same input, seed and limits give the same schedule. Anytime: the best so far is kept, and go_on is asked only once there
 * is a first one. Cost of a first schedule: about linear in tasks. Not NULL unless the timetable is nonsense. Transfer full. */
Schedule *timetable_solve (const Timetable *timetable, const ScheduleOptions *options);
void schedule_free (Schedule *schedule);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Schedule, schedule_free)

/* NULL when the schedule keeps everything: order inside modes, shifts and breaks, fixed starts, capacities with gains at every
 * moment; its cost is recomputed and compared. Else one sentence on the first thing that is wrong. Plain; shares nothing with
 * the search. Transfer full. */
char *timetable_check (const Timetable *timetable, const Schedule *schedule);

/* Which one of a resource's units each use takes (a technician, a bench place, a loaner), so that no two overlap: per job and
 * span (and, for hands, per task), lowest number free first, but a task the hand that did the task before it of its job, where that
 * is free; what a gain adds is numbered after what there is. Transfer full. */
typedef struct {
    guint jobs;
    guint **task_hand;   /* owned; per job, per task: which of the hands; G_MAXUINT: none needed */
    guint ***span_units; /* owned; per job, per span: `amount` numbers; NULL in both for a job that is left out */
} Assignment;
Assignment *timetable_assign (const Timetable *timetable, const Schedule *schedule);
void assignment_free (Assignment *assignment);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Assignment, assignment_free)

#endif
