/* SPDX-License-Identifier: MIT */
/* Bench records in a plan: what it was planned on from, and how to go on recording. */
#include "reports/records_text.h"
#include "reports/words.h"

gboolean
records_are_there (const GPtrArray *records)
{
    return records != NULL && records->len > 0;
}

guint
records_entries (const GPtrArray *records)
{
    guint count = 0;

    for (guint i = 0; records != NULL && i < records->len; i++)
        count += ((const Record *) records->pdata[i])->entries->len;
    return count;
}

char *
records_in_words (const GPtrArray *records)
{
    g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *joined = NULL;

    for (guint i = 0; i < records->len; i++) {
        const Record *record = records->pdata[i];
        g_autofree char *entries = words_count (record->entries->len, "entry", "entries");

        g_ptr_array_add (texts, g_strdup_printf ("\"%s\" (%s)", record->name, entries));
    }
    joined = text_join (texts, "and");
    return g_strdup_printf ("the record%s %s", records->len == 1 ? "" : "s", joined);
}

gboolean
records_have_failed_entry (const GPtrArray *records)
{
    for (guint i = 0; records != NULL && i < records->len; i++) {
        const GPtrArray *entries = ((const Record *) records->pdata[i])->entries;

        for (guint e = 0; e < entries->len; e++)
            if (((const RecordEntry *) entries->pdata[e])->outcome == ENTRY_FAILED)
                return TRUE;
    }
    return FALSE;
}

const Record *
records_last (const GPtrArray *records)
{
    g_assert (records_are_there (records));
    return records->pdata[records->len - 1];
}

char *
records_route_title (const RouteReport *report)
{
    const char *wanted = report->want->name == NULL ? "what is wanted" : report->want->name;
    guint entries = records_entries (report->records);

    if (entries == 0)
        return g_strdup_printf ("%s to %s", report->unit->id, wanted);
    return g_strdup_printf ("%s to %s, from entry %u on", report->unit->id, wanted, entries + 1);
}

void
records_text_dark_fit (Paper *paper)
{
    paper_say (
        paper, 2, 4,
        "A part that went in is recorded as done, also where the unit stays dark with it: it is in. --found says "
        "that it stays dark. Failed is a part that did not go in.");
}

/* A second record would set the unit aside. */
void
records_text_by_batch (Paper *paper)
{
    paper_say (paper, 2, 4,
               "Record with --published, as on the unit's sheet, which also says how to record what is read; then plan the batch "
               "anew. The unit keeps its one record for all its sheets.");
    records_text_dark_fit (paper);
}

void
records_text_going_on (Paper *paper, const RouteReport *report)
{
    g_autofree char *title = NULL;

    if (records_entries (report->records) == 0 || report->answer->steps == NULL || report->answer->steps->len == 0)
        return;
    title = records_route_title (report);
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "Keeping a record" MARK_PLAIN);
    if (report->in_batch) {
        records_text_by_batch (paper);
        return;
    }
    paper_say (
        paper, 2, 4,
        "The steps above have numbers of their own, so they get a record of their own. Print this plan with "
        "--json too and keep the file (the route \"%s\"); then, for each step: `rungwise record NEW-RECORD "
        "--step N --initials XX PATHS THAT-FILE`. Every earlier record, and the route that it is of, stays among "
        "the PATHS, also when you plan again.",
        title);
    paper_say (paper, 2, 4,
               "As long as the work follows the route of the record \"%s\", it can go on in that one instead, by that "
               "route's numbers.",
               records_last (report->records)->name);
    records_text_dark_fit (paper);
}
