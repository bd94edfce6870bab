/* SPDX-License-Identifier: MIT */
#include "batch/build.h"

#include <string.h>

enum { MOST_PENDING = 200 }; /* more wait at once only in hopeless orders, and each is asked again and again */

Draft *
draft_new (const Flat *flat)
{
    Draft *draft = g_new0 (Draft, 1);
    guint tasks = 0;
    for (guint i = 0; i < flat->jobs; i++) {
        guint most = 0;
        for (guint m = 0; m < flat->job[i].modes; m++)
            most = MAX (most, flat->mode[flat->job[i].first + m].tasks);
        tasks += most;
    }
    draft->mode = g_new (guint, flat->jobs + 1);
    draft->keep = g_new0 (guint8, flat->tasks + 1);
    draft->list = g_new (guint, tasks + 1);
    for (guint i = 0; i < flat->jobs; i++)
        draft->mode[i] = G_MAXUINT;
    return draft;
}

void
draft_free (Draft *draft)
{
    if (draft == NULL)
        return;
    g_free (draft->mode);
    g_free (draft->keep);
    g_free (draft->list);
    g_free (draft);
}

void
draft_copy (Draft *to, const Draft *from, const Flat *flat)
{
    memcpy (to->mode, from->mode, flat->jobs * sizeof *from->mode);
    memcpy (to->list, from->list, from->count * sizeof *from->list);
    to->count = from->count;
    if (flat->published)
        memcpy (to->keep, from->keep, flat->tasks);
    to->left_out = from->left_out;
    to->cost = from->cost;
    to->sought = from->sought;
}

int
draft_compare (const Draft *left, const Draft *right)
{
    if (left->left_out != right->left_out)
        return left->left_out < right->left_out ? -1 : 1;
    int sought = timetable_cost_compare (&left->sought, &right->sought);
    return sought != 0 ? sought : timetable_cost_compare (&left->cost, &right->cost);
}

guint64
draft_moved (const Flat *flat, const FlatJob *job, guint used, const gint64 *start)
{
    guint64 moved = 0;
    for (guint m = job->first; m < job->first + job->modes; m++) {
        const FlatMode *mode = &flat->mode[m];
        for (guint i = mode->first; i < mode->first + mode->tasks; i++)
            moved += flat->task[i].published >= 0 && (m != used || start[i] != flat->task[i].published);
    }
    return moved;
}

static void
fill_cost (Draft *draft, const Chart *chart)
{
    const Flat *flat = chart->flat;
    TimetableCost cost = { .lateness = chart->lateness, .finish = chart->finish };
    for (guint i = 0; i < flat->jobs; i++) {
        const FlatJob *job = &flat->job[i];
        if (flat->published)
            cost.moved += draft_moved (flat, job, draft->mode[i], chart->start);
        if (draft->mode[i] == G_MAXUINT)
            continue;
        const FlatMode *mode = &flat->mode[draft->mode[i]];
        cost.insertions += mode->insertions;
        cost.attended += mode->attended;
    }
    draft->cost = draft->sought = cost;
    draft->sought.lateness = MAX (cost.lateness, flat->goal_lateness);
    draft->sought.finish = MAX (cost.finish, flat->goal_finish) + (gint64) cost.moved * MOVED_AS_LATE;
}

static gboolean
try_task (Chart *chart, guint task)
{
    if (chart->waits[task] > 0)
        return FALSE;
    gint64 start = chart_earliest (chart, task);
    if (start == NEVER || start < chart->ready[task])
        return FALSE;
    chart_place (chart, task, start);
    return TRUE;
}

/* Asks those again that found no time, in their order, until none finds one. */
static void
try_pending (Chart *chart)
{
    GArray *pending = chart->pending;
    gboolean again = pending->len > 0;
    while (again) {
        guint kept = 0;
        again = FALSE;
        for (guint i = 0; i < pending->len; i++) {
            guint task = g_array_index (pending, guint, i);
            if (try_task (chart, task))
                again = TRUE;
            else
                g_array_index (pending, guint, kept++) = task;
        }
        g_array_set_size (pending, kept);
        again &= kept > 0;
    }
}

/* Tasks that have begun come first, whatever the list says. */
static void
place_begun (const Draft *draft, Chart *chart)
{
    const Flat *flat = chart->flat;
    for (guint i = 0; i < flat->jobs; i++) {
        const FlatMode *mode = draft->mode[i] == G_MAXUINT ? NULL : &flat->mode[draft->mode[i]];
        if (mode != NULL && flat->task[flat->order[mode->first]].fixed >= 0)
            chart_place_begun (chart, draft->mode[i]);
    }
}

static gboolean
is_past (const Chart *chart, const TimetableCost *limit)
{
    gint64 finish = MAX (chart->finish, chart->flat->goal_finish) + chart->moved * MOVED_AS_LATE;
    return chart->lateness > limit->lateness || (chart->lateness == limit->lateness && finish > limit->finish);
}

gboolean
draft_build (Draft *draft, Chart *chart, const TimetableCost *limit)
{
    const Flat *flat = chart->flat;
    chart_reset (chart, draft);
    place_begun (draft, chart);
    for (guint i = 0; i < draft->count; i++) {
        guint task = draft->list[i];
        chart->place[task] = i;
        if (chart->start[task] >= 0)
            continue;
        if (!try_task (chart, task)) {
            g_array_append_val (chart->pending, task);
            if (chart->pending->len > MOST_PENDING)
                return FALSE;
        } else if (limit != NULL && is_past (chart, limit)) {
            return FALSE;
        } else if (chart->pending->len > 0 && (flat->task[task].closes > 0 || flat->task[task].gains > 0)) {
            try_pending (chart);
        }
    }
    try_pending (chart);
    if (chart->pending->len > 0)
        return FALSE;
    fill_cost (draft, chart);
    return TRUE;
}

/* By beginning; equal ones by where they were: a task is never before one that it is after. */
static int
compare_starts (gconstpointer a, gconstpointer b, gpointer data)
{
    const Chart *chart = data;
    guint left = *(const guint *) a, right = *(const guint *) b;
    if (chart->start[left] != chart->start[right])
        return chart->start[left] < chart->start[right] ? -1 : 1;
    return (chart->place[left] > chart->place[right]) - (chart->place[left] < chart->place[right]);
}

void
draft_sort (Draft *draft, Chart *chart)
{
    g_qsort_with_data (draft->list, (gint) draft->count, sizeof (guint), compare_starts, chart);
    for (guint i = 0; i < draft->count; i++)
        chart->place[draft->list[i]] = i;
}
