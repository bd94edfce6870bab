/* SPDX-License-Identifier: MIT */
/* Back to what was published: tasks that moved to where they were, and jobs that are left out to some place at all.
 * Method: docs/timetable.md, "Moves". */
#include "batch/search.h"

#include <string.h>

enum {
    MOST_PLACES = 40, /* of the list, where a job that is left out is tried */
    MOST_BEHIND = 32, /* tasks that one that moved makes way for */
};

static gboolean
is_moved (const Search *search, guint task)
{
    const FlatTask *one = &search->flat->task[task];
    return one->published >= 0 && one->fixed < 0 && search->chart->start[task] != one->published;
}

/* Marks the tasks to take home. What one of them is after, in its job, was listed before it and stays so. */
static guint
mark_homing (Search *search, guint task, gboolean whole_job)
{
    const FlatMode *mode = &search->flat->mode[search->flat->task[task].mode];
    guint marked = 0;
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        if (i != task && !(whole_job && is_moved (search, i)))
            continue;
        search->next->keep[i] = 1;
        search->mark[i] = search->chart->start[i] > search->flat->task[i].published;
        marked += search->mark[i];
    }
    return marked;
}

/* Where in the list a task is to go: before all that begin at `time` or later, behind what it is after. */
static guint
home_place (const Search *search, guint index)
{
    const Flat *flat = search->flat;
    const FlatTask *task = &flat->task[index];
    const guint *list = search->next->list;
    guint place = 0;
    while (place < search->next->count && list[place] != index && search->chart->start[list[place]] < task->published)
        place++;
    for (guint i = place; i < search->next->count && list[i] != index; i++) {
        for (guint k = 0; k < task->befores; k++) {
            if (flat_befores (flat, task)[k] == list[i])
                place = i + 1;
        }
    }
    return place;
}

gboolean
search_home (Search *search, guint task, gboolean whole_job)
{
    Draft *next = search->next;
    guint marked = mark_homing (search, task, whole_job);
    for (guint i = 0; i < next->count && marked > 0; i++) {
        guint one = next->list[i];
        if (!search->mark[one])
            continue;
        search->mark[one] = 0;
        marked--;
        guint place = home_place (search, one);
        memmove (next->list + place + 1, next->list + place, (i - place) * sizeof *next->list);
        next->list[place] = one;
    }
    return TRUE;
}

static gboolean
try_home (Search *search, guint task, gboolean whole_job)
{
    draft_copy (search->next, search->current, search->flat);
    if (!search_home (search, task, whole_job) || !search_try (search, &search->current->sought) ||
        draft_compare (search->next, search->current) >= 0)
        return FALSE;
    search_keep (search);
    return TRUE;
}

/* A task makes way for so many behind it in the list, that they may stay. */
static gboolean
try_later (Search *search, guint task, guint behind)
{
    guint to = MIN (search->chart->place[task] + behind, search->current->count - 1);
    draft_copy (search->next, search->current, search->flat);
    if (!search_move_down (search, task, to) || !search_try (search, &search->current->sought) ||
        draft_compare (search->next, search->current) >= 0)
        return FALSE;
    search_keep (search);
    return TRUE;
}

/* Once through all tasks: each, with what is after it, goes behind all others. TRUE: some stay there. */
static gboolean
all_aside (Search *search, guint64 until)
{
    g_autofree guint *list = g_memdup2 (search->current->list, (search->current->count + 1) * sizeof *list);
    guint count = search->current->count;
    gboolean better = FALSE;
    for (guint i = 0; i < count && search->tried < until && !search_is_over (search); i++) {
        if (search->flat->task[list[i]].fixed < 0)
            better |= try_later (search, list[i], count);
    }
    return better;
}

void
search_aside (Search *search, guint64 until)
{
    while (all_aside (search, until)) {
    }
}

/* Once through all that moved. TRUE: some went home. */
static gboolean
all_home (Search *search, guint64 until, gboolean later)
{
    g_autofree guint *list = g_memdup2 (search->current->list, (search->current->count + 1) * sizeof *list);
    guint count = search->current->count;
    gboolean better = FALSE;
    for (guint i = 0; i < count && search->tried < until && !search_is_over (search); i++) {
        if (is_moved (search, list[i]))
            better |= try_home (search, list[i], TRUE) || try_home (search, list[i], FALSE);
        for (guint behind = later ? 1 : MOST_BEHIND + 1;
             behind <= MOST_BEHIND && is_moved (search, list[i]) && search->tried < until; behind *= 2)
            better |= try_later (search, list[i], behind);
    }
    return better;
}

void
search_homes (Search *search, guint64 until, gboolean later)
{
    draft_copy (search->next, search->best, search->flat);
    if (search->tried >= until || search_is_over (search) || !search_try (search, NULL))
        return;
    search_keep (search);
    while (all_home (search, until, later)) {
    }
}

/* Puts a job, all its tasks together, at a place of the list. */
static gboolean
try_in (Search *search, guint job, guint mode, guint at)
{
    const FlatMode *one = &search->flat->mode[mode];
    Draft *next = search->next;
    draft_copy (next, search->current, search->flat);
    memmove (next->list + at + one->tasks, next->list + at, (next->count - at) * sizeof *next->list);
    memcpy (next->list + at, search->flat->order + one->first, one->tasks * sizeof *next->list);
    memset (next->keep + one->first, 0, one->tasks);
    next->mode[job] = mode;
    next->count += one->tasks;
    next->left_out--;
    if (!search_try (search, NULL))
        return FALSE;
    search_keep (search);
    return TRUE;
}

static void
bring_back_job (Search *search, guint job)
{
    const FlatJob *one = &search->flat->job[job];
    guint step = search->current->count / MOST_PLACES + 1, end = search->current->count;
    for (guint back = 0; back <= end; back += step) {
        for (guint m = one->first; m < one->first + one->modes; m++) {
            if (search_is_over (search))
                return;
            if (search->flat->mode[m].shortest_end != NEVER && try_in (search, job, m, end - back))
                return;
        }
    }
}

void
search_bring_back (Search *search)
{
    for (guint i = 0; i < search->flat->jobs; i++) {
        if (search->current->mode[i] == G_MAXUINT && !search->never[i])
            bring_back_job (search, i);
    }
}
