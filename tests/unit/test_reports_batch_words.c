/* SPDX-License-Identifier: MIT */
/* What a batch's overview, page and sheets say, and in which order: small batches of the demo shop.
 *
 * source: docs/batch.md, "What is written"; times and steps by hand, as in the tests of openings and of plans with branches. */
#include "batch_units.h"

#include "reports/batch_sheet.h"

#define SHIFT(from, to) "shifts: [{days: [mon, tue, wed, thu, fri], from: " from ", to: " to "}]\n"
#define A_LOANER        "shop: one\nloaners: [{part: dorvan-4c, count: 1}]\nstock: [{part: elvane-12c, count: 2}]\n"
/* Nothing is known of its system release, and elvane-8c is in, which half of them do not know. */
#define UNKNOWN(id)                                                                                                    \
    "unit: " id "\nboard: dunnock-1s\nrevision: r1\nfirmware: {system: unknown, controller: 1.4, logic: k2}\n"         \
    "becomes: runs\nfitted:\n  cpu1: {part: elvane-8c, stepping: b1}\n  sink1: sink-70c\n" DUNNOCK_REST
/* Unit 08: no processor. */
#define BARE(id)                                                                                                       \
    "unit: " id "\nboard: dunnock-1s\nrevision: r2\nfirmware: {system: unknown, controller: 1.8, logic: k2}\n"         \
    "becomes: larger\nfitted:\n  sink1: sink-130c\n" DUNNOCK_REST

typedef struct {
    char *text, *page; /* the text on one line, blanks that keep words together as others; owned */
} Said;

static Said
say (const char *shop, const char *units)
{
    static const RouteOptions route;
    g_autoptr (SmallBatch) small = small_batch (shop, units);
    const BatchReport report = { &small->question, small_batch_plan (small), 0 };

    small->question.route = &route;
    BatchView *view = batch_view_new (&report);
    g_autofree char *text = report_batch_text (view, FALSE);
    GString *flat = g_string_new (text);
    g_string_replace (flat, "\u00a0", " ", 0);
    g_string_replace (flat, "\n", " ", 0);
    while (g_string_replace (flat, "  ", " ", 0) > 0)
        ;
    Said said = { g_string_free (flat, FALSE), report_batch_html (view, 0) };

    batch_view_free (view);
    return said;
}

static void
said_clear (Said *said)
{
    g_free (said->text);
    g_free (said->page);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Said, said_clear)

static void
assert_has (const char *text, const char *piece)
{
    if (strstr (text, piece) == NULL)
        fail_msg ("\"%s\" is missing in:\n%s", piece, text);
}

static void
assert_has_not (const char *text, const char *piece)
{
    if (strstr (text, piece) != NULL)
        fail_msg ("\"%s\" stands in:\n%s", piece, text);
}

static guint
times_in (const char *text, const char *piece)
{
    guint times = 0;

    for (const char *at = strstr (text, piece); at != NULL; at = strstr (at + 1, piece))
        times++;
    return times;
}

/* From the heading of the unit to the end of its section. Transfer full. */
static char *
sheet_of (const char *page, const char *id)
{
    g_autofree char *heading = g_strdup_printf ("<h2>%s</h2>", id);
    const char *from = strstr (page, heading);

    if (from == NULL)
        fail_msg ("%s has no sheet", id);
    return g_strndup (from, (gsize) (strstr (from, "</section>") - from));
}

static void
assert_in_this_order (const char *text, const char *const *pieces)
{
    const char *at = text;

    for (; *pieces != NULL; pieces++) {
        at = strstr (at, *pieces);
        if (at == NULL)
            fail_msg ("\"%s\" does not come next in:\n%s", *pieces, text);
    }
}

/* ---- The overview ---- */

static void
test_steps_are_called_as_on_the_sheet (void **state)
{
    g_auto (Said) said = say (A_LOANER, BARE ("P"));

    (void) state;
    /* The loaner goes in (A1); it is read; two writes, the loaner out and the processor in (B1 to B4). */
    assert_has (said.text, "technician 1: 07:00 P A1,B1-B4 ");
    assert_has (said.page, "<b class=\"strong\">A1. Fit in cpu1: dorvan-4c");
    assert_has (said.page, "<b class=\"strong\">B4. Fit in cpu1: elvane-12c");
}

static void
test_first_task_begins_the_batch (void **state)
{
    g_auto (Said) said = say (LOANERS ("1") SHIFT ("22:00", "02:00"), DARK ("A", ""));

    (void) state;
    assert_has (said.text, "From 2034-03-06T22:00 to 2034-03-0");
}

/* Twelve units in shifts of 20 minutes: more than ten days, each of which is named. */
static void
test_every_day_of_a_small_batch_is_named (void **state)
{
    GString *units = g_string_new (NULL);

    (void) state;
    for (guint i = 0; i < 12; i++)
        g_string_append_printf (units, DARK ("N-%02u", ""), i);
    g_auto (Said) said = say (
        "shop: one\nloaners: [{part: dorvan-4c, count: 1}]\ntechnicians: 1\nstations: 1\n" SHIFT ("07:00", "07:20"),
        units->str);
    const char *days = strstr (said.text, "Who begins what when");

    g_string_free (units, TRUE);
    assert_non_null (days);
    assert_true (times_in (days, "technician 1:") > 10);
    for (guint i = 0; i < 12; i++) {
        g_autofree char *id = g_strdup_printf ("N-%02u", i);

        assert_has (days, id);
    }
    assert_has_not (days, "the page and the CSV have every task");
}

/* One loaner serves both, and is in each at the end of a shift. */
static void
test_all_units_that_a_loaner_stays_in_are_named (void **state)
{
    g_auto (Said) said = say (
        "shop: one\nloaners: [{part: dorvan-4c, count: 1}]\ntechnicians: 1\nstations: 2\n" SHIFT ("07:00", "07:40"),
        DARK ("A", "") DARK ("B", ""));

    (void) state;
    assert_has (said.text, "1 lent part stays in a unit over the end of a shift: dorvan-4c a1 #1 in A and B.");
}

/* source: 551 h 49 min are 22 times 24 h and 23 h 49 min */
static void
test_long_times_are_said_in_days (void **state)
{
    static const struct {
        gint64 minutes;
        const char *words;
    } times[] = { { 59, "59 min" },
                  { 2879, "47 h 59 min" },
                  { 2880, "2 days" },
                  { 2881, "2 days 1 min" },
                  { 551 * 60 + 49, "22 days 23 h 49 min" } };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (times); i++) {
        g_autofree char *words = batch_span_words (times[i].minutes * 10);

        assert_string_equal (words, times[i].words);
    }
}

static void
test_what_shows_that_there_is_no_way (void **state)
{
    g_auto (Said) said = say (LOANERS ("1"), UNKNOWN ("P"));
    g_autofree char *sheet = sheet_of (said.page, "P");

    (void) state;
    /* Of those that stay dark with elvane-8c, 2.2.0 does so with the loaner too. */
    assert_has (said.text, "P: no way for system 2.2.0. That shows where at first it stays dark, and after C2 it stays "
                           "dark again (part F).");
    assert_in_this_order (
        sheet, (const char *const[]){ "C2. Fit in cpu1: dorvan-4c", "it stays dark: <b class=\"bad\">no way on</b>",
                                      "switch the unit off and isolate it. Take dorvan-4c (stepping a1) out of cpu1",
                                      "back to where it was fetched", "[isolate]: Shut down. Unplug EVERY supply.",
                                      "Where it shows anything else, stop", NULL });
    assert_has (sheet, "It may have: system 1.0.0, 1.2.0, 1.4.0, 2.0.0-rc.1, 2.0.0, 2.1.0, 2.2.0, 3.0.0 or 3.0.1.");
}

/* ---- The page ---- */

static void
test_work_stands_before_what_is_set_aside (void **state)
{
    /* elvane-12c wants a larger heat sink than any that this shop has: LARGER is set aside. */
    g_auto (Said) said = say (LOANERS ("1"), DARK ("A", "") LARGER ("L", ""));

    (void) state;
    assert_in_this_order (said.page,
                          (const char *const[]){ "<body>", "Set aside</b>: L; <a href=\"#aside\">",
                                                 "<h2>Timetable</h2>", "<h2>To have at hand</h2>",
                                                 "<h2>Who does what when</h2>", "<h2 id=\"aside\">Set aside</h2>",
                                                 "<h2>Situations</h2>", "<h2>A</h2>", NULL });
}

/* A technician's steps at one unit that follow each other are one bar; an id has its room on paper, stands upright, or is left out. */
static void
test_bars_on_paper (void **state)
{
    g_auto (Said) said = say (LOANERS ("1") SHIFT ("07:00", "15:30"), DARK ("LK-2001", ""));
    const char *row = strstr (said.page, ">technician 1</b>");

    (void) state;
    assert_non_null (row);
    g_autofree char *bars = g_strndup (row, (gsize) (strstr (row, "</div>") - row));
    /* The opening with out and in, and behind it the start and the attended part of the write, are one bar; then the opening back. */
    assert_int_equal (times_in (bars, "class=\"work"), 2);
    assert_has (bars, "class=\"track tall\"");
    assert_has (bars, " thin\"");
    assert_has_not (said.page, "class=\"held thin bare\""); /* a place is held for all of it: 57 of 510 minutes */
}

static void
test_dates_in_tables_are_not_broken (void **state)
{
    static const struct {
        const char *words, *markup;
    } dated[] = {
        { "none", "none" },
        { "2034-03-06T07:15", "<span class=\"date\">2034-03-06T07:15</span>" },
        { "from 2034-03-06T07:15 to 2034-03-07, <b>",
          "from <span class=\"date\">2034-03-06T07:15</span> to <span class=\"date\">2034-03-07</span>, &lt;b&gt;" },
        { "2034-03", "2034-03" }
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (dated); i++) {
        g_autoptr (GString) out = g_string_new (NULL);

        batch_page_put_dated (dated[i].words, out);
        assert_string_equal (out->str, dated[i].markup);
    }
}

/* ---- A unit's sheet ---- */

/* Two openings: how to isolate is said in full at both, the rest where it is first due. source of the floor: system 2.1.0's `lowest`
 * in data/larkfield/book/firmware-dunnock-1s.yaml; no floor is given for the unit */
static void
test_cautions_and_floor_on_the_sheet (void **state)
{
    g_auto (Said) said = say (LOANERS ("1"), DARK ("A", ""));
    g_autofree char *sheet = sheet_of (said.page, "A");

    (void) state;
    assert_int_equal (times_in (sheet, "(opening "), 2);
    assert_int_equal (times_in (sheet, "[isolate]: Shut down."), 2);
    assert_int_equal (times_in (sheet, "[hot-sink]:"), 1);
    assert_has (sheet, "Cautions</b> as for step 1");
    assert_has (sheet, "the floor rises</b>: afterwards system below 1.4.0 can&#39;t be written any more");
    assert_has (sheet, "floor assumed: if a later system was on it once, read its floor first");
}

static guint
size_of (const char *class)
{
    static const char *const classes[] = { "", " near", " close", " dense", " tight" };

    for (guint i = 0; i < G_N_ELEMENTS (classes); i++)
        if (g_str_equal (class, classes[i]))
            return i;
    fail_msg ("no size is called \"%s\"", class);
    return 0;
}

/* The longer, the smaller; what the smallest does not hold on one page goes on two, in the largest that holds it there. */
static void
test_size_follows_the_length (void **state)
{
    GString *markup = g_string_new (NULL);
    guint size = 0, sizes = 1, longest = 0;

    (void) state;
    assert_int_equal (size_of (batch_page_size ("")), 0);
    for (; longest < 200 && size_of (batch_page_size (markup->str)) >= size; longest++) {
        sizes += size_of (batch_page_size (markup->str)) > size ? 1 : 0;
        size = size_of (batch_page_size (markup->str));
        g_string_append (markup, "<p>As long as a line of the usual type or a little less.</p>\n");
    }
    assert_int_equal (sizes, 5);
    assert_int_equal (size, 4);
    assert_true (longest > 60 && longest < 130); /* lines of 4.1 to 2.4 mm on 277 mm */
    assert_int_equal (size_of (batch_page_size (markup->str)), 0);
    for (guint i = 0; i < 400; i++)
        g_string_append (markup, "<p>As long as a line of the usual type or a little less.</p>\n");
    assert_int_equal (size_of (batch_page_size (markup->str)), 4);
    g_string_free (markup, TRUE);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_steps_are_called_as_on_the_sheet),
        cmocka_unit_test (test_first_task_begins_the_batch),
        cmocka_unit_test (test_every_day_of_a_small_batch_is_named),
        cmocka_unit_test (test_all_units_that_a_loaner_stays_in_are_named),
        cmocka_unit_test (test_long_times_are_said_in_days),
        cmocka_unit_test (test_what_shows_that_there_is_no_way),
        cmocka_unit_test (test_work_stands_before_what_is_set_aside),
        cmocka_unit_test (test_bars_on_paper),
        cmocka_unit_test (test_dates_in_tables_are_not_broken),
        cmocka_unit_test (test_cautions_and_floor_on_the_sheet),
        cmocka_unit_test (test_size_follows_the_length),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
