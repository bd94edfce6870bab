/* SPDX-License-Identifier: MIT */
/* Which steps are made in one go: docs/batch.md, "From a route to the timetable". An opening that is one task of the timetable can
 * neither stand open over the end of a shift nor change hands. */
#include "batch/plan.h"

#include "check/steps.h"

typedef struct {
    const Planning *planning;
    const UnitPlan *plan;
    const BatchMode *mode;
    gint64 stretch;
} Cutting;

gint64
planning_stretch (const Planning *planning)
{
    gint64 shortest = 0, longest = 0;

    calendar_stretches (planning->question->shop, &planning->question->clock, &shortest, &longest);
    return longest;
}

static gboolean
is_of_one_opening (const Board *board, const BatchMode *mode, guint step)
{
    return step > 0 && step_is_off_power (board, &g_array_index (mode->steps, Step, step)) &&
           !g_array_index (mode->walk->walked, WalkedStep, step).opens && !mode_reads_before (mode, step);
}

/* Where nothing disturbs it a replan leaves apart what hangs on the wall apart. */
static gboolean
is_published_apart (const UnitPlan *plan, guint step)
{
    const PublishedTask *tasks = plan->keeps >= 0 && plan->published != NULL && step < plan->published->tasks->len
                                     ? (const PublishedTask *) (const void *) plan->published->tasks->data
                                     : NULL;

    return tasks != NULL && tasks[step - 1].ends != tasks[step].begins;
}

/* What is under way is begun already: it is a block of its own. */
static gboolean
goes_on (const Cutting *cutting, const Block *block, guint step, const StepTime *time)
{
    const UnitPlan *plan = cutting->plan;

    return block->attended == block->duration && is_of_one_opening (plan->unit->board, cutting->mode, step) &&
           !(plan->under_way >= 0 && block->first == plan->done) &&
           block->duration + time->duration <= cutting->stretch && !is_published_apart (plan, step);
}

static void
add_step (const Cutting *cutting, GArray *blocks, guint step, const StepTime *time)
{
    Block *last = blocks->len > 0 ? &g_array_index (blocks, Block, blocks->len - 1) : NULL;

    if (last != NULL && goes_on (cutting, last, step, time)) {
        last->attended = last->duration + time->attended;
        last->duration += time->duration;
        last->steps++;
    } else {
        Block block = { step, 1, time->duration, time->attended,
                        is_of_one_opening (cutting->plan->unit->board, cutting->mode, step) };
        g_array_append_val (blocks, block);
    }
}

static void
add_last_start (GArray *blocks, guint steps, gint64 length)
{
    Block block = { steps, 0, length, length, FALSE };

    if (blocks->len > 0 && length > 0)
        g_array_append_val (blocks, block);
}

GArray *
unit_blocks (const Planning *planning, guint unit, const BatchMode *mode, gint64 stretch)
{
    const UnitPlan *plan = &planning->plans[unit];
    g_autoptr (GArray) times = mode_times (mode, planning->shop);
    Cutting cutting = { planning, plan, mode, stretch };
    GArray *blocks = g_array_new (FALSE, FALSE, sizeof (Block));

    for (guint i = plan->done; i < times->len; i++)
        add_step (&cutting, blocks, i, &g_array_index (times, StepTime, i));
    add_last_start (blocks, times->len, mode_last_start (mode, planning->shop));
    return blocks;
}

guint
block_of_step (const GArray *blocks, guint step)
{
    guint index = blocks->len;

    while (index > 1 && g_array_index (blocks, Block, index - 1).first > step)
        index--;
    return index - 1;
}
