/* SPDX-License-Identifier: MIT */
/* The model of a timetable: made, freed, compared. */
#include "batch/timetable.h"

static void
clear_task (gpointer data)
{
    Task *task = data;
    g_clear_pointer (&task->after, g_array_unref);
}

static void
mode_free (gpointer data)
{
    Mode *mode = data;
    g_array_unref (mode->tasks);
    g_array_unref (mode->spans);
    g_array_unref (mode->gains);
    g_free (mode);
}

static void
job_free (gpointer data)
{
    Job *job = data;
    g_ptr_array_unref (job->modes);
    g_free (job);
}

static void
resource_free (gpointer data)
{
    Resource *resource = data;
    g_free (resource->name);
    g_free (resource);
}

Timetable *
timetable_new (void)
{
    Timetable *timetable = g_new0 (Timetable, 1);
    timetable->jobs = g_ptr_array_new_with_free_func (job_free);
    timetable->resources = g_ptr_array_new_with_free_func (resource_free);
    timetable->hands = -1;
    timetable->calendar.shifts = g_array_new (FALSE, FALSE, sizeof (Window));
    timetable->calendar.breaks = g_array_new (FALSE, FALSE, sizeof (Window));
    return timetable;
}

void
timetable_free (Timetable *timetable)
{
    if (timetable == NULL)
        return;
    g_ptr_array_unref (timetable->jobs);
    g_ptr_array_unref (timetable->resources);
    g_array_unref (timetable->calendar.shifts);
    g_array_unref (timetable->calendar.breaks);
    g_free (timetable);
}

guint
timetable_add_resource (Timetable *timetable, const char *name, guint capacity)
{
    Resource *resource = g_new0 (Resource, 1);
    resource->name = g_strdup (name);
    resource->capacity = capacity;
    g_ptr_array_add (timetable->resources, resource);
    return timetable->resources->len - 1;
}

Job *
timetable_add_job (Timetable *timetable)
{
    Job *job = g_new0 (Job, 1);
    job->modes = g_ptr_array_new_with_free_func (mode_free);
    job->due = -1;
    job->weight = 1;
    g_ptr_array_add (timetable->jobs, job);
    return job;
}

Mode *
timetable_add_mode (Job *job)
{
    Mode *mode = g_new0 (Mode, 1);
    mode->tasks = g_array_new (FALSE, FALSE, sizeof (Task));
    g_array_set_clear_func (mode->tasks, clear_task);
    mode->spans = g_array_new (FALSE, FALSE, sizeof (Span));
    mode->gains = g_array_new (FALSE, FALSE, sizeof (Gain));
    g_ptr_array_add (job->modes, mode);
    return mode;
}

guint
timetable_add_task (Mode *mode, gint64 duration, gint64 attended)
{
    Task task = { duration, attended, NULL, 0, -1, -1 };
    g_array_append_val (mode->tasks, task);
    return mode->tasks->len - 1;
}

void
timetable_add_after (Mode *mode, guint task, guint after)
{
    g_return_if_fail (task < mode->tasks->len);
    Task *one = &g_array_index (mode->tasks, Task, task);
    if (one->after == NULL)
        one->after = g_array_new (FALSE, FALSE, sizeof (guint));
    g_array_append_val (one->after, after);
}

Span *
timetable_add_span (Mode *mode, guint resource, guint amount, guint first, guint last)
{
    Span span = { resource, amount, first, last, 0, 0 };
    g_array_append_val (mode->spans, span);
    return &g_array_index (mode->spans, Span, mode->spans->len - 1);
}

Gain *
timetable_add_gain (Mode *mode, guint resource, guint amount, guint task)
{
    Gain gain = { resource, amount, task, 0 };
    g_array_append_val (mode->gains, gain);
    return &g_array_index (mode->gains, Gain, mode->gains->len - 1);
}

int
timetable_cost_compare (const TimetableCost *left, const TimetableCost *right)
{
    if (left->lateness != right->lateness)
        return left->lateness < right->lateness ? -1 : 1;
    if (left->finish != right->finish)
        return left->finish < right->finish ? -1 : 1;
    if (left->moved != right->moved)
        return left->moved < right->moved ? -1 : 1;
    if (left->insertions != right->insertions)
        return left->insertions < right->insertions ? -1 : 1;
    if (left->attended != right->attended)
        return left->attended < right->attended ? -1 : 1;
    return 0;
}

void
schedule_free (Schedule *schedule)
{
    if (schedule == NULL)
        return;
    for (guint i = 0; i < schedule->jobs; i++)
        g_free (schedule->start[i]);
    g_free (schedule->start);
    g_free (schedule->mode);
    g_free (schedule);
}
