/* SPDX-License-Identifier: MIT */
/* What reports of a batch say of rows that are left out, of late units, of serials that stand twice.
 *
 * source: docs/batch.md, "Units as rows" and "What is written"; docs/batch-json.md. */
#include "batch_units.h"

#include "json_schema.h"
#include "reports/batch_view.h"

static void
assert_has (const char *text, const char *piece)
{
    if (strstr (text, piece) == NULL)
        fail_msg ("\"%s\" is missing in:\n%s", piece, text);
}

/* ---- Rows ---- */

/* Unit B has a line break in a quoted cell, and its mistakes on both lines. */
#define TABLE                                                                                                          \
    "unit,board,revision,note,system,controller\n"                                                                    \
    "A,wren-1s,r1,,1.0,amber\n"                                                                                        \
    "B,wren-1s,r9,\"two\nlines\",1.3,amber\n"                                                                          \
    ",wren-1s,r1,,1.0,amber\n"                                                                                         \
    "A,wren-1s,r1,,1.0,amber\n"

/* Transfer full: text of a table in a folder of its own, read with the bench of the tests. */
static GPtrArray *
rows_of (const char *table, Library **library, char **path)
{
    g_autoptr (Complaints) complaints = complaints_new (), in_rows = complaints_new ();
    int file = g_file_open_tmp ("rows-XXXXXX.csv", path, NULL);
    const char *paths[] = { "tests/malformed/base/bench.yaml", *path, NULL };
    GPtrArray *rows = NULL;

    assert_true (file >= 0 && g_close (file, NULL) && g_file_set_contents (*path, table, -1, NULL));
    *library = library_load_rows (paths, NULL, NULL, complaints, in_rows);
    g_remove (*path);
    assert_int_equal (complaints_count (complaints), 0);
    rows = batch_rows_left_out (*library, in_rows);
    return rows;
}

static const BatchLeftRow *
row_at (const GPtrArray *rows, guint index)
{
    assert_true (index < rows->len);
    return rows->pdata[index];
}

static void
test_rows_are_found_by_their_complaints (void **state)
{
    g_autofree char *path = NULL, *first = NULL;
    Library *library = NULL;
    g_autoptr (GPtrArray) rows = rows_of (TABLE, &library, &path);

    (void) state;
    assert_int_equal (rows->len, 3);
    assert_string_equal (row_at (rows, 0)->unit, "B");
    assert_string_equal (row_at (rows, 0)->at.file, path);
    assert_int_equal (row_at (rows, 0)->line, 3);
    assert_int_equal (row_at (rows, 0)->at.line, 3);
    assert_int_equal (row_at (rows, 0)->at.column, 11);
    assert_string_equal (row_at (rows, 0)->what, "unknown revision \"r9\" of board wren-1s");
    assert_string_equal (row_at (rows, 0)->expected, "expected one of r1, r2");
    assert_int_equal (row_at (rows, 0)->further, 1); /* of the next line, and of the same row */
    assert_null (row_at (rows, 1)->unit);
    assert_int_equal (row_at (rows, 1)->line, 5);
    assert_string_equal (row_at (rows, 1)->what, "this row has no unit");
    assert_string_equal (row_at (rows, 2)->unit, "A");
    first = g_strdup_printf ("expected it once; the first is at %s:2:1", path);
    assert_string_equal (row_at (rows, 2)->expected, first);
    library_free (library);
}

/* A row whose want there is none of is left out when all has been read. */
static void
test_a_row_without_a_want_is_left_out_too (void **state)
{
    static const char table[] = "unit,board,revision,system,controller,becomes\n"
                                "A,wren-1s,r1,1.0,amber,newer\n"
                                "B,wren-1s,r1,1.0,amber,older\n";
    static const char *const wants[] = { "system=1.4", NULL };
    g_autoptr (Complaints) complaints = complaints_new (), in_rows = complaints_new ();
    g_autofree char *path = NULL;
    int file = g_file_open_tmp ("rows-XXXXXX.csv", &path, NULL);
    const char *paths[] = { "tests/malformed/base/bench.yaml", path, NULL };

    (void) state;
    assert_true (file >= 0 && g_close (file, NULL) && g_file_set_contents (path, table, -1, NULL));
    Library *library = library_load_rows (paths, wants, NULL, complaints, in_rows);
    g_remove (path);
    g_autoptr (GPtrArray) rows = batch_rows_left_out (library, in_rows);
    assert_int_equal (library->units->len, 0);
    assert_int_equal (rows->len, 2);
    assert_string_equal (row_at (rows, 1)->unit, "B");
    assert_int_equal (row_at (rows, 1)->at.line, 3);
    assert_int_equal (row_at (rows, 1)->at.column, 24);
    assert_non_null (strstr (row_at (rows, 1)->what, "there is no want \"older\""));
    library_free (library);
}

/* ---- Reports ---- */

typedef struct {
    char *text, *page, *json; /* owned */
} Said;

static Said
said_of (SmallBatch *small, const GPtrArray *left_out)
{
    RouteOptions route = { 0 };
    small->question.route = &route;
    const BatchReport report = { &small->question, small_batch_plan (small), left_out };
    BatchView *view = batch_view_new (&report);
    Said said = { report_batch_text (view, FALSE), report_batch_html (view, 0), report_batch_json (view) };

    batch_view_free (view);
    small->question.route = NULL;
    return said;
}

static void
said_clear (Said *said)
{
    g_free (said->text);
    g_free (said->page);
    g_free (said->json);
}

static json_t *
document_of (const char *text)
{
    json_t *document = json_loads (text, 0, NULL);

    assert_non_null (document);
    assert_fits_schema ("printed-batch.schema.json", text);
    return document;
}

static void
test_left_out_rows_are_named (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (LOANERS ("1"), DARK ("D", ""));
    g_autofree char *path = NULL;
    Library *library = NULL;
    g_autoptr (GPtrArray) rows = rows_of (TABLE, &library, &path);
    Said said = said_of (small, rows);
    json_t *document = document_of (said.json), *list = json_object_get (document, "left-out");

    (void) state;
    assert_has (said.text, "1 planned, 3 rows of a table left out");
    assert_has (said.text, "Rows of a table left out");
    assert_has (said.text, "unknown revision \"r9\" of board wren-1s; expected one of r1, r2 (and");
    assert_has (said.text, "row at line 5 (");
    assert_has (said.page, "unknown revision");
    assert_has (said.page, "row at line 5");
    assert_int_equal (json_integer_value (json_object_get (document, "rows-left-out")), 3);
    assert_int_equal (json_array_size (list), 3);
    assert_string_equal (json_string_value (json_object_get (json_array_get (list, 0), "unit")), "B");
    assert_string_equal (json_string_value (json_object_get (json_array_get (list, 0), "file")), path);
    assert_int_equal (json_integer_value (json_object_get (json_array_get (list, 0), "line")), 3);
    assert_null (json_object_get (json_array_get (list, 1), "unit"));
    json_decref (document);
    said_clear (&said);
    library_free (library);
}

static double
number_of (const json_t *object, const char *key)
{
    json_t *value = json_object_get (object, key);

    assert_true (json_is_number (value));
    return json_number_value (value);
}

/* A DARK unit alone takes 43 minutes (test_batch_plan.c). P was due an hour before the batch begins, weight 3: 103 minutes late or more. */
static void
test_what_was_due_before_stays_due_then (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        LOANERS ("2"), DARK ("L", "due: 2034-03-06T09:00\n") DARK ("P", "due: 2034-03-06T06:00\npriority: 3\n"));
    Said said = said_of (small, NULL);
    json_t *document = document_of (said.json), *units = json_object_get (document, "units"),
           *cost = json_object_get (document, "cost"), *least = json_object_get (document, "at-least");

    (void) state;
    assert_int_equal (unit_of (small->batch, "P")->due, -600);
    assert_true (number_of (json_array_get (units, 1), "due") == -60);
    assert_true (number_of (json_array_get (units, 1), "late") == 103);
    assert_true (number_of (cost, "lateness") == 3 * 103);
    assert_true (number_of (least, "lateness") <= 3 * 103 && number_of (least, "lateness") >= 3 * 60);
    assert_has (said.text, "1 of 2 due units is late, by 1 h 43 min; proved");
    assert_has (said.text, "P (due\u00a02034-03-06T06:00, 1 h 43 min late)");
    assert_null (strstr (said.text, "L (due"));
    assert_has (said.page, "LATE, due 2034-03-06T06:00");
    assert_has (said.page, "P (due");
    json_decref (document);
    said_clear (&said);
}

/* ---- Serials ---- */

static void
test_a_serial_in_two_places_is_warned_of (void **state)
{
    /* The same part and serial in L and N; M's part has another serial, and the serial of L's other part is another part's. */
    g_autoptr (SmallBatch) small = small_batch (
        "shop: stock\nstock: [{part: elvane-12c, count: 4}, {part: sink-130c, count: 4}]\n",
        LARGER ("L", "") LARGER ("M", ""));
    Unit *first = small->units->pdata[0], *second = small->units->pdata[1];
    int cpu1 = board_find_slot (first->board, "cpu1"), sink1 = board_find_slot (first->board, "sink1");
    Said said = { 0 };
    json_t *document = NULL;

    (void) state;
    assert_true (cpu1 >= 0 && sink1 >= 0);
    assert_int_equal (small_batch_plan (small)->said->len, 0);
    first->fitted[sink1].serial = first->fitted[cpu1].serial; /* of another model: nothing to say */
    assert_int_equal (small_batch_plan (small)->said->len, 0);
    second->fitted[cpu1].serial = first->fitted[cpu1].serial;
    said = said_of (small, NULL);
    assert_int_equal (small->batch->said->len, 1);
    assert_int_equal (small->batch->aside, 0); /* a warning */
    assert_has (said.text, "Look at this: dorvan-4c with serial S-L is given for L cpu1 and M cpu1");
    document = document_of (said.json);
    assert_int_equal (json_array_size (json_object_get (document, "contradictions")), 1);
    json_decref (document);
    said_clear (&said);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_rows_are_found_by_their_complaints),
        cmocka_unit_test (test_a_row_without_a_want_is_left_out_too),
        cmocka_unit_test (test_left_out_rows_are_named),
        cmocka_unit_test (test_what_was_due_before_stays_due_then),
        cmocka_unit_test (test_a_serial_in_two_places_is_warned_of),
    };

    return cmocka_run_group_tests_name ("reports, rows of a batch", tests, NULL, NULL);
}
