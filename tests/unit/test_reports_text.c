/* SPDX-License-Identifier: MIT */
/* The bench sheet as a whole. */
#include "reports_fixture.h"

#include <string.h>

#include "reports/paper.h"

static char *
sheet_of (const Library *library, gboolean colour)
{
    g_autoptr (RouteAnswer) answer = fixture_answer (library);
    RouteReport report = { library, fixture_shop (library), fixture_unit (library), fixture_want (library), answer };

    return report_route_text (&report, colour);
}

static guint
times_in (const char *text, const char *piece)
{
    guint count = 0;

    for (const char *at = strstr (text, piece); at != NULL; at = strstr (at + 1, piece))
        count++;
    return count;
}

static void
test_fits_the_width_without_colour (void **state)
{
    static const char *const names[] = { "reports-loaner", "reports-unknown" };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
        g_autoptr (Library) library = fixture_library (names[i]);
        g_autofree char *sheet = sheet_of (library, FALSE);
        g_auto (GStrv) lines = g_strsplit (sheet, "\n", -1);

        for (char **line = lines; *line != NULL; line++)
            assert_true (paper_columns (*line) <= PAPER_WIDTH);
        assert_null (strchr (sheet, '\033'));
    }
}

/* Colour adds to the words and takes none away. */
static void
test_colour_only_adds (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autofree char *plain = sheet_of (library, FALSE);
    g_autofree char *coloured = sheet_of (library, TRUE);
    g_autoptr (GRegex) escapes = g_regex_new ("\033\\[[0-9]*m", 0, 0, NULL);
    g_autofree char *stripped = g_regex_replace_literal (escapes, coloured, -1, 0, "", 0, NULL);

    (void) state;
    assert_string_not_equal (plain, coloured);
    assert_string_equal (plain, stripped);
}

static void
test_cautions_in_full_once (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autofree char *sheet = sheet_of (library, FALSE);

    (void) state;
    assert_int_equal (times_in (sheet, "[on-opening]: said at openings"), 1);
    assert_int_equal (times_in (sheet, "Cautions again: on-opening\n"), 1);
    assert_int_equal (times_in (sheet, "Cautions again: on-processor and on-heat-sink"), 1);
    assert_int_equal (times_in (sheet, "Cautions again: on-start and on-power-up"), 1);
    assert_null (strstr (sheet, "on-memory"));
}

/* The order at the bench: parts under "power off", then what to mind at the start, the start, and the write. */
static void
test_order_of_the_sheet (void **state)
{
    static const char *const pieces[] = {
        "Unit RP-01, board dunnock-1s, revision r1",
        "5 steps, best found, not proved shortest: any route has at least 1 step; gap: 4 steps.",
        "[on-route]",
        "Power off, mains out (opening 1 of 2",
        "[on-opening]: said at openings\n\n  1-2.   Exchange in cpu1: take out elvane-8c (stepping b1), serial E8-0001",
        "before you do:",
        "[on-processor]",
        "sink1 comes off and goes back with fresh compound",
        "Host running",
        "[on-start]",
        "Start the unit (5 minutes planned)",
        "\n\n  3.     Write system 2.1.0 over 1.4.0",
        "before you do:",
        "[on-host-write]",
        "if it fails: recover by clip: stop; do not cut power; see Recovery at the end",
        "then restart the host and see that it reports system 2.1.0",
        "Power off, mains out (opening 2 of 2",
        "4-5.   Exchange in cpu1: take out dorvan-4c",
        "Last start",
        "At the end the unit starts",
        "system: 2.1.0",
        "Before it leaves the bench",
        "settings set again (step 3 cleared them)",
        "disk encryption on again",
        "back on the loan shelf: dorvan-4c",
        "read back and compare: system = 2.1.0",
        "Recovery of a write that failed; have at hand",
        "system, by clip:",
        "1.4.0, on it before: ",
        "2.1.0, written in step 3: dunnock-1s-system-2.1.0.img",
        "before you clip on:",
        "[on-clip-write]: a clip write",
    };
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autofree char *sheet = sheet_of (library, FALSE);
    const char *at = sheet;

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (pieces); i++) {
        at = strstr (at, pieces[i]);
        if (at == NULL)
            fail_msg ("missing, or out of order: %s\n%s", pieces[i], sheet);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_fits_the_width_without_colour),
        cmocka_unit_test (test_colour_only_adds),
        cmocka_unit_test (test_cautions_in_full_once),
        cmocka_unit_test (test_order_of_the_sheet),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
