/* SPDX-License-Identifier: MIT */
/* What a batch that was planned anew went by, and what became different for whom: for the reports. docs/batch.md, "When it goes
 * wrong". Everything here is computed from the two timetables, the records and the clock; what can't be told for certain is not said. */
#ifndef RUNGWISE_BATCH_CHANGES_H
#define RUNGWISE_BATCH_CHANGES_H

#include "book/book.h"

/* A part that is out of use: set aside at the bench, or found to be missing. */
typedef struct {
    Owner owner; /* loan or stock */
    const Part *part;
    const char *stepping, *bound;
    const char *unit; /* id of the unit whose record says so; interned */
    guint entry;      /* of that unit's record, from 1 */
    guint number;     /* within its lot, as the sheet of that unit called it; 0: not known */
    const char *of;   /* a pulled part: id of the unit that it is of; interned; NULL: the shop's, or nobody knows */
    guint of_step;    /* ... whose step took it out for good; G_MAXUINT: a route that it has left did */
    gint64 time;      /* by the clock on the wall, from time 0; G_MININT64: not known */
    Mark at;          /* the entry */
} BatchLost;

typedef enum {
    CHANGE_NONE,
    CHANGE_FOUND,   /* all is as it was, but its record, or that of a unit that lends to it, has words of what was found since */
    CHANGE_NUMBERS, /* its times are as they were; technicians, the place or numbered parts are not */
    CHANGE_TIMES,   /* some step begins at another time */
    CHANGE_ROUTE,   /* it goes by another route */
    CHANGE_ASIDE,   /* it is set aside now */
    CHANGE_NEW,     /* the published timetable has no tasks of it */
} ChangeKind;

typedef enum {
    MOVED_UNKNOWN, /* nothing that can be told for certain was in the way */
    MOVED_BEHIND,  /* the step was to begin before now, and is not done */
    MOVED_PART,    /* at the published time no such loaner is free */
    MOVED_PLACE,   /* ... no bench place */
    MOVED_HAND,    /* ... no technician */
    MOVED_SHIFT,   /* ... nobody works */
    LEFT_RECORD,   /* its record departs from its route */
    LEFT_LOST,     /* its route needs a part that is out of use */
    LEFT_REFUSED,  /* its route does not lead on with the book and the shop as they are now */
} ChangeWhy;

typedef struct PublishedUnit PublishedUnit;

/* One unit. */
typedef struct {
    const PublishedUnit *published; /* borrowed from the question; NULL: it has no tasks of it */
    ChangeKind kind;
    ChangeWhy why;   /* MOVED_...: with CHANGE_TIMES, LEFT_...: with CHANGE_ROUTE */
    guint moved;     /* published tasks of it that begin at another time, or that its new route has not */
    guint first;     /* step (from 0) of the published route: the first one that differs */
    guint about;     /* the one that MOVED_... is about */
    gboolean about_start; /* ... and there the start behind it, not the step itself */
    guint by;        /* MOVED_PART, _PLACE, _HAND: the unit that has it then and ends first; G_MAXUINT: none */
    int part;        /* MOVED_PART: what that unit has, of Batch.parts; -1: there is none then */
    gint64 from, to; /* so long has `by` got it */
    guint lost;      /* LEFT_LOST: index of BatchReplan.lost */
    const RecordEntry *tried; /* MOVED_BEHIND: the last entry of its record about that step; borrowed; NULL: none */
} BatchChange;

/* What a record says in words. No program understands them, so they are shown. */
typedef struct {
    guint unit;               /* index */
    guint number;             /* of the entry in that unit's record, from 1 */
    const RecordEntry *entry; /* borrowed from the library */
    const Step *step;         /* what was done or tried; borrowed from batch, question or entry; NULL: not known */
    gboolean left;            /* the entry goes by a route that the unit has left */
    gboolean fresh;           /* the published timetable does not show it */
    gint64 time;              /* by the clock on the wall, from time 0; G_MININT64: not known */
} BatchFound;

/* A step that is taken to be under way. */
typedef struct {
    guint unit, step;
    gboolean by_clock; /* the unit has no record */
} BatchUnderWay;

typedef struct {
    guint records, entries, files;  /* that were gone by; records: units that have one */
    guint clock_units, clock_steps; /* done by the published timetable alone: units without a record */
    guint recorded_steps;           /* of today's routes, that records say are done */
    GArray *under_way;              /* BatchUnderWay; owned */
    GArray *lost;                   /* BatchLost; owned */
    GArray *found;                  /* BatchFound, by units, then in the order of their entries; owned */
    guint *found_from;              /* owned; per unit where its own begin in `found`, and one more: where all end */
    BatchChange *changes;           /* owned; one per unit */
    guint changed;                  /* units with another kind than CHANGE_NONE */
    gint64 published_end;           /* of its last task */
    guint published;                /* tasks of the published timetable, of units that are in this run */
} BatchReplan;

#endif
