/* SPDX-License-Identifier: MIT */
/* What a mode holds from when to when. */
#include "batch/conflicts.h"

static gint64
duration_of (const Mode *mode, guint task)
{
    return g_array_index (mode->tasks, Task, task).duration;
}

void
search_add_held (const Search *search, guint index, GArray *held, GArray *gains)
{
    const Flat *flat = search->flat;
    const FlatMode *of = &flat->mode[index];
    const Job *job = g_ptr_array_index (search->timetable->jobs, of->job);
    const Mode *mode = g_ptr_array_index (job->modes, index - flat->job[of->job].first);
    for (guint i = 0; i < mode->spans->len; i++) {
        const Span *span = &g_array_index (mode->spans, Span, i);
        HeldUse use = { span->resource,         span->amount, of->first + span->first,
                        of->first + span->last, span->lead,   duration_of (mode, span->last) - span->tail };
        g_array_append_val (held, use);
    }
    for (guint k = 0; flat->hands >= 0 && k < mode->tasks->len; k++) {
        gint64 attended = g_array_index (mode->tasks, Task, k).attended;
        HeldUse use = { (guint) flat->hands, 1, of->first + k, of->first + k, 0, attended };
        if (attended > 0)
            g_array_append_val (held, use);
    }
    for (guint i = 0; i < mode->gains->len; i++) {
        const Gain *gain = &g_array_index (mode->gains, Gain, i);
        HeldUse use = { gain->resource,
                        gain->amount,
                        of->first + gain->task,
                        of->first + gain->task,
                        0,
                        duration_of (mode, gain->task) - gain->early };
        g_array_append_val (gains, use);
    }
}
