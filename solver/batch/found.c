/* SPDX-License-Identifier: MIT */
/* What records say in words: a program can't tell "starts at once" from "a pin is bent", so all of it goes to those who can. */
#include "batch/found.h"

#include "batch/records.h"

/* The entries of a unit, one record behind the other: a second record sets it aside, and its words are shown all the same. */
typedef struct {
    Planning *planning;
    guint unit, number; /* of the entry that comes next, from 1 */
    guint shown;        /* up to this one the published timetable shows them */
} Collecting;

/* What an entry is about, by the route that it goes by. `left`: the unit has left that one. */
static const Step *
step_of_entry (const Collecting *collecting, const RecordEntry *entry, gboolean *left)
{
    const BatchUnit *unit = planning_unit (collecting->planning, collecting->unit);
    const GPtrArray *earlier = unit->earlier;
    const PublishedUnit *published = collecting->planning->plans[collecting->unit].published;
    guint behind = 0;

    for (guint i = 0; earlier != NULL && i < earlier->len; i++) {
        const BatchEarlier *one = earlier->pdata[i];

        behind += one->entries;
        *left = collecting->number <= behind;
        if (*left && entry->number > 0)
            return entry->number <= one->steps->len ? &g_array_index (one->steps, Step, entry->number - 1) : NULL;
        if (*left)
            break;
    }
    if (entry->number == 0)
        return &entry->step;
    return published != NULL && entry->number <= published->tasks->len
               ? &g_array_index (published->tasks, PublishedTask, entry->number - 1).step
               : NULL;
}

static void
collect_record (Collecting *collecting, const Record *record)
{
    Planning *planning = collecting->planning;

    for (guint i = 0; i < record->entries->len; i++, collecting->number++) {
        const RecordEntry *entry = record->entries->pdata[i];
        BatchFound found = { .unit = collecting->unit, .number = collecting->number, .entry = entry };

        if (entry->found == NULL || *entry->found == '\0')
            continue;
        found.step = step_of_entry (collecting, entry, &found.left);
        found.fresh = found.number > collecting->shown;
        found.time = record_entry_time (&planning->question->clock, entry);
        g_array_append_val (planning->batch->replan->found, found);
    }
}

void
found_collect (Planning *planning)
{
    const Library *library = planning->question->library;
    BatchReplan *replan = planning->batch->replan;

    for (guint u = 0; u < planning_units (planning); u++) {
        const char *id = planning_unit (planning, u)->unit->id;
        const PublishedUnit *published = batch_published_find (planning->question->published, id);
        const GPtrArray *records = library_records_of (library, id);
        Collecting collecting = { planning, u, 1, published != NULL ? published->found : 0 };

        for (guint i = 0; records != NULL && i < records->len; i++)
            collect_record (&collecting, records->pdata[i]);
        replan->found_from[u + 1] = replan->found->len;
    }
}

static gboolean
has_fresh (const BatchReplan *replan, guint unit)
{
    for (guint i = replan->found_from[unit]; i < replan->found_from[unit + 1]; i++)
        if (g_array_index (replan->found, BatchFound, i).fresh)
            return TRUE;
    return FALSE;
}

/* The unit is to borrow the part by a step that is still to be done. */
static gboolean
is_to_come (const Batch *batch, const BatchStay *stay)
{
    const GArray *tasks = ((const BatchUnit *) batch->units->pdata[stay->unit])->tasks;

    return stay->fit_step < tasks->len && !g_array_index (tasks, BatchTask, stay->fit_step).done;
}

gboolean *
found_fresh (const Batch *batch)
{
    gboolean *fresh = g_new0 (gboolean, batch->units->len + 1);

    for (guint u = 0; u < batch->units->len; u++)
        fresh[u] = has_fresh (batch->replan, u);
    for (guint i = 0; i < batch->parts->len; i++) {
        const BatchPart *part = batch->parts->pdata[i];

        if (part->from_unit < 0 || !has_fresh (batch->replan, (guint) part->from_unit))
            continue;
        for (guint k = 0; k < part->stays->len; k++) {
            const BatchStay *stay = &g_array_index (part->stays, BatchStay, k);

            fresh[stay->unit] |= is_to_come (batch, stay);
        }
    }
    return fresh;
}

guint
found_last_shown (const BatchReplan *replan, guint unit)
{
    guint end = replan->found_from[unit + 1];

    return end > replan->found_from[unit] ? g_array_index (replan->found, BatchFound, end - 1).number : 0;
}

const RecordEntry *
found_last_about (const Planning *planning, guint unit, guint number)
{
    const UnitPlan *plan = &planning->plans[unit];
    const Record *record = NULL;
    g_autoptr (Complaints) unsaid = complaints_new (); /* what is wrong with it was said when it was read */

    if (plan->entries > 0)
        record = batch_record_of (planning->question->library, planning_unit (planning, unit)->unit->id, unsaid);
    for (guint back = 1; record != NULL && back <= plan->entries; back++) {
        const RecordEntry *entry = record->entries->pdata[record->entries->len - back];

        if (entry->number == number)
            return entry;
    }
    return NULL;
}
