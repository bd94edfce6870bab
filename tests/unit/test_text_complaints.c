/* SPDX-License-Identifier: MIT */
/* Complaints: their order, their look, and the name that was meant. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "text/text.h"

static Mark
at (const char *file, guint line, guint column)
{
    return (Mark){ file, line, column };
}

static void
assert_printed (Complaints *list, guint most, const char *expected)
{
    g_autofree char *text = complaints_to_string (list, most);
    assert_string_equal (text, expected);
}

/* The example of docs/files.md, "Errors". */
static void
test_line_and_caret (void **state)
{
    (void) state;
    static const char text[] = "a: 1\n    lowest: 1.6.0\n";
    g_autoptr (Complaints) list = complaints_new ();
    complaints_add_text (list, "wren.yaml", text, strlen (text));
    complaints_add (list, at ("wren.yaml", 2, 13), "expected a release at or below 1.4.0",
                    "release %s sets lowest to %s, above itself", "1.4.0", "1.6.0");
    assert_printed (list, 50,
                    "wren.yaml:2:13: release 1.4.0 sets lowest to 1.6.0, above itself\n"
                    "        lowest: 1.6.0\n"
                    "                ^\n"
                    "  expected a release at or below 1.4.0\n");
}

static void
test_file_order (void **state)
{
    (void) state;
    g_autoptr (Complaints) list = complaints_new ();
    complaints_add_text (list, "b.yaml", "x\n", 2);
    complaints_add_text (list, "a.yaml", "x\n", 2);
    complaints_add (list, at ("a.yaml", 1, 1), NULL, "fourth");
    complaints_add (list, at ("b.yaml", 2, 1), NULL, "third");
    complaints_add (list, at ("b.yaml", 1, 2), NULL, "second");
    complaints_add (list, at ("b.yaml", 1, 1), NULL, "first");
    static const char *const order[] = { "first", "second", "third", "fourth" };
    assert_int_equal (complaints_count (list), 4);
    for (guint i = 0; i < 4; i++)
        assert_string_equal (complaints_get (list, i)->what, order[i]);
}

static void
test_repeats_are_kept_once (void **state)
{
    (void) state;
    g_autoptr (Complaints) list = complaints_new ();
    for (int i = 0; i < 3; i++)
        complaints_add (list, at ("a.yaml", 1, 1), NULL, "the same");
    complaints_add (list, at ("a.yaml", 1, 2), NULL, "the same");
    complaints_add (list, at ("a.yaml", 1, 1), NULL, "another");
    assert_int_equal (complaints_count (list), 3);
}

static void
test_count_of_left_out (void **state)
{
    (void) state;
    g_autoptr (Complaints) list = complaints_new ();
    assert_printed (list, 50, "");
    for (guint i = 1; i <= 5; i++)
        complaints_add (list, at ("a.yaml", i, 1), NULL, "mistake %u", i);
    assert_printed (list, 2, "a.yaml:1:1: mistake 1\na.yaml:2:1: mistake 2\nand 3 more\n");
}

static void
test_without_place (void **state)
{
    (void) state;
    g_autoptr (Complaints) list = complaints_new ();
    complaints_add (list, at ("gone.yaml", 0, 0), NULL, "this cannot be opened");
    complaints_add (list, MARK_NONE, "expected another", "no file at all");
    assert_printed (list, 50, "no file at all\n  expected another\ngone.yaml: this cannot be opened\n");
}

/* Carets count characters, not bytes; a tab stays one; wide characters take two cells. */
static void
test_caret_under_odd_text (void **state)
{
    (void) state;
    static const char text[] = "\xef\xbb\xbf\tcaf\xc3\xa9: x\r\n\xe5\x86\x8a: y\r\n\x01 z";
    g_autoptr (Complaints) list = complaints_new ();
    complaints_add_text (list, "a.yaml", text, strlen (text));
    complaints_add (list, at ("a.yaml", 1, 8), NULL, "one");
    complaints_add (list, at ("a.yaml", 2, 4), NULL, "two");
    complaints_add (list, at ("a.yaml", 3, 3), NULL, "three");
    complaints_add (list, at ("a.yaml", 4, 1), NULL, "beyond the end");
    assert_printed (list, 50,
                    "a.yaml:1:8: one\n    \tcaf\xc3\xa9: x\n    \t      ^\n"
                    "a.yaml:2:4: two\n    \xe5\x86\x8a: y\n        ^\n"
                    "a.yaml:3:3: three\n    ? z\n      ^\n"
                    "a.yaml:4:1: beyond the end\n");
}

/* Lines end where YAML 1.1 ends them. */
static void
test_line_breaks (void **state)
{
    (void) state;
    static const char text[] = "a\rb\xc2\x85"
                               "c\xe2\x80\xa8"
                               "d\xe2\x80\xa9"
                               "e\n";
    g_autoptr (Complaints) list = complaints_new ();
    complaints_add_text (list, "a.yaml", text, strlen (text));
    for (guint line = 1; line <= 5; line++)
        complaints_add (list, at ("a.yaml", line, 1), NULL, "line");
    for (guint i = 0; i < 5; i++) {
        char expected[2] = { (char) ('a' + i), '\0' };
        assert_string_equal (complaints_get (list, i)->line, expected);
    }
}

static void
test_long_line_is_a_window (void **state)
{
    (void) state;
    g_autoptr (GString) text = g_string_new (NULL);
    for (int i = 0; i < 1000; i++)
        g_string_append_c (text, i == 500 ? '!' : 'x');
    g_autoptr (Complaints) list = complaints_new ();
    complaints_add_text (list, "a.yaml", text->str, text->len);
    complaints_add (list, at ("a.yaml", 1, 501), NULL, "here");
    g_autofree char *printed = complaints_to_string (list, 1);
    g_auto (GStrv) lines = g_strsplit (printed, "\n", -1);
    assert_true (strlen (lines[1]) < 130);
    assert_int_equal (lines[1][strcspn (lines[2], "^")], '!');
}

static void
test_not_utf8_is_shown_safely (void **state)
{
    (void) state;
    g_autoptr (Complaints) list = complaints_new ();
    complaints_add_text (list, "a.yaml", "ab\xff", 3);
    complaints_add (list, at ("a.yaml", 1, 3), NULL, "bad byte");
    g_autofree char *printed = complaints_to_string (list, 1);
    assert_true (g_utf8_validate (printed, -1, NULL));
}

static void
test_nearest (void **state)
{
    (void) state;
    static const char *const known[] = { "revisions", "slots", "components", "watts", "r1", NULL };
    static const struct {
        const char *found, *nearest;
    } table[] = {
        { "revison", "revisions" },
        { "slot", "slots" },
        { "tawts", "watts" },
        { "SLOTS", "slots" },
        { "R1", "r1" },
        { "r2", NULL },
        { "colour", NULL },
        { "", NULL },
        { "x", NULL },
        { "stols", "slots" },
        { "componnets", "components" },
    };
    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        const char *nearest = text_nearest (table[i].found, known);
        if (g_strcmp0 (nearest, table[i].nearest) != 0)
            fail_msg ("nearest to %s: %s, found %s", table[i].found, table[i].nearest, nearest);
    }
    g_autofree char *long_name = g_strnfill (5000, 'a');
    assert_null (text_nearest (long_name, known));
}

static void
test_names (void **state)
{
    (void) state;
    static const char *const right[] = { "wren-2s", "1.0~rc1", "0x1F", "a", "LK_0107:b+c" };
    static const char *const wrong[] = { "",      "-a",  ".a", "a b", "a/b",   "unknown",
                                         "empty", "and", "or", "if",  "board", "caf\xc3\xa9" };
    for (guint i = 0; i < G_N_ELEMENTS (right); i++)
        assert_null (text_name_problem (right[i]));
    for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
        assert_non_null (text_name_problem (wrong[i]));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_line_and_caret),
        cmocka_unit_test (test_file_order),
        cmocka_unit_test (test_repeats_are_kept_once),
        cmocka_unit_test (test_count_of_left_out),
        cmocka_unit_test (test_without_place),
        cmocka_unit_test (test_caret_under_odd_text),
        cmocka_unit_test (test_line_breaks),
        cmocka_unit_test (test_long_line_is_a_window),
        cmocka_unit_test (test_not_utf8_is_shown_safely),
        cmocka_unit_test (test_nearest),
        cmocka_unit_test (test_names),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
