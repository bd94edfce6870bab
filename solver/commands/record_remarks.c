/* SPDX-License-Identifier: MIT */
/* What is recorded all the same, and may be a slip: it is said, and a person decides. */
#include "commands/recording.h"

#include "reports/releases_text.h"

/* The step that an entry is about, where the file knows it. NULL: it does not. */
static const Step *
step_of (const Loaded *loaded, const Record *record, const RecordEntry *entry)
{
    const PublishedUnit *of =
        loaded->published.timetable == NULL ? NULL : batch_published_find (loaded->published.timetable, record->unit);
    const GPtrArray *routes = loaded->library->routes;

    if (entry->number == 0)
        return &entry->step;
    if (loaded->published.timetable != NULL)
        return of != NULL && entry->number <= of->tasks->len
                   ? &g_array_index (of->tasks, PublishedTask, entry->number - 1).step
                   : NULL;
    for (guint i = 0; i < routes->len; i++) {
        const WrittenRoute *route = routes->pdata[i];

        if (route->board == record->board && g_strcmp0 (route->name, record->route) == 0 &&
            entry->number <= route->steps->len)
            return &g_array_index (route->steps, Step, entry->number - 1);
    }
    return NULL;
}

/* The first entry that counts by the same numbers. */
static guint
first_of_route (const Loaded *loaded, const Record *record)
{
    const PublishedUnit *of =
        loaded->published.timetable == NULL ? NULL : batch_published_find (loaded->published.timetable, record->unit);

    return of == NULL ? 0 : batch_published_entries (of);
}

/* Of a write; a part can't be fitted or taken out twice without what was done in between. */
static void
remark_on_done (const Loaded *loaded, const Record *record, guint last, GString *remarks)
{
    const RecordEntry *entry = record->entries->pdata[last];
    const Step *step = step_of (loaded, record, entry);

    if (entry->number == 0 || step == NULL || step->kind != STEP_WRITE)
        return;
    for (guint i = last; i > first_of_route (loaded, record); i--) {
        const RecordEntry *before = record->entries->pdata[i - 1];

        if (before->number != entry->number)
            continue;
        if (before->outcome == ENTRY_DONE)
            g_string_append_printf (
                remarks,
                "rungwise record: look at this: entry %u says that step %u is done, and this one says %s; "
                "both stand, in this order\n",
                i, entry->number, entry_outcome_name (entry->outcome));
        return;
    }
}

/* A write that is done, after which another release is read. */
static void
remark_on_release (const Loaded *loaded, const Record *record, guint last, GString *remarks)
{
    const RecordEntry *entry = record->entries->pdata[last];
    const Step *step = step_of (loaded, record, entry);
    const UnitRelease *read =
        step == NULL || step->kind != STEP_WRITE || entry->firmware == NULL ? NULL : &entry->firmware[step->component];
    g_autofree char *words = NULL;

    if (entry->outcome != ENTRY_DONE || read == NULL || read->count == 0 || read->may_be[step->release])
        return;
    words = releases_of_component (board_component (record->board, step->component), read->may_be);
    g_autofree char *written = words_step (record->board, step);
    g_string_append_printf (
        remarks, "rungwise record: look at this: the step is to %s, and what was read is %s; what was read counts\n",
        written, words);
}

void
recording_remark (const Loaded *loaded, const Record *record, Recorded *recorded)
{
    guint last = record->entries->len - 1;

    if (recorded->by_earlier)
        return;
    recorded->remarks = g_string_new (NULL);
    remark_on_done (loaded, record, last, recorded->remarks);
    remark_on_release (loaded, record, last, recorded->remarks);
}
