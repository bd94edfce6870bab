/* SPDX-License-Identifier: MIT */
/* What files say for a batch: which want is whose, and when a shop works.
 *
 * source: docs/batch.md, "What each becomes", and docs/files.md, "Shop". */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "rows_fixture.h"

/* ---- What each becomes ---- */

static const char TWO_UNITS[] = "unit,board,revision,system,controller,logic,becomes\n"
                                "P1,wren-1s,r1,1.0,amber,,%s\n"
                                "P2,lark-2s,r1,,,p1,%s\n";

/* Loads P1 of wren-1s and P2 of lark-2s with wants. Transfer full. */
static Loaded *
load_two (const char *first, const char *second, const char *wants, const char *const *items)
{
    g_autofree char *text = g_strdup_printf (TWO_UNITS, first, second);
    g_autofree char *yaml = g_strconcat (SECOND_BOOK, wants, NULL);
    return load_bytes (text, -1, &(With){ .yaml = yaml, .wants = items });
}

static const char *
want_of (const Loaded *loaded, guint unit)
{
    g_autofree char *why = NULL;
    const Want *want = library_want_for_unit (loaded->library, unit_at (loaded, unit), &why);
    assert_null (why);
    assert_non_null (want);
    assert_ptr_equal (want->board, unit_at (loaded, unit)->board);
    return want->name;
}

static void
test_want_by_board_and_name (void **state)
{
    (void) state;
    static const char wants[] = "---\nwant: newer\nboard: wren-1s\nfirmware: {system: 2.1}\n"
                                "---\nwant: newer\nboard: lark-2s\nfirmware: {logic: p2}\n"
                                "---\nwant: older\nboard: wren-1s\nfirmware: {system: 1.4}\n";
    g_autoptr (Loaded) loaded = load_two ("older", "", wants, NULL);
    assert_told (loaded, "", "");
    assert_string_equal (want_of (loaded, 0), "older");
    assert_string_equal (want_of (loaded, 1), "newer");
    assert_true (((const Want *) g_ptr_array_index (loaded->library->wants, 0))->says_board);
}

static void
test_want_missing (void **state)
{
    (void) state;
    static const char one[] = "---\nwant: newer\nboard: lark-2s\nfirmware: {logic: p2}\n";
    static const char two[] = "---\nwant: newer\nboard: lark-2s\nfirmware: {logic: p2}\n"
                              "---\nwant: other\nboard: lark-2s\nfirmware: {logic: p2}\n"
                              "---\nwant: other\nboard: lark-2s\nfirmware: {logic: p1}\n"
                              "---\nwant: older\nboard: wren-1s\nfirmware: {system: 1.4}\n";
    static const char any[] = "expected one want for its board, or becomes with the name of one";
    const struct {
        const char *first, *second, *wants, *told;
    } cases[] = {
        { "", "", one, "2:1: unit P1: there is no want for board wren-1s" },
        { "older", "newr", two, "3:20: unit P2: there is no want \"newr\" | did you mean newer?\n" },
        { "newer", "newer", two, "2:26: unit P1: the want \"newer\" is not for board wren-1s" },
        { "", "", two, "3:1: unit P2: there are 3 wants for board lark-2s, and nothing says which one it becomes" },
        { "", "other", two, "3:20: unit P2: there are 2 wants \"other\" for board lark-2s" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autoptr (Loaded) loaded = load_two (cases[i].first, cases[i].second, cases[i].wants, NULL);
        g_autofree char *wanted = g_str_has_suffix (cases[i].told, "\n")
                                      ? g_strdup (cases[i].told)
                                      : g_strdup_printf ("%s | %s\n", cases[i].told, any);
        assert_told (loaded, "", wanted);
        assert_int_equal (units_of (loaded), 1);
        assert_non_null (want_of (loaded, 0));
    }
}

/* A unit of a file ends the run, a row does not. */
static void
test_want_missing_for_a_file (void **state)
{
    (void) state;
    static const char more[] = "---\nunit: F1\nboard: wren-1s\nrevision: r1\nfirmware: {system: 1.0, controller: amber}\n"
                               "becomes: nothing\n"
                               "---\nwant: newer\nboard: wren-1s\nfirmware: {system: 2.1}\n"
                               "---\nwant: newer\nboard: lark-2s\nfirmware: {logic: p2}\n";
    g_autoptr (Loaded) loaded = load_two ("", "", more, NULL);
    g_autofree char *in_main = told (loaded, loaded->complaints);
    assert_non_null (strstr (in_main, "unit F1: there is no want \"nothing\""));
    assert_int_equal (complaints_count (loaded->complaints), 1);
    assert_int_equal (complaints_count (loaded->rows), 0);
}

/* No want at all: library_want_for_unit() says so, the files are not at fault. */
static void
test_no_want_at_all (void **state)
{
    (void) state;
    g_autofree char *why = NULL;
    g_autoptr (Loaded) loaded = load_two ("", "", "", NULL);
    assert_told (loaded, "", "");
    assert_null (library_want_for_unit (loaded->library, unit_at (loaded, 0), &why));
    assert_string_equal (why, "there is no want for board wren-1s");
    assert_null (library_want_for_unit (loaded->library, unit_at (loaded, 0), NULL));
}

static void
test_want_items_for_each_board (void **state)
{
    (void) state;
    static const char *const both[] = { "cpu1=elvane-14", NULL }; /* a slot of either */
    static const char *const one[] = { "logic=p2", NULL };
    static const char *const neither[] = { "logik=p2", NULL };
    g_autoptr (Loaded) loaded = load_two ("", "", "", both);
    assert_told (loaded, "", "");
    assert_int_equal (loaded->library->wants->len, 2);
    assert_string_equal (want_of (loaded, 0), "command line");
    assert_string_equal (want_of (loaded, 1), "command line");

    g_autoptr (Loaded) for_one = load_two ("", "", "", one);
    assert_int_equal (for_one->library->wants->len, 1);
    assert_int_equal (units_of (for_one), 1);
    assert_int_equal (complaints_count (for_one->rows), 1);
    assert_int_equal (complaints_count (for_one->complaints), 0);

    g_autoptr (Loaded) for_none = load_two ("", "", "", neither);
    g_autofree char *in_main = told (for_none, for_none->complaints);
    assert_true (g_str_has_prefix (in_main, "--want:1:1: unknown slot or component \"logik\" of board wren-1s"));

    g_autoptr (Loaded) plain = load_bytes ("unit,board,revision,system,controller,logic\n"
                                           "P1,wren-1s,r1,1.0,amber,\nP2,lark-2s,r1,,,p1\n",
                                           -1, &(With){ .yaml = SECOND_BOOK, .wants = both, .plain = TRUE });
    g_autofree char *in_plain = told (plain, plain->complaints);
    assert_true (g_str_has_prefix (in_plain, "--want:1:1: the units have several boards"));
}

/* ---- Shifts ---- */

static void
test_shifts (void **state)
{
    (void) state;
    static const char shop[] = "shop: bench\n"
                               "shifts:\n"
                               "  - {days: [mon, fri], from: 07:00, to: 15:30,\n"
                               "     breaks: [{from: 12:00, to: 12:30}, {from: 09:00, to: 09:15}]}\n"
                               "  - {days: sun, from: 22:00, to: 07:00, breaks: [{from: 02:00, to: 02:30}]}\n"
                               "  - {days: sat, from: 06:00, to: 06:00, breaks: [{from: 05:30, to: 06:00}]}\n";
    g_autoptr (Loaded) loaded = load_bytes ("unit,board,revision,system,controller\n", -1, &(With){ .yaml = shop });
    assert_told (loaded, "", "");
    g_autoptr (Shop) copy = shop_copy (g_ptr_array_index (loaded->library->shops, 0));
    assert_int_equal (copy->shifts->len, 3);
    const Shift *first = &g_array_index (copy->shifts, Shift, 0), *night = first + 1, *whole_day = first + 2;
    assert_int_equal (first->days, 1u << 0 | 1u << 4);
    assert_int_equal (first->from, 420);
    assert_int_equal (first->to, 930);
    assert_int_equal (first->breaks->len, 2);
    assert_int_equal (g_array_index (first->breaks, ShiftBreak, 0).from, 540); /* in order of time */
    assert_int_equal (g_array_index (first->breaks, ShiftBreak, 1).to, 750);
    assert_int_equal (night->days, 1u << 6); /* touches Monday's, and does not overlap it */
    assert_int_equal (night->breaks->len, 1);
    assert_int_equal (whole_day->breaks->len, 1);
    g_autoptr (Shop) always = shop_new_default ();
    assert_null (always->shifts);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_want_by_board_and_name),
        cmocka_unit_test (test_want_missing),
        cmocka_unit_test (test_want_missing_for_a_file),
        cmocka_unit_test (test_no_want_at_all),
        cmocka_unit_test (test_want_items_for_each_board),
        cmocka_unit_test (test_shifts),
    };
    return cmocka_run_group_tests_name ("batch", tests, NULL, NULL);
}
