/* SPDX-License-Identifier: MIT */
/* Wrapping, cleaning, colouring. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <string.h>

#include "reports/paper.h"

static void
test_wraps_at_width (void **state)
{
    Paper *paper = paper_new (FALSE);
    GString *text = g_string_new (NULL);
    g_autofree char *out = NULL;
    g_auto (GStrv) lines = NULL;

    (void) state;
    for (int i = 0; i < 60; i++)
        g_string_append (text, "seven77 ");
    paper_say (paper, 3, 5, "%s", text->str);
    g_string_free (text, TRUE);
    out = paper_finish (paper);
    lines = g_strsplit (out, "\n", -1);
    assert_true (g_str_has_prefix (lines[0], "   seven77"));
    assert_true (g_str_has_prefix (lines[1], "     seven77"));
    for (char **line = lines; *line != NULL; line++)
        assert_true (strlen (*line) <= PAPER_WIDTH);
    /* 3 columns and 12 words of 7 with 11 blanks make 98; a thirteenth word would end at 106. */
    assert_int_equal (strlen (lines[0]), 98);
}

static void
test_width_is_kept_in_bounds (void **state)
{
    static const guint asked[] = { 80, 20, 500 }, wide[] = { 80, 60, 100 };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (asked); i++) {
        g_autofree char *out = NULL;
        Paper *paper = NULL;

        paper_set_width (asked[i]);
        paper = paper_new (FALSE);
        paper_say (paper, 0, 0, "%0*d %d", (int) wide[i] - 2, 0, 1);
        paper_say (paper, 0, 0, "%0*d %d", (int) wide[i] - 1, 0, 1);
        out = paper_finish (paper);
        /* One blank and one digit more fit; with one column less to spare the digit goes to the next line. */
        assert_int_equal (strcspn (out, "\n"), wide[i]);
        assert_int_equal (strcspn (out + wide[i] + 1, "\n"), wide[i] - 1);
    }
    paper_set_width (PAPER_WIDTH);
}

static void
test_long_words_stay_whole (void **state)
{
    Paper *paper = paper_new (FALSE);
    g_autofree char *word = g_strnfill (130, 'x');
    g_autofree char *expected = g_strdup_printf ("name:\n  %s\n  end\n", word);
    g_autofree char *out = NULL;

    (void) state;
    paper_say (paper, 0, 2, "name: %s end", word);
    out = paper_finish (paper);
    assert_string_equal (out, expected);
}

static void
test_label_fills_up_to_hang (void **state)
{
    Paper *paper = paper_new (FALSE);
    g_autofree char *out = NULL;

    (void) state;
    paper_label (paper, 2, 9, MARK_STRONG "3." MARK_PLAIN, "Write it");
    paper_label (paper, 2, 6, "a-long-label", "said after it");
    out = paper_finish (paper);
    assert_string_equal (out, "  3.     Write it\n  a-long-label said after it\n");
}

static void
test_marks_are_colour_or_nothing (void **state)
{
    Paper *plain = paper_new (FALSE);
    Paper *coloured = paper_new (TRUE);
    g_autofree char *without = NULL;
    g_autofree char *with = NULL;

    (void) state;
    paper_say (plain, 0, 0, MARK_BAD "no" MARK_PLAIN " route");
    paper_say (coloured, 0, 0, MARK_BAD "no" MARK_PLAIN " route");
    without = paper_finish (plain);
    with = paper_finish (coloured);
    assert_string_equal (without, "no route\n");
    /* ECMA-48, 8.3.117: 31 red display, 0 default rendition. */
    assert_string_equal (with, "\033[31mno\033[0m route\n");
}

/* A note in a unit's file must not be able to move the cursor or rename the window. */
static void
test_control_characters_are_taken_out (void **state)
{
    Paper *paper = paper_new (TRUE);
    g_autofree char *out = NULL;

    (void) state;
    paper_say (paper, 0, 0, "%s", "a\033[2Jb \007c \302\233d \377e");
    out = paper_finish (paper);
    assert_string_equal (out, "a?[2Jb ?c ?d \357\277\275e\n");
}

static void
test_columns_count_what_is_seen (void **state)
{
    (void) state;
    assert_int_equal (paper_columns ("abc"), 3);
    assert_int_equal (paper_columns (MARK_GOOD "abc" MARK_PLAIN), 3);
    assert_int_equal (paper_columns ("\303\244"), 1);     /* a with diaeresis */
    assert_int_equal (paper_columns ("\346\227\245"), 2); /* a wide character (Unicode Standard Annex 11) */
    assert_int_equal (paper_columns ("a\314\210"), 1);    /* a with a combining diaeresis */
}

static void
test_blank_lines_never_double (void **state)
{
    Paper *paper = paper_new (FALSE);
    g_autofree char *out = NULL;

    (void) state;
    paper_blank (paper);
    paper_say (paper, 0, 0, "one");
    paper_blank (paper);
    paper_blank (paper);
    paper_say (paper, 0, 0, "two");
    out = paper_finish (paper);
    assert_string_equal (out, "one\n\ntwo\n");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_wraps_at_width),
        cmocka_unit_test (test_width_is_kept_in_bounds),
        cmocka_unit_test (test_long_words_stay_whole),
        cmocka_unit_test (test_label_fills_up_to_hang),
        cmocka_unit_test (test_marks_are_colour_or_nothing),
        cmocka_unit_test (test_control_characters_are_taken_out),
        cmocka_unit_test (test_columns_count_what_is_seen),
        cmocka_unit_test (test_blank_lines_never_double),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
