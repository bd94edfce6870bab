/* SPDX-License-Identifier: MIT */
/* What is known of the bench at a replan. */
#include "batch/bench.h"

#include "batch/records.h"
#include "check/steps.h"

/* ---- A unit's record ---- */

/* NULL: it has none that can be gone by. */
static const Record *
record_of (const BatchQuestion *question, const BatchUnit *unit)
{
    g_autoptr (Complaints) complaints = complaints_new ();

    return question->published != NULL ? batch_record_of (question->library, unit->unit->id, complaints) : NULL;
}

/* The route that an entry goes by. `steps`: of the unit's present one. */
static const GArray *
route_of_entry (const BatchUnit *unit, const GArray *steps, guint entry)
{
    guint before = 0;

    for (guint i = 0; unit->earlier != NULL && i < unit->earlier->len; i++) {
        const BatchEarlier *earlier = unit->earlier->pdata[i];

        before += earlier->entries;
        if (entry < before)
            return earlier->steps;
    }
    return steps;
}

/* NULL: it names a step that its route has not got. */
static const Step *
step_of_entry (const BatchUnit *unit, const GArray *steps, const Record *record, guint entry)
{
    const RecordEntry *one = record->entries->pdata[entry];
    const GArray *route = route_of_entry (unit, steps, entry);

    if (one->number == 0)
        return &one->step;
    return one->number <= route->len ? &g_array_index (route, Step, one->number - 1) : NULL;
}

static gint64
time_of_entry (const BatchQuestion *question, const RecordEntry *entry)
{
    gint64 time = record_entry_time (&question->clock, entry);

    return time >= 0 && time <= question->now ? time : G_MININT64; /* else its clock stands wrong */
}

gint64
bench_worked_last (const BatchQuestion *question, const BatchUnit *unit)
{
    const Record *record = record_of (question, unit);
    gint64 last = G_MININT64;

    for (guint i = 0; record != NULL && i < record->entries->len; i++)
        last = MAX (last, time_of_entry (question, record->entries->pdata[i]));
    return last;
}

/* The last entry on a step of the unit's present route; NULL: there is none. */
static const RecordEntry *
last_on_step (const BatchQuestion *question, const BatchUnit *unit, guint step)
{
    const Record *record = record_of (question, unit);
    guint first = 0;

    for (guint i = 0; unit->earlier != NULL && i < unit->earlier->len; i++)
        first += ((const BatchEarlier *) unit->earlier->pdata[i])->entries;
    for (guint i = record != NULL ? record->entries->len : 0; i-- > first;) {
        const RecordEntry *entry = record->entries->pdata[i];

        if (entry->number == step + 1)
            return entry;
    }
    return NULL;
}

gboolean
bench_step_failed (const BatchQuestion *question, const BatchUnit *unit, guint step, gint64 *time)
{
    const RecordEntry *last = last_on_step (question, unit, step);

    if (last == NULL || last->outcome != ENTRY_FAILED)
        return FALSE;
    *time = time_of_entry (question, last);
    return TRUE;
}

/* ---- Whether it stands open, and where ---- */

gboolean
bench_stands_open (const BatchQuestion *question, const BatchUnit *unit, const GArray *steps, guint done)
{
    const Record *record = record_of (question, unit);
    const Step *last = record == NULL && done > 0 ? &g_array_index (steps, Step, done - 1) : NULL;
    guint left = unit->earlier != NULL ? unit->earlier->len : 0;

    for (guint i = record != NULL ? record->entries->len : 0; i-- > 0 && last == NULL;)
        if (((const RecordEntry *) record->entries->pdata[i])->outcome != ENTRY_SKIPPED)
            last = step_of_entry (unit, steps, record, i);
    if (last == NULL && left > 0) {
        const BatchEarlier *earlier = unit->earlier->pdata[left - 1];

        last = earlier->done > 0 ? &g_array_index (earlier->steps, Step, earlier->done - 1) : NULL;
    }
    return last != NULL && step_is_off_power (unit->unit->board, last);
}

guint
bench_last_place (const PublishedUnit *published, guint done, gint64 now)
{
    guint step = done > 0 ? done - 1 : 0;

    if (published == NULL || published->tasks->len == 0)
        return G_MAXUINT;
    while (step + 1 < published->tasks->len && g_array_index (published->tasks, PublishedTask, step + 1).begins < now)
        step++;
    return g_array_index (published->tasks, PublishedTask, step).place;
}

static guint
steps_done (const BatchUnit *unit)
{
    guint done = 0;

    while (done < unit->tasks->len && g_array_index (unit->tasks, BatchTask, done).done)
        done++;
    return done;
}

/* Where it was before the first step of a route that no step of is done yet; G_MAXUINT: nowhere. */
static guint
place_before (const BatchQuestion *question, const BatchUnit *unit)
{
    const PublishedUnit *published = batch_published_find (question->published, unit->unit->id);
    gboolean begun = unit->stands != NULL || record_of (question, unit) != NULL;

    return begun ? bench_last_place (published, 0, question->now) : G_MAXUINT;
}

PlaceMove
bench_move (const BatchQuestion *question, const Batch *batch, const BatchUnit *unit, guint step)
{
    PlaceMove move = { .moves = FALSE };

    if (question->published == NULL || unit->aside != ASIDE_NOT)
        return move;
    const BatchTask *task = &g_array_index (unit->tasks, BatchTask, step);
    const GArray *steps =
        ((const BatchMode *) ((const BatchClass *) batch->classes->pdata[unit->class])->modes->pdata[unit->mode])
            ->steps;
    gboolean first = step == steps_done (unit);

    if (task->done || task->begins < question->now)
        return move;
    move.to = task->place;
    move.from = step > 0 ? (task - 1)->place : place_before (question, unit);
    move.moves = move.from != G_MAXUINT && move.from != move.to;
    move.open = move.moves && (first ? bench_stands_open (question, unit, steps, step)
                                     : step_is_off_power (unit->unit->board, &g_array_index (steps, Step, step - 1)));
    return move;
}

/* ---- Parts ---- */

/* `otherwise` where the record does not say when the step was done, or it is not. */
static gint64
time_of_step (const BatchQuestion *question, const BatchUnit *unit, guint step, gint64 otherwise)
{
    const RecordEntry *last =
        g_array_index (unit->tasks, BatchTask, step).done ? last_on_step (question, unit, step) : NULL;
    gint64 time = last != NULL ? time_of_entry (question, last) : G_MININT64;

    return time != G_MININT64 ? time : otherwise;
}

/* The last time that something was fitted in the slot on the routes before; G_MININT64: the record does not say it. */
static gint64
fitted_by_record (const BatchQuestion *question, const BatchUnit *unit, guint slot)
{
    const Record *record = record_of (question, unit);
    g_autoptr (GArray) none = g_array_new (FALSE, FALSE, sizeof (Step));

    for (guint i = record != NULL ? record->entries->len : 0; i-- > 0;) {
        const RecordEntry *entry = record->entries->pdata[i];
        const Step *step = step_of_entry (unit, none, record, i);

        if (entry->outcome == ENTRY_DONE && step != NULL && step->kind == STEP_FIT && step->slot == slot)
            return time_of_entry (question, entry);
    }
    return G_MININT64;
}

static gint64
fitted_by_timetable (const BatchQuestion *question, const BatchUnit *unit, guint slot)
{
    const PublishedUnit *published = batch_published_find (question->published, unit->unit->id);
    gint64 fitted = G_MININT64;

    for (guint i = 0; published != NULL && i < published->tasks->len; i++) {
        const PublishedTask *task = &g_array_index (published->tasks, PublishedTask, i);

        if (task->step.kind == STEP_FIT && task->step.slot == slot && task->begins < question->now)
            fitted = task->begins;
    }
    return fitted;
}

gint64
bench_fitted_since (const BatchQuestion *question, const BatchUnit *unit, guint slot)
{
    gint64 fitted = fitted_by_record (question, unit, slot);

    return fitted != G_MININT64 ? fitted : fitted_by_timetable (question, unit, slot);
}

Window
bench_stay (const BatchQuestion *question, const Batch *batch, const BatchStay *stay)
{
    const BatchUnit *unit = batch->units->pdata[stay->unit];
    Window window = { stay->from, stay->to };

    if (question->published == NULL)
        return window;
    if (stay->fit_step != G_MAXUINT) {
        window.from = time_of_step (question, unit, stay->fit_step, stay->from);
    } else {
        gint64 fitted = bench_fitted_since (question, unit, stay->slot);

        window.from = fitted != G_MININT64 ? MIN (fitted, stay->from) : stay->from;
    }
    if (stay->remove_step != G_MAXUINT)
        window.to = time_of_step (question, unit, stay->remove_step, stay->to);
    window.from = MIN (window.from, window.to); /* clocks that stand wrong */
    return window;
}
