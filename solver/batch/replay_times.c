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

/* Tries and reads of the mode's own case in front of a step, with the last step those behind it. */
static gint64
read_before (const Shop *shop, const Board *board, const BatchMode *mode, guint step)
{
    const Branch *at = mode->claim == CLAIM_BRANCHES ? mode->answer->branches->plan : NULL, *to = NULL;
    guint passed = 0;
    gint64 read = 0;

    for (; at != NULL; at = to) {
        passed += at->steps->len;
        to = NULL;
        for (guint i = 0; i < at->next->len; i++)
            if (is_for_case (at->next->pdata[i], mode->branching->releases, board->components->len))
                to = at->next->pdata[i];
        if (to != NULL && (passed == step || (passed > step && step + 1 == mode->steps->len)))
            read += in_tenths (minutes_to_read (shop, board, at, to));
    }
    return read;
}

static gint64
minutes_around (const Shop *shop, const Board *board, const BatchMode *mode, guint step)
{
    const WalkedStep *walked = &g_array_index (mode->walk->walked, WalkedStep, step);
    gint64 around = in_tenths (walked->opens ? shop->opening_minutes : 0) +
                    in_tenths (walked->needs_start ? shop->start_minutes : 0);
    guint starts = 0;

    for (guint i = 0; i < mode->steps->len; i++)
        starts += g_array_index (mode->walk->walked, WalkedStep, i).needs_start ? 1 : 0;
    if (step + 1 == mode->steps->len && starts < mode->walk->starts)
        around += in_tenths (shop->start_minutes);
    return around + read_before (shop, board, mode, step);
}

static char *
check_length (const Shop *shop, const BatchUnit *unit, const BatchMode *mode, guint step)
{
    const BatchTask *task = &g_array_index (unit->tasks, BatchTask, step);
    const WalkedStep *walked = &g_array_index (mode->walk->walked, WalkedStep, step);
    gint64 around = minutes_around (shop, unit->unit->board, mode, step);

    if (task->ends - task->begins != in_tenths (walked->minutes) + around)
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

static char *
check_shift (const BatchQuestion *question, const BatchUnit *unit, const BatchTask *task)
{
    const Shop *shop = question->shop;
    gint64 from = question->clock.from_monday + task->begins, to = question->clock.from_monday + task->ends;
    gint64 attended = question->clock.from_monday + task->attended_until;

    if (shop->shifts == NULL || shop->shifts->len == 0 || task->ends == task->begins)
        return NULL;
    for (gint64 at = from; at < to;) {
        gint64 until = shift_runs_until (shop, at);

        if (until == at)
            return g_strdup_printf ("%s, step %u: it is not inside a shift", unit->unit->id, task->step + 1);
        at = until;
    }
    if (attended > from && meets_break (shop, from, attended))
        return g_strdup_printf ("%s, step %u: somebody attends to it during a break", unit->unit->id, task->step + 1);
    return NULL;
}

/* ---- A unit's tasks ---- */

static gboolean
is_under_way (const BatchQuestion *question, const BatchTask *task)
{
    return question->published != NULL && task->begins < question->now;
}

static char *
check_task (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, guint step)
{
    const BatchTask *task = &g_array_index (unit->tasks, BatchTask, step);
    const BatchTask *before = step > 0 ? task - 1 : NULL;
    char *wrong = NULL;

    if (task->begins < 0 || task->ends < task->attended_until || task->attended_until < task->begins)
        return g_strdup_printf ("%s, step %u: it ends before it begins", unit->unit->id, step + 1);
    if (before != NULL && (before->ends > task->begins || (task->done && !before->done)))
        return g_strdup_printf ("%s, step %u: it begins before the step before it is over", unit->unit->id, step + 1);
    if (task->done)
        return question->published != NULL && task->ends <= question->now
                   ? NULL
                   : g_strdup_printf ("%s, step %u: it is done before it can be", unit->unit->id, step + 1);
    wrong = check_length (question->shop, unit, replayed_mode (batch, unit), step);
    return wrong == NULL && !is_under_way (question, task) ? check_shift (question, unit, task) : wrong;
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
