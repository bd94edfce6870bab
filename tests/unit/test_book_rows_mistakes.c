/* SPDX-License-Identifier: MIT */
/* Tables of units: each mistake with its place, and what goes on in spite of it.
 *
 * source: docs/batch.md, "Units as rows"; what a quote may do: RFC 4180, section 2. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "rows_fixture.h"

/* ---- Mistakes of the table ---- */

static void
test_table_mistakes (void **state)
{
    (void) state;
    static const struct {
        const char *text, *told;
    } cases[] = {
        { "", "1:1: this table is empty | expected a line with the names of its columns, then a line a unit\n" },
        { "\n,,\n", "1:1: this table is empty | expected a line with the names of its columns, then a line a unit\n" },
        { "unit,board,revision,system,controller,cpu9\nP1,wren-1s,r1,1.0,amber,x\n",
          "1:39: unknown column \"cpu9\" of a table of units | did you mean cpu1?\n" },
        { "unit,board,system,controller\nP1,wren-1s,1.0,amber\n",
          "1:1: this table has no column \"revision\" | expected \"revision\" among the names in the first line\n" },
        { "unit,bord,revision\nP1,wren-1s,r1\n", /* misspelt, so not missing as well */
          "1:6: unknown column \"bord\" of a table of units | did you mean board?\n" },
        { "unit,board,revision,Unit\n",
          "1:21: column unit is given twice | expected it once; the first is at pallet.csv:1:1\n" },
        { "unit,board,revision,cpu1 floor\n", /* a slot has no floor */
          "1:21: unknown column \"cpu1 floor\" of a table of units\n" },
        { "unit,board,revision\nP1,wren-1s,\"r1\n",
          "2:12: this cell opens a quote and never closes it | expected a closing quote before the end of the file\n" },
        { "unit,board,revision\nP1,wren\"1s,r1\n",
          "2:8: this quote neither opens nor closes a cell | expected a quote only around a whole cell, doubled where it "
          "stands in one\n" },
        { "unit,board,revision\nP1,wr\xE9n,r1\n",
          "2:6: this byte is not UTF-8 text | expected a table saved as UTF-8\n" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autoptr (Loaded) loaded = load (cases[i].text);
        assert_told (loaded, cases[i].told, "");
        assert_int_equal (units_of (loaded), 0);
    }
}

/* ---- Mistakes of a row ---- */

#define HEAD "unit,board,revision,system,controller,cpu1,cpu1 serial,sink1,dimm-a1,bay,due,priority,own parts stay,\n"
#define GOOD "G1,wren-1s,r1,1.0,amber,dorvan-8:a0,,sink-120,,,,,,\n"

static void
test_row_mistakes (void **state)
{
    (void) state;
    static const struct {
        const char *row, *told; /* the row is the second of three */
    } cases[] = {
        { ",wren-1s,r1,1.0,amber\n", "3:1: this row has no unit | expected it in its column\n" },
        { "P1,,r1,1.0,amber\n", "3:4: this row has no board | expected it in its column\n" },
        { "P1,wren-1s,,1.0,amber\n", "3:12: this row has no revision | expected it in its column\n" },
        { "P1,wren-1s,r9,1.0,amber\n", "3:12: unknown revision \"r9\" of board wren-1s | expected one of r1, r2\n" },
        { "P1,wrenn,r1,1.0,amber\n",
          "3:4: unknown board \"wrenn\" | expected one of wren-1s, lark-2s, robin-1s\n" },
        { "P1,wren-1s,r1,,amber\n",
          "3:15: the release of system is not given | expected a release under \"system\", or unknown\n" },
        { "P1,wren-1s,r1,1.0\n", /* the row ends before */
          "3:1: the release of controller is not given | expected a release under \"controller\", or unknown\n" },
        { "P1,wren-1s,r1,1.3,amber\n",
          "3:15: unknown release \"1.3\" of system | did you mean 1.0? expected one of 1.0, 1.4, 2.1\n" },
        { "P1,wren-1s,r1,>= 3.0,amber\n",
          "3:15: no release of system in the book is so | expected a release that is in the book, or unknown\n" },
        { "P1,wren-1s,r1,1.0,amber,dorvan-9:a0\n",
          "3:25: unknown processor \"dorvan-9\" | did you mean dorvan-8? expected one of dorvan-8, elvane-14\n" },
        { "P1,wren-1s,r1,1.0,amber,dorvan-8\n",
          "3:25: the stepping of dorvan-8 is not given | expected one of a0, a1\n" },
        { "P1,wren-1s,r1,1.0,amber,sink-120\n",
          "3:25: sink-120 is of kind heat-sink | expected a part of kind processor\n" },
        { "P1,wren-1s,r1,1.0,amber,,S-1\n",
          "3:26: a serial for slot cpu1, which holds no part | expected a part under \"cpu1\", or no serial\n" },
        { "P1,wren-1s,r1,1.0,amber,empty,S-1\n",
          "3:31: a serial for slot cpu1, which holds no part | expected a part under \"cpu1\", or no serial\n" },
        { "P1,wren-1s,r1,1.0,amber,,,,,cover:x\n",
          "3:29: board wren-1s has no slot or component bay | expected nothing here, or another board\n" },
        { "P1,wren-1s,r1,1.0,amber,,,,,,10.3.2034\n",
          "3:30: due \"10.3.2034\" is not a time | expected a date, or a date and the shop's own time, such as "
          "2034-03-10T16:00\n" },
        { "P1,wren-1s,r1,1.0,amber,,,,,,,0\n",
          "3:31: priority 0 is out of range | expected a whole number from 1 to 1000000\n" },
        { "P1,wren-1s,r1,1.0,amber,,,,,,,,maybe\n",
          "3:32: own-parts-stay cannot be \"maybe\" | expected one of no, yes, false, true\n" },
        { "P1,wren-1s,r1,1.0,amber,,,,,,,,,x\n",
          "3:33: this cell is in a column without a name | expected nothing here, or a name in the first line\n" },
        { "P1,wren-1s,r1,1.0,amber,,,,,,,,,,x\n",
          "3:34: this cell is in a column without a name | expected nothing here, or a name in the first line\n" },
        { "G1,wren-1s,r1,1.0,amber\n",
          "3:1: unit G1 is defined twice | expected it once; the first is at pallet.csv:2:1\n" },
        { "P1,wren-1s,r3,1.3,amber,dorvan-8:a2\n", /* all of them in one run */
          "3:12: unknown revision \"r3\" of board wren-1s | expected one of r1, r2\n"
          "3:15: unknown release \"1.3\" of system | did you mean 1.0? expected one of 1.0, 1.4, 2.1\n"
          "3:34: dorvan-8 has no stepping a2 | expected one of a0, a1\n" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autofree char *text =
            g_strconcat (HEAD GOOD, cases[i].row, "G2,wren-1s,r2,1.4,cedar,elvane-14,,sink-160\n", NULL);
        g_autoptr (Loaded) loaded = load_bytes (text, -1, &(With){ .yaml = SECOND_BOOK });
        g_autofree char *in_rows = told (loaded, loaded->rows);
        g_autofree char *whole = g_strconcat (cases[i].row, in_rows, NULL);
        g_autofree char *wanted = g_strconcat (cases[i].row, cases[i].told, NULL);
        assert_string_equal (whole, wanted); /* says which row it was */
        assert_int_equal (complaints_count (loaded->complaints), 0);
        assert_int_equal (units_of (loaded), 2);
        assert_string_equal (unit_at (loaded, 0)->id, "G1");
        assert_string_equal (unit_at (loaded, 1)->id, "G2");
    }
}

/* The same mistake in two rows is two mistakes: else the second row would be planned without its part. */
static void
test_each_row_by_itself (void **state)
{
    (void) state;
    g_autoptr (Loaded) loaded = load ("unit,board,revision,system,controller,cpu1\n"
                                      "P1,wren-1s,r1,1.0,amber,dorvan-9:a0\n"
                                      "P2,wren-1s,r1,1.0,amber,dorvan-9:a0\n"
                                      "P1,wren-1s,r1,1.0,amber,dorvan-8:a0\n");
    g_autofree char *printed = told (loaded, loaded->rows);
    assert_int_equal (complaints_count (loaded->rows), 3);
    assert_non_null (strstr (printed, "2:25: unknown processor"));
    assert_non_null (strstr (printed, "3:25: unknown processor"));
    assert_non_null (strstr (printed, "4:1: unit P1 is defined twice")); /* though the first is left out, too */
    assert_int_equal (units_of (loaded), 0);
}

/* Without a list of their own, mistakes of rows are as any others. */
static void
test_mistakes_together (void **state)
{
    (void) state;
    static const char text[] = "unit,board,revision,system,controller\nP1,wren-1s,r1,9,amber\n";
    static const char wrong[] = "2:15: unknown release \"9\" of system | expected one of 1.0, 1.4, 2.1\n";
    g_autoptr (Loaded) together = load_bytes (text, -1, &(With){ .together = TRUE });
    assert_told (together, wrong, "");
    g_autoptr (Loaded) plain = load_bytes (text, -1, &(With){ .plain = TRUE });
    assert_told (plain, wrong, "");
}

/* What speaks of a unit that is left out is not to blame; what speaks of none is. */
static void
test_record_of_a_row_left_out (void **state)
{
    (void) state;
    static const char record[] = "record: x\nunit: P1\nentries: []\n---\nrecord: y\nunit: P7\nentries: []\n";
    g_autoptr (Loaded) loaded = load_bytes ("unit,board,revision,system,controller\n"
                                            "P1,wren-1s,r1,9,amber\n"
                                            "P2,wren-1s,r1,1.0,amber\n",
                                            -1, &(With){ .yaml = record });
    g_autofree char *in_main = told (loaded, loaded->complaints);
    assert_string_equal (in_main, "more.yaml:6:7: unknown unit \"P7\" | expected P2\n");
    assert_int_equal (complaints_count (loaded->rows), 1);
}

/* A unit's file and a row of the same id: the row is the mistake. */
static void
test_id_of_a_file (void **state)
{
    (void) state;
    static const char unit[] = "unit: P1\nboard: wren-1s\nrevision: r1\nfirmware: {system: 1.0, controller: amber}\n";
    g_autoptr (Loaded) loaded = load_bytes ("unit,board,revision,system,controller\nP1,wren-1s,r2,1.0,amber\n", -1,
                                            &(With){ .yaml = unit });
    g_autofree char *in_rows = told (loaded, loaded->rows);
    g_autofree char *first = g_strdup_printf ("the first is at %s:1:7", loaded->more);
    assert_int_equal (complaints_count (loaded->complaints), 0);
    assert_int_equal (complaints_count (loaded->rows), 1);
    assert_true (g_str_has_prefix (in_rows, "2:1: unit P1 is defined twice"));
    assert_non_null (strstr (in_rows, first));
    assert_int_equal (units_of (loaded), 1);
    assert_int_equal (unit_at (loaded, 0)->revision, 0);
    assert_int_equal (unit_at (loaded, 0)->priority, 1);
}

/* A folder stands for its YAML files alone: a table is named. */
static void
test_table_in_a_folder (void **state)
{
    (void) state;
    g_autoptr (Loaded) loaded = load ("unit,board\n");
    const char *const paths[] = { BENCH, loaded->folder, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    assert_int_equal (complaints_count (complaints), 0);
    assert_int_equal (library->units->len, 0);
    assert_int_equal (complaints_count (loaded->complaints), 1); /* ... and is read when it is */
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_table_mistakes),
        cmocka_unit_test (test_row_mistakes),
        cmocka_unit_test (test_each_row_by_itself),
        cmocka_unit_test (test_mistakes_together),
        cmocka_unit_test (test_record_of_a_row_left_out),
        cmocka_unit_test (test_id_of_a_file),
        cmocka_unit_test (test_table_in_a_folder),
    };
    return cmocka_run_group_tests_name ("rows, mistakes", tests, NULL, NULL);
}
