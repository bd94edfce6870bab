/* SPDX-License-Identifier: MIT */
/* Which records are about the unit, and which routes they were worked from. */
#include "commands/resume.h"
#include "commands/resume_published.h"

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

/* The titles of the routes for this board, quoted. Transfer full; NULL: there are none. */
static char *
titles_of_routes (const Library *library, const Board *board)
{
    GString *titles = g_string_new (NULL);

    for (guint i = 0; i < library->routes->len; i++) {
        const WrittenRoute *route = g_ptr_array_index (library->routes, i);

        if (route->board == board)
            g_string_append_printf (titles, "%s\"%s\"", titles->len > 0 ? ", " : "", route->name);
    }
    return g_string_free (titles, titles->len == 0);
}

static gboolean
complain_of_no_timetable (const Record *record, Complaints *complaints)
{
    complaints_add (complaints, record->at, "expected --published with the JSON of the batch that the unit is worked by",
                    "the steps of this record are those of a published timetable, and none is named");
    return FALSE;
}

static gboolean
complain_of_title (const Library *library, const Record *record, Complaints *complaints)
{
    g_autofree char *titles = titles_of_routes (library, record->board);
    g_autofree char *expected = g_strdup_printf ("expected that route's file among those that are read; the routes "
                                                 "there are %s, and a route of another title gets a record of its own",
                                                 titles);

    complaints_add (complaints, record->at, expected,
                    "this record is of the route \"%s\", and no route that is read is called so", record->route);
    return FALSE;
}

/* FALSE after a complaint. `*route` is NULL where there is none; whether one is needed shows later. */
static gboolean
find_route (const Library *library, const Record *record, const WrittenRoute **route, Complaints *complaints)
{
    g_autoptr (GPtrArray) meant = meant_routes (library, record);
    g_autofree char *titles = titles_of_routes (library, record->board);

    *route = meant->len == 1 ? g_ptr_array_index (meant, 0) : NULL;
    if (meant->len == 1 || !record_names_steps (record))
        return TRUE;
    if (meant->len == 0 && g_strcmp0 (record->route, BATCH_ROUTE) == 0)
        return complain_of_no_timetable (record, complaints);
    if (meant->len == 0)
        return titles == NULL || record->route == NULL || complain_of_title (library, record, complaints);
    complaints_add (complaints, record->at, "expected one route that the steps of this record are steps of",
                    "the files hold %u routes that this record may have been worked from", meant->len);
    return FALSE;
}

/* ---- Their order ---- */

/* A record of the unit, and when its work was done; both NULL without entries. */
typedef struct {
    const Record *record;
    GDateTime *first, *last; /* owned */
} Timed;

static void
timed_free (gpointer data)
{
    Timed *timed = data;

    g_clear_pointer (&timed->first, g_date_time_unref);
    g_clear_pointer (&timed->last, g_date_time_unref);
    g_free (timed);
}

static Timed *
timed_new (const Record *record)
{
    Timed *timed = g_new0 (Timed, 1);

    timed->record = record;
    for (guint i = 0; i < record->entries->len; i++) {
        const RecordEntry *entry = g_ptr_array_index (record->entries, i);
        g_autoptr (GDateTime) time = record_entry_moment (entry);

        if (time == NULL)
            continue; /* a day that no calendar has */
        if (timed->first == NULL)
            timed->first = g_date_time_ref (time);
        if (timed->last == NULL || g_date_time_compare (time, timed->last) > 0) {
            g_clear_pointer (&timed->last, g_date_time_unref);
            timed->last = g_date_time_ref (time);
        }
    }
    return timed;
}

/* Those of the unit, by their first entries' times; as they were read where these are the same. Transfer full. */
static GPtrArray *
timed_records (const Library *library, const Unit *unit)
{
    GPtrArray *all = g_ptr_array_new_with_free_func (timed_free);

    for (guint i = 0; i < library->records->len; i++) {
        const Record *record = g_ptr_array_index (library->records, i);
        Timed *timed = NULL;
        guint at = all->len;

        if (g_strcmp0 (record->unit, unit->id) != 0)
            continue;
        timed = timed_new (record);
        while (at > 0 && timed->first != NULL) {
            const Timed *before = g_ptr_array_index (all, at - 1);

            if (before->first != NULL && g_date_time_compare (before->first, timed->first) <= 0)
                break;
            at--;
        }
        g_ptr_array_insert (all, (gint) at, timed);
    }
    return all;
}

/* Whole records are applied, so one has to be at its end before the next begins. FALSE after a complaint. */
static gboolean
follow_one_another (const GPtrArray *all, Complaints *complaints)
{
    for (guint i = 1; i < all->len; i++) {
        const Timed *before = all->pdata[i - 1], *one = all->pdata[i];

        if (one->first == NULL || before->last == NULL || g_date_time_compare (before->last, one->first) <= 0)
            continue;
        complaints_add (complaints, one->record->at,
                        "expected records of one unit that follow one another: once a new plan has a record, its work "
                        "goes into that one alone",
                        "this record begins before the last entry of the record \"%s\" (%s)", before->record->name,
                        before->record->file);
        return FALSE;
    }
    return TRUE;
}

/* ---- Going on ---- */

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
    return resume_from_record (last == NULL ? loaded->shop : last->shop, last == NULL ? unit : last->unit, route,
                               record, complaints);
}

static Resumed *
go_on_by_timetable (const Loaded *loaded, const Unit *unit, GPtrArray *records, Complaints *complaints)
{
    const Record *record = NULL;
    gboolean by_earlier = FALSE;
    Resumed *resumed = resume_from_published (loaded, unit, &record, &by_earlier, complaints);

    if (record != NULL)
        show_lines_of (record, complaints);
    if (resumed != NULL && records != NULL)
        g_ptr_array_add (records, (gpointer) record);
    return resumed;
}

Resumed *
resume_from_files (const Loaded *loaded, const Unit *unit, GPtrArray *records, Complaints *complaints)
{
    g_autoptr (GPtrArray) all = timed_records (loaded->library, unit);
    g_autoptr (Resumed) last = NULL;

    if (loaded->published.timetable != NULL)
        return go_on_by_timetable (loaded, unit, records, complaints);
    if (!follow_one_another (all, complaints))
        return NULL;
    for (guint i = 0; i < all->len; i++) {
        const Record *one = ((const Timed *) all->pdata[i])->record;
        Resumed *next = go_on (loaded, unit, last, one, complaints);

        if (next == NULL)
            return NULL;
        g_clear_pointer (&last, resumed_free);
        last = next;
        if (records != NULL)
            g_ptr_array_add (records, (gpointer) one);
    }
    return g_steal_pointer (&last);
}

Outcome
resume_unit (const Loaded *loaded, const Unit *unit, Resumed **resumed, GPtrArray *records)
{
    g_autoptr (Complaints) complaints = complaints_new ();

    *resumed = resume_from_files (loaded, unit, records, complaints);
    return complaints_count (complaints) > 0 ? load_complain (complaints) : OUTCOME_ANSWERED;
}
