/* SPDX-License-Identifier: MIT */
/* Routes that a unit has left before: how far it came by each, as its record or the timetable says. */
#include "batch/standing.h"

/* Done on the record's word: entries from the next one on, so many. FALSE: that can't have happened. */
static gboolean
go_by_entries (Standing *standing, const BatchEarlier *earlier, guint count)
{
    guint from = standing->entry;
    g_autoptr (Resumed) resumed = standing_resume_part (standing, earlier->steps, count);

    if (resumed == NULL)
        return FALSE;
    standing_lose_parts (standing, resumed->shop, earlier->steps, from, FALSE);
    standing_stand_as (standing->planning, standing->unit, standing_take_unit (&resumed, &standing->shop));
    return TRUE;
}

/* How many entries, from the next one on, it takes until each of the steps that the timetable took for done is done; 0: no number
 * does, or what follows does not begin another sheet: then the record begins with that one. */
static guint
entries_of_what_was_done (const Standing *standing, const BatchEarlier *earlier)
{
    g_autofree gboolean *done = g_new0 (gboolean, earlier->done + 1);
    const GPtrArray *entries = standing->record != NULL ? standing->record->entries : NULL;
    guint missing = earlier->done;

    for (guint i = standing->entry; entries != NULL && missing > 0 && i < entries->len; i++) {
        const RecordEntry *entry = entries->pdata[i];

        if (entry->outcome != ENTRY_DONE || entry->number == 0 || entry->number > earlier->done)
            continue;
        missing -= done[entry->number - 1] ? 0 : 1;
        done[entry->number - 1] = TRUE;
        if (missing == 0 && (i + 1 == entries->len || ((const RecordEntry *) entries->pdata[i + 1])->number <= 1))
            return i + 1 - standing->entry;
    }
    return 0;
}

/* By the timetable alone when it was left; a record that has come since tells of it, or only of what came after. */
static void
go_by_clock (Standing *standing, BatchEarlier *earlier)
{
    Planning *planning = standing->planning;
    guint count = entries_of_what_was_done (standing, earlier), entry = standing->entry;
    g_autoptr (Complaints) unsaid = complaints_new ();
    Complaints *said = standing->complaints;
    gboolean told = FALSE;

    standing->complaints = unsaid;
    told = count > 0 && go_by_entries (standing, earlier, count);
    standing->complaints = said;
    if (told) {
        earlier->entries = count;
        earlier->done = 0;
        return;
    }
    standing->entry = entry;
    standing_stand_as (planning, standing->unit,
                       standing_unit_after (planning->plans[standing->unit].unit, earlier->steps, earlier->done));
}

gboolean
standing_go_by_earlier (Standing *standing)
{
    const GPtrArray *published = standing->published != NULL ? standing->published->earlier : NULL;
    GPtrArray *earlier = published != NULL ? earlier_copy (published) : NULL;

    planning_unit (standing->planning, standing->unit)->earlier = earlier;
    for (guint i = 0; earlier != NULL && i < earlier->len; i++) {
        BatchEarlier *one = earlier->pdata[i];

        if (one->entries == 0)
            go_by_clock (standing, one);
        else if (standing->record == NULL || !go_by_entries (standing, one, one->entries))
            return FALSE;
    }
    return TRUE;
}
