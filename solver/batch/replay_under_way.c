/* SPDX-License-Identifier: MIT */
/* Replay of what is under way: no step that the published timetable has under way at now, and that no record contradicts, begins at
 * another time or is forgotten. A write that runs can't be put off. */
#include "batch/replay.h"

#include <string.h>

/* ---- Records ---- */

const Record *
replayed_record (const BatchQuestion *question, const char *id)
{
    const Record *found = NULL;

    for (guint i = 0; i < question->library->records->len && found == NULL; i++) {
        const Record *record = question->library->records->pdata[i];

        if (record->entries->len > 0 && strcmp (record->unit, id) == 0)
            found = record;
    }
    return found;
}

/* An entry on the step by its number, of the route that the unit goes by. */
static gboolean
tells_of_step (const Record *record, const BatchUnit *unit, guint step)
{
    guint entry = 0;
    gboolean tells = FALSE;

    for (guint i = 0; unit->earlier != NULL && i < unit->earlier->len; i++)
        entry += ((const BatchEarlier *) unit->earlier->pdata[i])->entries;
    for (; entry < record->entries->len; entry++)
        tells |= ((const RecordEntry *) record->entries->pdata[entry])->number == step + 1;
    return tells;
}

/* ---- Routes ---- */

gboolean
replayed_same_step (const Step *one, const Step *other)
{
    if (one->kind != other->kind)
        return FALSE;
    if (one->kind == STEP_WRITE)
        return one->component == other->component && one->release == other->release && one->method == other->method;
    return one->slot == other->slot &&
           (one->kind != STEP_FIT || (one->part == other->part && one->stepping == other->stepping &&
                                      one->bound == other->bound && one->owner == other->owner));
}

static gboolean
keeps_its_route (const Batch *batch, const BatchUnit *unit, const PublishedUnit *published)
{
    guint before = published->earlier != NULL ? published->earlier->len : 0;
    gboolean same =
        unit->tasks->len == published->tasks->len && before == (unit->earlier != NULL ? unit->earlier->len : 0);

    for (guint i = 0; same && i < unit->tasks->len; i++)
        same = replayed_same_step (&g_array_index (published->tasks, PublishedTask, i).step,
                                   &g_array_index (replayed_mode (batch, unit)->steps, Step, i));
    return same;
}

/* ---- Whether it may wait ---- */

/* A loaner as its step and the sheet call it. */
typedef struct {
    const Part *part;
    const char *stepping, *bound;
    guint number; /* within its lot; 0: not known */
} Loaner;

/* `number` 0: it may be any of them. */
static gboolean
may_be_it (const Loaner *loaner, const Part *part, const char *stepping, const char *bound, guint number)
{
    return part == loaner->part && stepping == loaner->stepping && bound == loaner->bound &&
           (number == 0 || loaner->number == 0 || number == loaner->number);
}

static gboolean
fits_it (const Loaner *loaner, const PublishedTask *task)
{
    return task->step.kind == STEP_FIT && task->step.owner == OWNER_LOAN &&
           may_be_it (loaner, task->step.part, task->step.stepping, task->step.bound, task->part_number);
}

static gboolean
is_lost (const Batch *batch, const Loaner *loaner)
{
    gboolean lost = FALSE;

    for (guint i = 0; i < batch->replan->lost->len; i++) {
        const BatchLost *one = &g_array_index (batch->replan->lost, BatchLost, i);

        lost |= one->owner != OWNER_STOCK && may_be_it (loaner, one->part, one->stepping, one->bound, one->number);
    }
    return lost;
}

/* A published step of the unit fits it or takes one such out, or it is the unit's own, that the published timetable lends on. */
static gboolean
has_to_do_with (const BatchQuestion *question, const Loaner *loaner, const Unit *unit)
{
    const PublishedUnit *published = batch_published_find (question->published, unit->id);
    const GArray *parts = question->published->parts;
    gboolean has = FALSE;

    for (guint k = 0; published != NULL && k < published->tasks->len; k++) {
        const PublishedTask *task = &g_array_index (published->tasks, PublishedTask, k);

        has |= fits_it (loaner, task) ||
               (task->step.kind == STEP_REMOVE && task->part_number > 0 && task->part_number == loaner->number &&
                (task->step.part == NULL || task->step.part == loaner->part));
    }
    for (guint i = 0; i < parts->len; i++) {
        const PublishedPart *part = &g_array_index (parts, PublishedPart, i);

        has |= strcmp (part->unit, unit->id) == 0 &&
               may_be_it (loaner, part->part, part->stepping, part->bound, part->number);
    }
    return has;
}

/* Some record is of a unit that has to do with it, or has left a route, of which no numbers are known, for one that holds such a part. */
static gboolean
records_tell_of (const BatchQuestion *question, const Batch *batch, const Loaner *loaner)
{
    gboolean tell = FALSE;

    for (guint i = 0; i < batch->units->len && !tell; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        if (replayed_record (question, unit->unit->id) == NULL)
            continue;
        tell = has_to_do_with (question, loaner, unit->unit);
        for (guint s = 0; unit->stands != NULL && s < unit->stands->board->slots->len; s++) {
            const Fitted *in = &unit->stands->fitted[s];

            tell |= in->owner == OWNER_LOAN && may_be_it (loaner, in->part, in->stepping, in->bound, 0);
        }
    }
    return tell;
}

static guint
shop_lends (const Shop *shop, const Loaner *loaner)
{
    guint count = 0;

    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *lot = &g_array_index (shop->lots, Lot, i);
        count += lot->owner == OWNER_LOAN && may_be_it (loaner, lot->part, lot->stepping, lot->bound, 0) ? lot->count : 0;
    }
    return count;
}

/* Fitted before the moment, and not taken out by then. */
static gboolean
is_out (const GArray *tasks, guint fit, gint64 now)
{
    const PublishedTask *task = &g_array_index (tasks, PublishedTask, fit);

    for (guint i = fit + 1; i < tasks->len; i++) {
        const PublishedTask *later = &g_array_index (tasks, PublishedTask, i);

        if (later->step.kind == STEP_REMOVE && later->step.slot == task->step.slot && later->ends <= now)
            return FALSE;
    }
    return task->begins < now;
}

/* Published to be in a unit now, whichever of the kind. */
static guint
are_out (const BatchQuestion *question, const Loaner *loaner)
{
    const GPtrArray *units = question->published->units;
    const Loaner any = { loaner->part, loaner->stepping, loaner->bound, 0 };
    guint out = 0;

    for (guint i = 0; i < units->len; i++) {
        const GArray *tasks = ((const PublishedUnit *) units->pdata[i])->tasks;

        for (guint k = 0; k < tasks->len; k++)
            out += fits_it (&any, &g_array_index (tasks, PublishedTask, k)) && is_out (tasks, k, question->now) ? 1 : 0;
    }
    return out;
}

/* It waits in front of a step that fits a loaner which records say is elsewhere or out of use, or which the shop has not got. */
static gboolean
may_wait (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, const PublishedUnit *published,
          guint under_way)
{
    guint step = 0;

    while (step < unit->tasks->len && g_array_index (unit->tasks, BatchTask, step).done)
        step++;
    if (step > under_way)
        return FALSE;
    const Step *fit = &g_array_index (replayed_mode (batch, unit)->steps, Step, step);
    const Loaner loaner = { fit->part, fit->stepping, fit->bound,
                            g_array_index (published->tasks, PublishedTask, step).part_number };
    return fit->kind == STEP_FIT && fit->owner == OWNER_LOAN &&
           (is_lost (batch, &loaner) || records_tell_of (question, batch, &loaner) ||
            are_out (question, &loaner) > shop_lends (question->shop, &loaner));
}

/* It took a part out that by a record another unit has had since: then it is over, whatever the clock says. */
static gboolean
was_taken_from (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, guint step)
{
    const Step *out = &g_array_index (replayed_mode (batch, unit)->steps, Step, step);
    gboolean taken = FALSE;

    for (guint p = 0; out->kind == STEP_REMOVE && p < batch->parts->len; p++) {
        const BatchPart *part = batch->parts->pdata[p];

        for (guint k = 0; part->from_unit >= 0 && batch->units->pdata[part->from_unit] == unit && k < part->stays->len; k++) {
            const BatchStay *stay = &g_array_index (part->stays, BatchStay, k);
            const BatchUnit *borrower = batch->units->pdata[stay->unit];

            taken |= part->from_step == step && stay->fit_step != G_MAXUINT && replayed_record (question, borrower->unit->id) != NULL &&
                     g_array_index (borrower->tasks, BatchTask, stay->fit_step).done;
        }
    }
    return taken;
}

/* ---- Unit by unit ---- */

/* G_MAXUINT: nothing is. */
static guint
published_under_way (const PublishedUnit *published, gint64 now)
{
    for (guint i = 0; i < published->tasks->len; i++) {
        const PublishedTask *task = &g_array_index (published->tasks, PublishedTask, i);

        if (task->begins < now && task->ends > now)
            return i;
    }
    return G_MAXUINT;
}

/* It says that something before the step is not done, or has an entry on the step itself. */
static gboolean
contradicts (const Record *record, const BatchUnit *unit, guint step)
{
    gboolean all_done = TRUE;

    for (guint i = 0; i < step; i++)
        all_done &= g_array_index (unit->tasks, BatchTask, i).done;
    return !all_done || tells_of_step (record, unit, step);
}

static char *
check_unit (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit)
{
    const PublishedUnit *published = batch_published_find (question->published, unit->unit->id);
    const Record *record = replayed_record (question, unit->unit->id);
    guint step = published != NULL ? published_under_way (published, question->now) : G_MAXUINT;

    if (unit->aside != ASIDE_NOT || step == G_MAXUINT || !keeps_its_route (batch, unit, published))
        return NULL;
    if (record != NULL && replayed_entries_before (unit, published) >= record->entries->len)
        record = NULL; /* all of it is of routes that were left: by this one it is as far as the timetable says */
    const BatchTask *task = &g_array_index (unit->tasks, BatchTask, step);
    if (record != NULL ? contradicts (record, unit, step) : may_wait (question, batch, unit, published, step))
        return NULL;
    if (record == NULL && task->done && was_taken_from (question, batch, unit, step))
        return NULL;
    if (!task->done && task->begins == g_array_index (published->tasks, PublishedTask, step).begins)
        return NULL;
    return g_strdup_printf ("%s, step %u: it is under way, and is not gone on with as it was published", unit->unit->id,
                            step + 1);
}

char *
replay_under_way (const BatchQuestion *question, const Batch *batch)
{
    char *wrong = NULL;

    for (guint i = 0; question->published != NULL && i < batch->units->len && wrong == NULL; i++)
        wrong = check_unit (question, batch, batch->units->pdata[i]);
    return wrong;
}
