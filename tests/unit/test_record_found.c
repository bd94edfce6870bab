/* SPDX-License-Identifier: MIT */
/* What a record says beyond its outcomes, from outside: words that a batch shows and does not understand, slips that are said, steps
 * by the names on the sheet.
 *
 * source: docs/batch.md, "When it goes wrong"; docs/batch-json.md; docs/files.md, "Record". That a person has to look at what was
 * found before going on: common practice, no source. The units are those of tests/cases/batch-small.case: LK-2007's whole work is
 * one write, LK-2003 borrows a loaner, LK-2001 writes and gets a new processor, LK-2015 has no way. */
#include "published_runs.h"

#include "json_schema.h"

#define DATED      "batch --begin 2034-03-06T07:00 --folder %s/wall " SMALL
#define AT(time)   " --time 2034-03-06T" time "Z"
#define ANEW(time) "batch --published %s/wall/batch.json --now 2034-03-06T" time " --folder %s/anew " SMALL

static const json_t *
change_in (const json_t *document, const char *id)
{
    const json_t *changes = json_object_get (document, "changes");

    for (size_t i = 0; i < json_array_size (changes); i++)
        if (g_str_equal (json_string_value (json_object_get (json_array_get (changes, i), "unit")), id))
            return json_array_get (changes, i);
    return NULL;
}

static const char *
word (const json_t *object, const char *key)
{
    return json_string_value (json_object_get (object, key));
}

/* `text` has this after the unit's heading, before the next one. */
static void
assert_on_sheet (const char *page, const char *id, const char *piece)
{
    g_autofree char *path = path_of (page), *text = contents (path), *heading = g_strdup_printf ("<h2>%s</h2>", id);
    g_auto (GStrv) parts = g_strsplit (text, heading, 2);
    g_auto (GStrv) sheets = NULL;

    assert_non_null (parts[1]);
    sheets = g_strsplit (parts[1], "</section>", 2);
    if (strstr (sheets[0], piece) == NULL)
        fail_msg ("\"%s\" is not on the sheet of %s:\n%.2500s", piece, id, sheets[0]);
}

/* ---- What was found ---- */

/* All that LK-2007 is to get is one write; it is done, and the unit stays dark. */
static void
words_make_a_unit_another_one (void **state)
{
    json_t *document = NULL;
    const json_t *found = NULL;
    g_autofree char *path = path_of ("anew/batch.json"), *page = path_of ("anew/batch.html"), *text = NULL,
                    *html = NULL;

    (void) state;
    expect (DATED, SOME_ASIDE, "3 planned");
    expect ("record %s/LK-2007.yaml --unit LK-2007 --step 1 --found stays+dark" AT ("07:26") SHEET, 0, "done");
    expect (ANEW ("07:27") " %s/LK-2007.yaml", SOME_ASIDE, "LK-2007, step 1, done, 07:26, mk: stays dark");
    document = read_json ("anew/batch.json");
    found = json_array_get (json_object_get (unit_in (document, "LK-2007"), "found"), 0);
    assert_int_equal (json_integer_value (json_object_get (found, "entry")), 1);
    assert_int_equal (json_integer_value (json_object_get (found, "step")), 1);
    assert_string_equal (word (found, "what"), "write system 2.1.0 through the controller");
    assert_string_equal (word (found, "outcome"), "done");
    assert_string_equal (word (found, "words"), "stays dark");
    assert_string_equal (word (found, "time"), "2034-03-06T07:26Z");
    assert_true (json_is_true (json_object_get (found, "new")));
    assert_string_equal (word (change_in (document, "LK-2007"), "change"), "found");
    assert_null (json_object_get (unit_in (document, "LK-2007"), "as-in"));
    /* The same moment without words: its old sheet holds. */
    assert_null (change_in (document, "LK-2001"));
    assert_non_null (json_object_get (unit_in (document, "LK-2001"), "as-in"));
    json_decref (document);
    text = contents (path);
    assert_fits_schema ("printed-batch.schema.json", text);
    html = contents (page);
    assert_non_null (strstr (html, "mk: stays dark (By its record nothing is left to do: it counts as finished.)"));
    assert_on_sheet ("anew/batch.html", "LK-2007", "step 1, done, 07:26, mk: stays dark");
    assert_on_sheet ("anew/batch.html", "LK-2007", "record step 1 as failed");

    /* Once they are on a sheet, that one holds, until there are more. */
    expect ("batch --published %s/anew/batch.json --now 2034-03-06T07:28 --folder %s/third " SMALL " %s/LK-2007.yaml",
            SOME_ASIDE, "mk: stays dark");
    document = read_json ("third/batch.json");
    assert_null (change_in (document, "LK-2007"));
    found = json_array_get (json_object_get (unit_in (document, "LK-2007"), "found"), 0);
    assert_null (json_object_get (found, "new"));
    assert_non_null (json_object_get (unit_in (document, "LK-2007"), "as-in"));
    json_decref (document);
}

/* What was to be written is not known to be good: there is another way to write it, with a clip. */
static void
a_last_write_that_failed_is_not_finished (void **state)
{
    json_t *document = NULL;

    (void) state;
    expect (DATED, SOME_ASIDE, "3 planned");
    expect ("record %s/LK-2007.yaml --unit LK-2007 --step 1 --outcome failed --found stays+dark" AT ("07:26") SHEET, 0,
            "failed");
    expect (ANEW ("07:27") " %s/LK-2007.yaml", SOME_ASIDE, "a new route, since its record departs");
    document = read_json ("anew/batch.json");
    assert_int_equal (tasks_done (unit_in (document, "LK-2007")), 0);
    assert_true (json_array_size (json_object_get (unit_in (document, "LK-2007"), "tasks")) > 0);
    json_decref (document);
}

/* A reading counts more than what was written: 1.4.0 does not know the processor that is wanted. */
static void
a_reading_that_is_not_what_is_wanted_is_not_finished (void **state)
{
    json_t *document = NULL;

    (void) state;
    expect (DATED, SOME_ASIDE, "3 planned");
    expect ("record %s/LK-2007.yaml --unit LK-2007 --step 1 --firmware system=1.4.0" AT ("07:26") SHEET, 0,
            "what was read is system 1.4.0; what was read counts");
    expect (ANEW ("07:27") " %s/LK-2007.yaml", SOME_ASIDE, "a new route, since its record departs");
    document = read_json ("anew/batch.json");
    assert_int_equal (tasks_done (unit_in (document, "LK-2007")), 0);
    assert_int_equal (json_array_size (json_object_get (unit_in (document, "LK-2007"), "earlier")), 1);
    json_decref (document);
}

/* L's own part goes to D: what was found with L stands on D's sheet too, which is not as it was. */
static void
words_of_a_lender_are_on_the_borrowers_sheet (void **state)
{
    json_t *document = NULL;

    (void) state;
    put ("units.yaml", DARK ("D", "") LARGER ("L", "") DUNNOCK_WANTS
         "shop: lends on\nlend-pulled-parts: yes\ntechnicians: 2\nstations: 4\n"
         "stock: [{part: elvane-12c, count: 2}, {part: sink-130c, count: 2}]\n" SHOP_TIMES);
    expect ("batch --begin 2034-03-06T07:00 --folder %s/wall " BOOK " %s/units.yaml", 0, "2 planned");
    expect ("record %s/L.yaml --unit L --step 1 --found dropped" AT ("07:08") " --initials mk --published "
                                                                              "%s/wall/batch.json " BOOK
                                                                              " %s/units.yaml",
            0, "done");
    expect ("batch --published %s/wall/batch.json --now 2034-03-06T07:08 --folder %s/anew " BOOK
            " %s/units.yaml %s/L.yaml",
            0, "mk: dropped");
    assert_on_sheet ("anew/batch.html", "L", "mk: dropped");
    assert_on_sheet ("anew/batch.html", "D", "Found so far on L, which lends it dorvan-4c a1");
    document = read_json ("anew/batch.json");
    assert_non_null (change_in (document, "D"));
    assert_null (json_object_get (unit_in (document, "D"), "as-in"));
    json_decref (document);
}

static void
a_step_that_failed_is_said_to_have_failed (void **state)
{
    json_t *document = NULL;

    (void) state;
    expect (DATED, SOME_ASIDE, "3 planned");
    expect ("record %s/LK-2001.yaml --unit LK-2001 --step 1" AT ("07:14") SHEET, 0, "done");
    expect ("record %s/LK-2001.yaml --step 2 --outcome failed --found stuck" AT ("07:20") SHEET, 0, "failed");
    expect (ANEW ("07:25") " %s/LK-2001.yaml", SOME_ASIDE, "Something changed for 1 unit");
    document = read_json ("anew/batch.json");
    assert_string_equal (word (change_in (document, "LK-2001"), "why"), "behind");
    assert_string_equal (word (change_in (document, "LK-2001"), "outcome"), "failed");
    assert_non_null (
        strstr (word (change_in (document, "LK-2001"), "says"), "step 2 failed by its record at "));
    json_decref (document);
}

/* ---- Slips ---- */

static void
slips_are_recorded_and_said (void **state)
{
    (void) state;
    expect (DATED, SOME_ASIDE, "3 planned");
    expect ("record %s/LK-2007.yaml --unit LK-2007 --step 1" AT ("07:26") SHEET, 0, "entry 1");
    expect ("record %s/LK-2007.yaml --step 1 --outcome failed --found no" AT ("07:30") SHEET, 0,
            "entry 1 says that step 1 is done, and this one says failed");
    expect ("record %s/LK-2001.yaml --unit LK-2001 --step 1 --firmware system=3.0.1" AT ("07:14") SHEET, 0,
            "the step is to write system 2.1.0 from the running host, and what was read is system 3.0.1");
    /* A number that makes no sense: perhaps the sheet is another one's. */
    expect ("record %s/LK-2003.yaml --unit LK-2003 --step 2" SHEET, BAD_USAGE,
            "Compare the eight digits on the sheet of LK-2003");
}

static void
the_first_of_two_rows_counts (void **state)
{
    g_autofree char *text = contents (TABLE), *twice = NULL;
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
    static const char said[] = "twice.csv:6:1: unit LK-2003 is defined twice; this further row of LK-2003 is left out";

    (void) state;
    twice = g_strdup_printf ("%s%s\n", text, lines[1]);
    put ("twice.csv", twice);
    expect ("batch --folder %s/wall " BOOK " " SHOP " " ORDER " %s/twice.csv", SOME_ASIDE, "3 planned");
    expect ("plan --unit LK-2003 " BOOK " " SHOP " " ORDER " %s/twice.csv", 0, said);
    expect ("record %s/r.yaml --unit LK-2003 --step 1 --initials mk --published %s/wall/batch.json " BOOK " " SHOP
            " " ORDER " %s/twice.csv",
            0, said);
}

/* Its units are due: the time at which the batch begins is not asked for first. */
static void
what_is_no_batch_is_said_first (void **state)
{
    (void) state;
    expect ("batch --published data/larkfield/batch/pallet.csv --now 2034-03-06T08:00 data/larkfield/book "
            "data/larkfield/batch data/larkfield/batch/pallet.csv",
            BAD_INPUT, "pallet.csv:1:1: this is no JSON of a batch");
}

/* ---- The sheet's own words ---- */

#define BRANCHED       BOOK " data/larkfield/shop.yaml data/larkfield/units/08-unknown-read-first.yaml"
#define BRANCHED_SHEET " --initials mk --published %s/wall/batch.json " BRANCHED

static void
steps_go_by_what_the_sheet_calls_them (void **state)
{
    (void) state;
    expect ("batch --begin 2034-03-06T07:00 --folder %s/wall " BRANCHED, 0, "1 planned");
    assert_on_sheet ("wall/batch.html", "LK-0408",
                     "rungwise record RECORD --unit LK-0408 --step 1 --firmware COMPONENT=RELEASE --initials XX "
                     "--published batch.json PATHS");
    /* By hand as tests/cases/files/branches-record.yaml: where the loaner stays dark, 3.0.0 and 3.0.1 are left. */
    assert_on_sheet ("wall/batch.html", "LK-0408", "--firmware &#39;system=3.0.0|3.0.1&#39; --found dark");
    expect ("record %s/r.yaml --step C1" BRANCHED_SHEET, BAD_USAGE, "has no step that is called so");
    expect ("record %s/r.yaml --step A1 --found dark --firmware system=3.0.0|3.0.1" BRANCHED_SHEET, 0,
            "(fit dorvan-4c (stepping a1), from the loan shelf, in cpu1), done");
    g_autofree char *path = path_of ("r.yaml"), *record = contents (path);
    assert_non_null (strstr (record, "  - step: 1\n"));
    assert_non_null (strstr (record, "system: [3.0.0, 3.0.1]"));
    expect ("batch --published %s/wall/batch.json --now 2034-03-06T07:20 --folder %s/anew " BRANCHED " %s/r.yaml", 0,
            "2 steps, 17 minutes");
    /* Of a single unit the steps of other parts have no number. */
    expect ("record %s/s.yaml --step B1 --initials mk " BRANCHED, BAD_USAGE, "--step is a whole number from 1");
}

/* In a batch a second record would set the unit aside: no sheet says to begin one. */
static void
sheets_of_situations_tell_the_batchs_way (void **state)
{
    g_autofree char *path = NULL, *page = NULL;

    (void) state;
    expect ("batch --begin 2034-03-06T07:00 --folder %s/wall " BRANCHED, 0, "1 planned");
    path = path_of ("wall/batch.html");
    page = contents (path);
    assert_non_null (strstr (page, "The unit keeps its one record for all its sheets."));
    assert_null (strstr (page, "gets a record of its own"));
    assert_non_null (strstr (page, "stop: record what was read, and plan the batch anew."));
    assert_null (strstr (page, "and plan again."));
    assert_null (strstr (page, "--json"));
}

static void
a_plan_of_one_says_what_the_batch_says (void **state)
{
    (void) state;
    expect (DATED, SOME_ASIDE, "No route: `rungwise plan` with the same paths and --unit with its id says what stands");
    expect ("plan --unit LK-2003 --published %s/wall/batch.json " SMALL, 0, "Of a batch: its sheet of timetable ");
    expect ("plan --unit LK-2015 --published %s/wall/batch.json " SMALL, 11, "has set it aside: there is no route");
}

/* What a reading shows leaves it without a way, with what it has borrowed in it: somebody has to take that out. */
static void
who_is_set_aside_gives_back_what_it_has (void **state)
{
#define PALLET BOOK " data/larkfield/batch data/larkfield/batch/pallet.csv"
    (void) state;
    expect ("batch --begin 2034-03-06T07:00 --folder %s/wall " PALLET, SOME_ASIDE, "40 units");
    expect ("record %s/LK-2008.yaml --unit LK-2008 --step 1 --initials mk --published %s/wall/batch.json" AT ("07:14") " " PALLET,
            0, "done");
    expect ("record %s/LK-2008.yaml --step 2 --found shows+2.2.0 --firmware system=2.2.0 --initials mk --published "
            "%s/wall/batch.json" AT ("07:18") " " PALLET,
            0, "done");
    expect ("batch --published %s/wall/batch.json --now 2034-03-06T16:00 --folder %s/anew " PALLET " %s/LK-2008.yaml",
            SOME_ASIDE, "LK-2008 is set aside with a dorvan-4c");
#undef PALLET
    /* Of what is out already the page does not say that it lies beside its unit for certain. */
    g_autofree char *before = path_of ("wall/batch.html"), *now = path_of ("anew/batch.html");
    g_autofree char *planned = contents (before), *anew = contents (now);
    assert_null (strstr (planned, "taken out before now"));
    assert_non_null (strstr (anew, "taken out before now: with its unit, unless"));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown (words_make_a_unit_another_one, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_last_write_that_failed_is_not_finished, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_reading_that_is_not_what_is_wanted_is_not_finished, set_up, tear_down),
        cmocka_unit_test_setup_teardown (words_of_a_lender_are_on_the_borrowers_sheet, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_step_that_failed_is_said_to_have_failed, set_up, tear_down),
        cmocka_unit_test_setup_teardown (slips_are_recorded_and_said, set_up, tear_down),
        cmocka_unit_test_setup_teardown (the_first_of_two_rows_counts, set_up, tear_down),
        cmocka_unit_test_setup_teardown (what_is_no_batch_is_said_first, set_up, tear_down),
        cmocka_unit_test_setup_teardown (steps_go_by_what_the_sheet_calls_them, set_up, tear_down),
        cmocka_unit_test_setup_teardown (sheets_of_situations_tell_the_batchs_way, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_plan_of_one_says_what_the_batch_says, set_up, tear_down),
        cmocka_unit_test_setup_teardown (who_is_set_aside_gives_back_what_it_has, set_up, tear_down),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
