/* SPDX-License-Identifier: MIT */
/* Replay of times: how long each task takes, its order, the shop's shifts and breaks. */
#include "batch/replay.h"

#include "route/branched.h"

#include <math.h>
#include <string.h>

enum { MINUTE = 10, DAY = 24 * 60 * MINUTE, WEEK = 7 * DAY };

static gint64
in_tenths (double minutes)
{
    return llround (minutes * MINUTE);
}

/* ---- Minutes ---- */

static gboolean
is_for_case (const Branch *branch, const guint *releases, guint n_components)
{
    gboolean there = FALSE;

    for (guint i = 0; i < branch->cases->len; i++)
        there |= memcmp (branch->cases->pdata[i], releases, n_components * sizeof (guint)) == 0;
    return there;
}

static double
minutes_to_read (const Shop *shop, const Board *board, const Branch *from, const Branch *to)
{
    double start = shop->start_minutes + (to->dark ? shop_dark_after_minutes (shop, board) : 0);

    return from->then == THEN_READ ? board_component (board, from->component)->page.minutes : start;
}

/* NULL: the mode's own case ends there. */
static const Branch *
next_of_case (const Board *board, const BatchMode *mode, const Branch *at)
{
    const Branch *to = NULL;

    for (guint i = 0; i < at->next->len; i++)
        if (is_for_case (at->next->pdata[i], mode->branching->releases, board->components->len))
            to = at->next->pdata[i];
    return to;
}

static const Branch *
first_of_plan (const BatchMode *mode)
{
    return mode->claim == CLAIM_BRANCHES ? mode->answer->branches->plan : NULL;
}

/* Tries and reads of the mode's own case in front of a step; of as many steps as there are: those behind the last one. */
static gint64
read_before (const Shop *shop, const Board *board, const BatchMode *mode, guint step)
{
    const Branch *to = NULL;
    guint passed = 0;
    gint64 read = 0;

    for (const Branch *at = first_of_plan (mode); at != NULL; at = to) {
        passed += at->steps->len;
        to = next_of_case (board, mode, at);
        if (to != NULL && passed == step)
            read += in_tenths (minutes_to_read (shop, board, at, to));
    }
    return read;
}

gboolean
replayed_reads_before (const Board *board, const BatchMode *mode, guint step)
{
    const Branch *to = NULL;
    guint passed = 0;
    gboolean reads = FALSE;

    for (const Branch *at = first_of_plan (mode); at != NULL; at = to) {
        passed += at->steps->len;
        to = next_of_case (board, mode, at);
        reads |= to != NULL && passed == step;
    }
    return reads;
}

/* The start at the end, with what is read there. */
static gint64
minutes_behind (const Shop *shop, const Board *board, const BatchMode *mode)
{
    guint starts = 0;

    for (guint i = 0; i < mode->steps->len; i++)
        starts += g_array_index (mode->walk->walked, WalkedStep, i).needs_start ? 1 : 0;
    return (starts < mode->walk->starts ? in_tenths (shop->start_minutes) : 0) +
           read_before (shop, board, mode, mode->steps->len);
}

/* It comes when the last step is over, which nobody waits for. */
static gboolean
starts_apart (const Shop *shop, const Board *board, const BatchMode *mode, guint step)
{
    const WalkedStep *walked = &g_array_index (mode->walk->walked, WalkedStep, step);

    return step + 1 == mode->steps->len && in_tenths (walked->attended) < in_tenths (walked->minutes) &&
           minutes_behind (shop, board, mode) > 0;
}

static gint64
minutes_around (const Shop *shop, const Board *board, const BatchMode *mode, guint step)
{
    const WalkedStep *walked = &g_array_index (mode->walk->walked, WalkedStep, step);
    gint64 around = in_tenths (walked->opens ? shop->opening_minutes : 0) +
                    in_tenths (walked->needs_start ? shop->start_minutes : 0);

    if (step + 1 == mode->steps->len && !starts_apart (shop, board, mode, step))
        around += minutes_behind (shop, board, mode);
    return around + read_before (shop, board, mode, step);
}

static char *
check_start (const Shop *shop, const BatchUnit *unit, const BatchMode *mode, const BatchTask *task)
{
    const LastStart *start = &task->start;
    const char *id = unit->unit->id;

    if (start->apart != starts_apart (shop, unit->unit->board, mode, task->step))
        return g_strdup_printf ("%s, step %u: its start is %s", id, task->step + 1,
                                start->apart ? "a task of its own, and should be part of the step"
                                             : "no task of its own, and nobody need be there as the step ends");
    if (!start->apart)
        return NULL;
    if (start->begins < start->step_ends)
        return g_strdup_printf ("%s, step %u: it is started before the step is over", id, task->step + 1);
    if (task->ends - start->begins != minutes_behind (shop, unit->unit->board, mode))
        return g_strdup_printf ("%s, step %u: its start is not as long as a start takes", id, task->step + 1);
    return NULL;
}

/* The step itself, without a start behind it that is a task of its own. */
static gint64
own_end (const BatchTask *task)
{
    return task->start.apart ? task->start.step_ends : task->ends;
}

static char *
check_length (const Shop *shop, const BatchUnit *unit, const BatchMode *mode, guint step)
{
    const BatchTask *task = &g_array_index (unit->tasks, BatchTask, step);
    const WalkedStep *walked = &g_array_index (mode->walk->walked, WalkedStep, step);
    gint64 around = minutes_around (shop, unit->unit->board, mode, step);
    char *wrong = check_start (shop, unit, mode, task);

    if (wrong != NULL)
        return wrong;
    if (own_end (task) - task->begins != in_tenths (walked->minutes) + around)
        return g_strdup_printf ("%s, step %u: it is not as long as the step takes", unit->unit->id, step + 1);
    if (task->attended_until - task->begins != in_tenths (walked->attended) + around)
        return g_strdup_printf ("%s, step %u: it is not attended for as long as the step asks", unit->unit->id,
                                step + 1);
    return NULL;
}

/* ---- The shop's week ---- */

/* The end of the shift in which the moment lies; `time` itself: in none. Times are from a Monday. */
static gint64
shift_runs_until (const Shop *shop, gint64 time)
{
    gint64 until = time;

    for (guint i = 0; i < shop->shifts->len; i++) {
        const Shift *shift = &g_array_index (shop->shifts, Shift, i);
        gint64 length = ((gint64) shift->to - (gint64) shift->from) * MINUTE;

        length += length <= 0 ? DAY : 0;
        for (guint day = 0; day < 7; day++) {
            gint64 into = time - (day * DAY + (gint64) shift->from * MINUTE);

            into = ((into % WEEK) + WEEK) % WEEK;
            if ((shift->days & (1u << day)) != 0 && into < length)
                until = MAX (until, time - into + length);
        }
    }
    return until;
}

static gboolean
meets_break (const Shop *shop, gint64 from, gint64 to)
{
    for (guint i = 0; i < shop->shifts->len; i++) {
        const Shift *shift = &g_array_index (shop->shifts, Shift, i);

        for (guint k = 0; k < shift->breaks->len; k++) {
            const ShiftBreak *pause = &g_array_index (shift->breaks, ShiftBreak, k);
            gint64 length = ((gint64) pause->to - (gint64) pause->from) * MINUTE;
            gint64 next_day = pause->from < shift->from ? DAY : 0;

            length += length <= 0 ? DAY : 0;
            for (guint day = 0; day < 7; day++) {
                gint64 into = from - (day * DAY + next_day + (gint64) pause->from * MINUTE);

                into = ((into % WEEK) + WEEK) % WEEK; /* since it began last */
                if ((shift->days & (1u << day)) != 0 && (into < length || WEEK - into < to - from))
                    return TRUE;
            }
        }
    }
    return FALSE;
}

/* Times of the batch: it begins, is attended until then, ends. Not asked of what has begun before now. */
static char *
check_shift (const BatchQuestion *question, const BatchUnit *unit, guint step, const gint64 times[3])
{
    const Shop *shop = question->shop;
    gint64 from = question->clock.from_monday + times[0], to = question->clock.from_monday + times[2];
    gint64 attended = question->clock.from_monday + times[1];

    if (shop->shifts == NULL || shop->shifts->len == 0 || to == from ||
        (question->published != NULL && times[0] < question->now))
        return NULL;
    for (gint64 at = from; at < to;) {
        gint64 until = shift_runs_until (shop, at);

        if (until == at)
            return g_strdup_printf ("%s, step %u: it is not inside a shift", unit->unit->id, step + 1);
        at = until;
    }
    if (attended > from && meets_break (shop, from, attended))
        return g_strdup_printf ("%s, step %u: somebody attends to it during a break", unit->unit->id, step + 1);
    return NULL;
}

/* ---- A unit's tasks ---- */

static char *
check_shifts (const BatchQuestion *question, const BatchUnit *unit, const BatchTask *task)
{
    const gint64 step[] = { task->begins, task->attended_until, own_end (task) };
    const gint64 start[] = { task->start.begins, task->ends, task->ends };
    char *wrong = check_shift (question, unit, task->step, step);

    return wrong == NULL && task->start.apart ? check_shift (question, unit, task->step, start) : wrong;
}

static char *
check_task (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, guint step)
{
    const BatchTask *task = &g_array_index (unit->tasks, BatchTask, step);
    const BatchTask *before = step > 0 ? task - 1 : NULL;
    char *wrong = NULL;

    if (task->begins < 0 || own_end (task) < task->attended_until || task->attended_until < task->begins)
        return g_strdup_printf ("%s, step %u: it ends before it begins", unit->unit->id, step + 1);
    if (before != NULL && (before->ends > task->begins || (task->done && !before->done)))
        return g_strdup_printf ("%s, step %u: it begins before the step before it is over", unit->unit->id, step + 1);
    if (task->done)
        return question->published != NULL && task->ends <= question->now
                   ? NULL
                   : g_strdup_printf ("%s, step %u: it is done before it can be", unit->unit->id, step + 1);
    wrong = check_length (question->shop, unit, replayed_mode (batch, unit), step);
    return wrong == NULL ? check_shifts (question, unit, task) : wrong;
}

char *
replay_times (const BatchQuestion *question, const Batch *batch)
{
    char *wrong = NULL;

    for (guint i = 0; i < batch->units->len && wrong == NULL; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        for (guint k = 0; unit->aside == ASIDE_NOT && k < unit->tasks->len && wrong == NULL; k++)
            wrong = check_task (question, batch, unit, k);
    }
    return wrong;
}
