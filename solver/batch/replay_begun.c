/* SPDX-License-Identifier: MIT */
/* Replay of what has begun: a step that is done or under way is one that was published, at its published time. A unit with a record has
 * done what that says; one without is as far as the clock, or as a record of a unit that has got its part since. */
#include "batch/replay.h"

#include <string.h>

typedef struct {
    const BatchQuestion *question;
    const BatchUnit *unit;
    const PublishedUnit *published; /* NULL: it does not go by a published route */
    const Record *record;           /* NULL: none tells of the route that it goes by */
    guint first;                    /* entry of the record that does */
} Begun;

guint
replayed_entries_before (const BatchUnit *unit, const PublishedUnit *published)
{
    guint routes = published != NULL && published->earlier != NULL ? published->earlier->len : 0, entries = 0;

    for (guint i = 0; i < routes; i++) {
        const BatchEarlier *known = published->earlier->pdata[i];
        const BatchEarlier *read = unit->earlier != NULL && i < unit->earlier->len ? unit->earlier->pdata[i] : known;

        /* A route that was left by the clock alone may have got its entries since. */
        entries += known->entries > 0 ? known->entries : read->entries;
    }
    return entries;
}

/* ---- Records ---- */

/* An entry on the step by its number; `done`: that says it was done. */
static gboolean
has_entry (const Record *record, guint first, guint step, gboolean done)
{
    gboolean has = FALSE;

    for (guint i = first; i < record->entries->len; i++) {
        const RecordEntry *entry = record->entries->pdata[i];

        has |= entry->number == step + 1 && (!done || entry->outcome == ENTRY_DONE);
    }
    return has;
}

static gboolean
is_moved_by (const PublishedTask *task, const PublishedPart *part)
{
    const Step *step = &task->step;

    if (step->kind == STEP_WRITE || task->part_number != part->number)
        return FALSE;
    if (step->kind == STEP_REMOVE)
        return step->part == NULL || step->part == part->part;
    return step->owner == OWNER_LOAN && step->part == part->part && step->stepping == part->stepping &&
           step->bound == part->bound;
}

/* Some unit with a record has to do with the part by its published steps. */
static gboolean
is_with_a_record (const BatchQuestion *question, const PublishedPart *part)
{
    for (guint i = 0; i < question->published->units->len; i++) {
        const PublishedUnit *unit = question->published->units->pdata[i];

        for (guint k = 0; strcmp (unit->unit, part->unit) != 0 && k < unit->tasks->len; k++)
            if (is_moved_by (&g_array_index (unit->tasks, PublishedTask, k), part) &&
                replayed_record (question, unit->unit) != NULL)
                return TRUE;
    }
    return FALSE;
}

/* By a record another unit has what this step, or a later one, takes out of the unit for good. */
static gboolean
has_surely_given (const Begun *begun, guint step)
{
    const GArray *parts = begun->question->published->parts;

    for (guint i = 0; i < parts->len; i++) {
        const PublishedPart *part = &g_array_index (parts, PublishedPart, i);

        if (strcmp (part->unit, begun->unit->unit->id) == 0 && part->step != G_MAXUINT && part->step >= step &&
            is_with_a_record (begun->question, part))
            return TRUE;
    }
    return FALSE;
}

/* ---- Step by step ---- */

static char *
refuse (const Begun *begun, guint step, const char *why)
{
    return g_strdup_printf ("%s, step %u: %s", begun->unit->unit->id, step + 1, why);
}

static char *
check_done (const Begun *begun, const PublishedTask *was, guint step)
{
    const BatchTask *task = &g_array_index (begun->unit->tasks, BatchTask, step);
    gint64 now = begun->question->now;

    if (task->begins != MIN (was->begins, now) || task->ends != MIN (was->ends, now))
        return refuse (begun, step, "it is done, and not at its published time");
    if (begun->record != NULL)
        return has_entry (begun->record, begun->first, step, TRUE)
                   ? NULL
                   : refuse (begun, step, "it is done, and the unit's record does not say so");
    return was->ends <= now || has_surely_given (begun, step)
               ? NULL
               : refuse (begun, step, "it is done, and by the published timetable it is not over");
}

static char *
check_under_way (const Begun *begun, const PublishedTask *was, guint step)
{
    const BatchTask *task = &g_array_index (begun->unit->tasks, BatchTask, step);

    if (task->begins != was->begins || was->ends <= begun->question->now)
        return refuse (begun, step, "it has begun before now, and not as it was published");
    if (begun->record != NULL && has_entry (begun->record, begun->first, step, FALSE))
        return refuse (begun, step, "it is under way, and the unit's record says what came of it");
    return NULL;
}

static char *
check_start (const Begun *begun, const PublishedTask *was, guint step)
{
    const LastStart *start = &g_array_index (begun->unit->tasks, BatchTask, step).start;

    return was != NULL && was->start.apart && was->start.begins == start->begins
               ? NULL
               : refuse (begun, step, "its start has begun before now, and not as it was published");
}

static char *
check_task (const Begun *begun, const BatchMode *mode, guint step)
{
    const BatchTask *task = &g_array_index (begun->unit->tasks, BatchTask, step);
    const PublishedTask *was = begun->published != NULL && step < begun->published->tasks->len
                                   ? &g_array_index (begun->published->tasks, PublishedTask, step)
                                   : NULL;
    gint64 now = begun->question->now;
    char *wrong = NULL;

    if (task->done || task->begins < now) {
        if (was == NULL || !replayed_same_step (&was->step, &g_array_index (mode->steps, Step, step)))
            return refuse (begun, step, "it is done or under way, and was not published");
        wrong = task->done ? check_done (begun, was, step) : check_under_way (begun, was, step);
    }
    return wrong == NULL && !task->done && task->start.apart && task->start.begins < now
               ? check_start (begun, was, step)
               : wrong;
}

static Begun
begun_of (const BatchQuestion *question, const BatchUnit *unit)
{
    const PublishedUnit *published = batch_published_find (question->published, unit->unit->id);
    guint before = published != NULL && published->earlier != NULL ? published->earlier->len : 0;
    guint left = unit->earlier != NULL ? unit->earlier->len : 0;
    Begun begun = { question, unit, left == before ? published : NULL, replayed_record (question, unit->unit->id),
                    replayed_entries_before (unit, published) };

    if (begun.record != NULL && begun.first >= begun.record->entries->len)
        begun.record = NULL;
    return begun;
}

char *
replay_begun (const BatchQuestion *question, const Batch *batch)
{
    char *wrong = NULL;

    for (guint i = 0; question->published != NULL && i < batch->units->len && wrong == NULL; i++) {
        const BatchUnit *unit = batch->units->pdata[i];
        const Begun begun = begun_of (question, unit);

        for (guint k = 0; unit->aside == ASIDE_NOT && k < unit->tasks->len && wrong == NULL; k++)
            wrong = check_task (&begun, replayed_mode (batch, unit), k);
    }
    return wrong;
}
