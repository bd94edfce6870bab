/* SPDX-License-Identifier: MIT */
/* Laying a timetable out flat. */
#include "batch/flat.h"

#include "batch/flat_parts.h"

static void
add_links (Flat *flat, const Mode *mode, guint first)
{
    for (guint k = 0; k < mode->tasks->len; k++) {
        const GArray *after = g_array_index (mode->tasks, Task, k).after;
        flat->task[first + k].before_at = flat->links->len;
        for (guint i = 0; after != NULL && i < after->len; i++) {
            guint before = first + g_array_index (after, guint, i);
            g_array_append_val (flat->links, before);
            flat->task[first + k].befores++;
            flat->task[before].nexts++;
        }
    }
    for (guint k = 0; k < mode->tasks->len; k++) {
        FlatTask *task = &flat->task[first + k];
        task->next_at = flat->links->len;
        g_array_set_size (flat->links, flat->links->len + task->nexts);
        task->nexts = 0;
    }
    for (guint k = 0; k < mode->tasks->len; k++) {
        const FlatTask *task = &flat->task[first + k];
        for (guint i = 0; i < task->befores; i++) {
            FlatTask *before = &flat->task[flat_befores (flat, task)[i]];
            g_array_index (flat->links, guint, before->next_at + before->nexts++) = first + k;
        }
    }
}

/* Each task once all that stand before it are in. */
static void
fill_order (Flat *flat, const FlatMode *mode)
{
    guint *order = flat->order + mode->first, count = 0;
    g_autofree guint *waits = g_new (guint, mode->tasks);
    for (guint k = 0; k < mode->tasks; k++) {
        waits[k] = flat->task[mode->first + k].befores;
        if (waits[k] == 0)
            order[count++] = mode->first + k;
    }
    for (guint i = 0; i < count; i++) {
        const FlatTask *task = &flat->task[order[i]];
        for (guint k = 0; k < task->nexts; k++) {
            guint next = flat_nexts (flat, task)[k];
            if (--waits[next - mode->first] == 0)
                order[count++] = next;
        }
    }
    g_assert (count == mode->tasks);
}

static void
add_mode (Flat *flat, const Timetable *timetable, const Mode *mode, guint job)
{
    FlatMode *flat_mode = &flat->mode[flat->modes];
    *flat_mode =
        (FlatMode){ .job = job, .first = flat->tasks, .tasks = mode->tasks->len, .insertions = mode->insertions };
    for (guint k = 0; k < mode->tasks->len; k++) {
        const Task *task = &g_array_index (mode->tasks, Task, k);
        FlatTask *flat_task = &flat->task[flat->tasks++];
        *flat_task = (FlatTask){ .duration = task->duration,
                                 .attended = task->attended,
                                 .not_before = task->not_before,
                                 .fixed = task->fixed,
                                 .published = task->published,
                                 .mode = flat->modes };
        flat_add_uses (flat, timetable, mode, k, flat_task);
        flat_mode->attended += task->attended;
        flat_mode->gains |= flat_task->gains > 0;
        flat->published |= task->published >= 0;
    }
    add_links (flat, mode, flat_mode->first);
    fill_order (flat, flat_mode);
    flat->modes++;
}

static void
allocate (Flat *flat, const Timetable *timetable)
{
    guint modes = 0, tasks = 0;
    for (guint i = 0; i < timetable->jobs->len; i++) {
        const Job *job = g_ptr_array_index (timetable->jobs, i);
        modes += job->modes->len;
        for (guint m = 0; m < job->modes->len; m++)
            tasks += ((const Mode *) g_ptr_array_index (job->modes, m))->tasks->len;
    }
    flat->job = g_new0 (FlatJob, timetable->jobs->len + 1);
    flat->mode = g_new0 (FlatMode, modes + 1);
    flat->task = g_new0 (FlatTask, tasks + 1);
    flat->order = g_new (guint, tasks + 1);
    flat->uses = g_array_new (FALSE, TRUE, sizeof (FlatUse));
    flat->links = g_array_new (FALSE, TRUE, sizeof (guint));
    flat->capacity = g_new (gint64, timetable->resources->len + 1);
    flat->most = g_new (gint64, timetable->resources->len + 1);
}

Flat *
flat_new (const Timetable *timetable)
{
    Flat *flat = g_new0 (Flat, 1);
    allocate (flat, timetable);
    flat->calendar = &timetable->calendar;
    flat->hands = timetable->hands;
    flat->jobs = timetable->jobs->len;
    flat->resources = timetable->resources->len;
    for (guint i = 0; i < flat->resources; i++)
        flat->capacity[i] = ((const Resource *) g_ptr_array_index (timetable->resources, i))->capacity;
    for (guint i = 0; i < flat->jobs; i++) {
        const Job *job = g_ptr_array_index (timetable->jobs, i);
        flat->job[i] = (FlatJob){ flat->modes, job->modes->len, job->due, job->weight, FALSE };
        flat->due |= job->due >= 0;
        flat->choices |= job->modes->len > 1;
        for (guint m = 0; m < job->modes->len; m++)
            add_mode (flat, timetable, g_ptr_array_index (job->modes, m), i);
    }
    flat_fill_times (flat);
    flat_fill_possible (flat, timetable);
    flat_fill_goal (flat);
    return flat;
}

void
flat_free (Flat *flat)
{
    if (flat == NULL)
        return;
    g_free (flat->job);
    g_free (flat->mode);
    g_free (flat->task);
    g_free (flat->order);
    g_array_unref (flat->uses);
    g_array_unref (flat->links);
    g_free (flat->capacity);
    g_free (flat->most);
    g_free (flat);
}
