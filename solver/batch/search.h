/* SPDX-License-Identifier: MIT */
/* The search for a good timetable: first ones by rules, then moves, in small ones everything.
 * Method: docs/timetable.md, "First timetables", "Moves", "Everything". */
#ifndef RUNGWISE_BATCH_SEARCH_H
#define RUNGWISE_BATCH_SEARCH_H

#include "batch/build.h"

typedef struct {
    const Flat *flat;               /* borrowed */
    const Timetable *timetable;     /* borrowed; what flat was made of */
    const ScheduleOptions *options; /* borrowed */
    guint64 random;                 /* state of the random numbers */
    Draft *best, *current, *next;   /* owned */
    Chart *chart, *next_chart;      /* owned; of current and next */
    TimetableCost bound;
    guint8 *mark;   /* owned; per task of Flat; all 0 between uses */
    GArray *chain;  /* owned; Arc: of the last walk */
    GArray *moving; /* owned; guint: tasks on their way */
    guint64 tried, most_tried;
    gboolean *never; /* owned; per job: it is left out whatever is done */
    guint never_count;
    gint64 *starts; /* owned; when the tasks of best begin, where uses begin within tasks; else NULL */
    gboolean has_current;
    gboolean clash;               /* some job is left out because what has begun holds more than there is */
    gboolean stopped, all_proved; /* all_proved: everything was tried */
} Search;

/* `then` could not begin before `first` let go of something that both need. */
typedef struct {
    guint first, then; /* tasks of Flat */
} Arc;

guint search_random (Search *search, guint below);

/* Builds next; counts it. FALSE: see draft_build. */
gboolean search_try (Search *search, const TimetableCost *limit);
/* Whether there is nothing left to do: bound met, effort spent, or told to stop. */
gboolean search_is_over (Search *search);
/* Keeps next as current (and best, where it is). */
void search_keep (Search *search);
/* Notes when the tasks of best begin, where its list need not say so. */
void search_note_starts (Search *search, const gint64 *start);
/* The same where next is better than current, or there is none yet; asks go_on. */
void search_offer (Search *search);
/* Builds next, whatever it takes: jobs that find no time go to the end, and are left out where that does not help. */
void search_mend (Search *search);

void search_first (Search *search);                /* first timetables; current and best are set */
void search_moves (Search *search, guint64 until); /* until so many were tried */
/* Every order that can matter, at most so many tasks placed. Sets all_proved when it is through. */
void search_everything (Search *search, guint64 most_placed);

/* Takes a task in next, a copy of current, and what stands after it, to just behind a place of the list. FALSE: the task
 * there is one of these. */
gboolean search_move_down (Search *search, guint task, guint to);

/* Takes a published task in next, a copy of current, back to when it was published, before what is there now; whole_job: all of
 * its job. FALSE: nothing is to be changed. */
gboolean search_home (Search *search, guint task, gboolean whole_job);
/* The same to each that moved of the best, in order of time, as long as that makes it better or until so many were tried.
 * later: also to let each make way for those just behind it. */
void search_homes (Search *search, guint64 until, gboolean later);
/* Takes tasks of current behind all others, as long as that makes it better: where one job steps aside, a delay is used up
 * there, and those behind it stay where they were published. */
void search_aside (Search *search, guint64 until);
/* Puts jobs that are left out of current in, wherever they find time. */
void search_bring_back (Search *search);

/* Changes next, a copy of current, by one random move. FALSE: nothing was changed. */
gboolean search_move (Search *search);

/* never: per job. */
void timetable_bound (const Flat *flat, const gboolean *never, TimetableCost *bound);

#endif
