/* SPDX-License-Identifier: MIT */
/* A record whose steps are those of a published timetable: it is read as a batch reads it. */
#include "commands/resume_published.h"

#include <string.h>

/* The timetable counts so many entries of the record to routes that the unit has left; they have to be there. */
static gboolean
has_what_is_counted (const Published *published, const PublishedUnit *of, const Record *record, Complaints *complaints)
{
    guint counted = batch_published_entries (of);

    if (record->entries->len >= counted)
        return TRUE;
    complaints_add (
        complaints, record->at, "expected the record with which the timetable was planned",
        "of the record of %s the timetable %s counts %u to routes that are left, and this one has %u in all",
        record->unit, published->path, counted, record->entries->len);
    return FALSE;
}

/* A number needs a step: a unit that is not in the timetable has none, nor one that was set aside and has left no route. */
static gboolean
has_its_steps (const Published *published, const PublishedUnit *of, const Record *record, Complaints *complaints)
{
    Mark at = MARK_NONE;
    guint number = 0;

    for (guint i = 0; i < record->entries->len && number == 0; i++)
        number = ((const RecordEntry *) g_ptr_array_index (record->entries, i))->number;
    if (number == 0 || (of != NULL && (of->tasks->len > 0 || of->earlier != NULL)))
        return TRUE;
    at = batch_published_place (published->path, published->text, record->unit);
    complaints_add_text (complaints, published->path, published->text, strlen (published->text));
    complaints_add (complaints, at, "expected a unit that it plans; what was done to another is recorded with --do",
                    of == NULL ? "step %u: %s is not in this timetable" : "step %u: %s was set aside in this timetable",
                    number, record->unit);
    return FALSE;
}

Resumed *
resume_from_published (const Loaded *loaded, const Unit *unit, const Record **record, gboolean *by_earlier,
                       Complaints *complaints)
{
    const Published *published = &loaded->published;
    const PublishedUnit *of = batch_published_find (published->timetable, unit->id);
    const BatchQuestion question = { .library = loaded->library,
                                     .shop = loaded->shop,
                                     .published = published->timetable };

    *record = batch_record_of (loaded->library, unit->id, complaints);
    if (*record == NULL)
        return NULL;
    if (!has_its_steps (published, of, *record, complaints) ||
        (of != NULL && !has_what_is_counted (published, of, *record, complaints)))
        return NULL;
    return batch_resume (&question, unit, *record, by_earlier, complaints);
}
