/* SPDX-License-Identifier: MIT */
/* Units that are left open between two steps of one opening: docs/batch.md, "Openings". */
#include "batch/bench.h"

#include "check/steps.h"

enum { MINUTE = 10, DAY = 24 * 60 * MINUTE, WEEK = 7 * DAY };

gboolean
batch_over_shift_end (const BatchQuestion *question, gint64 from, gint64 to)
{
    const GArray *shifts = question->shop->shifts;

    for (guint i = 0; shifts != NULL && i < shifts->len; i++) {
        const Shift *shift = &g_array_index (shifts, Shift, i);
        gint64 next_day = shift->to <= shift->from ? DAY : 0;

        for (guint day = 0; day < 7; day++) {
            gint64 until = day * DAY + next_day + (gint64) shift->to * MINUTE - question->clock.from_monday - from;

            until = ((until % WEEK) + WEEK) % WEEK; /* from `from` on, to the end that comes next */
            if ((shift->days & (1u << day)) != 0 && until <= to - from)
                return TRUE;
        }
    }
    return FALSE;
}

/* With no power between them. */
static gboolean
are_of_one_opening (const Board *board, const BatchMode *mode, guint step)
{
    return step > 0 && step_is_off_power (board, &g_array_index (mode->steps, Step, step - 1)) &&
           step_is_off_power (board, &g_array_index (mode->steps, Step, step)) &&
           !g_array_index (mode->walk->walked, WalkedStep, step).opens && !mode_reads_before (mode, step);
}

static gboolean
has_begun (const BatchQuestion *question, const BatchTask *task)
{
    return task->done || (question->published != NULL && task->begins < question->now);
}

LeftOpen
batch_left_open (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, guint step)
{
    const BatchClass *class = batch->classes->pdata[unit->class];
    const Unit *stands = unit->stands != NULL ? unit->stands : unit->unit;
    LeftOpen left = { .left_by = G_MAXUINT };

    if (unit->aside != ASIDE_NOT || !are_of_one_opening (stands->board, class->modes->pdata[unit->mode], step))
        return left;
    const BatchTask *task = &g_array_index (unit->tasks, BatchTask, step), *before = task - 1;
    gboolean handed_over =
        before->technician != G_MAXUINT && task->technician != G_MAXUINT && before->technician != task->technician;

    if (has_begun (question, task) || (before->attended_until == task->begins && !handed_over))
        return left;
    left.open = TRUE;
    left.since = before->attended_until;
    if (before->done) {
        gint64 worked = bench_worked_last (question, unit);

        left.since = worked != G_MININT64 ? MIN (worked, task->begins) : left.since;
    }
    left.over_shift_end = batch_over_shift_end (question, left.since, task->begins);
    left.left_by = handed_over ? before->technician : G_MAXUINT;
    return left;
}
