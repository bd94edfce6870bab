/* SPDX-License-Identifier: MIT */
/* The bench records of a batch: counted, and held against the clock. */
#include "batch/records.h"

/* ---- The clock ---- */

gint64
record_entry_time (const BatchClock *clock, const RecordEntry *entry)
{
    g_autoptr (GDateTime) time = record_entry_moment (entry);

    if (time == NULL || clock->begin == NULL)
        return G_MININT64;
    g_autoptr (GDateTime) wall = g_date_time_new_utc (g_date_time_get_year (time), g_date_time_get_month (time),
                                                      g_date_time_get_day_of_month (time), g_date_time_get_hour (time),
                                                      g_date_time_get_minute (time), g_date_time_get_seconds (time));
    return g_date_time_difference (wall, clock->begin) * 10 / G_TIME_SPAN_MINUTE;
}

static void
say_times (Planning *planning, const Record *record)
{
    const BatchQuestion *question = planning->question;
    const RecordEntry *late = NULL, *early = NULL;
    guint after = 0, before = 0;

    for (guint i = 0; i < record->entries->len; i++) {
        const RecordEntry *entry = record->entries->pdata[i];
        gint64 time = record_entry_time (&question->clock, entry);

        if (time == G_MININT64)
            continue;
        late = time > question->now && after++ == 0 ? entry : late;
        early = time < 0 && before++ == 0 ? entry : early;
    }
    if (late != NULL)
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("%s: %u of the entries of its record %s timed after now%s %s (%s:%u:%u); taken for true all the same",
                             record->unit, after, after == 1 ? "is" : "are", after == 1 ? "," : ", the first", late->time,
                             late->at.file, late->at.line, late->at.column));
    if (early != NULL)
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("%s: %u of the entries of its record %s timed before the batch begins%s %s (%s:%u:%u); "
                             "taken for work on this batch",
                             record->unit, before, before == 1 ? "is" : "are", before == 1 ? "," : ", the first", early->time,
                             early->at.file, early->at.line, early->at.column));
}

void
records_count (Planning *planning)
{
    const Library *library = planning->question->library;
    BatchReplan *replan = planning->batch->replan;
    g_autoptr (GHashTable) files = g_hash_table_new (g_str_hash, g_str_equal);

    for (guint i = 0; i < planning_units (planning); i++) {
        const GPtrArray *all = library_records_of (library, planning_unit (planning, i)->unit->id);
        gboolean any = FALSE;

        for (guint k = 0; all != NULL && k < all->len; k++) {
            const Record *record = all->pdata[k];

            if (record->entries->len == 0)
                continue;
            any = TRUE;
            replan->entries += record->entries->len;
            g_hash_table_add (files, (gpointer) record->file);
            say_times (planning, record);
        }
        replan->records += any ? 1 : 0;
    }
    replan->files = g_hash_table_size (files);
}

void
records_say_unused (Planning *planning)
{
    const Library *library = planning->question->library;
    guint unused = 0;
    const Record *first = NULL;

    for (guint i = 0; i < library->records->len; i++) {
        const Record *record = library->records->pdata[i];

        first = first == NULL && record->entries->len > 0 ? record : first;
        unused += record->entries->len > 0 ? 1 : 0;
    }
    if (unused > 0)
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("%u bench %s among the files (the first of %s, %s:%u): a first plan does not go by "
                             "records, and takes each unit as its file says; --published and --now plan anew",
                             unused, unused == 1 ? "record is" : "records are", first->unit, first->at.file,
                             first->at.line));
}
