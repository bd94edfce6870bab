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

static LeftOpen
left_since (const BatchQuestion *question, const BatchUnit *unit, const BatchTask *before, gint64 begins,
            guint technician)
{
    gboolean handed_over =
        before->technician != G_MAXUINT && technician != G_MAXUINT && before->technician != technician;
    LeftOpen left = { .open = before->attended_until != begins || handed_over, .left_by = G_MAXUINT };

    if (!left.open)
        return left;
    left.since = before->attended_until;
    if (before->done) {
        gint64 worked = bench_worked_last (question, unit);

        left.since = worked != G_MININT64 ? MIN (worked, begins) : left.since;
    }
    left.over_shift_end = batch_over_shift_end (question, left.since, begins);
    left.left_by = handed_over ? before->technician : G_MAXUINT;
    return left;
}

LeftOpen
batch_left_open_at_start (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit)
{
    static const LeftOpen closed = { .left_by = G_MAXUINT };
    const BatchClass *class = batch->classes->pdata[unit->class];

    if (unit->aside != ASIDE_NOT || unit->tasks->len == 0)
        return closed;
    const BatchMode *mode = class->modes->pdata[unit->mode];
    const BatchTask *last = &g_array_index (unit->tasks, BatchTask, unit->tasks->len - 1);
    gboolean has_begun = last->done || (question->published != NULL && last->start.begins < question->now);

    if (!last->start.apart || has_begun ||
        !step_is_off_power (unit->unit->board, &g_array_index (mode->steps, Step, last->step)))
        return closed;
    return left_since (question, unit, last, last->start.begins, last->start.technician);
}

LeftOpen
batch_left_open (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, guint step)
{
    const BatchClass *class = batch->classes->pdata[unit->class];
    const Unit *stands = unit->stands != NULL ? unit->stands : unit->unit;
    const LeftOpen left = { .left_by = G_MAXUINT };

    if (unit->aside != ASIDE_NOT || !are_of_one_opening (stands->board, class->modes->pdata[unit->mode], step))
        return left;
    const BatchTask *task = &g_array_index (unit->tasks, BatchTask, step);

    return has_begun (question, task) ? left : left_since (question, unit, task - 1, task->begins, task->technician);
}
