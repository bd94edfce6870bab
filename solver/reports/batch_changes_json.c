/* SPDX-License-Identifier: MIT */
/* What a batch that was planned anew went by, and what it changed, as JSON: docs/batch-json.md, "What changed". */
#include "reports/batch_changes.h"

static json_t *
json_tenths (gint64 tenths)
{
    return json_number ((double) tenths / 10.0);
}

static const char *
id_of (const BatchView *view, guint unit)
{
    return view_unit (view, unit)->unit->id;
}

/* ---- The head ---- */

static json_t *
json_replaces (const BatchView *view)
{
    const BatchPublished *published = view->report->question->published;
    json_t *object = json_object ();

    json_set_text (object, "timetable", published->mark);
    json_object_set_new (object, "from", json_tenths (published->made));
    json_object_set_new (object, "tasks", json_integer (view->batch->replan->published));
    return object;
}

static json_t *
json_taken (const BatchView *view)
{
    const BatchReplan *replan = view->batch->replan;
    json_t *object = json_object (), *under_way = json_array ();

    json_object_set_new (object, "records", json_integer (replan->records));
    json_object_set_new (object, "entries", json_integer (replan->entries));
    json_object_set_new (object, "files", json_integer (replan->files));
    json_object_set_new (object, "steps-by-record", json_integer (replan->recorded_steps));
    json_object_set_new (object, "units-by-timetable", json_integer (replan->clock_units));
    json_object_set_new (object, "steps-by-timetable", json_integer (replan->clock_steps));
    for (guint i = 0; i < replan->under_way->len; i++) {
        const BatchUnderWay *one = &g_array_index (replan->under_way, BatchUnderWay, i);
        json_t *entry = json_object ();

        json_set_text (entry, "unit", id_of (view, one->unit));
        json_object_set_new (entry, "step", json_integer (one->step + 1));
        json_set_text (entry, "by", one->by_clock ? "timetable" : "record");
        json_array_append_new (under_way, entry);
    }
    json_object_set_new (object, "under-way", under_way);
    return object;
}

static json_t *
json_lost (const BatchLost *lost)
{
    json_t *object = json_object ();

    json_set_text (object, "part", lost->part->name);
    json_set_text (object, "stepping", lost->stepping);
    json_set_text (object, "bound", lost->bound);
    json_set_text (object, "owner", owner_name (lost->owner));
    if (lost->number > 0)
        json_object_set_new (object, "number", json_integer (lost->number));
    json_set_text (object, "from-unit", lost->of);
    if (lost->of != NULL && lost->of_step != G_MAXUINT)
        json_object_set_new (object, "pulled-by", json_integer (lost->of_step + 1));
    json_set_text (object, "unit", lost->unit);
    json_object_set_new (object, "entry", json_integer (lost->entry));
    json_set_text (object, "file", lost->at.file);
    json_object_set_new (object, "line", json_integer (lost->at.line));
    return object;
}

void
batch_json_replan (json_t *head, const BatchView *view)
{
    const BatchReplan *replan = view->batch->replan;
    json_t *lost = NULL;

    if (replan == NULL)
        return;
    json_object_set_new (head, "replaces", json_replaces (view));
    json_object_set_new (head, "taken", json_taken (view));
    lost = json_array ();
    for (guint i = 0; i < replan->lost->len; i++)
        json_array_append_new (lost, json_lost (&g_array_index (replan->lost, BatchLost, i)));
    json_object_set_new (head, "out-of-use", lost);
}

/* ---- Tasks ---- */

void
batch_json_task_done (json_t *object, const BatchView *view, const BatchTask *task)
{
    if (view->batch->replan == NULL)
        return;
    if (task->done)
        json_set_text (object, "done-by", task->by_clock ? "timetable" : "record");
    else if (task->begins < view->report->question->now)
        json_object_set_new (object, "under-way", json_true ());
}

void
batch_json_last_start (json_t *object, const LastStart *start)
{
    if (!start->apart)
        return;
    json_object_set_new (object, "step-ends", json_tenths (start->step_ends));
    json_object_set_new (object, "start-begins", json_tenths (start->begins));
    json_object_set_new (object, "start-technician", json_integer (start->technician + 1));
}

/* ---- Changes ---- */

static const char *
kind_key (ChangeKind kind)
{
    static const char *const keys[] = { "none", "found", "numbers", "times", "route", "set-aside", "new" };

    return keys[kind];
}

/* NULL: nothing is said. */
static const char *
why_key (const BatchChange *change)
{
    static const char *const keys[] = { NULL,    "behind", "part",       "place",  "technician",
                                        "shift", "record", "out-of-use", "refused" };

    return change->kind == CHANGE_TIMES || change->kind == CHANGE_ROUTE ? keys[change->why] : NULL;
}

static json_t *
json_placed (gint64 begins, gint64 ends, const LastStart *start, guint technician, guint place, guint number)
{
    json_t *object = json_object ();

    json_object_set_new (object, "begins", json_tenths (begins));
    json_object_set_new (object, "ends", json_tenths (ends));
    batch_json_last_start (object, start);
    if (technician != G_MAXUINT)
        json_object_set_new (object, "technician", json_integer (technician + 1));
    if (place != G_MAXUINT)
        json_object_set_new (object, "place", json_integer (place + 1));
    if (number > 0)
        json_object_set_new (object, "part-number", json_integer (number));
    return object;
}

static json_t *
json_step (const BatchView *view, guint step, const PublishedTask *was, const BatchTask *is)
{
    json_t *object = json_object ();
    guint number = is != NULL && is->part >= 0 ? ((const BatchPart *) view->batch->parts->pdata[is->part])->number : 0;

    json_object_set_new (object, "step", json_integer (step + 1));
    json_object_set_new (object, "was",
                         json_placed (was->begins, was->ends, &was->start, was->technician, was->place, was->part_number));
    if (is != NULL)
        json_object_set_new (object, "is",
                             json_placed (is->begins, is->ends, &is->start, is->technician, is->place, number));
    return object;
}

static json_t *
json_steps (const BatchView *view, guint index)
{
    const PublishedUnit *was = batch_published_unit (view, index);
    json_t *list = json_array ();

    for (guint i = 0; was != NULL && i < was->tasks->len; i++)
        if (batch_step_changed (view, index, i))
            json_array_append_new (list, json_step (view, i, &g_array_index (was->tasks, PublishedTask, i),
                                                    batch_step_now (view, index, i)));
    return list;
}

/* Who has what it waits for. */
static void
set_holder (json_t *object, const BatchView *view, const BatchChange *change)
{
    if (change->by == G_MAXUINT)
        return;
    json_set_text (object, "by", id_of (view, change->by));
    if (change->part >= 0) {
        g_autofree char *part = batch_part_words (view, view->batch->parts->pdata[change->part]);
        json_set_text (object, "part", part);
    }
    json_object_set_new (object, "from", json_tenths (MAX (change->from, 0)));
    if (change->to != G_MAXINT64)
        json_object_set_new (object, "to", json_tenths (change->to));
}

json_t *
batch_json_change (const BatchView *view, guint index)
{
    const BatchChange *change = &view->batch->replan->changes[index];
    json_t *object = NULL;
    g_autofree char *says = NULL;

    if (change->kind == CHANGE_NONE)
        return NULL;
    object = json_object ();
    says = batch_change_words (view, index);
    json_set_text (object, "unit", id_of (view, index));
    json_set_text (object, "change", kind_key (change->kind));
    json_object_set_new (object, "moved", json_integer (change->moved));
    json_set_text (object, "why", why_key (change));
    if (change->tried != NULL)
        json_set_text (object, "outcome", entry_outcome_name (change->tried->outcome));
    if (change->kind == CHANGE_TIMES)
        set_holder (object, view, change);
    json_set_text (object, "says", says);
    json_object_set_new (object, "steps", json_steps (view, index));
    return object;
}
