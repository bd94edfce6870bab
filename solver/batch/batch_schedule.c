/* SPDX-License-Identifier: MIT */
/* The timetable solved, and what fits nowhere set aside. */
#include "batch/plan.h"

/* Whether any mode of any unit borrows what only other units give. */
static gboolean
waits_for_gifts (const Planning *planning)
{
    for (guint i = 0; i < planning->pools->len; i++) {
        const Pool *pool = &g_array_index (planning->pools, Pool, i);

        if (pool->rank > 0)
            return TRUE;
    }
    return FALSE;
}

static gint64
longest_shift (const Calendar *calendar)
{
    gint64 longest = 0;

    for (guint i = 0; i < calendar->shifts->len; i++) {
        const Window *window = &g_array_index (calendar->shifts, Window, i);
        longest = MAX (longest, window->to - window->from);
    }
    return longest;
}

/* Transfer full. */
static char *
say_no_time (const Planning *planning, const Job *job)
{
    const Mode *mode = job->modes->pdata[0];
    gint64 longest = longest_shift (&planning->batch->timetable->calendar);

    for (guint i = 0; longest > 0 && i < mode->tasks->len; i++) {
        const Task *task = &g_array_index (mode->tasks, Task, i);

        if (task->fixed < 0 && task->duration > longest)
            return g_strdup_printf ("a step takes %" G_GINT64_FORMAT
                                    " minutes with its opening and start, and no shift is longer"
                                    " than %" G_GINT64_FORMAT,
                                    (task->duration + 9) / 10, longest / 10);
    }
    return g_strdup ("no time was found for it between the shifts, the breaks and the other units' loaners");
}

static void
solve (Planning *planning)
{
    g_clear_pointer (&planning->batch->schedule, schedule_free);
    planning->batch->schedule = timetable_solve (planning->batch->timetable, &planning->question->schedule);
}

/* Whether some unit that lent parts wait for, or wait themselves, may have stopped others. */
static Mapping *
solve_without_circles (Planning *planning, Mapping *mapping)
{
    if (planning->batch->schedule->left_out == 0 || !waits_for_gifts (planning))
        return mapping;
    mapping_free (mapping);
    mapping = timetable_of_batch (planning, TRUE);
    solve (planning);
    return mapping;
}

Mapping *
batch_schedule (Planning *planning)
{
    Mapping *mapping = timetable_of_batch (planning, FALSE);
    Batch *batch = planning->batch;

    solve (planning);
    mapping = solve_without_circles (planning, mapping);
    for (guint j = 0; j < batch->schedule->jobs; j++) {
        guint unit = g_array_index (mapping->unit_of_job, guint, j);

        if (batch->schedule->mode[j] != G_MAXUINT)
            continue;
        planning_set_aside (planning, unit, ASIDE_NO_TIME, say_no_time (planning, batch->timetable->jobs->pdata[j]));
        g_array_index (batch->job_of_unit, guint, unit) = G_MAXUINT;
    }
    return mapping;
}
