/* SPDX-License-Identifier: MIT */
/* Which records are about the unit, and which routes they were worked from. */
#include "commands/resume.h"

/* A route that the record may mean. With a title any of that title, otherwise any. */
static gboolean
may_be_meant (const Record *record, const WrittenRoute *route)
{
    return route->board == record->board && (record->route == NULL || g_strcmp0 (record->route, route->name) == 0);
}

/* Of the routes, those that may be meant: of the record's own file alone if there are any. Transfer container. */
static GPtrArray *
meant_routes (const Library *library, const Record *record)
{
    g_autoptr (GPtrArray) beside = g_ptr_array_new ();
    g_autoptr (GPtrArray) all = g_ptr_array_new ();

    for (guint i = 0; i < library->routes->len; i++) {
        WrittenRoute *route = g_ptr_array_index (library->routes, i);

        if (!may_be_meant (record, route))
            continue;
        g_ptr_array_add (all, route);
        if (route->file == record->file)
            g_ptr_array_add (beside, route);
    }
    return beside->len > 0 ? g_steal_pointer (&beside) : g_steal_pointer (&all);
}

static gboolean
names_steps (const Record *record)
{
    for (guint i = 0; i < record->entries->len; i++)
        if (((const RecordEntry *) g_ptr_array_index (record->entries, i))->number > 0)
            return TRUE;
    return FALSE;
}

/* FALSE after a complaint. `*route` is NULL where there is none; whether one is needed shows later. */
static gboolean
find_route (const Library *library, const Record *record, const WrittenRoute **route, Complaints *complaints)
{
    g_autoptr (GPtrArray) meant = meant_routes (library, record);

    *route = meant->len == 1 ? g_ptr_array_index (meant, 0) : NULL;
    if (meant->len < 2 || !names_steps (record))
        return TRUE;
    complaints_add (complaints, record->at, "expected one route that the steps of this record are steps of",
                    "the files hold %u routes that this record may have been worked from", meant->len);
    return FALSE;
}

/* So that complaints can show the line. */
static void
show_lines_of (const Record *record, Complaints *complaints)
{
    g_autofree char *text = NULL;
    gsize length = 0;

    if (g_file_get_contents (record->file, &text, &length, NULL))
        complaints_add_text (complaints, record->file, text, length);
}

/* From where the last record left it, or from the files. */
static Resumed *
go_on (const Loaded *loaded, const Unit *unit, const Resumed *last, const Record *record, Complaints *complaints)
{
    const WrittenRoute *route = NULL;

    show_lines_of (record, complaints);
    if (!find_route (loaded->library, record, &route, complaints))
        return NULL;
    return resume_from_record (last == NULL ? loaded->shop : last->shop,
                               last == NULL ? unit : last->unit, route, record, complaints);
}

Resumed *
resume_from_files (const Loaded *loaded, const Unit *unit, const Record **record, Complaints *complaints)
{
    g_autoptr (Resumed) last = NULL;

    *record = NULL;
    for (guint i = 0; i < loaded->library->records->len; i++) {
        const Record *one = g_ptr_array_index (loaded->library->records, i);
        Resumed *next = NULL;

        if (g_strcmp0 (one->unit, unit->id) != 0)
            continue;
        next = go_on (loaded, unit, last, one, complaints);
        if (next == NULL)
            return NULL;
        g_clear_pointer (&last, resumed_free);
        last = next;
        *record = one;
    }
    return g_steal_pointer (&last);
}

Outcome
resume_unit (const Loaded *loaded, const Unit *unit, Resumed **resumed, const Record **record)
{
    g_autoptr (Complaints) complaints = complaints_new ();

    *resumed = resume_from_files (loaded, unit, record, complaints);
    return complaints_count (complaints) > 0 ? load_complain (complaints) : OUTCOME_ANSWERED;
}
