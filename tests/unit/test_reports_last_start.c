/* SPDX-License-Identifier: MIT */
/* Reports of a start that is a task of its own: in the list of work, on the sheet, in table and JSON, in a replan.
 *
 * source: docs/batch.md, "The last start"; times as in test_batch_last_start.c: a SENT unit's write takes 14 minutes, of which 1 is
 * attended, and its start 5. What to do with a unit that stays dark: common practice, no source. */
#include "batch_units.h"

#include "json_schema.h"
#include "reports/batch_view.h"

#define SENT(id)                                                                                                       \
    "unit: " id "\nboard: dunnock-1s\nrevision: r1\nfirmware: {system: 1.4.0, controller: \"2.10\", logic: k2}\n"       \
    "becomes: runs\nfitted:\n  cpu1: {part: elvane-8c, stepping: b1}\n  sink1: sink-70c\n" DUNNOCK_REST
#define ONE        "shop: sends\ntechnicians: 1\nstations: 2\n"
#define UNTIL(to)  "shifts: [{days: [mon, tue, wed, thu, fri], from: 07:00, to: " to "}]\n"
#define DARK_WORDS                                                                                                     \
    "If it stays dark: power off, isolate it as for an opening, ask `rungwise explain --unit A`, and note what was "   \
    "seen."

enum { DAY = 14400 };

typedef struct {
    SmallBatch *small;
    RouteOptions route;
    BatchReport report;
    BatchView *view;
    BatchPublished *published;
} Reported;

static void
look (Reported *all)
{
    g_clear_pointer (&all->view, batch_view_free);
    all->report = (BatchReport){ &all->small->question, small_batch_plan (all->small), 0 };
    all->view = batch_view_new (&all->report);
}

static Reported *
reported (const char *shop, const char *units)
{
    Reported *all = g_new0 (Reported, 1);

    all->small = small_batch (shop, units);
    all->small->question.route = &all->route;
    look (all);
    return all;
}

static void
reported_free (Reported *all)
{
    batch_view_free (all->view);
    small_batch_free (all->small);
    batch_published_free (all->published);
    g_free (all);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Reported, reported_free)

/* What is published is what was read back from the JSON; its start then is moved by hand. */
static void
replan (Reported *all, gint64 by, gint64 now)
{
    g_autofree char *text = report_batch_json (all->view);
    g_autoptr (Complaints) complaints = complaints_new ();
    PublishedTask *task = NULL;

    all->published = batch_published_read ("last.json", text, &all->small->library->book, all->small->library->units,
                                           &all->small->question.clock, complaints);
    assert_non_null (all->published);
    task = &g_array_index (((PublishedUnit *) all->published->units->pdata[0])->tasks, PublishedTask, 0);
    assert_true (task->start.apart);
    task->start.begins += by;
    task->ends += by;
    all->small->question.published = all->published;
    all->small->question.now = now;
    look (all);
}

/* Lines may be broken anywhere between words: a break, with what is indented behind it, counts as one blank. */
static void
assert_has (const char *text, const char *piece)
{
    g_autoptr (GRegex) blanks = g_regex_new ("[ \n]+", 0, 0, NULL);
    g_autofree char *one_line = g_regex_replace_literal (blanks, text, -1, 0, " ", 0, NULL);

    if (strstr (one_line, piece) == NULL)
        fail_msg ("\"%s\" is missing in:\n%.6000s", piece, text);
}

static void
assert_rows (const Reported *all, const char *const *rows)
{
    for (guint i = 0; rows[i] != NULL; i++)
        assert_has (report_batch_csv (all->view), rows[i]);
}

static guint
count_of (const char *text, const char *piece)
{
    guint count = 0;

    for (const char *at = strstr (text, piece); at != NULL; at = strstr (at + 1, piece))
        count++;
    return count;
}

static void
it_is_in_the_lists_of_work (void **state)
{
    static const char *const rows[] = {
        "A,1,1,write system 2.1.0 through the controller,1,1,2034-03-06T07:00,2034-03-06T07:01,2034-03-06T07:14",
        "A,3,1,start it and see that it runs,1,1,2034-03-06T07:14,2034-03-06T07:19,2034-03-06T07:19",
        "B,4,1,start it and see that it runs,1,2,2034-03-06T07:19,2034-03-06T07:24,2034-03-06T07:24",
        NULL,
    };
    g_autoptr (Reported) all = reported (ONE, SENT ("A") SENT ("B"));
    g_autofree char *text = report_batch_text (all->view, FALSE);
    g_autofree char *page = report_batch_html (all->view, 0);

    (void) state;
    assert_rows (all, rows);
    assert_has (text, "technician 1: 07:00\u00a0A\u00a0" "1; 07:01\u00a0B\u00a0" "1; 07:14\u00a0A\u00a0start; "
                      "07:19\u00a0B\u00a0start");
    assert_int_equal (count_of (page, ". start it and see that it runs</td>"), 2);
    assert_int_equal (count_of (page, "class=\"work\""), 4);
    assert_has (page, "class=\"work\" style=\"--b:14;--l:5\"");
}

static void
the_sheet_says_when_it_is_started (void **state)
{
    g_autoptr (Reported) all = reported (ONE UNTIL ("07:18"), SENT ("A"));
    g_autofree char *page = report_batch_html (all->view, 0);

    (void) state;
    assert_has (page, "<b class=\"strong\">07:00</b> to 07:14<br/>technician 1 until 07:01");
    assert_has (page, "Tue 2034-03-07<br/><b class=\"strong\">07:00</b> to 07:05<br/>technician 1</td><td><p>It starts "
                      "and runs.</p>");
    assert_has (page, DARK_WORDS);
    assert_has (page, "from 2034-03-06T07:00 to 2034-03-07T07:05");
}

/* Out and in of the fifth step: 4 minutes and the start's 5. */
static void
within_a_step_it_has_that_time (void **state)
{
    g_autoptr (Reported) all = reported (LOANERS ("1"), DARK ("A", ""));
    g_autofree char *page = report_batch_html (all->view, 0);

    (void) state;
    assert_int_equal (task_of (unit_of (all->small->batch, "A"), 4)->begins, 340);
    assert_int_equal (count_of (page, "<b class=\"strong\">07:34</b> to 07:43<br/>technician 1"), 2);
    assert_has (page, "to 07:43<br/>technician 1<br/>in the time of step 5</td><td><p>It starts and runs.</p>");
    assert_has (page, DARK_WORDS);
}

static void
the_json_has_both_ends (void **state)
{
    g_autoptr (Reported) all = reported (ONE UNTIL ("07:18"), SENT ("A"));
    g_autofree char *json = report_batch_json (all->view);

    (void) state;
    assert_fits_schema ("printed-batch.schema.json", json);
    assert_has (json, "\"begins\": 0, \"attended-until\": 1, \"ends\": 1445, \"step-ends\": 14, "
                      "\"start-begins\": 1440, \"start-technician\": 1");
}

/* 17:00, behind the shift: it is written, and nobody has started it. */
static void
a_replan_says_what_waits_for_its_start (void **state)
{
    g_autoptr (Reported) all = reported (ONE UNTIL ("07:18"), SENT ("A"));

    (void) state;
    replan (all, 0, 6000);
    g_autofree char *text = report_batch_text (all->view, FALSE);
    assert_int_equal (all->small->batch->moved, 0);
    assert_has (text, "Taken to be under way by the clock alone: A step 1 (its start is still to come).");
}

static void
a_replan_says_that_the_start_alone_moves (void **state)
{
    static const char says[] = "the start behind step 1 moves from 2034-03-07T06:50 to 2034-03-07T07:00; the start behind "
                               "step 1 at its published time is not within a shift, or runs into a break";
    g_autoptr (Reported) all = reported (ONE UNTIL ("07:18"), SENT ("A"));

    (void) state;
    replan (all, -100, 6000);
    g_autofree char *text = report_batch_text (all->view, FALSE);
    g_autofree char *page = report_batch_html (all->view, 0);
    g_autofree char *json = report_batch_json (all->view);
    assert_has (text, says);
    assert_has (page, says);
    assert_has (page, "to 07:14, technician 1, place 1; start <span class=\"date\">2034-03-07T06:50</span> to 06:55, technician 1</td>");
    assert_has (page, "to 07:14, technician 1, place 1; start <span class=\"date\">2034-03-07T07:00</span> to 07:05, technician 1</td>");
    assert_fits_schema ("printed-batch.schema.json", json);
    assert_has (json, "\"step-ends\": 14, \"start-begins\": 1430, \"start-technician\": 1");
}

/* The write at 06:50 is in no shift; from 07:00 on it leaves no time for the start on that day. */
static void
a_replan_says_that_both_move (void **state)
{
    g_autoptr (Reported) all = reported (ONE UNTIL ("07:18"), SENT ("A"));

    (void) state;
    replan (all, 0, 0);
    PublishedTask *task = &g_array_index (((PublishedUnit *) all->published->units->pdata[0])->tasks, PublishedTask, 0);
    task->begins += DAY - 100;
    task->attended_until += DAY - 100;
    task->start.step_ends += DAY - 100;
    task->start.begins += 40;
    task->ends += 40;
    all->small->question.now = 6000;
    look (all);
    g_autofree char *text = report_batch_text (all->view, FALSE);
    assert_int_equal (task_of (unit_of (all->small->batch, "A"), 0)->start.begins, 2 * DAY);
    assert_int_equal (all->small->batch->moved, 2);
    assert_has (text, "1 step moves and the start behind the last one, step 1 from 2034-03-07T06:50 to 2034-03-07T07:00");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (it_is_in_the_lists_of_work),
        cmocka_unit_test (the_sheet_says_when_it_is_started),
        cmocka_unit_test (within_a_step_it_has_that_time),
        cmocka_unit_test (the_json_has_both_ends),
        cmocka_unit_test (a_replan_says_what_waits_for_its_start),
        cmocka_unit_test (a_replan_says_that_the_start_alone_moves),
        cmocka_unit_test (a_replan_says_that_both_move),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
