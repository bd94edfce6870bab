/* SPDX-License-Identifier: MIT */
/* Replay of openings: what is done with the power off and could be done at one stretch is, by one technician.
 *
 * Steps are taken piece by piece: a piece begins where the unit is opened, or where it has to be left, and goes on as long as
 * somebody is at it throughout and all of it is no longer than the longest time that the shop works without a break. */
#include "batch/replay.h"

#include "check/steps.h"

enum { MINUTE = 10, DAY = 24 * 60 * MINUTE, WEEK = 7 * DAY };

/* ---- The longest time without a break ---- */

/* Minutes of a week in which the shop works, one after the other; it may wrap round. */
static void
mark_minutes (gboolean *works, guint day, guint from, guint to, guint shift_from, gboolean value)
{
    guint begins = day * 24 * 60 + from + (from < shift_from ? 24 * 60 : 0);
    guint length = to > from ? to - from : to + 24 * 60 - from;

    for (guint i = 0; i < length; i++)
        works[(begins + i) % (WEEK / MINUTE)] = value;
}

static void
mark_shifts (const Shop *shop, gboolean *works, gboolean breaks)
{
    for (guint i = 0; i < shop->shifts->len; i++) {
        const Shift *shift = &g_array_index (shop->shifts, Shift, i);

        for (guint day = 0; day < 7; day++) {
            if ((shift->days & (1u << day)) == 0)
                continue;
            if (!breaks)
                mark_minutes (works, day, shift->from, shift->to, shift->from, TRUE);
            for (guint k = 0; breaks && k < shift->breaks->len; k++) {
                const ShiftBreak *pause = &g_array_index (shift->breaks, ShiftBreak, k);
                mark_minutes (works, day, pause->from, pause->to, shift->from, FALSE);
            }
        }
    }
}

/* In tenths of a minute; G_MAXINT64: it works on and on. */
static gint64
longest_stretch (const Shop *shop)
{
    g_autofree gboolean *works = g_new0 (gboolean, WEEK / MINUTE);
    gint64 longest = 0, length = 0;

    if (shop->shifts == NULL || shop->shifts->len == 0)
        return G_MAXINT64;
    mark_shifts (shop, works, FALSE);
    mark_shifts (shop, works, TRUE);
    for (guint i = 0; i < 2 * WEEK / MINUTE; i++) {
        length = works[i % (WEEK / MINUTE)] ? length + MINUTE : 0;
        longest = MAX (longest, length);
    }
    return longest > WEEK ? G_MAXINT64 : longest;
}

/* ---- A unit's pieces ---- */

typedef struct {
    const BatchQuestion *question;
    const BatchUnit *unit;
    const BatchMode *mode;
    const PublishedUnit *published; /* nullable */
    gint64 stretch;
} Opened;

static const BatchTask *
task_at (const Opened *opened, guint step)
{
    return &g_array_index (opened->unit->tasks, BatchTask, step);
}

static const Step *
step_at (const Opened *opened, guint step)
{
    return &g_array_index (opened->mode->steps, Step, step);
}

static gboolean
is_open (const Opened *opened, guint step)
{
    return step_is_off_power (replayed_unit (opened->unit)->board, step_at (opened, step));
}

static gboolean
has_begun (const Opened *opened, guint step)
{
    const BatchTask *task = task_at (opened, step);

    return task->done || (opened->question->published != NULL && task->begins < opened->question->now);
}

static gboolean
is_same_work (const Step *one, const Step *other)
{
    if (one->kind == STEP_WRITE || other->kind == STEP_WRITE)
        return one->kind == other->kind && one->component == other->component && one->release == other->release;
    return one->kind == other->kind && one->slot == other->slot;
}

/* A timetable that hangs on the wall may have parted them; only where it goes by the same steps. */
static gboolean
hung_apart (const Opened *opened, guint step)
{
    const GArray *tasks = opened->published != NULL ? opened->published->tasks : NULL;

    if (tasks == NULL || tasks->len != opened->unit->tasks->len)
        return FALSE;
    const PublishedTask *task = &g_array_index (tasks, PublishedTask, step), *before = task - 1;
    return task->begins != before->ends && is_same_work (&task->step, step_at (opened, step)) &&
           is_same_work (&before->step, step_at (opened, step - 1));
}

/* There is power for it, so it is no longer the opening that it was. */
static gboolean
is_read_first (const Opened *opened, guint step)
{
    return replayed_reads_before (replayed_unit (opened->unit)->board, opened->mode, step);
}

/* Whether the piece that began with `first` and has come to the step before this one goes on with it. */
static gboolean
belongs (const Opened *opened, guint first, guint step)
{
    const BatchTask *before = task_at (opened, step - 1), *task = task_at (opened, step);
    gint64 length = (task->start.apart ? task->start.step_ends : task->ends) - task->begins;

    for (guint i = first; i < step; i++)
        length += task_at (opened, i)->ends - task_at (opened, i)->begins;
    return is_open (opened, step - 1) && is_open (opened, step) && !has_begun (opened, step - 1) &&
           before->attended_until == before->ends && length <= opened->stretch && !hung_apart (opened, step) &&
           !is_read_first (opened, step);
}

static char *
check_unit (const Opened *opened)
{
    guint first = 0;

    for (guint i = 1; i < opened->unit->tasks->len; i++) {
        const BatchTask *before = task_at (opened, i - 1), *task = task_at (opened, i);

        if (!belongs (opened, first, i)) {
            first = i;
            continue;
        }
        if (task->begins != before->ends)
            return g_strdup_printf ("%s, step %u: the unit is left open before it, and need not be",
                                    opened->unit->unit->id, i + 1);
        if (task->technician != before->technician)
            return g_strdup_printf ("%s, step %u: another technician goes on in an open unit, and need not",
                                    opened->unit->unit->id, i + 1);
    }
    return NULL;
}

char *
replay_openings (const BatchQuestion *question, const Batch *batch)
{
    g_autoptr (GHashTable) published = g_hash_table_new (g_str_hash, g_str_equal);
    Opened opened = { question, NULL, NULL, NULL, longest_stretch (question->shop) };
    char *wrong = NULL;

    for (guint i = 0; question->published != NULL && i < question->published->units->len; i++) {
        PublishedUnit *one = question->published->units->pdata[i];
        g_hash_table_insert (published, (gpointer) one->unit, one);
    }
    for (guint i = 0; i < batch->units->len && wrong == NULL; i++) {
        opened.unit = batch->units->pdata[i];
        if (opened.unit->aside != ASIDE_NOT)
            continue;
        opened.mode = replayed_mode (batch, opened.unit);
        opened.published = g_hash_table_lookup (published, opened.unit->unit->id);
        wrong = check_unit (&opened);
    }
    return wrong;
}
