/* SPDX-License-Identifier: MIT */
/* Reports of a batch that was planned anew: which timetable it replaces, what is the same, what counts as done and by whom it is said.
 *
 * source: docs/batch.md, "When it goes wrong", and docs/batch-json.md, "What changed" */
#include "batch_fixture.h"

#include <string.h>

#include "json_schema.h"

#define PALLET "data/larkfield/batch/pallet.csv"

static void
assert_has (const char *text, const char *piece)
{
    if (strstr (text, piece) == NULL)
        fail_msg ("\"%s\" is missing in:\n%.3000s", piece, text);
}

static BatchPublished *
read_back (const Fixture *fixture, const char *text)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    BatchPublished *read = batch_published_read ("last.json", text, &fixture->library->book, fixture->library->units,
                                                 &fixture->question.clock, complaints);

    if (read == NULL) {
        g_autofree char *said = complaints_to_string (complaints, 5);

        fail_msg ("%s", said);
    }
    return read;
}

/* Plans again, with what `published` says, and looks at the new answer. */
static void
plan_again (Fixture *fixture, const BatchPublished *published, gint64 now)
{
    batch_view_free (fixture->view);
    batch_free (fixture->batch);
    fixture->question.published = published;
    fixture->question.now = now;
    fixture->batch = batch_plan (&fixture->question);
    if (fixture->batch->wrong != NULL)
        fail_msg ("%s", fixture->batch->wrong);
    fixture->report.batch = fixture->batch;
    fixture->view = batch_view_new (&fixture->report);
}

static GDateTime *
monday (void)
{
    return g_date_time_new_utc (2034, 3, 6, 7, 0, 0);
}

/* The demo pallet has units that wait with a loaner in them, pulled parts that are lent, and breaks. */
static void
nothing_changed_and_the_whole_pallet_stays (void **state)
{
    static const gint64 moments[] = { 700, 1200, 2700 };
    g_autoptr (GDateTime) begin = monday ();
    Fixture *fixture = fixture_new (PALLET, begin);
    g_autofree char *text = report_batch_json (fixture->view);
    g_autoptr (BatchPublished) published = read_back (fixture, text);
    g_autofree char *mark = g_strdup (fixture->view->mark);

    (void) state;
    assert_string_equal (published->mark, mark);
    for (guint i = 0; i < G_N_ELEMENTS (moments); i++) {
        plan_again (fixture, published, moments[i]);
        if (fixture->batch->moved != 0 || fixture->batch->replan->changed != 0)
            fail_msg ("%u tasks moved, %u units changed at %u", fixture->batch->moved, fixture->batch->replan->changed,
                      (guint) moments[i]);
        assert_string_equal (fixture->view->mark, mark);
    }
    fixture_free (fixture);
}

static void
the_clock_alone_is_marked_on_sheet_and_in_json (void **state)
{
    g_autoptr (GDateTime) begin = monday ();
    Fixture *fixture = fixture_new (SMALL, begin);
    g_autofree char *first = report_batch_json (fixture->view);
    g_autofree char *mark = g_strdup (fixture->view->mark);
    g_autoptr (BatchPublished) published = read_back (fixture, first);
    g_autofree char *text = NULL, *html = NULL, *json = NULL, *head = NULL, *sheet = NULL;

    (void) state;
    assert_null (strstr (first, "done-by"));
    plan_again (fixture, published, 150);
    text = report_batch_text (fixture->view, FALSE);
    html = report_batch_html (fixture->view, 0);
    json = report_batch_json (fixture->view);
    head = g_strdup_printf ("replaces timetable %s of 2034-03-06T07:00", mark);
    sheet = g_strdup_printf ("As in timetable %s: a sheet that was printed then still holds.", mark);

    assert_true (fixture->batch->replan->clock_steps > 0);
    assert_has (text, "Planned anew at 2034-03-06T07:15;");
    assert_has (text, "By the clock alone:");
    assert_has (text, "Records: none among the files.");
    assert_has (html, head);
    assert_has (html, sheet);
    assert_has (html, "by the timetable; tick if it was done");
    assert_has (html, "To have at hand, for what is left to do");
    assert_has (json, "\"done\": true, \"done-by\": \"timetable\"");
    assert_null (strstr (json, "\"done-by\": \"record\""));
    assert_has (json, "\"under-way\": true");
    assert_has (json, "\"changes\": []");
    assert_fits_schema ("printed-batch.schema.json", json);

    /* Once more: the sheet is still that of the first one. */
    g_autoptr (BatchPublished) again = read_back (fixture, json);
    assert_int_equal (again->made, 150);
    for (guint i = 0; i < again->units->len; i++)
        assert_string_equal (((PublishedUnit *) again->units->pdata[i])->sheet, mark);
    plan_again (fixture, again, 200);
    assert_int_equal (fixture->batch->moved, 0);
    fixture_free (fixture);
}

/* One technician is left of two, so that work moves. */
static void
what_moved_is_listed_with_what_was_and_what_is (void **state)
{
    g_autoptr (GDateTime) begin = monday ();
    Fixture *fixture = fixture_new (SMALL, begin);
    g_autofree char *first = report_batch_json (fixture->view);
    g_autoptr (BatchPublished) published = read_back (fixture, first);
    g_autofree char *text = NULL, *html = NULL, *json = NULL, *heading = NULL;

    (void) state;
    fixture->question.shop->technicians = 1;
    plan_again (fixture, published, 0);
    text = report_batch_text (fixture->view, FALSE);
    html = report_batch_html (fixture->view, 0);
    json = report_batch_json (fixture->view);
    heading = g_strdup_printf ("What has changed against timetable %s of 2034-03-06T07:00", published->mark);

    assert_true (fixture->batch->moved > 0);
    assert_has (text, heading);
    assert_has (html, heading);
    assert_has (html, "Replaces its sheet of timetable");
    assert_has (text, "the published timetable is for 2 technicians");
    assert_has (text, "no technician is free for step");
    assert_has (json, "\"change\": \"times\"");
    assert_has (json, "\"why\": \"technician\"");
    assert_has (json, "\"was\": {");
    assert_fits_schema ("printed-batch.schema.json", json);
    fixture_free (fixture);
}

static void
another_batch_is_refused (void **state)
{
    g_autoptr (GDateTime) begin = monday ();
    Fixture *small = fixture_new (SMALL, begin), *pallet = fixture_new (PALLET, begin);
    g_autofree char *text = report_batch_json (small->view);
    g_autofree char *renamed = NULL;
    g_auto (GStrv) parts = g_strsplit (text, "\"LK-20", -1);
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autofree char *said = NULL;

    (void) state;
    renamed = g_strjoinv ("\"XX-99", parts);
    assert_null (batch_published_read ("last.json", renamed, &pallet->library->book, pallet->library->units,
                                       &pallet->question.clock, complaints));
    said = complaints_to_string (complaints, 5);
    assert_has (said, "none of its units is among the files: it is of another batch");

    /* Some units of the pallet are in it, and all of its units are in the pallet: those that it lacks are new. */
    g_autoptr (BatchPublished) published = read_back (pallet, text);
    plan_again (pallet, published, 0);
    g_autofree char *json = report_batch_json (pallet->view);
    assert_has (json, "\"change\": \"new\"");
    assert_int_equal (published->gone->len, 0);

    /* The other way round: those that are missing here are said. */
    g_autofree char *whole = report_batch_json (pallet->view);
    g_autoptr (BatchPublished) more = read_back (small, whole);
    assert_true (more->gone->len > 0);
    plan_again (small, more, 0);
    g_autofree char *overview = report_batch_text (small->view, FALSE);
    assert_has (overview, "the published timetable and not in this run"); /* where the line breaks */
    fixture_free (small);
    fixture_free (pallet);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (nothing_changed_and_the_whole_pallet_stays),
        cmocka_unit_test (the_clock_alone_is_marked_on_sheet_and_in_json),
        cmocka_unit_test (what_moved_is_listed_with_what_was_and_what_is),
        cmocka_unit_test (another_batch_is_refused),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
