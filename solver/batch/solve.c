/* SPDX-License-Identifier: MIT */
/* timetable_solve: first timetables, everything in small ones, moves until the bound is met or the effort is spent. */
#include "batch/conflicts.h"

#include <string.h>

enum {
    MOST_SMALL = 60000, /* timetables, where everything may be tried */
    MOST_DEFAULT = 20000,
    LEAST_DEFAULT = 12,
    MOST_EVERYTHING = 200000, /* timetables' worth of tasks placed; more seldom helps */
    SMALL_TASKS = 30,         /* up to so many tasks (of the longest modes) everything is tried */
};

static Search *
search_new (const Flat *flat, const Timetable *timetable, const ScheduleOptions *options)
{
    Search *search = g_new0 (Search, 1);
    search->flat = flat;
    search->timetable = timetable;
    search->options = options;
    search->random = options->seed * 2 + 1;
    for (guint i = 0; i < 8; i++) /* a small seed has few bits set: let them spread */
        search_random (search, 2);
    search->best = draft_new (flat);
    search->current = draft_new (flat);
    search->next = draft_new (flat);
    search->chart = chart_new (flat);
    search->next_chart = chart_new (flat);
    search->mark = g_new0 (guint8, flat->tasks + 1);
    search->chain = g_array_new (FALSE, FALSE, sizeof (Arc));
    search->moving = g_array_new (FALSE, FALSE, sizeof (guint));
    search->never = g_new0 (gboolean, flat->jobs + 1);
    for (guint i = 0; i < flat->jobs; i++)
        search->never[i] = !flat->job[i].possible;
    search->most_tried = options->most_tried;
    if (search->most_tried == 0)
        search->most_tried =
            flat->tasks <= SMALL_TASKS ? MOST_SMALL : CLAMP (2000000 / flat->tasks, LEAST_DEFAULT, MOST_DEFAULT);
    return search;
}

static void
search_free (Search *search)
{
    draft_free (search->best);
    draft_free (search->current);
    draft_free (search->next);
    chart_free (search->chart);
    chart_free (search->next_chart);
    g_free (search->mark);
    g_array_unref (search->chain);
    g_array_unref (search->moving);
    g_free (search->never);
    g_free (search->starts);
    g_free (search);
}

gboolean
search_try (Search *search, const TimetableCost *limit)
{
    search->tried++;
    return draft_build (search->next, search->next_chart, limit);
}

void
search_note_starts (Search *search, const gint64 *start)
{
    if (!search->flat->leads)
        return;
    g_free (search->starts);
    search->starts = g_memdup2 (start, (search->flat->tasks + 1) * sizeof *start);
}

void
search_keep (Search *search)
{
    Draft *draft = search->current;
    Chart *chart = search->chart;
    search->current = search->next;
    search->chart = search->next_chart;
    search->next = draft;
    search->next_chart = chart;
    draft_sort (search->current, search->chart);
    if (!search->has_current || draft_compare (search->current, search->best) < 0) {
        draft_copy (search->best, search->current, search->flat);
        search_note_starts (search, search->chart->start);
    }
    search->has_current = TRUE;
}

void
search_offer (Search *search)
{
    if (!search->has_current || draft_compare (search->next, search->current) < 0)
        search_keep (search);
}

/* Nothing can be better than best: only jobs that fit nowhere are left out, and its cost is the bound. */
static gboolean
meets_bound (const Search *search)
{
    TimetableCost cost = search->best->cost;
    cost.moved = 0;
    return search->best->left_out == search->never_count && timetable_cost_compare (&cost, &search->bound) == 0;
}

/* What was published stands: nothing moves, and it is no later. */
static gboolean
is_as_published (const Search *search)
{
    const Draft *best = search->best;
    return search->flat->all_published && best->left_out == 0 && best->sought.moved == 0 &&
           best->sought.lateness == search->flat->goal_lateness && best->sought.finish == search->flat->goal_finish;
}

gboolean
search_is_over (Search *search)
{
    if (!search->has_current)
        return FALSE;
    if (search->stopped || search->all_proved || search->tried >= search->most_tried || is_as_published (search) ||
        (meets_bound (search) && search->best->cost.moved == 0))
        return TRUE;
    const ScheduleOptions *options = search->options;
    if (options->go_on != NULL && !options->go_on (&search->best->cost, &search->bound, options->go_on_data))
        search->stopped = TRUE;
    return search->stopped;
}

static Schedule *
schedule_of_best (Search *search)
{
    const Flat *flat = search->flat;
    Schedule *schedule = g_new0 (Schedule, 1);
    schedule->jobs = flat->jobs;
    schedule->mode = g_new (guint, flat->jobs + 1);
    schedule->start = g_new0 (gint64 *, flat->jobs + 1);
    draft_copy (search->next, search->best, flat);
    g_assert (search->starts != NULL || draft_build (search->next, search->next_chart, NULL));
    const gint64 *start = search->starts != NULL ? search->starts : search->next_chart->start;
    for (guint i = 0; i < flat->jobs; i++) {
        guint used = search->next->mode[i];
        const FlatMode *mode = used == G_MAXUINT ? NULL : &flat->mode[used];
        schedule->mode[i] = mode == NULL ? G_MAXUINT : used - flat->job[i].first;
        if (mode != NULL)
            schedule->start[i] = g_memdup2 (start + mode->first, mode->tasks * sizeof (gint64));
    }
    schedule->cost = search->next->cost;
    schedule->left_out = search->next->left_out;
    schedule->bound = search->bound;
    schedule->tried = search->tried;
    schedule->stopped = search->stopped;
    schedule->proved = !search->clash && (search->all_proved || meets_bound (search));
    return schedule;
}

static void
search_all (Search *search)
{
    const Flat *flat = search->flat;
    search_first (search);
    if (flat->tasks <= SMALL_TASKS && !flat->published && !search_is_over (search)) {
        search_moves (search, MIN (search->most_tried / 4, 50 * (guint64) flat->tasks));
        guint64 most_placed = MIN (search->most_tried / 2, MOST_EVERYTHING) * flat->tasks;
        if (flat->leads)
            search_conflicts (search, most_placed);
        else
            search_everything (search, most_placed);
    }
    if (flat->published) {
        search_aside (search, search->most_tried / 8);
        search_homes (search, search->most_tried / 4, FALSE);
        search_moves (search, search->most_tried - search->most_tried / 4);
        search_homes (search, search->most_tried, TRUE);
    }
    search_moves (search, search->most_tried);
}

/* What was published must not keep a job out that a plan from scratch would have: such a plan, where it leaves fewer out. */
static void
plan_anew (Search *search, const Timetable *timetable)
{
    g_autoptr (Flat) flat = flat_new (timetable);
    flat_forget_published (flat);
    Search *anew = search_new (flat, timetable, search->options);
    anew->stopped = search->stopped; /* then the first timetable must do */
    search_all (anew);
    search->tried += anew->tried;
    search->most_tried = search->tried + search->most_tried / 4; /* to come back from there to what was published */
    search->stopped |= anew->stopped;
    if (anew->best->left_out < search->best->left_out) {
        draft_copy (search->next, anew->best, flat); /* the same tasks have the same numbers */
        memset (search->next->keep, 0, flat->tasks);
        if (search_try (search, NULL))
            search_keep (search);
        search_homes (search, search->most_tried, TRUE);
    }
    search_free (anew);
}

Schedule *
timetable_solve (const Timetable *timetable, const ScheduleOptions *options)
{
    g_autofree char *nonsense = timetable_nonsense (timetable);
    g_return_val_if_fail (nonsense == NULL, NULL);
    g_autoptr (Flat) flat = flat_new (timetable);
    Search *search = search_new (flat, timetable, options);
    search_all (search);
    if (flat->published && search->best->left_out > search->never_count)
        plan_anew (search, timetable);
    Schedule *schedule = schedule_of_best (search);
    search_free (search);
    return schedule;
}
