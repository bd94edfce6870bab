/* SPDX-License-Identifier: MIT */
/* What has begun, jobs that fit nowhere, jobs that wait for each other. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "solved.h"

static void
jobs_that_fit_nowhere_are_left_out (void **state)
{
    static const gint64 fine[] = { 10, 10 }, longer[] = { 10, 60 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint bench = timetable_add_resource (timetable, "bench", 2);
    Window shift = { 0, 50 };
    (void) state;
    g_array_append_val (timetable->calendar.shifts, shift);
    add_chain (timetable, fine, 2);
    add_chain (timetable, longer, 2);
    timetable_add_span (add_chain (timetable, fine, 2), bench, 3, 0, 1);
    /* Each task alone needs what there is, but not beside what its own job holds already. */
    Mode *both = add_chain (timetable, fine, 2);
    timetable_add_span (both, bench, 1, 0, 1);
    timetable_add_span (both, bench, 2, 1, 1);
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->left_out, 3);
    assert_int_equal (schedule->mode[0], 0);
    assert_int_equal (schedule->cost.finish, 20);
    assert_true (schedule->proved);
}

/* Two shifts of 50 hold two tasks of 40; the third job finds no time, but that it is this one is not proved. */
static void
the_fewest_jobs_are_left_out_when_shifts_are_over (void **state)
{
    static const gint64 length[] = { 40 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint machine = timetable_add_resource (timetable, "machine", 1);
    Window shifts[] = { { 0, 50 }, { 100, 150 } };
    (void) state;
    g_array_append_vals (timetable->calendar.shifts, shifts, 2);
    for (guint i = 0; i < 3; i++)
        timetable_add_span (add_chain (timetable, length, 1), machine, 1, 0, 0);
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->left_out, 1);
    assert_int_equal (schedule->cost.finish, 140);
    assert_false (schedule->proved);
}

/* Each job holds one of two tools and then needs the other one as well: side by side they would wait for ever. */
static void
jobs_do_not_wait_for_each_other_for_ever (void **state)
{
    static const gint64 lengths[] = { 5, 5, 5 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint tool[2] = { timetable_add_resource (timetable, "one", 1), timetable_add_resource (timetable, "other", 1) };
    (void) state;
    for (guint i = 0; i < 6; i++) {
        Mode *mode = add_chain (timetable, lengths, 3);
        timetable_add_span (mode, tool[i % 2], 1, 0, 2);
        timetable_add_span (mode, tool[1 - i % 2], 1, 1, 2);
    }
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->left_out, 0);
    /* By hand: while one job has both tools nobody else can hold either, nor before it has got the second one: 6 * 15. */
    assert_int_equal (schedule->cost.finish, 90);
}

/* Three jobs need a part that there is none of until the fourth has given it. */
static void
a_gain_is_waited_for (void **state)
{
    static const gint64 lengths[] = { 5, 10 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint part = timetable_add_resource (timetable, "part", 0);
    (void) state;
    for (guint i = 0; i < 4; i++) {
        Mode *mode = add_chain (timetable, lengths, 2);
        if (i < 3)
            timetable_add_span (mode, part, 1, 0, 1);
        else
            timetable_add_gain (mode, part, 1, 0);
    }
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->left_out, 0);
    assert_int_equal (schedule->cost.finish, 5 + 3 * 15);
    assert_true (schedule->proved);
    g_autoptr (Assignment) assignment = timetable_assign (timetable, schedule);
    for (guint i = 0; i < 3; i++)
        assert_int_equal (assignment->span_units[i][0][0], 0);
}

/* A write lasts on through the break and must end within the shift. */
static void
a_write_is_not_begun_that_cannot_end_within_the_shift (void **state)
{
    g_autoptr (Timetable) timetable = timetable_new ();
    Window shifts[] = { { 0, 100 }, { 200, 300 } }, pause = { 50, 60 };
    (void) state;
    timetable->hands = (int) timetable_add_resource (timetable, "technician", 1);
    g_array_append_vals (timetable->calendar.shifts, shifts, 2);
    g_array_append_val (timetable->calendar.breaks, pause);
    Mode *mode = timetable_add_mode (timetable_add_job (timetable));
    timetable_add_task (mode, 45, 45);
    timetable_add_task (mode, 30, 5); /* begins at 45 and runs on through the break */
    timetable_add_task (mode, 26, 1); /* 75 + 26 is past the shift */
    timetable_add_after (mode, 1, 0);
    timetable_add_after (mode, 2, 1);
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->start[0][1], 45);
    assert_int_equal (schedule->start[0][2], 200);
}

static void
what_has_begun_stays (void **state)
{
    static const gint64 lengths[] = { 10, 10 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint machine = timetable_add_resource (timetable, "machine", 1);
    Window shift = { 20, 200 };
    Mode *modes[3];
    (void) state;
    g_array_append_val (timetable->calendar.shifts, shift);
    for (guint i = 0; i < 3; i++) {
        modes[i] = add_chain (timetable, lengths, 2);
        timetable_add_span (modes[i], machine, 1, 0, 1);
    }
    task_of (modes[1], 0)->fixed = 7; /* before the shift */
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->start[1][0], 7);
    assert_int_equal (schedule->start[1][1], 20);
    assert_int_equal (schedule->cost.finish, 70);
    assert_true (schedule->proved);
    /* A second one that has begun on the same machine cannot be true. */
    task_of (modes[2], 0)->fixed = 9;
    g_autoptr (Schedule) clash = solve (timetable, 0);
    assert_int_equal (clash->left_out, 1);
    assert_int_equal (clash->mode[2], G_MAXUINT);
    assert_false (clash->proved);
}

/* Jobs that have begun in the order opposite to the list: the one takes what the other's end has gained. */
static void
what_has_begun_may_hold_what_another_gained (void **state)
{
    g_autoptr (Timetable) timetable = timetable_new ();
    guint loaner = timetable_add_resource (timetable, "loaner", 0);
    Mode *taker = add_chain (timetable, (gint64[]){ 10, 10 }, 2);
    Mode *giver = add_chain (timetable, (gint64[]){ 10 }, 1);
    (void) state;
    timetable_add_span (taker, loaner, 1, 0, 1);
    timetable_add_gain (giver, loaner, 1, 0);
    task_of (giver, 0)->fixed = 0;
    task_of (taker, 0)->fixed = 10;
    g_autoptr (Schedule) schedule = solve (timetable, 50);
    assert_int_equal (schedule->left_out, 0);
    assert_int_equal (schedule->start[0][1], 20);
}

/* By hand: from 10 to 20 of each task of 30 the one loaner is held, so they begin 10 apart. */
static void
what_is_held_within_a_task_is_free_beside_it (void **state)
{
    static const gint64 length[] = { 30 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint loaner = timetable_add_resource (timetable, "loaner", 1);
    (void) state;
    for (guint i = 0; i < 3; i++)
        *timetable_add_span (add_chain (timetable, length, 1), loaner, 1, 0, 0) = (Span){ loaner, 1, 0, 0, 10, 10 };
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->cost.finish, 50);
    assert_true (schedule->proved);
}

/* By hand: begun together, a is there at 2 and wanted at 3, b at 4 and wanted at 5. Neither can come before the other. */
static void
each_gives_in_time_what_the_other_takes (void **state)
{
    static const gint64 length[] = { 10 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint a = timetable_add_resource (timetable, "a", 0), b = timetable_add_resource (timetable, "b", 0);
    Mode *one = add_chain (timetable, length, 1), *other = add_chain (timetable, length, 1);
    (void) state;
    timetable_add_gain (one, a, 1, 0)->early = 8;
    timetable_add_span (one, b, 1, 0, 0)->lead = 5;
    timetable_add_gain (other, b, 1, 0)->early = 6;
    timetable_add_span (other, a, 1, 0, 0)->lead = 3;
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->left_out, 0);
    assert_int_equal (schedule->cost.finish, 10);
    assert_true (schedule->proved);
}

/* The same, but each gives at its end what the other one wants from its beginning on: no list places any. */
static void
where_all_wait_all_are_left_out (void **state)
{
    static const gint64 length[] = { 10 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint a = timetable_add_resource (timetable, "a", 0), b = timetable_add_resource (timetable, "b", 0);
    Mode *one = add_chain (timetable, length, 1), *other = add_chain (timetable, length, 1);
    (void) state;
    timetable_add_gain (one, a, 1, 0);
    timetable_add_span (one, b, 1, 0, 0);
    timetable_add_gain (other, b, 1, 0);
    timetable_add_span (other, a, 1, 0, 0);
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->left_out, 2);
    assert_int_equal (schedule->cost.finish, 0);
}

/* By hand: one loaner comes out of a task at 4 of it and goes into the next span at 6 of it. */
static void
what_comes_out_in_a_task_goes_in_again (void **state)
{
    static const gint64 lengths[] = { 10, 10, 10 };
    g_autoptr (Timetable) timetable = timetable_new ();
    guint loaner = timetable_add_resource (timetable, "loaner", 1);
    Mode *mode = add_chain (timetable, lengths, 3);
    (void) state;
    timetable_add_span (mode, loaner, 1, 0, 1)->tail = 6;
    timetable_add_span (mode, loaner, 1, 1, 2)->lead = 6;
    g_autoptr (Schedule) schedule = solve (timetable, 0);
    assert_int_equal (schedule->left_out, 0);
    assert_int_equal (schedule->cost.finish, 30);
    timetable_add_span (mode, loaner, 1, 1, 1)->lead = 5; /* and is wanted once more there */
    g_autoptr (Schedule) none = solve (timetable, 0);
    assert_int_equal (none->left_out, 1);
    assert_true (none->proved);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (what_is_held_within_a_task_is_free_beside_it),
        cmocka_unit_test (each_gives_in_time_what_the_other_takes),
        cmocka_unit_test (where_all_wait_all_are_left_out),
        cmocka_unit_test (what_comes_out_in_a_task_goes_in_again),
        cmocka_unit_test (jobs_that_fit_nowhere_are_left_out),
        cmocka_unit_test (the_fewest_jobs_are_left_out_when_shifts_are_over),
        cmocka_unit_test (jobs_do_not_wait_for_each_other_for_ever),
        cmocka_unit_test (a_gain_is_waited_for),
        cmocka_unit_test (a_write_is_not_begun_that_cannot_end_within_the_shift),
        cmocka_unit_test (what_has_begun_stays),
        cmocka_unit_test (what_has_begun_may_hold_what_another_gained),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
