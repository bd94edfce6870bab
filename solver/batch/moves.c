/* SPDX-License-Identifier: MIT */
/* Random moves on a list: mostly on a chain of tasks that decides when the batch, or a late job, ends. */
#include "batch/search.h"

#include <string.h>

enum { LOOK_BACK = 500 }; /* how far up the list one looks for who let go; only long lists feel it */

guint
search_random (Search *search, guint below)
{
    /* Marsaglia's xorshift64* (Journal of Statistical Software 8(14), 2003; multiplier by Vigna). */
    search->random ^= search->random >> 12;
    search->random ^= search->random << 25;
    search->random ^= search->random >> 27;
    return (guint) (((search->random * G_GUINT64_CONSTANT (2685821657736338717)) >> 32) % below);
}

static gint64
end_of (const Chart *chart, guint task)
{
    return chart->start[task] + chart->flat->task[task].duration;
}

static gboolean
lets_go (const Chart *chart, guint index, guint resource, gint64 at)
{
    const Flat *flat = chart->flat;
    const FlatTask *task = &flat->task[index];
    const FlatUse *use = flat_holds (flat, task);
    for (guint i = 0; i < task->holds; i++, use++) {
        if (use->resource == resource && use->length != FOR_GOOD && chart->start[index] + use->lead + use->length == at)
            return TRUE;
    }
    for (guint i = 0; i < (guint) task->closes + task->gains; i++, use++) {
        if (use->resource == resource && chart->start[index] + use->lead == at)
            return TRUE;
    }
    return FALSE;
}

/* A random one of those that let go of what `task` waited for; G_MAXUINT: none is found. */
static guint
who_let_go (Search *search, guint task)
{
    const Chart *chart = search->chart;
    const Draft *draft = search->current;
    guint place = chart->place[task], found = G_MAXUINT, count = 0;
    guint from = place > LOOK_BACK ? place - LOOK_BACK : 0;
    for (guint i = place; i-- > from;) {
        if (lets_go (chart, draft->list[i], chart->cause[task], chart->cause_at[task]) &&
            search_random (search, ++count) == 0)
            found = draft->list[i];
    }
    return found;
}

/* A random one of those just before it in its job that end when it may begin. */
static guint
who_came_before (Search *search, guint index)
{
    const Flat *flat = search->flat;
    const FlatTask *task = &flat->task[index];
    guint found = G_MAXUINT, count = 0;
    for (guint i = 0; i < task->befores; i++) {
        guint before = flat_befores (flat, task)[i];
        if (end_of (search->chart, before) == search->chart->ready[index] && search_random (search, ++count) == 0)
            found = before;
    }
    return found;
}

static void
walk_back (Search *search, guint task)
{
    g_array_set_size (search->chain, 0);
    for (guint steps = 0; task != G_MAXUINT && steps < LOOK_BACK; steps++) {
        guint before = search->chart->cause[task] == G_MAXUINT ? G_MAXUINT : who_let_go (search, task);
        if (before != G_MAXUINT) {
            Arc arc = { before, task };
            g_array_append_val (search->chain, arc);
        } else {
            before = who_came_before (search, task);
        }
        task = before;
    }
}

static gint64
job_end (const Search *search, guint job, guint *last)
{
    const FlatMode *mode = &search->flat->mode[search->current->mode[job]];
    gint64 end = -1;
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        if (end_of (search->chart, i) > end) {
            end = end_of (search->chart, i);
            *last = i;
        }
    }
    return end;
}

/* The last task of a random late job, or (none is late) of a random one of those that end last. */
static guint
pick_end (Search *search)
{
    const Flat *flat = search->flat;
    const TimetableCost *cost = &search->current->cost;
    gboolean late = cost->lateness > search->bound.lateness && search_random (search, 8) > 0;
    guint found = G_MAXUINT, count = 0;
    for (guint i = 0; i < flat->jobs; i++) {
        guint last = G_MAXUINT;
        if (search->current->mode[i] == G_MAXUINT)
            continue;
        gint64 end = job_end (search, i, &last);
        gboolean counts = late ? flat->job[i].due >= 0 && end > flat->job[i].due : end == cost->finish;
        if (counts && search_random (search, ++count) == 0)
            found = last;
    }
    return found;
}

/* Takes `task`, and what stands before it from place `to` on, to just before that place. FALSE: the task there is one of these. */
static gboolean
move_up (Search *search, guint task, guint to)
{
    const Flat *flat = search->flat;
    guint *list = search->next->list, from = search->chart->place[task], write = from + 1;
    gboolean possible = TRUE;
    g_array_set_size (search->moving, 0);
    search->mark[task] = 1;
    for (guint i = from + 1; i-- > to;) {
        guint one = list[i];
        if (!search->mark[one]) {
            list[--write] = one;
            continue;
        }
        search->mark[one] = 0;
        possible &= i != to;
        g_array_append_val (search->moving, one);
        const guint *before = flat_befores (flat, &flat->task[one]);
        for (guint k = 0; k < flat->task[one].befores; k++) {
            guint place = search->chart->place[before[k]];
            search->mark[before[k]] = place >= to && place < from;
        }
    }
    for (guint i = search->moving->len; i-- > 0;)
        list[to + search->moving->len - 1 - i] = g_array_index (search->moving, guint, i);
    return possible;
}

/* The same downwards: `task` and what stands after it go to just behind place `to`. */
gboolean
search_move_down (Search *search, guint task, guint to)
{
    const Flat *flat = search->flat;
    guint *list = search->next->list, from = search->chart->place[task], write = from;
    gboolean possible = TRUE;
    g_array_set_size (search->moving, 0);
    search->mark[task] = 1;
    for (guint i = from; i <= to; i++) {
        guint one = list[i];
        if (!search->mark[one]) {
            list[write++] = one;
            continue;
        }
        search->mark[one] = 0;
        possible &= i != to;
        g_array_append_val (search->moving, one);
        const guint *next = flat_nexts (flat, &flat->task[one]);
        for (guint k = 0; k < flat->task[one].nexts; k++) {
            guint place = search->chart->place[next[k]];
            search->mark[next[k]] = place > from && place <= to;
        }
    }
    for (guint i = 0; i < search->moving->len; i++)
        list[write + i] = g_array_index (search->moving, guint, i);
    return possible;
}

/* The task whose beginning took what `task` lets go of: itself, or the first of the span that it closes. */
static guint
opener_of (const Search *search, guint index, guint resource)
{
    const Flat *flat = search->flat;
    const FlatMode *mode = &flat->mode[flat->task[index].mode];
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        const FlatUse *use = flat_holds (flat, &flat->task[i]);
        for (guint k = 0; k < flat->task[i].holds; k++, use++) {
            if (use->resource == resource && use->length == FOR_GOOD)
                return i;
        }
    }
    return index;
}

static gboolean
move_on_chain (Search *search)
{
    guint end = pick_end (search);
    if (end == G_MAXUINT)
        return FALSE;
    walk_back (search, end);
    if (search->chain->len == 0)
        return FALSE;
    const Arc *arc = &g_array_index (search->chain, Arc, search_random (search, search->chain->len));
    guint first = arc->first, resource = search->chart->cause[arc->then];
    if (search->flat->task[first].closes > 0 && search_random (search, 2) == 0)
        first = opener_of (search, first, resource);
    if (search_random (search, 2) == 0)
        return move_up (search, arc->then, search->chart->place[first]);
    return search_move_down (search, first, search->chart->place[arc->then]);
}

/* A random task to a random place not far off. */
static gboolean
move_somewhere (Search *search)
{
    const Draft *draft = search->current;
    guint from = search_random (search, draft->count), reach = MIN (draft->count, 30);
    guint to = from + search_random (search, 2 * reach + 1);
    to = to < reach ? 0 : MIN (to - reach, draft->count - 1);
    if (to == from)
        return FALSE;
    return to < from ? move_up (search, draft->list[from], to) : search_move_down (search, draft->list[from], to);
}

/* All tasks of a random job, together, to a random place. */
static gboolean
move_job (Search *search)
{
    const Flat *flat = search->flat;
    const Draft *current = search->current;
    guint job = flat->mode[flat->task[current->list[search_random (search, current->count)]].mode].job;
    guint place = search_random (search, current->count), count = 0;
    for (guint side = 0; side < 3; side++) {
        /* What lies before the place, then the job, then the rest. */
        for (guint i = 0; i < current->count; i++) {
            guint task = current->list[i];
            gboolean own = flat->mode[flat->task[task].mode].job == job;
            if (own ? side == 1 : (i < place ? side == 0 : side == 2))
                search->next->list[count++] = task;
        }
    }
    return TRUE;
}

/* Another mode for a random job; its tasks take the places of the old ones, as nearly as their numbers allow. */
static gboolean
move_mode (Search *search)
{
    const Flat *flat = search->flat;
    Draft *next = search->next;
    guint job = search_random (search, flat->jobs), old = next->mode[job], done = 0, seen = 0, count = 0;
    if (old == G_MAXUINT || flat->job[job].modes < 2)
        return FALSE;
    guint mode = flat->job[job].first + search_random (search, flat->job[job].modes);
    if (mode == old || flat->mode[mode].shortest_end == NEVER)
        return FALSE;
    guint before = flat->mode[old].tasks, after = flat->mode[mode].tasks;
    for (guint i = 0; i < search->current->count; i++) {
        guint task = search->current->list[i];
        if (flat->task[task].mode != old) {
            next->list[count++] = task;
            continue;
        }
        seen++;
        for (; (guint64) done * before < (guint64) seen * after; done++)
            next->list[count++] = flat->order[flat->mode[mode].first + done];
    }
    next->mode[job] = mode;
    next->count = count;
    return TRUE;
}

/* A random job that is left out gets a place again. */
static gboolean
move_in (Search *search)
{
    const Flat *flat = search->flat;
    Draft *next = search->next;
    guint found = G_MAXUINT, count = 0, at = search_random (search, next->count + 1);
    for (guint i = 0; i < flat->jobs; i++) {
        if (next->mode[i] == G_MAXUINT && !search->never[i] && search_random (search, ++count) == 0)
            found = i;
    }
    if (found == G_MAXUINT)
        return FALSE;
    guint mode = flat->job[found].first + search_random (search, flat->job[found].modes);
    if (flat->mode[mode].shortest_end == NEVER)
        return FALSE;
    memmove (next->list + at + flat->mode[mode].tasks, next->list + at, (next->count - at) * sizeof *next->list);
    memcpy (next->list + at, flat->order + flat->mode[mode].first, flat->mode[mode].tasks * sizeof *next->list);
    next->mode[found] = mode;
    next->count += flat->mode[mode].tasks;
    next->left_out--;
    return TRUE;
}

/* A random job, or one task of it, may begin before it was published, or may not any more. */
static gboolean
move_keep (Search *search)
{
    const Draft *draft = search->current;
    guint task = draft->list[search_random (search, draft->count)];
    const FlatMode *mode = &search->flat->mode[search->flat->task[task].mode];
    if (search_random (search, 2) == 0)
        search->next->keep[task] = !search->next->keep[task];
    else
        memset (search->next->keep + mode->first, !search->next->keep[task], mode->tasks);
    return TRUE;
}

/* A random task that is not where it was published, or all of its job, goes back there before what is there now. */
static gboolean
move_home (Search *search)
{
    const Draft *draft = search->current;
    guint found = G_MAXUINT, count = 0;
    for (guint i = 0; i < draft->count; i++) {
        const FlatTask *task = &search->flat->task[draft->list[i]];
        if (task->published >= 0 && task->fixed < 0 && search->chart->start[draft->list[i]] != task->published &&
            search_random (search, ++count) == 0)
            found = draft->list[i];
    }
    return found != G_MAXUINT && search_home (search, found, search_random (search, 2) == 0);
}

gboolean
search_move (Search *search)
{
    guint dice = search_random (search, 100);
    draft_copy (search->next, search->current, search->flat);
    if (search->current->count == 0) /* all wait for each other */
        return move_in (search);
    if (search->flat->published && search_random (search, 6) == 0)
        return search_random (search, 2) == 0 ? move_home (search) : move_keep (search);
    if (search->current->left_out > search->never_count && search_random (search, 4) == 0)
        return move_in (search);
    if (search->current->count == 0)
        return FALSE; /* every job is left out */
    if (dice < 5 && search->flat->jobs > 1)
        return move_job (search);
    if (dice < 15)
        return move_somewhere (search);
    if (dice < 35 && search->flat->choices)
        return move_mode (search);
    /* In one big job many tasks hold a resource at once: turning two of them round seldom helps. */
    if (dice < 80 && search->flat->jobs == 1)
        return move_somewhere (search);
    return move_on_chain (search);
}
