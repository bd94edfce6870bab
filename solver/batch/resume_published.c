/* SPDX-License-Identifier: MIT */
/* A record of one unit, read against a published timetable as a batch that is planned on reads it. */
#include "batch/standing.h"

const PublishedUnit *
batch_published_find (const BatchPublished *published, const char *id)
{
    return g_hash_table_lookup (published->by_id, id);
}

guint
batch_published_entries (const PublishedUnit *unit)
{
    guint entries = 0;

    for (guint i = 0; unit->earlier != NULL && i < unit->earlier->len; i++)
        entries += ((const BatchEarlier *) unit->earlier->pdata[i])->entries;
    return entries;
}

/* FALSE after a complaint: its numbers are of the steps of another route. */
static gboolean
is_of_timetable (const Record *record, Complaints *complaints)
{
    if (record->route == NULL || g_str_equal (record->route, BATCH_ROUTE) || !record_names_steps (record))
        return TRUE;
    complaints_add (complaints, record->at,
                    "expected a record of the route \"" BATCH_ROUTE "\", as `rungwise record --published` begins it",
                    "this record is of the route \"%s\": its numbers are of other steps than those of the timetable",
                    record->route);
    return FALSE;
}

const Record *
batch_record_of (const Library *library, const char *unit, Complaints *complaints)
{
    const GPtrArray *all = library_records_of (library, unit);
    const Record *found = NULL;

    for (guint i = 0; all != NULL && i < all->len; i++) {
        const Record *record = all->pdata[i];

        if (record->entries->len == 0)
            continue;
        if (found != NULL) {
            complaints_add (complaints, record->at, "expected one record of a unit that is worked by a timetable",
                            "this is a second record of %s, beside \"%s\" (%s)", unit, found->name, found->file);
            return NULL;
        }
        if (!is_of_timetable (record, complaints))
            return NULL;
        found = record;
    }
    return found;
}

/* NULL after a complaint. */
static Resumed *
resume (Standing *standing, gboolean *by_earlier)
{
    g_autoptr (GArray) steps = standing_published_steps (standing->published);

    if (!standing_go_by_earlier (standing))
        return NULL;
    *by_earlier = standing->entry == standing->record->entries->len;
    return standing_resume_part (standing, steps, standing->record->entries->len - standing->entry);
}

Resumed *
batch_resume (const BatchQuestion *question, const Unit *unit, const Record *record, gboolean *by_earlier,
              Complaints *complaints)
{
    g_autoptr (GPtrArray) units = g_ptr_array_new ();
    BatchUnit of = { .unit = unit };
    Batch batch = { .units = units };
    UnitPlan plan = { .unit = unit, .under_way = -1, .keeps = -1, .mode = -1 };
    Planning planning = { .question = question, .batch = &batch, .shop = shop_copy (question->shop), .plans = &plan };
    g_autoptr (GArray) lent = replan_lent (&planning);
    Standing standing = { .planning = &planning,
                          .record = record,
                          .published = batch_published_find (question->published, unit->id),
                          .shop = replan_shelf (question->shop, lent),
                          .lent = lent,
                          .complaints = complaints };

    g_ptr_array_add (units, &of);
    Resumed *resumed = resume (&standing, by_earlier);
    g_clear_pointer (&of.earlier, g_ptr_array_unref);
    g_clear_pointer (&of.stands, unit_free);
    shop_free (standing.shop);
    shop_free (planning.shop);
    return resumed;
}
