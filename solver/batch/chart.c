/* SPDX-License-Identifier: MIT */
#include "batch/build.h"

#include <string.h>

Chart *
chart_new (const Flat *flat)
{
    Chart *chart = g_new0 (Chart, 1);
    chart->flat = flat;
    chart->profile = g_new0 (Profile, flat->resources + 1);
    chart->start = g_new (gint64, flat->tasks + 1);
    chart->ready = g_new (gint64, flat->tasks + 1);
    chart->waits = g_new (guint, flat->tasks + 1);
    chart->cause = g_new (guint, flat->tasks + 1);
    chart->cause_at = g_new (gint64, flat->tasks + 1);
    chart->place = g_new0 (guint, flat->tasks + 1);
    chart->job_end = g_new0 (gint64, flat->jobs + 1);
    chart->pending = g_array_new (FALSE, FALSE, sizeof (guint));
    for (guint i = 0; i < flat->tasks; i++)
        chart->start[i] = -1;
    return chart;
}

void
chart_free (Chart *chart)
{
    if (chart == NULL)
        return;
    for (guint r = 0; r < chart->flat->resources; r++)
        profile_clear (&chart->profile[r]);
    g_free (chart->profile);
    g_free (chart->start);
    g_free (chart->ready);
    g_free (chart->waits);
    g_free (chart->cause);
    g_free (chart->cause_at);
    g_free (chart->place);
    g_free (chart->job_end);
    g_array_unref (chart->pending);
    g_free (chart);
}

void
chart_open_mode (Chart *chart, guint index)
{
    const FlatMode *mode = &chart->flat->mode[index];
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        chart->start[i] = -1;
        chart->ready[i] = 0;
        chart->cause[i] = G_MAXUINT; /* what has begun is never asked for its earliest beginning */
        chart->waits[i] = chart->flat->task[i].befores;
    }
}

void
chart_reset (Chart *chart, const Draft *draft)
{
    const Flat *flat = chart->flat;
    for (guint r = 0; r < flat->resources; r++)
        profile_reset (&chart->profile[r], flat->capacity[r]);
    for (guint i = 0; i < flat->jobs; i++) {
        if (draft->mode[i] != G_MAXUINT)
            chart_open_mode (chart, draft->mode[i]);
    }
    memset (chart->job_end, 0, flat->jobs * sizeof *chart->job_end);
    chart->lateness = chart->finish = chart->moved = 0;
    g_array_set_size (chart->pending, 0);
    chart->keep = draft->keep;
}

/* The earliest time from `begin` on that suits one resource after another, once round. */
static gint64
after_resources (Chart *chart, guint index, gint64 begin)
{
    const FlatTask *task = &chart->flat->task[index];
    const FlatUse *need = flat_needs (chart->flat, task);
    for (guint i = 0; i < task->needs; i++, need++) {
        gint64 from = begin + need->lead;
        gint64 then = profile_earliest (&chart->profile[need->resource], from, need->length, need->amount);
        if (then == NEVER)
            return NEVER;
        if (then > from) {
            chart->cause[index] = need->resource;
            chart->cause_at[index] = then;
            begin = then - need->lead;
        }
    }
    return begin;
}

gint64
chart_earliest (Chart *chart, guint index)
{
    const FlatTask *task = &chart->flat->task[index];
    chart->cause[index] = G_MAXUINT;
    if (task->fixed >= 0)
        return task->fixed;
    gint64 begin = MAX (chart->ready[index], task->not_before);
    if (task->published >= 0 && chart->keep != NULL && chart->keep[index])
        begin = MAX (begin, task->published);
    for (;;) {
        gint64 open = calendar_earliest (chart->flat->calendar, begin, task->duration, task->attended);
        if (open == NEVER)
            return NEVER;
        gint64 then = after_resources (chart, index, open);
        if (then == NEVER || then == open)
            return then;
        begin = then;
    }
}

/* Takes what the task holds and gives, or (sign -1) puts all of it back as it was. */
static void
apply_uses (Chart *chart, const FlatTask *task, gint64 start, gint64 sign)
{
    const FlatUse *use = flat_holds (chart->flat, task);
    for (guint i = 0; i < task->holds; i++, use++) {
        gint64 from = start + use->lead;
        profile_add (&chart->profile[use->resource], from, use->length == FOR_GOOD ? NEVER : from + use->length,
                     -sign * use->amount);
    }
    /* What closes and what is gained lie one after the other. */
    for (guint i = 0; i < (guint) task->closes + task->gains; i++, use++)
        profile_add (&chart->profile[use->resource], start + use->lead, NEVER, sign * use->amount);
}

/* The job of the task ends no earlier than what comes after the task takes. */
static void
note_end (Chart *chart, const FlatTask *task, gint64 start)
{
    guint job = chart->flat->mode[task->mode].job;
    const FlatJob *one = &chart->flat->job[job];
    gint64 end = start + task->duration + task->tail, before = chart->job_end[job];
    if (end <= before)
        return;
    chart->job_end[job] = end;
    chart->finish = MAX (chart->finish, end);
    if (one->due >= 0 && end > one->due)
        chart->lateness += (end - MAX (before, one->due)) * one->weight;
}

void
chart_place (Chart *chart, guint index, gint64 start)
{
    const FlatTask *task = &chart->flat->task[index];
    const guint *next = flat_nexts (chart->flat, task);
    chart->start[index] = start;
    chart->moved += task->published >= 0 && start != task->published;
    note_end (chart, task, start);
    apply_uses (chart, task, start, 1);
    for (guint i = 0; i < task->nexts; i++) {
        chart->waits[next[i]]--;
        chart->ready[next[i]] = MAX (chart->ready[next[i]], start + task->duration);
    }
}

void
chart_unplace (Chart *chart, guint index)
{
    const Flat *flat = chart->flat;
    const FlatTask *task = &flat->task[index];
    const guint *next = flat_nexts (flat, task);
    apply_uses (chart, task, chart->start[index], -1);
    chart->start[index] = -1;
    for (guint i = 0; i < task->nexts; i++) {
        const FlatTask *other = &flat->task[next[i]];
        gint64 ready = 0;
        for (guint k = 0; k < other->befores; k++) {
            guint before = flat_befores (flat, other)[k];
            if (chart->start[before] >= 0)
                ready = MAX (ready, chart->start[before] + flat->task[before].duration);
        }
        chart->waits[next[i]]++;
        chart->ready[next[i]] = ready;
    }
}

gboolean
chart_overdrawn (const Chart *chart, guint *resource, gint64 *at)
{
    for (*resource = 0; *resource < chart->flat->resources; (*resource)++) {
        if (profile_overdrawn (&chart->profile[*resource], at))
            return TRUE;
    }
    return FALSE;
}

void
chart_unplace_begun (Chart *chart, guint index)
{
    const Flat *flat = chart->flat;
    const FlatMode *mode = &flat->mode[index];
    for (guint i = mode->tasks; i-- > 0;) {
        guint task = flat->order[mode->first + i];
        if (flat->task[task].fixed >= 0 && chart->start[task] >= 0)
            chart_unplace (chart, task);
    }
}

gboolean
chart_place_begun (Chart *chart, guint index)
{
    const Flat *flat = chart->flat;
    const FlatMode *mode = &flat->mode[index];
    for (guint i = 0; i < mode->tasks; i++) {
        guint task = flat->order[mode->first + i];
        if (flat->task[task].fixed < 0)
            continue;
        if (flat->task[task].fixed < chart->ready[task]) {
            chart_unplace_begun (chart, index);
            return FALSE;
        }
        chart_place (chart, task, flat->task[task].fixed);
    }
    return TRUE;
}
