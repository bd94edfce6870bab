/* SPDX-License-Identifier: MIT */
/* What makes no sense in a timetable, before anything is solved. */
#include "batch/timetable.h"

static char *
windows_nonsense (const GArray *windows, const char *what)
{
    for (guint i = 0; i < windows->len; i++) {
        const Window *window = &g_array_index (windows, Window, i);
        if (window->from < 0 || window->to <= window->from)
            return g_strdup_printf ("%s %u ends before it has begun", what, i + 1);
        if (i > 0 && window[-1].to >= window->from)
            return g_strdup_printf ("%s %u begins before the one before it is over", what, i + 1);
    }
    return NULL;
}

static char *
task_nonsense (const Mode *mode, guint index)
{
    const Task *task = &g_array_index (mode->tasks, Task, index);
    if (task->duration < 0 || task->attended < 0 || task->attended > task->duration)
        return g_strdup_printf ("task %u is attended for longer than it takes, or for less than nothing", index + 1);
    if (task->not_before < 0 || task->fixed < -1 || task->published < -1)
        return g_strdup_printf ("task %u has a time before the start of the batch", index + 1);
    for (guint i = 0; task->after != NULL && i < task->after->len; i++) {
        guint after = g_array_index (task->after, guint, i);
        if (after >= mode->tasks->len)
            return g_strdup_printf ("task %u is after a task that does not exist", index + 1);
        if (task->fixed >= 0 && g_array_index (mode->tasks, Task, after).fixed < 0)
            return g_strdup_printf ("task %u has begun, task %u before it has not", index + 1, after + 1);
    }
    return NULL;
}

/* Marks what comes before `index`; FALSE: it comes before itself. seen: 0 not yet, 1 on the way here, 2 done. */
static gboolean
walk_before (const Mode *mode, guint index, guint8 *seen)
{
    const GArray *after = g_array_index (mode->tasks, Task, index).after;
    if (seen[index] != 0)
        return seen[index] == 2;
    seen[index] = 1;
    for (guint i = 0; after != NULL && i < after->len; i++) {
        if (!walk_before (mode, g_array_index (after, guint, i), seen))
            return FALSE;
    }
    seen[index] = 2;
    return TRUE;
}

static char *
order_nonsense (const Mode *mode)
{
    g_autofree guint8 *seen = g_new0 (guint8, mode->tasks->len + 1);
    for (guint i = 0; i < mode->tasks->len; i++) {
        if (!walk_before (mode, i, seen))
            return g_strdup_printf ("task %u comes before itself", i + 1);
    }
    return NULL;
}

/* Part of a task: nothing, or less than all of it. */
static gboolean
is_within (gint64 part, const Mode *mode, guint task)
{
    return part == 0 || (part > 0 && part < g_array_index (mode->tasks, Task, task).duration);
}

static char *
span_nonsense (const Timetable *timetable, const Mode *mode, const Span *span)
{
    if (span->resource >= timetable->resources->len || span->first >= mode->tasks->len ||
        span->last >= mode->tasks->len)
        return g_strdup ("a span names a resource or a task that does not exist");
    if (!is_within (span->lead, mode, span->first) || !is_within (span->tail, mode, span->last))
        return g_strdup_printf ("a span begins not within task %u, or does not end within task %u", span->first + 1,
                                span->last + 1);
    if (span->first == span->last && !is_within (span->lead + span->tail, mode, span->first))
        return g_strdup_printf ("a span ends in task %u no later than it begins", span->first + 1);
    if (span->first == span->last)
        return NULL;
    g_autofree guint8 *seen = g_new0 (guint8, mode->tasks->len);
    walk_before (mode, span->last, seen);
    if (seen[span->first] == 0)
        return g_strdup_printf ("a span ends with task %u, which does not come after task %u", span->last + 1,
                                span->first + 1);
    return NULL;
}

static char *
mode_nonsense (const Timetable *timetable, const Mode *mode)
{
    char *wrong = NULL;
    if (mode->tasks->len == 0)
        return g_strdup ("there is no task in it");
    for (guint i = 0; i < mode->tasks->len && wrong == NULL; i++)
        wrong = task_nonsense (mode, i);
    if (wrong == NULL)
        wrong = order_nonsense (mode);
    for (guint i = 0; i < mode->spans->len && wrong == NULL; i++)
        wrong = span_nonsense (timetable, mode, &g_array_index (mode->spans, Span, i));
    for (guint i = 0; i < mode->gains->len && wrong == NULL; i++) {
        const Gain *gain = &g_array_index (mode->gains, Gain, i);
        if (gain->resource >= timetable->resources->len || gain->task >= mode->tasks->len)
            wrong = g_strdup ("a gain names a resource or a task that does not exist");
        else if (!is_within (gain->early, mode, gain->task))
            wrong = g_strdup_printf ("a gain comes not within task %u", gain->task + 1);
    }
    return wrong;
}

static gboolean
has_begun (const Mode *mode)
{
    for (guint i = 0; i < mode->tasks->len; i++) {
        if (g_array_index (mode->tasks, Task, i).fixed >= 0)
            return TRUE;
    }
    return FALSE;
}

static char *
job_nonsense (const Timetable *timetable, guint index)
{
    const Job *job = g_ptr_array_index (timetable->jobs, index);
    if (job->modes->len == 0)
        return g_strdup_printf ("job %u: there is no way of doing it", index + 1);
    if (job->due < -1 || job->weight == 0)
        return g_strdup_printf ("job %u: it is due before the start of the batch, or weighs nothing", index + 1);
    for (guint i = 0; i < job->modes->len; i++) {
        g_autofree char *wrong = mode_nonsense (timetable, g_ptr_array_index (job->modes, i));
        if (wrong != NULL)
            return g_strdup_printf ("job %u, way %u: %s", index + 1, i + 1, wrong);
        if (job->modes->len > 1 && has_begun (g_ptr_array_index (job->modes, i)))
            return g_strdup_printf ("job %u: it has begun, and still there is more than one way of doing it",
                                    index + 1);
    }
    return NULL;
}

char *
timetable_nonsense (const Timetable *timetable)
{
    char *wrong = windows_nonsense (timetable->calendar.shifts, "shift");
    if (wrong == NULL)
        wrong = windows_nonsense (timetable->calendar.breaks, "break");
    if (wrong == NULL && timetable->hands >= (int) timetable->resources->len)
        wrong = g_strdup ("the hands are a resource that does not exist");
    for (guint i = 0; i < timetable->jobs->len && wrong == NULL; i++)
        wrong = job_nonsense (timetable, i);
    return wrong;
}
