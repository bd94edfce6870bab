/* SPDX-License-Identifier: MIT */
/* `rungwise record --published` from outside: steps of a batch's sheet, and the batch that is planned on from the records.
 *
 * source: docs/batch.md, "When it goes wrong"; docs/files.md, "Record"; exit statuses by docs/commands.md. The units are those of
 * tests/cases/batch-small.case, worked by hand there, and two of data/larkfield's stories. */
#include "published_runs.h"

/* ---- Round trips ---- */

/* One unit does as its sheet says, one write fails, one loaner is set aside: each is read back as it was recorded. */
static void
a_batch_goes_on_from_what_was_recorded (void **state)
{
    json_t *document = NULL;
    const json_t *unit = NULL;

    (void) state;
    expect (PUBLISH, SOME_ASIDE, "3 planned, 1 set aside");
    expect ("record %s/LK-2003.yaml --unit LK-2003 --step 1" SHEET, 0, "(take the part out of cpu1), done");
    expect ("record %s/LK-2003.yaml --step 2 --outcome failed --found bent" SHEET, 0, "entry 2: step 2 of timetable ");
    expect ("record %s/LK-2001.yaml --unit LK-2001 --step 1 --outcome failed --found no+answer" SHEET, 0,
            "(write system 2.1.0 from the running host), failed");
    expect ("record %s/LK-2007.yaml --unit LK-2007 --step 1" SHEET, 0,
            "(write system 2.1.0 through the controller), done");
    expect ("batch --published %s/wall/batch.json --now Mon+07:20 --folder %s/anew " SMALL
            " %s/LK-2001.yaml %s/LK-2003.yaml %s/LK-2007.yaml",
            SOME_ASIDE, "3 planned, 1 set aside");
    document = read_json ("anew/batch.json");
    assert_int_equal (tasks_done (unit_in (document, "LK-2007")), 1);
    /* The other loaner serves: it goes on by its route, from the second step. */
    unit = unit_in (document, "LK-2003");
    assert_int_equal (tasks_done (unit), 1);
    assert_null (json_object_get (unit, "earlier"));
    /* The board does not start any more: another route, to which none of the record's entries belongs. */
    unit = unit_in (document, "LK-2001");
    assert_int_equal (tasks_done (unit), 0);
    assert_int_equal (
        json_integer_value (json_object_get (json_array_get (json_object_get (unit, "earlier"), 0), "entries")), 1);
    json_decref (document);
    /* The new sheet counts anew; its JSON counts the old entry. */
    expect ("record %s/LK-2001.yaml --step 1 --initials mk --published %s/anew/batch.json " SMALL, 0,
            "entry 2: step 1 of timetable ");
    expect ("record %s/other.yaml --unit LK-2001 --step 1 --initials mk --published %s/anew/batch.json " SMALL,
            BAD_USAGE, "counts 1 to routes that are left");
    expect ("batch --published %s/anew/batch.json --now Mon+07:40 --folder %s/third " SMALL
            " %s/LK-2001.yaml %s/LK-2003.yaml %s/LK-2007.yaml",
            SOME_ASIDE, "3 planned, 1 set aside");
    document = read_json ("third/batch.json");
    assert_int_equal (tasks_done (unit_in (document, "LK-2001")), 1);
    json_decref (document);
}

#define LENT                                                                                                           \
    DARK ("D", "")                                                                                                     \
    LARGER ("L", "")                                                                                                   \
    DUNNOCK_WANTS "shop: lends on\nlend-pulled-parts: yes\ntechnicians: 2\nstations: 4\n"                              \
                  "stock: [{part: elvane-12c, count: 2}, {part: sink-130c, count: 2}]\n" SHOP_TIMES
#define LENT_PATHS BOOK " %s/units.yaml"
#define LENT_SHEET " --initials mk --published %s/wall/batch.json " LENT_PATHS

/* No shelf holds the part that D borrows: L gives it. */
static void
a_pulled_part_can_have_been_fitted (void **state)
{
    json_t *document = NULL;

    (void) state;
    put ("units.yaml", LENT);
    expect ("batch --begin 2034-03-06T07:00 --folder %s/wall " LENT_PATHS, 0, "2 planned");
    expect ("record %s/L.yaml --unit L --step 1" LENT_SHEET, 0, "done");
    expect ("record %s/D.yaml --unit D --step 1" LENT_SHEET, 0, "done");
    expect ("record %s/D.yaml --step 2" LENT_SHEET, 0,
            "(fit dorvan-4c (stepping a1), from the loan shelf, in cpu1), done");
    expect ("record %s/D.yaml --step 3 --outcome failed --found no+answer" LENT_SHEET, 0, "failed");
    expect ("batch --published %s/wall/batch.json --now 2034-03-06T07:26 --folder %s/anew " LENT_PATHS
            " %s/D.yaml %s/L.yaml",
            0, "2 planned");
    /* It has left the route that borrowed; what it borrowed was at hand all the same. */
    expect ("record %s/D.yaml --step 1 --initials mk --published %s/anew/batch.json " LENT_PATHS, 0,
            "(take the part out of cpu1)");
    expect ("batch --published %s/anew/batch.json --now 2034-03-06T07:40 --folder %s/third " LENT_PATHS
            " %s/D.yaml %s/L.yaml",
            0, "2 planned");
    document = read_json ("third/batch.json");
    assert_int_equal (tasks_done (unit_in (document, "D")), 1);
    json_decref (document);
}

#define BRANCHED       BOOK " data/larkfield/shop.yaml data/larkfield/units/08-unknown-read-first.yaml"
#define BRANCHED_SHEET " --initials mk --published %s/wall/batch.json " BRANCHED

/* The sheet has the steps of the worst case. By hand as tests/cases/files/branches-record.yaml: where the loaner stays dark, 3.0.0 and
 * 3.0.1 are left, which start what is wanted: it comes out again, and one more step is done beside the sheet. */
static void
a_plan_with_branches_is_recorded_by_its_worst_case (void **state)
{
    json_t *document = NULL;

    (void) state;
    expect ("batch --begin 2034-03-06T07:00 --folder %s/wall " BRANCHED, 0,
            "5 steps, 50 minutes (36 attended) and 5 minutes to read what it has");
    expect ("record %s/r.yaml --step 1 --found dark --firmware system=3.0.0+..+3.0.1" BRANCHED_SHEET, 0,
            "(fit dorvan-4c (stepping a1), from the loan shelf, in cpu1), done");
    expect ("batch --published %s/wall/batch.json --now 2034-03-06T07:20 --folder %s/anew " BRANCHED " %s/r.yaml", 0,
            "2 steps, 17 minutes");
    expect ("record %s/r.yaml --do remove+cpu1 --initials mk --published %s/anew/batch.json " BRANCHED, 0,
            "entry 2: remove cpu1, done");
    expect ("batch --published %s/anew/batch.json --now 2034-03-06T07:30 --folder %s/third " BRANCHED " %s/r.yaml", 0,
            "1 planned");
    document = read_json ("third/batch.json");
    assert_int_equal (json_array_size (json_object_get (unit_in (document, "LK-0408"), "tasks")), 1);
    json_decref (document);
}

/* `plan` and `explain` go on from such a record too. */
static void
a_plan_goes_on_from_it (void **state)
{
    (void) state;
    expect (PUBLISH, SOME_ASIDE, "3 planned");
    expect ("record %s/r.yaml --unit LK-2003 --step 1" SHEET, 0, "done");
    expect ("plan --unit LK-2003 %s/r.yaml --published %s/wall/batch.json " SMALL, 0, "4 steps, proved shortest");
    expect ("plan --unit LK-2003 %s/r.yaml " SMALL, BAD_INPUT,
            "r.yaml:1:1: the steps of this record are those of a published");
    expect ("explain --unit LK-2003 %s/r.yaml --published %s/wall/batch.json " SMALL, 20, "cpu1 empty");
    expect ("plan --unit LK-2003 --published %s/wall/batch.json --output %s/wall/batch.json " SMALL, BAD_USAGE,
            "is one of the files that are read");
}

/* ---- Tables with mistakes ---- */

static void
rows_of_others_end_nothing (void **state)
{
    static const char good[] =
        " --step 1 --initials mk --published %s/wall/batch.json " BOOK " " SHOP " " ORDER " %s/bad.csv";
    static const char said[] = "bad.csv:3:23: unknown release \"9.9.9\" of system; the row of LK-2001 is left out";
    g_autofree char *begun = g_strconcat ("record %s/r.yaml --unit LK-2003", good, NULL);
    g_autofree char *goes_on = g_strconcat ("record %s/r.yaml --outcome skipped", good, NULL);
    g_autofree char *own = g_strconcat ("record %s/own.yaml --unit LK-2001", good, NULL);
    g_autofree char *any = g_strconcat ("record %s/own.yaml", good, NULL);

    (void) state;
    expect (PUBLISH, SOME_ASIDE, "3 planned");
    put_altered ("bad.csv", TABLE, "LK-2001,dunnock-1s,r1,1.4.0", "LK-2001,dunnock-1s,r1,9.9.9");
    expect (begun, 0, said);
    expect (goes_on, 0, "r.yaml: entry 2: step 1");
    expect (own, BAD_INPUT, "bad.csv:3:23: unknown release \"9.9.9\" of system\n");
    expect (any, BAD_INPUT, "bad.csv:3:23: unknown release \"9.9.9\" of system\n");
    put ("of-lost.yaml",
         "record: x\nunit: LK-2001\nentries:\n  - {step: 1, outcome: skipped, time: 2034-03-06T07:00Z, initials: x}\n");
    g_autofree char *lost = g_strconcat ("record %s/of-lost.yaml", good, NULL);
    expect (lost, BAD_INPUT, "bad.csv:3:23: unknown release");
    expect ("plan --unit LK-2003 " BOOK " " SHOP " " ORDER " %s/bad.csv", 0, said);
    expect ("plan --unit LK-2001 " BOOK " " SHOP " " ORDER " %s/bad.csv", BAD_INPUT, "bad.csv:3:23: unknown release");
    expect ("explain --unit LK-2003 " BOOK " " SHOP " " ORDER " %s/bad.csv", 20, said);
    expect ("starts --unit LK-2003 " BOOK " " SHOP " " ORDER " %s/bad.csv", 20, said);
    expect ("plan " BOOK " " SHOP " " ORDER " %s/bad.csv", BAD_INPUT, "bad.csv:3:23: unknown release");
}

/* ---- What is refused ---- */

static const struct {
    const char *record; /* the file r.yaml as it stands; NULL: none */
    const char *more;
    int status;
    const char *said;
} refused[] = {
    { NULL, "--unit LK-2003 --step 6" SHEET, BAD_USAGE,
      "r.yaml:5:11: there is no step 6 in the route \"published\", which has 5" },
    { NULL, "--unit LK-2003 --step 2" SHEET, BAD_USAGE, "r.yaml:5:11: dorvan-4c a1 cannot have been fitted in cpu1" },
    { NULL, "--unit LK-2O03 --step 1" SHEET, BAD_USAGE, "did you mean LK-2003?" },
    { NULL, "--step 1" SHEET, BAD_USAGE, "name the file of one unit, or --unit ID" },
    { NULL, "--unit LK-2015 --step 1" SHEET, BAD_USAGE, "step 1: LK-2015 was set aside in this timetable" },
    { NULL, "--unit LK-2003 --step 1 --initials mk " SMALL, BAD_USAGE, "the files hold no route" },
    { NULL, "--unit LK-2003 --step 1 --initials mk --published %s/none.json " SMALL, BAD_INPUT, "none.json" },
    { NULL, "--unit LK-2003 --step 1 --initials mk --published %s/cut.json " SMALL, BAD_INPUT, "cut.json:2:" },
    { NULL, "--unit LK-2003 --step 1 --initials mk --published %s/renamed.json " SMALL, BAD_USAGE,
      "LK-2003 is not in this timetable" },
    { NULL, "--unit LK-2003 --step 1 --initials mk --published %s/other-book.json " SMALL, BAD_INPUT,
      "expected a component of the board in the book" },
    { NULL, "--unit LK-2003 --step 1 --initials mk --published " TABLE " " SMALL, BAD_INPUT,
      "batch-units.csv:1:4: this is no JSON of a batch" },
    { "record: x\nunit: LK-2003\nroute: by hand\nentries:\n"
      "  - {step: {do: remove, slot: cpu1}, outcome: done, time: 2034-03-06T07:08Z, initials: mk}\n",
      "--step 2" SHEET, BAD_USAGE, "r.yaml:1:1: this record is of the route \"by hand\"" },
    { "record: x\nunit: LK-2003\nroute: published\nentries:\n"
      "  - {step: 1, outcome: done, time: 2034-03-06T07:08Z, initials: mk}\n",
      "--step 2 --initials mk " SMALL, BAD_USAGE, "none is named" },
    { NULL, "--unit LK-2003 --step 1" SHEET " %s/first.yaml", BAD_USAGE,
      "r.yaml:1:1: this is a second record of LK-2003" },
};

static void
what_is_refused_leaves_the_record_alone (void **state)
{
    g_autofree char *json = path_of ("wall/batch.json"), *path = path_of ("r.yaml");

    (void) state;
    expect (PUBLISH, SOME_ASIDE, "3 planned");
    put ("cut.json", "{\"schema\": \"rungwise-batch\",\n \"version\": 1, \"units\": [");
    put_altered ("renamed.json", json, "\"LK-2003\", \"board\": \"dunnock-1s\", \"class\"",
                 "\"LK-2093\", \"board\": \"dunnock-1s\", \"class\"");
    put_altered ("other-book.json", json, "\"component\": \"system\", \"release\"",
                 "\"component\": \"sistem\", \"release\"");
    put ("first.yaml",
         "record: a\nunit: LK-2003\nentries:\n  - {step: 1, outcome: done, time: 2034-03-06T07:08Z, initials: mk}\n");
    for (guint i = 0; i < G_N_ELEMENTS (refused); i++) {
        g_autofree char *arguments = g_strconcat ("record %s/r.yaml ", refused[i].more, NULL);

        g_remove (path);
        if (refused[i].record != NULL)
            put ("r.yaml", refused[i].record);
        expect (arguments, refused[i].status, refused[i].said);
        g_autofree char *left = contents (path);
        assert_string_equal (left, refused[i].record != NULL ? refused[i].record : "(none)");
    }
}

/* A batch that is planned on says of such records why it does not go by them. */
static void
a_batch_reads_no_numbers_of_another_route (void **state)
{
    static const char of_other[] = "record: x\nunit: LK-2003\nroute: by hand\nentries:\n"
                                   "  - {step: 1, outcome: done, time: 2034-03-06T07:08Z, initials: mk}\n";
    static const char second[] = "record: a\nunit: LK-2007\nentries:\n"
                                 "  - {step: 1, outcome: skipped, time: 2034-03-06T07:08Z, initials: mk}\n---\n"
                                 "record: b\nunit: LK-2007\nentries:\n"
                                 "  - {step: 1, outcome: done, time: 2034-03-06T07:19Z, initials: mk}\n";

    (void) state;
    expect (PUBLISH, SOME_ASIDE, "3 planned");
    put ("other.yaml", of_other);
    put ("two.yaml", second);
    expect ("batch --published %s/wall/batch.json --now Mon+07:20 --json " SMALL " %s/other.yaml", SOME_ASIDE,
            "\"set-aside\": \"record\", \"why\": \"its record can't be gone by: ");
    expect ("batch --published %s/wall/batch.json --now Mon+07:20 " SMALL " %s/other.yaml", SOME_ASIDE,
            "LK-2003: its record can't be gone by: ");
    expect ("batch --published %s/wall/batch.json --now Mon+07:20 --json " SMALL " %s/two.yaml", SOME_ASIDE,
            "two.yaml:6:1: this is a second record of LK-2007");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown (a_batch_goes_on_from_what_was_recorded, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_pulled_part_can_have_been_fitted, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_plan_with_branches_is_recorded_by_its_worst_case, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_plan_goes_on_from_it, set_up, tear_down),
        cmocka_unit_test_setup_teardown (rows_of_others_end_nothing, set_up, tear_down),
        cmocka_unit_test_setup_teardown (what_is_refused_leaves_the_record_alone, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_batch_reads_no_numbers_of_another_route, set_up, tear_down),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
