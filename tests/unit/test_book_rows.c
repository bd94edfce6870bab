/* SPDX-License-Identifier: MIT */
/* Tables of units: what rows say, and what a spreadsheet may write.
 *
 * source for quoting, line breaks in cells and CRLF: RFC 4180, section 2; for the rest: docs/batch.md, "Units as rows". */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "rows_fixture.h"

/* ---- What a row says ---- */

static void
test_each_column (void **state)
{
    (void) state;
    g_autoptr (Loaded) loaded =
        load ("unit,board,revision,system,controller,system floor,system label,made,written since,cpu1,cpu1 serial,"
              "sink1,dimm-a1,cpu1 insertions,failed,note,becomes,due,priority,own parts stay\n"
              "P1,wren-1s,r2,1.4,birch,1.0,1.4,2034-02-01,no,dorvan-8:a1,D8-1,sink-120,empty,3,"
              "controller system,as found,better,2034-03-10T16:00,7,yes\n");
    assert_told (loaded, "", "");
    const Unit *unit = unit_at (loaded, 0);
    assert_string_equal (unit->id, "P1");
    assert_string_equal (unit->board->name, "wren-1s");
    assert_int_equal (unit->revision, 1);
    assert_int_equal (unit->releases[0].count, 1);
    assert_true (unit->releases[0].may_be[1]);
    assert_int_equal (unit->releases[0].floor, 0);
    assert_int_equal (unit->factory.label[0], 1);
    assert_string_equal (unit->factory.made, "2034-02-01");
    assert_true (unit->factory.unwritten);
    assert_string_equal (unit->fitted[0].part->name, "dorvan-8");
    assert_string_equal (unit->fitted[0].stepping, "a1");
    assert_string_equal (unit->fitted[0].serial, "D8-1");
    assert_string_equal (unit->fitted[1].part->name, "sink-120");
    assert_null (unit->fitted[2].part);
    assert_true (unit->counted[0] && unit->insertions[0] == 3);
    assert_true (unit->failed[0] && unit->failed[1]);
    assert_string_equal (unit->note, "as found");
    assert_string_equal (unit->becomes, "better");
    assert_int_equal (unit->becomes_at.line, 2);
    assert_int_equal (unit->becomes_at.column, 108);
    assert_string_equal (unit->due, "2034-03-10T16:00");
    assert_int_equal (unit->priority, 7);
    assert_true (unit->own_parts_stay);
    assert_int_equal (unit->at.line, 2);
    assert_int_equal (unit->at.column, 1);
}

/* What is not said is as in a unit's file that does not say it. */
static void
test_what_is_not_said (void **state)
{
    (void) state;
    g_autoptr (Loaded) loaded = load ("unit,board,revision,system,controller,cpu1,note,due,priority,own parts stay\n"
                                      "P1,wren-1s,r1,unknown,amber,,,,,\n");
    assert_told (loaded, "", "");
    const Unit *unit = unit_at (loaded, 0);
    assert_int_equal (unit->releases[0].count, 3);
    assert_int_equal (unit->releases[0].floor, -1);
    assert_null (unit->fitted[0].part);
    assert_null (unit->failed);
    assert_null (unit->insertions);
    assert_null (unit->note);
    assert_null (unit->becomes);
    assert_null (unit->due);
    assert_int_equal (unit->priority, 1);
    assert_false (unit->own_parts_stay);
}

/* Releases as in a unit's file, and several with | between them. */
static void
test_possible_releases (void **state)
{
    (void) state;
    static const struct {
        const char *cell;
        guint mask; /* of 1.0, 1.4, 2.1 */
    } cases[] = { { "1.4", 2 },       { "unknown", 7 },      { "1.0 .. 1.4", 3 }, { "\">= 1.4, < 2.1\"", 2 },
                  { "1.0 | 2.1", 5 }, { "\"1.0|1.4\"", 3 }, { ">= 1.4", 6 } };
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autofree char *text =
            g_strdup_printf ("unit,board,revision,system,controller\nP1,wren-1s,r1,%s,amber\n", cases[i].cell);
        g_autoptr (Loaded) loaded = load (text);
        assert_told (loaded, "", "");
        guint mask = 0;
        for (guint r = 0; r < 3; r++)
            mask |= unit_at (loaded, 0)->releases[0].may_be[r] ? 1u << r : 0;
        assert_int_equal (mask, cases[i].mask);
    }
}

/* A column may be a slot of one board and a component of another; cells of what a board has not got are blank. A colon may be
 * part of a part's name. */
static void
test_several_boards (void **state)
{
    (void) state;
    g_autoptr (Loaded) loaded = load_bytes ("unit,board,revision,bay,logic,system,controller,cpu1\n"
                                            "P1,lark-2s,r1,cover:x,p1,,,elvane-14\n"
                                            "P2,robin-1s,r1,q1,,,,\n"
                                            "P3,wren-1s,r1,,,1.0,cedar,dorvan-8:a0\n",
                                            -1, &(With){ .yaml = SECOND_BOOK });
    assert_told (loaded, "", "");
    assert_string_equal (unit_at (loaded, 0)->fitted[0].part->name, "cover:x");
    assert_int_equal (unit_at (loaded, 1)->releases[0].count, 1);
    assert_string_equal (unit_at (loaded, 2)->fitted[0].stepping, "a0");
}

/* A spare image that is not told of has what the active image has. */
static void
test_untold_spare (void **state)
{
    (void) state;
    static const char *const spare[] = { SPARE, NULL };
    g_autoptr (Loaded) loaded =
        load_bytes ("unit,board,revision,system,controller\nP1,dunnock-1s,r1,1.4,2.0\n", -1, &(With){ spare });
    assert_told (loaded, "", "");
    const Unit *unit = unit_at (loaded, 0);
    int image = board_find_component (unit->board, "system");
    const char *name = board_component (unit->board, (guint) image)->spare;
    assert_non_null (name);
    assert_int_equal (unit->releases[board_find_component (unit->board, g_intern_string (name))].count, 1);
}

/* ---- What a spreadsheet writes ---- */

static void
assert_one_unit (const char *text, gssize length)
{
    g_autoptr (Loaded) loaded = load_bytes (text, length, &(With){ 0 });
    assert_told (loaded, "", "");
    assert_int_equal (units_of (loaded), 1);
    assert_string_equal (unit_at (loaded, 0)->id, "P1");
    assert_string_equal (unit_at (loaded, 0)->fitted[0].stepping, "a0");
}

static void
test_forms (void **state)
{
    (void) state;
    static const char *const forms[] = {
        "unit;board;revision;system;controller;cpu1\nP1;wren-1s;r1;1.0;amber;dorvan-8:a0\n",
        "unit\tboard\trevision\tsystem\tcontroller\tcpu1\nP1\twren-1s\tr1\t1.0\tamber\tdorvan-8:a0\n",
        "unit,board,revision,system,controller,cpu1\r\nP1,wren-1s,r1,1.0,amber,dorvan-8:a0\r\n",
        "unit,board,revision,system,controller,cpu1\rP1,wren-1s,r1,1.0,amber,dorvan-8:a0\r",
        "\xEF\xBB\xBFunit,board,revision,system,controller,cpu1\nP1,wren-1s,r1,1.0,amber,dorvan-8:a0", /* no last break */
        ("\"unit\",\"board\",\"revision\",\"system\",\"controller\",\"cpu1\"\n"
         "\"P1\",\"wren-1s\",\"r1\",\"1.0\",\"amber\",\"dorvan-8:a0\"\n"),
        " Unit , BOARD,Revision,  SYSTEM,Controller,CPU1 \nP1, wren-1s , r1,1.0 ,amber,dorvan-8 : a0\n",
        "\nunit,board,revision,system,controller,cpu1\n\n,,,,,\nP1,wren-1s,r1,1.0,amber,dorvan-8:a0\n\n,,\n",
        "unit,board,revision,system,controller,cpu1,,\nP1,wren-1s,r1,1.0,amber,dorvan-8:a0,,,,\n",
        "cpu1,controller,system,revision,board,unit\ndorvan-8:a0,amber,1.0,r1,wren-1s,P1\n",
        "unit,board,revision,system,controller,cpu1,note\nP1,wren-1s,r1,1.0,amber,dorvan-8:a0\n", /* a short row */
        /* spaces that do not break (U+00A0, U+2007, U+202F), in the header too; apostrophes that say that a cell is text */
        "\xC2\xA0unit,board,revision,system\xC2\xA0,controller,cpu1,own\xE2\x80\xAFparts\xC2\xA0stay\n"
        "P1\xC2\xA0,\xC2\xA0wren-1s,r1,\xE2\x80\x87 1.0,\"\xC2\xA0" "amber \",dorvan-8:\xC2\xA0" "a0,\xC2\xA0\n\xC2\xA0,,\n",
        "unit,board,revision,system,controller,cpu1\n'P1,wren-1s,\"'r1\",'1.0,amber,'dorvan-8:a0\n",
        "unit;board;revision;system;controller;cpu1;\nP1;wren-1s;r1;1.0;amber;dorvan-8:a0\n", /* shorter than the header */
        "unit,board,revision,system,controller,cpu1,\"own  parts\nstay\"\nP1,wren-1s,r1,1.0,amber,dorvan-8:a0,TRUE\n",
    };
    for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
        assert_one_unit (forms[i], -1);
}

/* Doubled quotes, a line break and the separator in a cell; and the place of a mistake behind them. */
static void
test_quoting (void **state)
{
    (void) state;
    g_autoptr (Loaded) loaded = load ("unit;note;board;revision;system;controller\n"
                                      "P1;\"says \"\"dark\"\";\nlid bent\";wren-1s;r1;1.0;amber\n"
                                      "P2;\"one\r\ntwo\";wren-1s;r1;\"9.9\";amber\n");
    assert_told (loaded, "", "5:17: unknown release \"9.9\" of system | expected one of 1.0, 1.4, 2.1\n");
    assert_int_equal (units_of (loaded), 1);
    assert_string_equal (unit_at (loaded, 0)->note, "says \"dark\";\nlid bent");
}

/* Columns count characters, not bytes; a piece of a cell has its own place. */
static void
test_places (void **state)
{
    (void) state;
    g_autoptr (Loaded) loaded = load ("note,unit,board,revision,system,controller,failed,cpu1\n"
                                      "\xC3\xA9\xC3\xA9,P1,wren-1s,r1,\"1.0 | 1.5\",amber,system logc,dorvan-8:z9\n");
    assert_told (loaded, "",
                 "2:25: unknown release \"1.5\" of system | did you mean 1.0? expected one of 1.0, 1.4, 2.1\n"
                 "2:43: unknown component \"logc\" of board wren-1s | expected one of system, controller\n"
                 "2:57: dorvan-8 has no stepping z9 | expected one of a0, a1\n");
    assert_int_equal (units_of (loaded), 0);
}

/* What is no part of a cell's text is counted all the same. */
static void
test_places_behind_what_is_left_out (void **state)
{
    (void) state;
    g_autoptr (Loaded) loaded = load ("unit,board,revision,system,controller,failed\n"
                                      "P1,wren-1s,r1,'1.0 | 1.5,amber,\" \xC2\xA0system logc\"\n");
    assert_told (loaded, "",
                 "2:22: unknown release \"1.5\" of system | did you mean 1.0? expected one of 1.0, 1.4, 2.1\n"
                 "2:42: unknown component \"logc\" of board wren-1s | expected one of system, controller\n");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_each_column),
        cmocka_unit_test (test_what_is_not_said),
        cmocka_unit_test (test_possible_releases),
        cmocka_unit_test (test_several_boards),
        cmocka_unit_test (test_untold_spare),
        cmocka_unit_test (test_forms),
        cmocka_unit_test (test_quoting),
        cmocka_unit_test (test_places),
        cmocka_unit_test (test_places_behind_what_is_left_out),
    };
    return cmocka_run_group_tests_name ("rows", tests, NULL, NULL);
}
