/* SPDX-License-Identifier: MIT */
/* Reports of a batch: what they say is what the batch holds, each in its form, and the JSON reads back. */
#include "batch_fixture.h"

#include <string.h>

#include "book/table.h"
#include "json_schema.h"
#include "reports/json_place.h"

#include <glib/gstdio.h>

static int
set_up (void **state)
{
    /* source: a Monday, by the Gregorian calendar (GLib's g_date_time_get_day_of_week(), asserted) */
    GDateTime *monday = g_date_time_new_utc (2034, 3, 6, 7, 0, 0);
    Fixture *fixture = fixture_new (SMALL, monday);

    assert_int_equal (g_date_time_get_day_of_week (monday), 1);
    assert_int_equal (fixture->view->planned, 3);
    assert_int_equal (fixture->batch->aside, 1);
    *state = fixture;
    return 0;
}

static int
tear_down (void **state)
{
    Fixture *fixture = *state;
    GDateTime *begin = fixture->question.clock.begin;

    fixture_free (fixture);
    g_date_time_unref (begin);
    return 0;
}

static void
assert_has (const char *text, const char *piece)
{
    if (strstr (text, piece) == NULL)
        fail_msg ("\"%s\" is missing in:\n%s", piece, text);
}

/* ---- Table ---- */

static const char *
cell (const GPtrArray *rows, guint row, guint column)
{
    return g_array_index (((const TableRow *) rows->pdata[row])->cells, Cell, column).text;
}

static const BatchUnit *
unit_called (const Fixture *fixture, const char *id)
{
    for (guint i = 0; i < fixture->batch->units->len; i++)
        if (g_str_equal (view_unit (fixture->view, i)->unit->id, id))
            return view_unit (fixture->view, i);
    fail_msg ("no unit is called %s", id);
    return NULL;
}

/* source: docs/batch.md, "What is written"; the form: RFC 4180, 2, items 1, 3, 4 */
static void
test_table_holds_every_task_in_order_of_time (void **state)
{
    const Fixture *fixture = *state;
    const char *text = report_batch_csv (fixture->view);
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (GPtrArray) rows = table_read ("timetable.csv", text, strlen (text), complaints);
    guint tasks = 0;

    assert_int_equal (complaints_count (complaints), 0);
    assert_true (g_str_has_prefix (text, "unit,task,step,what,technician,place,begins,attended until,ends\r\n"));
    assert_true (g_str_has_suffix (text, "\r\n"));
    for (guint i = 1; i < rows->len; i++, tasks++) {
        const BatchUnit *unit = unit_called (fixture, cell (rows, i, 0));
        gboolean is_start = g_str_equal (cell (rows, i, 3), "start it and see that it runs");
        const BatchTask piece = batch_piece (view_task (unit, (guint) atoi (cell (rows, i, 2)) - 1), is_start);
        const BatchTask *task = &piece;
        g_autofree char *begins = batch_time_words (&fixture->question.clock, task->begins);
        g_autofree char *ends = batch_time_words (&fixture->question.clock, task->ends);

        assert_int_equal (((const TableRow *) rows->pdata[i])->cells->len, 9);
        assert_int_equal (atoi (cell (rows, i, 1)), i);
        assert_int_equal (atoi (cell (rows, i, 4)), task->technician + 1);
        assert_string_equal (cell (rows, i, 6), begins);
        assert_string_equal (cell (rows, i, 8), ends);
        assert_true (i == 1 || strcmp (cell (rows, i - 1, 6), begins) <= 0);
    }
    assert_int_equal (tasks, fixture->view->moments->len);
    assert_int_equal (tasks, 5 + 3 + 2); /* the loaner, the exchange, the write through the controller and its start */
}

/* source: the SHA-256 of the table by GLib, which is not what the view was asked for */
static void
test_mark_is_the_tables_digest (void **state)
{
    const Fixture *fixture = *state;
    g_autofree char *digest =
        g_compute_checksum_for_string (G_CHECKSUM_SHA256, report_batch_csv (fixture->view), -1);

    assert_int_equal (strlen (fixture->view->mark), 8);
    assert_true (g_str_has_prefix (digest, fixture->view->mark));
}

/* ---- JSON ---- */

static BatchPublished *
read_back (const Fixture *fixture, const char *text, Complaints *complaints)
{
    return batch_published_read ("last.json", text, &fixture->library->book, fixture->library->units,
                                 &fixture->question.clock, complaints);
}

static void
assert_same_unit (const PublishedUnit *left, const PublishedUnit *right)
{
    assert_string_equal (left->unit, right->unit);
    assert_int_equal (left->tasks->len, right->tasks->len);
    for (guint i = 0; i < left->tasks->len; i++) {
        const PublishedTask *one = &g_array_index (left->tasks, PublishedTask, i);
        const PublishedTask *other = &g_array_index (right->tasks, PublishedTask, i);

        assert_int_equal (one->step.kind, other->step.kind);
        assert_int_equal (one->step.slot, other->step.slot);
        assert_int_equal (one->step.component, other->step.component);
        assert_int_equal (one->step.release, other->step.release);
        assert_int_equal (one->step.method, other->step.method);
        assert_int_equal (one->begins, other->begins);
        assert_int_equal (one->attended_until, other->attended_until);
        assert_int_equal (one->ends, other->ends);
        assert_int_equal (one->technician, other->technician);
        assert_int_equal (one->place, other->place);
        assert_int_equal (one->part_number, other->part_number);
        assert_int_equal (one->start.apart, other->start.apart);
        assert_int_equal (one->start.step_ends, other->start.step_ends);
        assert_int_equal (one->start.begins, other->start.begins);
        assert_int_equal (one->start.technician, other->start.technician);
        if (one->step.kind != STEP_FIT)
            continue;
        assert_ptr_equal (one->step.part, other->step.part);
        assert_ptr_equal (one->step.stepping, other->step.stepping);
        assert_int_equal (one->step.owner, other->step.owner);
    }
}

static void
test_json_fits_its_schema_and_reads_back (void **state)
{
    const Fixture *fixture = *state;
    g_autofree char *text = report_batch_json (fixture->view);
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (BatchPublished) read = read_back (fixture, text, complaints);
    g_autoptr (BatchPublished) published = batch_publish (fixture->batch);

    assert_fits_schema ("printed-batch.schema.json", text);
    if (complaints_count (complaints) > 0) {
        g_autofree char *said = complaints_to_string (complaints, 5);

        fail_msg ("%s", said);
    }
    assert_non_null (read);
    assert_int_equal (read->units->len, published->units->len);
    for (guint i = 0; i < read->units->len; i++)
        assert_same_unit (read->units->pdata[i], published->units->pdata[i]);
}

static BatchEarlier *
earlier_new (const PublishedUnit *like, guint entries, guint done)
{
    BatchEarlier *earlier = g_new0 (BatchEarlier, 1);

    *earlier = (BatchEarlier){ g_array_new (FALSE, TRUE, sizeof (Step)), entries, done };
    for (guint i = 0; i < like->tasks->len; i++)
        g_array_append_val (earlier->steps, g_array_index (like->tasks, PublishedTask, i).step);
    return earlier;
}

/* One that a record belongs to, and one that was left by the timetable alone. */
static void
test_routes_that_were_left_read_back (void **state)
{
    const Fixture *fixture = *state;
    g_autoptr (BatchPublished) published = batch_publish (fixture->batch);
    g_autoptr (Complaints) complaints = complaints_new (), refused = complaints_new ();
    guint index = 0;

    while (((PublishedUnit *) published->units->pdata[index])->tasks->len < 2)
        index++;
    const PublishedUnit *like = published->units->pdata[index];
    BatchUnit *unit = fixture->batch->units->pdata[index];
    unit->earlier = g_ptr_array_new_with_free_func (batch_earlier_free);
    g_ptr_array_add (unit->earlier, earlier_new (like, 3, 0));
    g_ptr_array_add (unit->earlier, earlier_new (like, 0, 2));
    g_autofree char *text = report_batch_json (fixture->view);
    g_clear_pointer (&unit->earlier, g_ptr_array_unref);
    g_autoptr (BatchPublished) read = read_back (fixture, text, complaints);

    assert_fits_schema ("printed-batch.schema.json", text);
    assert_non_null (read);
    const GPtrArray *earlier = ((PublishedUnit *) read->units->pdata[index])->earlier;
    assert_non_null (earlier);
    assert_int_equal (earlier->len, 2);
    for (guint i = 0; i < 2; i++) {
        const BatchEarlier *one = earlier->pdata[i];

        assert_int_equal (one->entries, i == 0 ? 3 : 0);
        assert_int_equal (one->done, i == 0 ? 0 : 2);
        assert_int_equal (one->steps->len, like->tasks->len);
    }

    g_auto (GStrv) parts = g_strsplit (text, "\"done\": 2,", 2);
    assert_int_equal (g_strv_length (parts), 2);
    g_autofree char *amiss = g_strjoinv ("\"done\": 99,", parts);
    assert_null (read_back (fixture, amiss, refused));
    assert_int_equal (complaints_count (refused), 1);
    assert_non_null (strstr (complaints_get (refused, 0)->what, "99 steps done"));
}

/* A document with one thing in it amiss; what is said, and behind which text it stands. */
typedef struct {
    const char *from, *to, *says;
} Amiss;

static void
test_wrong_documents_are_told_with_their_place (void **state)
{
    static const Amiss all[] = {
        { "\"rungwise-batch\"", "\"rungwise-route\"", "this is no JSON of a batch, or one of another version" },
        { "\"version\": 1", "\"version\": 7", "another version" },
        { "\"begin\": \"2034-03-06T07:00\"", "\"begin\": \"2034-03-07T07:00\"", "begins 2034-03-07T07:00" },
        { "\"from-monday\": 420", "\"from-monday\": 421", "begins" },
        { "\"from\": \"loan\"", "\"from\": \"elsewhere\"", "from is missing, or is something else" },
        { "\"release\": \"2.1.0\"", "\"release\": \"9.9\"", "release is missing, or is something else" },
        { "\"component\": \"system\"", "\"component\": \"tea\"", "component is missing" },
        { "\"part\": \"dorvan-4c\", \"stepping\": \"a1\", \"from\": \"loan\"",
          "\"part\": \"dorvan-4z\", \"stepping\": \"a1\", \"from\": \"loan\"", "part is missing" },
        { "\"slot\": \"cpu1\"", "\"slot\": \"cpu9\"", "slot is missing" },
        { "\"step-ends\": ", "\"step-ends\": 9", "the times of the start go backwards" },
        { "\"start-technician\"", "\"start-person\"", "start-technician is missing" },
        { "\"attended-until\"", "\"start-begins\": 1, \"attended-until\"", "a start behind a step that is not the last" },
        { "\"do\": \"remove\"", "\"do\": \"polish\"", "do is missing" },
        { "\"step\": 2, \"what\"", "\"step\": 3, \"what\"", "task 2 is of step 3" },
        { "\"attended-until\": ", "\"attended-until\": -", "attended-until is missing" },
        { "\"units\": [\n    {\"unit\": \"LK-2003\"", "\"units\": [\n    {\"unit\": \"LK-2001\"", "stands there twice" },
        { "\"unit\": \"LK-2003\", \"board\": \"dunnock-1s\", \"class\": 1,",
          "\"unit\": \"LK-2003\", \"board\": \"wren-2s\", \"class\": 1,", "has board wren-2s here" },
        { "\"board\": \"dunnock-1s\", \"class\": 1, ", "\"board\": \"dunnock-1s\", \"class\": 44, ", "there is no mode" },
        { "\"tasks\": [{", "\"tasks\": {}, \"more\": [{", "tasks is missing" },
        { "\"schema\":", "\"schema\"", "no JSON" },
    };
    const Fixture *fixture = *state;
    g_autofree char *good = report_batch_json (fixture->view);

    for (guint i = 0; i < G_N_ELEMENTS (all); i++) {
        const char *at = strstr (good, all[i].from);
        g_autofree char *head = at == NULL ? NULL : g_strndup (good, (gsize) (at - good));
        g_autofree char *text =
            at == NULL ? NULL : g_strconcat (head, all[i].to, at + strlen (all[i].from), NULL);
        g_autoptr (Complaints) complaints = complaints_new ();
        g_autofree char *said = NULL;

        if (at == NULL)
            fail_msg ("the JSON does not hold %s", all[i].from);
        assert_null (read_back (fixture, text, complaints));
        said = complaints_to_string (complaints, 5);
        assert_has (said, all[i].says);
        assert_has (said, "last.json:");
        assert_has (said, "expected ");
    }
}

static void
test_places_in_json (void **state)
{
    static const char text[] = "{\"a\": [1, {\"b\\\"]\": \"}\", \"c\":\n  [[], 2]}],\n \"d\": true}";
    Mark mark = json_place ("x", text, "a\n1\nc\n1");

    (void) state;
    assert_int_equal (mark.line, 2);
    assert_int_equal (mark.column, 8);
    mark = json_place ("x", text, "d");
    assert_int_equal (mark.line, 3);
    assert_int_equal (mark.column, 7);
    mark = json_place ("x", text, "a\n7");
    assert_int_equal (mark.line, 1);
    assert_int_equal (mark.column, 7);
}

/* ---- Page ---- */

typedef struct {
    GHashTable *ids;
    GPtrArray *links; /* char*; owned */
    guint sections, boxes;
} SeenPage;

static void
see_element (GMarkupParseContext *context, const char *name, const char **names, const char **values, gpointer data,
             GError **error)
{
    SeenPage *seen = data;

    (void) context;
    (void) error;
    assert_string_not_equal (name, "script");
    assert_string_not_equal (name, "link");
    assert_string_not_equal (name, "img");
    seen->sections += g_str_equal (name, "section");
    for (guint i = 0; names[i] != NULL; i++) {
        assert_string_not_equal (names[i], "src");
        assert_false (g_str_has_prefix (names[i], "on"));
        if (g_str_equal (names[i], "id"))
            assert_true (g_hash_table_add (seen->ids, g_strdup (values[i])));
        if (g_str_equal (names[i], "href"))
            g_ptr_array_add (seen->links, g_strdup (values[i]));
        seen->boxes += g_str_equal (names[i], "class") && g_str_equal (values[i], "box");
    }
}

/* It is XML too, runs nothing, loads nothing, and its links lead to what is on it or on a later page. */
static void
see_page (const char *text, SeenPage *seen)
{
    static const GMarkupParser parser = { .start_element = see_element };
    const char *body = strstr (text, "<html");
    GMarkupParseContext *context = g_markup_parse_context_new (&parser, 0, seen, NULL);
    g_autoptr (GError) error = NULL;

    assert_true (g_str_has_prefix (text, "<!DOCTYPE html>\n"));
    if (!g_markup_parse_context_parse (context, body, -1, &error) || !g_markup_parse_context_end_parse (context, &error))
        fail_msg ("%s", error->message);
    g_markup_parse_context_free (context);
    assert_null (strstr (text, "url("));
    assert_null (strstr (text, "@import"));
    for (guint i = 0; i < seen->links->len; i++) {
        const char *link = seen->links->pdata[i];

        if (*link == '#' && !g_hash_table_contains (seen->ids, link + 1))
            fail_msg ("nothing on the page is called %s", link);
        assert_true (*link == '#' || g_str_has_prefix (link, "batch-"));
    }
}

static SeenPage
no_page_seen (void)
{
    return (SeenPage){ g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL),
                        g_ptr_array_new_with_free_func (g_free), 0, 0 };
}

static void
seen_page_clear (SeenPage *seen)
{
    g_hash_table_unref (seen->ids);
    g_ptr_array_unref (seen->links);
}

static void
test_page_has_a_sheet_for_each_planned_unit (void **state)
{
    Fixture *fixture = *state;
    g_autofree char *text = report_batch_html (fixture->view, 0);
    SeenPage seen = no_page_seen ();

    see_page (text, &seen);
    assert_int_equal (batch_pages (fixture->view), 1);
    assert_int_equal (seen.sections, 3 + 3); /* the units, and the situations that they are in */
    for (guint i = 0; i < fixture->batch->units->len; i++) {
        g_autofree char *id = g_strdup_printf ("u%u", i + 1);

        assert_int_equal (g_hash_table_contains (seen.ids, id), view_unit (fixture->view, i)->aside == ASIDE_NOT);
    }
    assert_true (seen.boxes >= fixture->view->moments->len);
    seen_page_clear (&seen);
    assert_has (text, fixture->view->mark);
    assert_has (text, "serial E8-2301");                 /* the unit's own processor, out and in again */
    assert_has (text, "dorvan-4c a1 #1");                /* the loaner */
    assert_has (text, "What is pulled, and where it goes");
    assert_has (text, "Caution</b> [isolate]: Shut down.");
    assert_has (text, "SHA-256");
    /* source: data/larkfield/book/firmware-dunnock-1s.yaml */
    assert_has (text, "dunnock-1s-system-2.1.0.img");
}

/* The pick list counts what leaves the shelves: one loaner, one processor from stock. */
static void
test_page_picks_what_moves (void **state)
{
    Fixture *fixture = *state;
    g_autofree char *text = report_batch_html (fixture->view, 0);

    assert_has (text, "<td class=\"number\">1</td><td>dorvan-4c (stepping a1)</td><td>from the loan shelf; all come back</td>");
    assert_has (text, "<td class=\"number\">1</td><td>elvane-8c (stepping b1)</td><td>from stock; they stay in their units</td>");
}

/* More units than a page holds, all in one situation. */
static void
test_many_units_make_several_pages (void **state)
{
    g_autofree char *table = NULL, *path = NULL;
    g_auto (GStrv) lines = NULL;
    GString *many = g_string_new (NULL);
    guint units = BATCH_MOST_SHEETS + 7, sheets = 0;
    int file = g_file_open_tmp ("units-XXXXXX.csv", &path, NULL);

    (void) state;
    assert_true (file >= 0);
    assert_true (g_file_get_contents (SMALL, &table, NULL, NULL));
    lines = g_strsplit (table, "\n", -1);
    g_string_append_printf (many, "%s\n", lines[0]);
    for (guint i = 0; i < units; i++)
        g_string_append_printf (many, "N-%04u%s\n", i, strchr (lines[3], ',')); /* LK-2007: one write, no parts */
    assert_true (g_file_set_contents (path, many->str, -1, NULL));
    Fixture *fixture = fixture_new (path, NULL);
    assert_int_equal (fixture->view->planned, units);
    assert_int_equal (batch_pages (fixture->view), 2);
    for (guint page = 0; page < 2; page++) {
        g_autofree char *text = report_batch_html (fixture->view, page);
        SeenPage seen = no_page_seen ();

        see_page (text, &seen);
        sheets += seen.sections - 1; /* one situation */
        assert_has (text, page == 0 ? "Page 1 of 2" : "Page 2 of 2");
        seen_page_clear (&seen);
    }
    assert_int_equal (sheets, units);
    fixture_free (fixture);
    remove (path);
    g_close (file, NULL);
    g_string_free (many, TRUE);
}

/* ---- Text ---- */

static void
test_overview_keeps_to_its_width (void **state)
{
    const Fixture *fixture = *state;
    g_autofree char *text = report_batch_text (fixture->view, FALSE);
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

    for (char **line = lines; *line != NULL; line++)
        assert_true (g_utf8_strlen (*line, -1) <= 100);
    assert_has (text, "4 units in 4 situations, Larkfield bench, pallet: 3 planned, 1 set aside.");
    assert_has (text, "LK-2015: there is no route");
    assert_has (text, "technician 1:");
    assert_has (text, "dorvan-4c a1 #1: LK-2003 2034-03-06T07:");
}

static void
test_times_in_words (void **state)
{
    const BatchClock week = { NULL, 7 * 600 };
    g_autofree char *first = batch_day_words (&week, 0), *later = batch_day_words (&week, 8 * 14400);
    g_autofree char *hour = batch_hour_words (&week, 151), *length = batch_length_words (1351);
    g_autofree char *short_length = batch_length_words (599), *whole = batch_length_words (1200);

    (void) state;
    assert_string_equal (first, "Mon");
    assert_string_equal (later, "Tue+1");
    assert_string_equal (hour, "07:16"); /* rounded up, as batch_time_words() does */
    assert_string_equal (length, "2 h 16 min");
    assert_string_equal (short_length, "1 h");
    assert_string_equal (whole, "2 h");
    assert_int_equal (batch_day (&week, 8 * 14400), 8);
}

/* ---- Outcome ---- */

static void
test_outcomes (void **state)
{
    Fixture *fixture = *state;
    Batch other = *fixture->batch;
    g_autoptr (GPtrArray) none = g_ptr_array_new ();

    assert_int_equal (batch_outcome (fixture->batch, 0, FALSE), 15);
    assert_int_equal (batch_outcome (fixture->batch, 0, TRUE), 14);
    other.aside = 0;
    assert_int_equal (batch_outcome (&other, 0, FALSE), 0);
    assert_int_equal (batch_outcome (&other, 2, FALSE), 15);
    g_ptr_array_add (none, (gpointer) unit_called (fixture, "LK-2015"));
    other.units = none;
    other.aside = 1;
    assert_int_equal (batch_outcome (&other, 0, FALSE), 11);
    BatchUnit unit = *unit_called (fixture, "LK-2015");
    unit.aside = ASIDE_NO_STOCK;
    g_ptr_array_add (none, &unit);
    other.aside = 2;
    assert_int_equal (batch_outcome (&other, 0, FALSE), 12);
    other.wrong = (char *) "a part is in two places";
    assert_int_equal (batch_outcome (&other, 0, FALSE), 40);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_table_holds_every_task_in_order_of_time),
        cmocka_unit_test (test_mark_is_the_tables_digest),
        cmocka_unit_test (test_json_fits_its_schema_and_reads_back),
        cmocka_unit_test (test_routes_that_were_left_read_back),
        cmocka_unit_test (test_wrong_documents_are_told_with_their_place),
        cmocka_unit_test (test_places_in_json),
        cmocka_unit_test (test_page_has_a_sheet_for_each_planned_unit),
        cmocka_unit_test (test_page_picks_what_moves),
        cmocka_unit_test (test_many_units_make_several_pages),
        cmocka_unit_test (test_overview_keeps_to_its_width),
        cmocka_unit_test (test_times_in_words),
        cmocka_unit_test (test_outcomes),
    };

    return cmocka_run_group_tests (tests, set_up, tear_down);
}
