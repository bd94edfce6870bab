/* SPDX-License-Identifier: MIT */
/* Batch: an ordered plan for many units: routes once per class, stock and lent parts shared out, a timetable, all of it checked.
 *
 * Owns:   classes and modes, the sharing out of parts, the way into the timetable and back, the replay.
 * Calls:  timetable, explain (alternatives, why there is no route), route, check, book.
 * Never:  prints, reads files or a clock.
 * Method: docs/batch.md. */
#ifndef RUNGWISE_BATCH_H
#define RUNGWISE_BATCH_H

#include "batch/branching.h"
#include "batch/changes.h"
#include "batch/timetable.h"
#include "explain/explain.h"

/* Time 0 of a batch, so that its times can be said. */
typedef struct {
    GDateTime *begin;   /* owned; UTC stands for the shop's own time; NULL: no date was given */
    gint64 from_monday; /* tenths of a minute from the Monday 00:00 of its week to time 0 */
} BatchClock;

/* "2034-03-06T07:15"; without a date "Mon 07:15", "Tue+1 07:15" in the second week. Whole minutes, rounded up. Transfer full. */
char *batch_time_words (const BatchClock *clock, gint64 time);

/* One way of doing the units of a class. */
typedef struct {
    GArray *steps;             /* Step; owned; of a plan with branches those of its worst case */
    Walk *walk;                /* owned; of the class's first unit in that case */
    GArray *ways_back;         /* WayBack; owned; NULL with branches */
    GArray *stock;             /* Lot: what stays in the unit from stock, `count` of each; owned */
    GArray *lent;              /* Lot: what is borrowed, at most so many at a time; owned */
    GArray *pulled;            /* guint: steps that take one of the unit's own parts out for good; owned */
    const RouteAnswer *answer; /* borrowed from the class */
    Claim claim;
    BatchBranching *branching; /* owned; NULL without branches */
} BatchMode;

/* Whether a plan with branches tries a start or reads a page in front of the step: there is power then. FALSE of any other plan. */
gboolean mode_reads_before (const BatchMode *mode, guint step);

typedef struct Batch Batch;

/* Units in the same situation with the same want. */
typedef struct {
    const Unit *unit; /* the first of them */
    const Want *want;
    guint units;
    GPtrArray *modes;    /* BatchMode*, best first; owned; empty: there is no way */
    GPtrArray *answers;  /* RouteAnswer*; owned */
    NoRoute *none;       /* owned; why there is no way; NULL: there is one, or it was not found out */
    RouteAnswer *failed; /* owned; without modes: the answer that has no route */
} BatchClass;

typedef enum {
    ASIDE_NOT, /* it is planned */
    ASIDE_NO_ROUTE,
    ASIDE_NOT_FOUND,  /* within the effort */
    ASIDE_READ_FIRST, /* no plan serves every release that it may have */
    ASIDE_NO_STOCK,   /* the units before it take what there is */
    ASIDE_NO_TIME,    /* some step is longer than any shift */
    ASIDE_RECORD,     /* what its record says can't have happened, or nobody knows how far it is without one */
} Aside;

/* A part that moves, numbered. */
typedef struct {
    const Part *part;
    const char *stepping, *bound;
    Owner owner;        /* loan, stock; OWNER_UNIT: pulled from a unit of this batch and lent on */
    guint number;       /* from 1 within its lot; pulled ones are numbered behind those of the shop, as they come out, and keep it */
    int from_unit;      /* pulled: index of the unit that it belongs to; -1 */
    guint from_step;    /* pulled: that unit's step which takes it out for good; G_MAXUINT: a route that it has left did */
    const char *serial; /* nullable */
    GArray *stays;      /* BatchStay, in order of time; owned */
} BatchPart;

/* Where a part is, from its fitting to its removal; `to` is G_MAXINT64 where it stays. */
typedef struct {
    guint unit, slot;
    guint fit_step, remove_step; /* of the unit's steps; fit G_MAXUINT: it came in it; remove G_MAXUINT: it stays */
    gint64 from, to;
} BatchStay;

/* The start behind a last step that nobody attends to its end: a task of its own, attended throughout. Where the last step is
 * attended to its end, the start is part of it, and all of this is 0. */
typedef struct {
    gboolean apart;
    gint64 step_ends; /* of the step itself; the task that has both ends with the start */
    gint64 begins;
    guint technician; /* from 0 */
} LastStart;

typedef struct {
    guint step; /* of the mode */
    gint64 begins, attended_until, ends;
    guint technician, place; /* from 0; technician G_MAXUINT: nobody is needed */
    int part;                /* index of Batch.parts that it fits or removes; -1: the unit's own */
    gboolean done;           /* has ended: a record, or the published timetable up to now, says so */
    gboolean by_clock;       /* done, and only the published timetable says so: the unit has no record */
    LastStart start;         /* of a unit's last task; of the others all 0 */
} BatchTask;

typedef struct {
    const Unit *unit;
    const Want *want;
    guint index; /* of Batch.units */
    guint class;
    Aside aside;
    char *why;          /* owned; a sentence; NULL with ASIDE_NOT */
    guint mode;         /* of its class */
    gboolean open;      /* it goes by a plan with branches, and no record has shown yet which way */
    gint64 due;         /* tenths of a minute from time 0, below 0 where that was before; BATCH_NOT_DUE: none */
    GArray *tasks;      /* BatchTask, one per step; owned */
    GPtrArray *earlier; /* BatchEarlier*; owned; NULL: it goes by its first route */
    Unit *stands;       /* owned; planned anew: the unit where it stands; NULL: `unit` */
} BatchUnit;

#define BATCH_NOT_DUE G_MININT64
gboolean batch_unit_is_due (const BatchUnit *unit);

/* A route that a unit was worked on by until its record departed from it, or what it needs was lost. */
typedef struct {
    GArray *steps; /* Step; owned */
    guint entries; /* so many of the record's entries (counted behind those of the route before) go by this route */
    guint done;    /* with no entries: so many of its steps were done, by the timetable alone */
} BatchEarlier;

void batch_earlier_free (gpointer data);

/* One task of a timetable that hangs on the wall. */
typedef struct {
    Step step; /* resolved against the unit's board */
    gint64 begins, attended_until, ends;
    guint technician, place; /* from 0 */
    guint part_number;       /* of the part that it fits or removes, within its lot, from 1; 0: the unit's own */
    LastStart start;
} PublishedTask;

struct PublishedUnit {
    const char *unit;   /* its id; interned */
    GArray *tasks;      /* PublishedTask, one per step of its mode, in order; owned; empty: it was set aside */
    GPtrArray *earlier; /* BatchEarlier*; owned; NULL: none */
    const char *sheet;  /* mark of the timetable whose sheet of it holds; interned; NULL: not known */
    guint found;        /* the last entry of its record, from 1, whose words it shows; 0: none */
};

/* A part that was out of use already: what the sheet called it that a unit's record was made by. */
typedef struct {
    const char *unit; /* its id; interned */
    guint entry;      /* of its record, from 1 */
    guint number;     /* 0: not known */
    const char *of;   /* as in BatchLost; interned; nullable */
    guint of_step;
    const Part *part; /* only with `of` */
    const char *stepping, *bound;
} PublishedLost;

/* A pulled part that it lends on: whose it is. */
typedef struct {
    const char *unit; /* its id; interned */
    const Part *part;
    const char *stepping, *bound;
    const char *serial; /* interned; nullable */
    guint number;
    guint step; /* of that unit's mode, which takes it out for good; G_MAXUINT: a route that the unit had left did */
} PublishedPart;

/* The timetable of the last run, as its JSON says it. Its clock is the question's clock: times count from the same moment. */
typedef struct {
    GPtrArray *units; /* PublishedUnit*; owned */
    GHashTable *by_id; /* id -> PublishedUnit*, the first one of an id; owned */
    GArray *lost;     /* PublishedLost; owned */
    GArray *parts;    /* PublishedPart; owned */
    GPtrArray *gone;  /* char*: ids of units that stand in it and are not in this run; owned */
    const char *mark; /* eight digits that tell it from others; interned; NULL: not known */
    gint64 made;      /* it was planned for this moment on */
    const char *shop; /* its name; interned; NULL: none */
    guint technicians, places; /* as it had them; 0: not known */
} BatchPublished;

/* No units yet. Transfer full. */
BatchPublished *batch_published_new (void);
/* The new one, with no tasks; it belongs to `published`. `id` need not be interned. */
PublishedUnit *batch_published_add (BatchPublished *published, const char *id);
void batch_published_free (BatchPublished *published);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BatchPublished, batch_published_free)
/* What a batch would read as when it is published. Transfer full. */
BatchPublished *batch_publish (const Batch *batch);

/* NULL: the unit of this id is not in it. */
const PublishedUnit *batch_published_find (const BatchPublished *published, const char *id);
/* So many entries of the unit's record go by routes that it has left. */
guint batch_published_entries (const PublishedUnit *unit);
/* What a record that is worked by a published timetable says of its route, where it says anything. */
#define BATCH_ROUTE "published"

typedef struct {
    Library *library;
    Shop *shop;
    const GPtrArray *units; /* Unit*, each with its want in `wants` */
    const GPtrArray *wants; /* Want*, parallel */
    const RouteOptions *route;
    ScheduleOptions schedule;
    guint most_modes; /* 0: 3 */
    BatchClock clock; /* borrowed */
    /* When it goes wrong (docs/batch.md): records are those of the library; both are left out for a first plan. */
    const BatchPublished *published; /* nullable */
    gint64 now;                      /* only with `published` */
} BatchQuestion;

struct Batch {
    GPtrArray *classes; /* BatchClass* */
    GPtrArray *units;   /* BatchUnit*, in the order given */
    GPtrArray *parts;   /* BatchPart* */
    Timetable *timetable;
    Schedule *schedule;
    GArray *job_of_unit; /* guint per unit; G_MAXUINT: set aside */
    guint plans;         /* planning runs */
    guint aside;         /* units */
    guint unsure;        /* units that are planned, and may turn out to have no way when they are read */
    gint64 finish;
    guint moved; /* published tasks that begin at another time, or are no longer done */
    BatchReplan *replan; /* owned; NULL: a first plan */
    GPtrArray
        *said; /* char*: what records contradict each other or the timetable in, a sentence each; owned; may be empty */
    char *wrong; /* owned; what the check refused: this program's own fault; NULL: all is well */
};

/* Transfer full. All that a Batch holds is its own, but for units, wants and the book. */
Batch *batch_plan (const BatchQuestion *question);
void batch_free (Batch *batch);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Batch, batch_free)

/* How a task finds its unit, where the task before it was of the same opening. */
typedef struct {
    gboolean open;           /* nobody was at it for a while, or somebody else was; FALSE: the rest says nothing */
    gint64 since;            /* when nobody was at it any more */
    gboolean over_shift_end; /* the end of a shift lies between then and the task */
    guint left_by;           /* the technician who left it, where another goes on; else G_MAXUINT */
} LeftOpen;

/* Of a task that has begun nothing is said, nor of what a route left open that its unit has left: the next one begins with an
 * opening of its own. */
LeftOpen batch_left_open (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, guint step);
/* The same of the start at the end, where that is a task of its own behind a write off power. */
LeftOpen batch_left_open_at_start (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit);
/* Whether a shift ends from `from` to `to`, both included. FALSE in a shop without shifts. */
gboolean batch_over_shift_end (const BatchQuestion *question, gint64 from, gint64 to);
/* The record of a unit of a published timetable that has entries; NULL: there is none. NULL too, and a complaint, where there is a
 * second one, or where its numbers are of the steps of another route. */
const Record *batch_record_of (const Library *library, const char *unit, Complaints *complaints);

/* Where a record leaves one unit of the published timetable, as batch_plan() reads it: its entries go by the routes that the unit
 * has left, then by the one that is published. `by_earlier` is set: all of them go by those before. Only library, shop and
 * `published` of the question are asked. NULL, and complaints with their places, where an entry can't have happened. Transfer
 * full. */
Resumed *batch_resume (const BatchQuestion *question, const Unit *unit, const Record *record, gboolean *by_earlier,
                       Complaints *complaints);

/* Replays a batch from its units alone, step by step in order of time: routes by check_walk, parts in one place, technicians, places,
 * shifts. NULL, or one sentence on what is wrong first. Transfer full. */
char *batch_check (const BatchQuestion *question, const Batch *batch);

#endif
