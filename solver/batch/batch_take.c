/* SPDX-License-Identifier: MIT */
/* The solved timetable back into the units' tasks. */
#include "batch/plan.h"

static GArray *
tasks_new (guint count)
{
    GArray *tasks = g_array_sized_new (FALSE, TRUE, sizeof (BatchTask), count);

    g_array_set_size (tasks, count);
    for (guint i = 0; i < count; i++) {
        BatchTask *task = &g_array_index (tasks, BatchTask, i);
        task->step = i;
        task->part = -1;
    }
    return tasks;
}

/* What is done was done as it was published; where it is done early, by now. */
static void
take_done (const Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];
    GArray *tasks = planning_unit (planning, unit)->tasks;
    gint64 now = planning->question->now;

    for (guint i = 0; i < plan->done; i++) {
        const PublishedTask *was = &g_array_index (plan->published->tasks, PublishedTask, i);
        BatchTask *task = &g_array_index (tasks, BatchTask, i);

        task->begins = MIN (was->begins, now);
        task->attended_until = MIN (was->attended_until, now);
        task->ends = MIN (was->ends, now);
        task->technician = was->technician;
        task->place = was->place;
        if (was->start.apart)
            task->start = (LastStart){ TRUE, MIN (was->start.step_ends, now), MIN (was->start.begins, now),
                                       was->start.technician };
        task->done = TRUE;
        task->by_clock = !plan->has_record;
    }
}

/* The steps of a block one behind the other, all by one technician. */
static void
take_block (GArray *tasks, const Block *block, const GArray *times, gint64 begins, guint technician, guint place)
{
    for (guint i = block->first; i < block->first + block->steps; i++) {
        const StepTime *time = &g_array_index (times, StepTime, i);
        BatchTask *task = &g_array_index (tasks, BatchTask, i);

        task->begins = begins;
        task->attended_until = begins + time->attended;
        task->ends = begins + time->duration;
        task->technician = technician;
        task->place = place;
        begins = task->ends;
    }
}

/* What is let be goes on where it was published, by whom it was. */
static void
take_let_be (const UnitPlan *plan, GArray *tasks)
{
    const PublishedTask *was = NULL;
    BatchTask *task = NULL;

    if (!plan->no_place && !plan->no_hand)
        return;
    was = &g_array_index (plan->published->tasks, PublishedTask, plan->done);
    task = &g_array_index (tasks, BatchTask, plan->done);
    task->place = plan->no_place ? was->place : task->place;
    task->technician = plan->no_hand ? was->technician : task->technician;
}

static void
take_last_start (GArray *tasks, const Block *block, gint64 begins, guint technician)
{
    BatchTask *last = &g_array_index (tasks, BatchTask, tasks->len - 1);

    last->start = (LastStart){ TRUE, last->ends, begins, technician };
    last->ends = begins + block->duration;
}

static void
take_job (Planning *planning, const Mapping *mapping, const Assignment *assignment, guint job)
{
    const Schedule *schedule = planning->batch->schedule;
    guint index = g_array_index (mapping->unit_of_job, guint, job);
    BatchUnit *unit = planning_unit (planning, index);
    const Mode *mode = ((Job *) planning->batch->timetable->jobs->pdata[job])->modes->pdata[schedule->mode[job]];
    const BatchMode *by = class_mode (planning_class (planning, unit->class), unit->mode);
    g_autoptr (GArray) times = mode_times (by, planning->shop);
    g_autoptr (GArray) blocks = unit_blocks (planning, index, by, mapping->stretch);
    guint skip = mode->tasks->len - blocks->len;

    for (guint i = 0; i < blocks->len; i++) {
        const Block *block = &g_array_index (blocks, Block, i);
        gint64 begins = schedule->start[job][skip + i];
        guint hand = assignment->task_hand[job][skip + i];

        if (block->steps > 0)
            take_block (unit->tasks, block, times, begins, hand, assignment->span_units[job][0][0]);
        else
            take_last_start (unit->tasks, block, begins, hand);
    }
    take_let_be (&planning->plans[index], unit->tasks);
}

static void
find_finish (Batch *batch)
{
    for (guint i = 0; i < batch->units->len; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        if (unit->tasks != NULL && unit->tasks->len > 0)
            batch->finish = MAX (batch->finish, g_array_index (unit->tasks, BatchTask, unit->tasks->len - 1).ends);
    }
}

void
batch_take_over (Planning *planning, const Mapping *mapping)
{
    Batch *batch = planning->batch;
    g_autoptr (Assignment) assignment = timetable_assign (batch->timetable, batch->schedule);

    if (planning->question->published != NULL)
        numbers_keep (planning, mapping, assignment);
    for (guint i = 0; i < planning_units (planning); i++) {
        BatchUnit *unit = planning_unit (planning, i);
        guint job = g_array_index (batch->job_of_unit, guint, i);

        if (unit->aside != ASIDE_NOT)
            continue;
        unit->mode = job != G_MAXUINT ? g_array_index ((GArray *) mapping->modes_of_job->pdata[job], guint,
                                                       batch->schedule->mode[job])
                                      : (guint) planning->plans[i].mode;
        unit->tasks = tasks_new (class_mode (planning_class (planning, unit->class), unit->mode)->steps->len);
        take_done (planning, i);
        if (job != G_MAXUINT)
            take_job (planning, mapping, assignment, job);
    }
    find_finish (batch);
    batch_number_parts (planning, assignment);
}
