/* SPDX-License-Identifier: MIT */
/* Batches of a few Larkfield units: classes, stock shared out, pulled parts lent on, shifts and breaks.
 *
 * source: worked by hand from docs/batch.md and the stories of data/larkfield. Minutes: an opening 6, a start 5, a removal 2, a
 * fitting 4 (processor) or 2, a host write 9 with 2 attended. */
#include "batch_units.h"

#define ONE_LOANER LOANERS ("1")

/* DARK: out 6 + 2, in 4, write 5 + 9, out 6 + 2, in 4 + 5. */
enum { DARK_TOTAL = 430, DARK_OUT = 80, DARK_BACK = 90 };

static void
units_that_differ_in_nothing_are_one_class (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (ONE_LOANER, DARK ("A", "note: one\n") DARK ("B", "priority: 3\n")
                                                                DARK ("C", "own-parts-stay: yes\n"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    /* A and B; C may not be borrowed from. */
    assert_int_equal (batch->classes->len, 2);
    assert_int_equal (unit_of (batch, "A")->class, unit_of (batch, "B")->class);
    assert_int_not_equal (unit_of (batch, "A")->class, unit_of (batch, "C")->class);
    assert_int_equal (((BatchClass *) batch->classes->pdata[0])->units, 2);
}

static void
tasks_are_as_long_as_the_steps (void **state)
{
    static const gint64 lengths[] = { 80, 40, 140, 80, 90 }, attended[] = { 80, 40, 70, 80, 90 };
    g_autoptr (SmallBatch) small = small_batch (ONE_LOANER, DARK ("A", ""));
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "A");

    (void) state;
    assert_int_equal (unit->tasks->len, G_N_ELEMENTS (lengths));
    for (guint i = 0; i < unit->tasks->len; i++) {
        assert_int_equal (task_of (unit, i)->ends - task_of (unit, i)->begins, lengths[i]);
        assert_int_equal (task_of (unit, i)->attended_until - task_of (unit, i)->begins, attended[i]);
    }
    assert_int_equal (batch->finish, DARK_TOTAL);
}

static void
one_loaner_goes_from_unit_to_unit (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (ONE_LOANER, DARK ("A", "") DARK ("B", "") DARK ("C", ""));
    Batch *batch = small_batch_plan (small);
    const BatchPart *part = loaner_of (batch, unit_of (batch, "A"));

    (void) state;
    assert_ptr_equal (part, loaner_of (batch, unit_of (batch, "B")));
    assert_ptr_equal (part, loaner_of (batch, unit_of (batch, "C")));
    assert_int_equal (part->number, 1);
    assert_int_equal (part->stays->len, 3);
    for (guint i = 1; i < 3; i++)
        assert_true (g_array_index (part->stays, BatchStay, i - 1).to <=
                     g_array_index (part->stays, BatchStay, i).from);
    /* The loaner is all that is scarce. It goes in and comes out in openings that are made in one go: the next unit is opened
     * so that its own part is out when the loaner comes. */
    assert_int_equal (batch->finish, DARK_OUT + 3 * (DARK_TOTAL - DARK_OUT - DARK_BACK) + DARK_BACK);
}

/* Three of each stepping are one pair of each: the third unit lacks one, of either. */
static void
pairs_match (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        "shop: pairs\nstock: [{part: elvane-14, stepping: b0, count: 3}, {part: elvane-14, stepping: b1, count: 3}]\n",
        PAIR ("A", "pair", "") PAIR ("B", "pair", "") PAIR ("C", "pair", ""));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (batch->aside, 1);
    assert_int_equal (unit_of (batch, "C")->aside, ASIDE_NO_STOCK);
    assert_non_null (strstr (unit_of (batch, "C")->why, "1 more elvane-14"));
    assert_int_not_equal (unit_of (batch, "A")->mode, unit_of (batch, "B")->mode);
    for (guint i = 0; i < 2; i++) {
        const GArray *stock = mode_of (batch, batch->units->pdata[i])->stock;

        assert_int_equal (stock->len, 1);
        assert_int_equal (g_array_index (stock, Lot, 0).count, 2);
    }
}

static void
one_of_each_is_no_pair (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        "shop: pairs\nstock: [{part: elvane-14, stepping: b0, count: 1}, {part: elvane-14, stepping: b1, count: 1}]\n",
        PAIR ("A", "pair", ""));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_NO_STOCK);
}

/* "pair" takes either stepping, "b1 alone" only one: the earlier unit leaves it b1, whatever it would have had alone. */
static void
an_earlier_unit_changes_its_mode (void **state)
{
    static const char *const steppings[] = { "b0", "b1" };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (steppings); i++) {
        g_autofree char *units = g_strdup_printf (
            "%s%swant: narrow\nboard: wren-2s\nslots: {cpu1: {part: elvane-14, stepping: %s}, cpu2: {part: elvane-14, "
            "stepping: %s}}\n---\n",
            PAIR ("A", "pair", ""), PAIR ("B", "narrow", ""), steppings[i], steppings[i]);
        g_autoptr (SmallBatch) small = small_batch ("shop: pairs\nstock: [{part: elvane-14, stepping: b0, count: 2}, "
                                                    "{part: elvane-14, stepping: b1, count: 2}]\n",
                                                    units);
        Batch *batch = small_batch_plan (small);
        const GArray *stock = mode_of (batch, unit_of (batch, "B"))->stock;

        assert_int_equal (batch->aside, 0);
        assert_string_equal (g_array_index (stock, Lot, 0).stepping, steppings[i]);
    }
}

static void
stock_goes_by_due_time_then_priority (void **state)
{
    g_autoptr (SmallBatch) small = small_batch ("shop: few\nstock: [{part: elvane-14, stepping: b1, count: 4}]\n",
                                                PAIR ("A", "pair", "") PAIR ("B", "pair", "priority: 2\n")
                                                    PAIR ("C", "pair", "due: 2034-03-10T16:00\n"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_NO_STOCK);
    assert_int_equal (unit_of (batch, "B")->aside, ASIDE_NOT);
    assert_int_equal (unit_of (batch, "C")->due, 4 * 14400 + 9 * 600);
}

/* ---- Pulled parts ---- */

#define NO_LOANER(lend)                                                                                                \
    "shop: none\nlend-pulled-parts: " lend "\ntechnicians: 2\nstations: 4\n"                                           \
    "stock: [{part: elvane-12c, count: 2}, {part: sink-130c, count: 2}]\n"

static void
a_pulled_part_is_lent_once_it_is_out (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (NO_LOANER ("yes"), DARK ("D", "") DARK ("E", "") LARGER ("L", ""));
    Batch *batch = small_batch_plan (small);
    const BatchPart *part = loaner_of (batch, unit_of (batch, "D"));
    const BatchUnit *giver = unit_of (batch, "L");
    const BatchMode *mode = mode_of (batch, giver);
    gint64 out = -1;

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_ptr_equal (part, loaner_of (batch, unit_of (batch, "E")));
    assert_int_equal (part->owner, OWNER_UNIT);
    assert_string_equal (((BatchUnit *) batch->units->pdata[part->from_unit])->unit->id, "L");
    assert_string_equal (part->serial, "S-L");
    for (guint i = 0; i < mode->steps->len; i++) {
        const Step *step = &g_array_index (mode->steps, Step, i);

        if (step->kind == STEP_REMOVE && step->part != NULL && step->part->kind == KIND_PROCESSOR)
            out = task_of (giver, i)->ends;
    }
    assert_true (out > 0 && out <= g_array_index (part->stays, BatchStay, 0).from);
    assert_int_equal (part->stays->len, 2);
}

static void
parts_that_stay_are_not_lent (void **state)
{
    const char *shops[] = { NO_LOANER ("no"), NO_LOANER ("yes") };
    const char *units[] = { DARK ("D", "") LARGER ("L", ""), DARK ("D", "") LARGER ("L", "own-parts-stay: yes\n") };

    (void) state;
    for (guint i = 0; i < 2; i++) {
        g_autoptr (SmallBatch) small = small_batch (shops[i], units[i]);
        Batch *batch = small_batch_plan (small);

        assert_int_equal (unit_of (batch, "D")->aside, ASIDE_NO_ROUTE);
        assert_int_equal (unit_of (batch, "L")->aside, ASIDE_NOT);
        assert_non_null (((BatchClass *) batch->classes->pdata[unit_of (batch, "D")->class])->none);
    }
}

/* Nothing in stock for the giver: it is set aside, and so is the one that counted on it. */
static void
who_is_set_aside_gives_nothing (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        "shop: none\nlend-pulled-parts: yes\nstock: [{part: elvane-12c, count: 1}, {part: sink-130c, count: 1}]\n",
        DARK ("D", "") LARGER ("L", "own-parts-stay: yes\n") LARGER ("M", ""));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (unit_of (batch, "L")->aside, ASIDE_NOT);
    assert_int_equal (unit_of (batch, "M")->aside, ASIDE_NO_STOCK);
    assert_int_equal (unit_of (batch, "D")->aside, ASIDE_NO_STOCK);
    assert_non_null (strstr (unit_of (batch, "D")->why, "dorvan-4c"));
}

/* ---- Modes ---- */

/* Story 08 of data/larkfield, twice: nothing is known of the system release. The worst case takes five steps: a loaner in, two
 * writes, the loaner out, elvane-12c in. */
static void
a_plan_with_branches_counts_with_its_worst_case (void **state)
{
    static const char unit_text[] =
        "unit: %s\nboard: dunnock-1s\nrevision: r2\nfirmware: {system: unknown, controller: 1.8, logic: k2}\n"
        "becomes: larger\nfitted:\n  sink1: sink-130c\n" DUNNOCK_REST;
    g_autofree char *one = g_strdup_printf (unit_text, "P"), *other = g_strdup_printf (unit_text, "Q");
    g_autofree char *units = g_strconcat (one, other, NULL);
    g_autoptr (SmallBatch) small = small_batch (
        "shop: auction\nloaners: [{part: dorvan-4c, count: 1}]\nstock: [{part: elvane-12c, count: 2}]\n", units);
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_int_equal (batch->classes->len, 1);
    for (guint i = 0; i < batch->units->len; i++) {
        const BatchUnit *unit = batch->units->pdata[i];
        const BatchMode *mode = mode_of (batch, unit);

        assert_int_equal (mode->claim, CLAIM_BRANCHES);
        assert_int_equal (unit->tasks->len, 5);
        assert_int_equal (loaner_step (mode), 0);
        /* Opening and fitting take 10 minutes; the start that is tried then, 5, is with the write that comes next: 5 + 9. */
        assert_int_equal (task_of (unit, 0)->ends - task_of (unit, 0)->begins, 100);
        assert_int_equal (task_of (unit, 1)->ends - task_of (unit, 1)->begins, 50 + 140);
    }
    assert_ptr_equal (loaner_of (batch, batch->units->pdata[0]), loaner_of (batch, batch->units->pdata[1]));
}

/* One stepping is there for all, so nobody looks for another way; with one part less somebody has to go without, and does. */
static void
more_ways_are_looked_for_where_parts_are_scarce (void **state)
{
    static const char *const shops[] = {
        "shop: plenty\nstock: [{part: elvane-14, stepping: b1, count: 4}, {part: elvane-14, stepping: b0, count: 2}]\n",
        "shop: less\nstock: [{part: elvane-14, stepping: b1, count: 3}, {part: elvane-14, stepping: b0, count: 2}]\n",
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (shops); i++) {
        g_autoptr (SmallBatch) small = small_batch (shops[i], PAIR ("A", "pair", "") PAIR ("B", "pair", ""));
        Batch *batch = small_batch_plan (small);
        const GPtrArray *modes = ((const BatchClass *) batch->classes->pdata[0])->modes;
        const GArray *stock = ((const BatchMode *) modes->pdata[0])->stock;
        gboolean enough = g_array_index (stock, Lot, 0).stepping == g_intern_string ("b1") && i == 0;

        assert_int_equal (batch->aside, 0);
        assert_int_equal (modes->len == 1, enough);
    }
}

/* ---- Time ---- */

static void
a_write_does_not_begin_that_cannot_end_in_the_shift (void **state)
{
    /* 07:00 to 07:30: out 8 and in 4 are over at 07:12, the write takes 14 with its start: to 07:26. With 07:20 it waits. */
    g_autoptr (SmallBatch) small =
        small_batch (ONE_LOANER "shifts: [{days: [mon, tue], from: 07:00, to: 07:20}]\n", DARK ("A", ""));
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "A");

    (void) state;
    assert_true (task_of (unit, 1)->ends <= 200);
    assert_true (task_of (unit, 2)->begins >= 14400 && task_of (unit, 2)->ends <= 14400 + 200);
}

static void
nobody_works_in_a_break_and_writes_run_through_it (void **state)
{
    /* The write begins at 07:12 at the earliest and is attended until 07:19; a break from 07:19 to 07:29 is in its minutes. */
    g_autoptr (SmallBatch) small =
        small_batch (ONE_LOANER "shifts: [{days: [mon], from: 07:00, to: 09:00, breaks: [{from: 07:19, to: 07:29}]}]\n",
                     DARK ("A", ""));
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "A");

    (void) state;
    assert_int_equal (task_of (unit, 2)->begins, 120);
    assert_int_equal (task_of (unit, 3)->begins, 290); /* not at 07:26 */
}

static void
a_step_longer_than_any_shift_sets_its_unit_aside (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        ONE_LOANER "shifts: [{days: [mon, tue, wed, thu, fri], from: 07:00, to: 07:12}]\n", DARK ("A", ""));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_NO_TIME);
    assert_non_null (strstr (unit_of (batch, "A")->why, "14 minutes"));
}

static void
what_is_due_comes_first (void **state)
{
    g_autoptr (SmallBatch) small =
        small_batch (ONE_LOANER, DARK ("A", "") DARK ("B", "") DARK ("C", "due: 2034-03-06T07:45\n"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_true (task_of (unit_of (batch, "C"), 4)->ends <= 450);
    assert_int_equal (batch->schedule->cost.lateness, 0);
}

static void
times_are_said_by_the_shops_clock (void **state)
{
    g_autoptr (GDateTime) begin = g_date_time_new_utc (2034, 3, 6, 7, 0, 0);
    const BatchClock dated = { begin, 7 * 600 }, week = { NULL, 7 * 600 };
    static const struct {
        gint64 time;
        const char *dated, *week;
    } cases[] = {
        { 0, "2034-03-06T07:00", "Mon 07:00" },           { 1, "2034-03-06T07:01", "Mon 07:01" },
        { 14400 + 150, "2034-03-07T07:15", "Tue 07:15" }, { 8 * 14400 + 150, "2034-03-14T07:15", "Tue+1 07:15" },
        { 17 * 600, "2034-03-07T00:00", "Tue 00:00" },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autofree char *one = batch_time_words (&dated, cases[i].time),
                        *other = batch_time_words (&week, cases[i].time);

        assert_string_equal (one, cases[i].dated);
        assert_string_equal (other, cases[i].week);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (units_that_differ_in_nothing_are_one_class),
        cmocka_unit_test (tasks_are_as_long_as_the_steps),
        cmocka_unit_test (one_loaner_goes_from_unit_to_unit),
        cmocka_unit_test (pairs_match),
        cmocka_unit_test (one_of_each_is_no_pair),
        cmocka_unit_test (an_earlier_unit_changes_its_mode),
        cmocka_unit_test (stock_goes_by_due_time_then_priority),
        cmocka_unit_test (a_pulled_part_is_lent_once_it_is_out),
        cmocka_unit_test (parts_that_stay_are_not_lent),
        cmocka_unit_test (who_is_set_aside_gives_nothing),
        cmocka_unit_test (a_plan_with_branches_counts_with_its_worst_case),
        cmocka_unit_test (more_ways_are_looked_for_where_parts_are_scarce),
        cmocka_unit_test (a_write_does_not_begin_that_cannot_end_in_the_shift),
        cmocka_unit_test (nobody_works_in_a_break_and_writes_run_through_it),
        cmocka_unit_test (a_step_longer_than_any_shift_sets_its_unit_aside),
        cmocka_unit_test (what_is_due_comes_first),
        cmocka_unit_test (times_are_said_by_the_shops_clock),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
