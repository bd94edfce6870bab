/* SPDX-License-Identifier: MIT */
/* Replay of pulled parts: whose each is, and that it was given before it is lent. What routes that were left have given is held
 * against the published timetable, the records and what the unit still has. */
#include "batch/replay.h"

static gboolean
is_such (const Fitted *fitted, const BatchPart *part)
{
    return fitted->part == part->part && fitted->owner == OWNER_UNIT && fitted->stepping == part->stepping;
}

/* The unit's own parts of the kind, in it and beside it, whatever they are bound to. */
static guint
own_in_all (const Unit *unit, const BatchPart *part)
{
    guint count = 0;

    for (guint s = 0; s < unit->board->slots->len; s++)
        count += is_such (&unit->fitted[s], part) ? 1 : 0;
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++)
        count += is_such (&g_array_index (unit->pulled, Fitted, i), part) ? 1 : 0;
    return count;
}

static guint
own_in_slots (const State *state, const BatchPart *part)
{
    guint count = 0;

    for (guint s = 0; s < state->board->slots->len; s++)
        count += state->held[s].part == part->part && state->held[s].owner == OWNER_UNIT &&
                 state->held[s].stepping == part->stepping && state->held[s].bound == part->bound;
    return count;
}

static guint
own_beside (const Unit *unit, const BatchPart *part)
{
    guint count = 0;

    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        const Fitted *one = &g_array_index (unit->pulled, Fitted, i);

        count += is_such (one, part) && one->bound == part->bound ? 1 : 0;
    }
    return count;
}

/* The most of the unit's own such parts that are still to be in it at once, from the moment on. */
static guint
own_needed_after (const Batch *batch, guint index, const BatchPart *part, gint64 time, guint *at_first)
{
    const BatchUnit *unit = batch->units->pdata[index];
    const GArray *steps = replayed_mode (batch, unit)->steps;
    g_autoptr (State) state = state_from_unit (replayed_unit (unit), NULL);
    guint most = 0;

    *at_first = own_in_slots (state, part) + own_beside (replayed_unit (unit), part);
    for (guint i = 0; i < steps->len; i++) {
        gboolean over = g_array_index (unit->tasks, BatchTask, i).ends <= time;

        most = over ? 0 : MAX (most, own_in_slots (state, part));
        state_apply (state, &g_array_index (steps, Step, i));
    }
    return MAX (most, own_in_slots (state, part));
}

static gint64
lent_from (const BatchPart *part)
{
    return part->stays->len > 0 ? g_array_index (part->stays, BatchStay, 0).from : G_MAXINT64;
}

/* ---- Given by a route that was left ---- */

static gboolean
was_out_before (const Batch *batch, const BatchPart *part)
{
    return part->from_step == G_MAXUINT || ((const BatchUnit *) batch->units->pdata[part->from_unit])->aside != ASIDE_NOT;
}

static const PublishedPart *
as_published (const BatchQuestion *question, const BatchPart *part, const char *unit)
{
    const GArray *parts = question->published != NULL ? question->published->parts : NULL;

    for (guint i = 0; parts != NULL && i < parts->len; i++) {
        const PublishedPart *one = &g_array_index (parts, PublishedPart, i);

        if (one->number == part->number && one->part == part->part && one->stepping == part->stepping &&
            one->bound == part->bound && g_str_equal (one->unit, unit))
            return one;
    }
    return NULL;
}

/* NULL: it is not in this run. */
static const BatchUnit *
unit_by_id (const Batch *batch, const char *id)
{
    const BatchUnit *found = NULL;

    for (guint i = 0; i < batch->units->len; i++)
        if (g_str_equal (((const BatchUnit *) batch->units->pdata[i])->unit->id, id))
            found = batch->units->pdata[i];
    return found;
}

/* By its number, or beside the sheet: the same slot, and the same done to it, or what was found there. */
static gboolean
tells_of (const RecordEntry *entry, const Step *step, guint number)
{
    if (entry->fitted != NULL && step->kind != STEP_WRITE && entry->looked_at[step->slot])
        return TRUE;
    if (entry->outcome != ENTRY_DONE)
        return FALSE;
    return entry->number == number ||
           (entry->number == 0 && entry->step.kind == step->kind && step->kind != STEP_WRITE &&
            entry->step.slot == step->slot);
}

/* Entries of routes that the unit had left before have other steps by those numbers. */
static gboolean
record_has_done (const BatchQuestion *question, const Batch *batch, const PublishedUnit *published, guint step)
{
    const BatchUnit *unit = unit_by_id (batch, published->unit);
    const Record *record = replayed_record (question, published->unit);

    for (guint k = unit != NULL ? replayed_entries_before (unit, published) : 0;
         record != NULL && k < record->entries->len; k++)
        if (tells_of (record->entries->pdata[k], &g_array_index (published->tasks, PublishedTask, step).step, step + 1))
            return TRUE;
    return FALSE;
}

/* Some unit has it by now: it was to be fitted by then, or its record says that it was. */
static gboolean
is_with_another (const BatchQuestion *question, const Batch *batch, const BatchPart *part)
{
    for (guint i = 0; i < question->published->units->len; i++) {
        const PublishedUnit *unit = question->published->units->pdata[i];

        for (guint k = 0; k < unit->tasks->len; k++) {
            const PublishedTask *task = &g_array_index (unit->tasks, PublishedTask, k);
            const Step *step = &task->step;

            if (step->kind == STEP_FIT && step->owner == OWNER_LOAN && step->part == part->part &&
                step->stepping == part->stepping && step->bound == part->bound && task->part_number == part->number &&
                (task->begins <= question->now || record_has_done (question, batch, unit, k)))
                return TRUE;
        }
    }
    return FALSE;
}

/* By the clock, by a record, or because another unit has it, or has had it. */
static gboolean
is_given_by_now (const BatchQuestion *question, const Batch *batch, const BatchPart *part, const PublishedPart *published)
{
    const PublishedUnit *unit = batch_published_find (question->published, published->unit);

    if (published->step == G_MAXUINT || is_with_another (question, batch, part))
        return TRUE;
    return unit != NULL && published->step < unit->tasks->len &&
           (g_array_index (unit->tasks, PublishedTask, published->step).ends <= question->now ||
            record_has_done (question, batch, unit, published->step));
}

/* It is lent at the moment that is planned from, or later; else it may lie beside its unit again. */
static gboolean
is_out_from_now (const BatchQuestion *question, const BatchPart *part)
{
    for (guint i = 0; i < part->stays->len; i++)
        if (g_array_index (part->stays, BatchStay, i).to > question->now)
            return TRUE;
    return FALSE;
}

static guint
out_before_of_unit (const BatchQuestion *question, const Batch *batch, const BatchPart *part)
{
    guint count = 0;

    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *other = batch->parts->pdata[p];

        count += other->owner == OWNER_UNIT && other->from_unit == part->from_unit && other->part == part->part &&
                 other->stepping == part->stepping && other->from_step == G_MAXUINT && is_out_from_now (question, other);
    }
    return count;
}

/* The part is lent on, so it is not what the unit has in it, beside it, or fits as its own. */
static char *
check_out_before (const BatchQuestion *question, const Batch *batch, const BatchPart *part)
{
    const BatchUnit *unit = batch->units->pdata[part->from_unit];
    const PublishedPart *published = as_published (question, part, unit->unit->id);

    if (published == NULL || !is_given_by_now (question, batch, part, published))
        return g_strdup_printf ("%s #%u is lent, and nothing says that %s has given it", part->part->name, part->number,
                                unit->unit->id);
    if (unit->aside == ASIDE_NOT &&
        out_before_of_unit (question, batch, part) + own_in_all (replayed_unit (unit), part) > own_in_all (unit->unit, part))
        return g_strdup_printf ("%s #%u is lent, and %s has it too", part->part->name, part->number, unit->unit->id);
    return NULL;
}

/* ---- Given by the route that the unit goes by ---- */

static char *
check_given (const Batch *batch, const BatchPart *part)
{
    const BatchUnit *unit = batch->units->pdata[part->from_unit];
    guint lent = 0, at_first = 0;

    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *other = batch->parts->pdata[p];

        lent += other->owner == OWNER_UNIT && other->from_unit == part->from_unit && replayed_alike (other, part) &&
                other->from_step != G_MAXUINT && lent_from (other) <= lent_from (part);
    }
    guint needed = own_needed_after (batch, (guint) part->from_unit, part, lent_from (part), &at_first);
    if (part->from_step >= unit->tasks->len || lent + needed > at_first ||
        g_array_index (unit->tasks, BatchTask, part->from_step).ends > lent_from (part))
        return g_strdup_printf ("%s #%u is lent before %s has given it", part->part->name, part->number,
                                unit->unit->id);
    return NULL;
}

char *
replay_pulled (const BatchQuestion *question, const Batch *batch, const BatchPart *part)
{
    const BatchUnit *unit =
        part->from_unit >= 0 && part->from_unit < (int) batch->units->len ? batch->units->pdata[part->from_unit] : NULL;

    if (unit == NULL)
        return g_strdup_printf ("%s #%u is from no unit of this batch", part->part->name, part->number);
    if (!question->shop->lend_pulled_parts || unit->unit->own_parts_stay)
        return g_strdup_printf ("%s #%u stays with %s, and is lent", part->part->name, part->number, unit->unit->id);
    if (part->stays->len == 0)
        return NULL;
    return was_out_before (batch, part) ? check_out_before (question, batch, part) : check_given (batch, part);
}
