/* SPDX-License-Identifier: MIT */
/* What can be said of each task alone: how early, how much after it, and whether it can be done at all. */
#include "batch/flat_parts.h"

static gint64
head_of (const Flat *flat, const FlatTask *task)
{
    gint64 head = task->not_before;
    if (task->fixed >= 0)
        return task->fixed;
    for (guint i = 0; i < task->befores; i++) {
        const FlatTask *before = &flat->task[flat_befores (flat, task)[i]];
        if (before->head == NEVER)
            return NEVER;
        head = MAX (head, before->head + before->duration);
    }
    return calendar_earliest (flat->calendar, head, task->duration, task->attended);
}

static gint64
tail_of (const Flat *flat, const FlatTask *task)
{
    gint64 tail = 0;
    for (guint i = 0; i < task->nexts; i++) {
        const FlatTask *next = &flat->task[flat_nexts (flat, task)[i]];
        tail = MAX (tail, next->duration + next->tail);
    }
    return tail;
}

void
flat_fill_times (Flat *flat)
{
    for (guint m = 0; m < flat->modes; m++) {
        FlatMode *mode = &flat->mode[m];
        const guint *order = flat->order + mode->first;
        for (guint i = 0; i < mode->tasks; i++) {
            FlatTask *task = &flat->task[order[i]];
            task->head = head_of (flat, task);
            gint64 end = task->head == NEVER ? NEVER : task->head + task->duration;
            mode->shortest_end = MAX (mode->shortest_end, end);
        }
        for (guint i = mode->tasks; i-- > 0;)
            flat->task[order[i]].tail = tail_of (flat, &flat->task[order[i]]);
    }
}

/* Marks `from` and all that stands before it (or, turned round, after it). */
static void
mark (const Flat *flat, guint from, guint first, gboolean before, guint8 bit, guint8 *marks)
{
    const FlatTask *task = &flat->task[from];
    if ((marks[from - first] & bit) != 0)
        return;
    marks[from - first] |= bit;
    guint count = before ? task->befores : task->nexts;
    const guint *links = before ? flat_befores (flat, task) : flat_nexts (flat, task);
    for (guint i = 0; i < count; i++)
        mark (flat, links[i], first, before, bit, marks);
}

static gboolean
is_held (const Span *span, guint task, gint64 duration, gint64 offset)
{
    return (task != span->first || offset >= span->lead) && (task != span->last || offset < duration - span->tail);
}

/* Adds what a span surely holds so long after the beginning of each task, those that take longer. held: per task, per resource. */
static void
add_span (const Flat *flat, const FlatMode *mode, const Span *span, gint64 offset, gint64 *held)
{
    g_autofree guint8 *marks = g_new0 (guint8, mode->tasks);
    mark (flat, mode->first + span->first, mode->first, FALSE, 1, marks);
    mark (flat, mode->first + span->last, mode->first, TRUE, 2, marks);
    for (guint k = 0; k < mode->tasks; k++) {
        gint64 duration = flat->task[mode->first + k].duration;
        if (marks[k] == 3 && duration > offset && is_held (span, k, duration, offset))
            held[k * flat->resources + span->resource] += span->amount;
    }
}

/* Raises the peak to what the job holds so long after the beginning of each of its tasks. */
static void
raise_peak (const Flat *flat, const FlatMode *flat_mode, const Mode *mode, gint64 offset, gint64 *peak)
{
    g_autofree gint64 *held = g_new0 (gint64, (gsize) flat_mode->tasks * flat->resources + 1);
    for (guint i = 0; i < mode->spans->len; i++)
        add_span (flat, flat_mode, &g_array_index (mode->spans, Span, i), offset, held);
    for (guint k = 0; k < flat_mode->tasks; k++) {
        if (flat->hands >= 0 && flat->task[flat_mode->first + k].attended > offset)
            held[k * flat->resources + (guint) flat->hands]++;
        for (guint r = 0; r < flat->resources; r++)
            peak[r] = MAX (peak[r], held[k * flat->resources + r]);
    }
}

/* The most of each resource that one task of the mode finds its own job holding: it grows only where the task, or a span, begins.
 * peak: per resource. */
static void
fill_peak (const Flat *flat, const Timetable *timetable, guint index, gint64 *peak)
{
    const FlatMode *flat_mode = &flat->mode[index];
    const Job *job = g_ptr_array_index (timetable->jobs, flat_mode->job);
    const Mode *mode = g_ptr_array_index (job->modes, index - flat->job[flat_mode->job].first);
    raise_peak (flat, flat_mode, mode, 0, peak);
    for (guint i = 0; i < mode->spans->len; i++) {
        if (g_array_index (mode->spans, Span, i).lead > 0)
            raise_peak (flat, flat_mode, mode, g_array_index (mode->spans, Span, i).lead, peak);
    }
}

static void
add_best_gains (Flat *flat, const FlatJob *job)
{
    g_autofree gint64 *best = g_new0 (gint64, flat->resources + 1), *sum = g_new (gint64, flat->resources + 1);
    for (guint m = job->first; m < job->first + job->modes; m++) {
        const FlatMode *mode = &flat->mode[m];
        if (!mode->gains || mode->shortest_end == NEVER)
            continue;
        for (guint r = 0; r < flat->resources; r++)
            sum[r] = 0;
        for (guint k = 0; k < mode->tasks; k++) {
            const FlatTask *task = &flat->task[mode->first + k];
            for (guint i = 0; i < task->gains; i++)
                sum[flat_gains (flat, task)[i].resource] += flat_gains (flat, task)[i].amount;
        }
        for (guint r = 0; r < flat->resources; r++)
            best[r] = MAX (best[r], sum[r]);
    }
    for (guint r = 0; r < flat->resources; r++)
        flat->most[r] += best[r];
}

static void
fill_most (Flat *flat)
{
    for (guint r = 0; r < flat->resources; r++)
        flat->most[r] = flat->capacity[r];
    for (guint i = 0; i < flat->jobs && flat->gains; i++)
        add_best_gains (flat, &flat->job[i]);
}

/* Drops modes that need more than there ever is. TRUE: one more was dropped, so that there may be less still. */
static gboolean
drop_modes (Flat *flat, const gint64 *peaks)
{
    gboolean dropped = FALSE;
    for (guint m = 0; m < flat->modes; m++) {
        FlatMode *mode = &flat->mode[m];
        for (guint r = 0; r < flat->resources && mode->shortest_end != NEVER; r++) {
            gint64 peak = peaks[(gsize) m * flat->resources + r];
            mode->needs_gains |= peak > flat->capacity[r];
            if (peak > flat->most[r]) {
                mode->shortest_end = NEVER;
                dropped = TRUE;
            }
        }
    }
    return dropped;
}

void
flat_fill_possible (Flat *flat, const Timetable *timetable)
{
    g_autofree gint64 *peaks = g_new0 (gint64, (gsize) flat->modes * flat->resources + 1);
    for (guint m = 0; m < flat->modes; m++)
        fill_peak (flat, timetable, m, peaks + (gsize) m * flat->resources);
    do {
        fill_most (flat);
    } while (drop_modes (flat, peaks) && flat->gains);
    for (guint m = 0; m < flat->modes; m++)
        flat->job[flat->mode[m].job].possible |= flat->mode[m].shortest_end != NEVER;
}

/* When a mode was to be over; -1: it was not published. */
static gint64
published_end (const Flat *flat, const FlatMode *mode)
{
    gint64 end = -1;
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        const FlatTask *task = &flat->task[i];
        if (task->published >= 0)
            end = MAX (end, task->published + task->duration + task->tail);
    }
    return end;
}

void
flat_fill_goal (Flat *flat)
{
    flat->all_published = flat->published;
    for (guint i = 0; i < flat->jobs && flat->published; i++) {
        const FlatJob *job = &flat->job[i];
        gint64 end = -1;
        for (guint m = job->first; m < job->first + job->modes; m++)
            end = MAX (end, published_end (flat, &flat->mode[m]));
        flat->goal_finish = MAX (flat->goal_finish, end);
        flat->all_published &= end >= 0;
        if (job->due >= 0 && end > job->due)
            flat->goal_lateness += (end - job->due) * job->weight;
    }
}

void
flat_forget_published (Flat *flat)
{
    for (guint i = 0; i < flat->tasks; i++)
        flat->task[i].published = -1;
    flat->published = flat->all_published = FALSE;
    flat->goal_lateness = flat->goal_finish = 0;
}
