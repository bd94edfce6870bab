/* SPDX-License-Identifier: MIT */
/* Published instances with known best finishes, through the same model as batches of units.
 * Sources: jobshop/OPTIMA.tsv and projects/OPTIMA.tsv (Fisher & Thompson 1963, Lawrence 1984, Kolisch & Sprecher 1996). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <stdio.h>

#include "instances.h"

/* Solves one; the answer is checked, and our bound is no higher than the published optimum. Returns the finish. */
static gint64
finish_of (Timetable *timetable, const char *name, gint64 optimum, guint64 most_tried)
{
    ScheduleOptions options = { .seed = 1, .most_tried = most_tried };
    g_autoptr (Schedule) schedule = timetable_solve (timetable, &options);
    g_autofree char *wrong = timetable_check (timetable, schedule);
    printf ("%-8s optimum %4" G_GINT64_FORMAT "  reached %4" G_GINT64_FORMAT "  bound %4" G_GINT64_FORMAT
            "%s  timetables %" G_GUINT64_FORMAT "\n",
            name, optimum, schedule->cost.finish, schedule->bound.finish, schedule->proved ? "  proved" : "", schedule->tried);
    assert_null (wrong);
    assert_int_equal (schedule->left_out, 0);
    assert_true (schedule->bound.finish <= optimum);
    assert_true (schedule->cost.finish >= optimum);
    assert_true (!schedule->proved || schedule->cost.finish == optimum);
    assert_true (schedule->tried <= most_tried);
    return schedule->cost.finish;
}

static gint64
jobshop (const char *name, guint64 most_tried)
{
    g_autofree char *path = g_strdup_printf ("%s/jobshop/%s.txt", FOLDER, name);
    g_autoptr (Timetable) timetable = read_jobshop (path);
    return finish_of (timetable, name, read_optimum (FOLDER "/jobshop/OPTIMA.tsv", name, 3), most_tried);
}

static void
job_shops_are_solved (void **state)
{
    (void) state;
    assert_int_equal (jobshop ("ft06", 10000), 55);
    assert_int_equal (jobshop ("la01", 20000), 666);
    assert_int_equal (jobshop ("la02", 20000), 655);
    assert_int_equal (jobshop ("la05", 20000), 593);
}

static void
the_square_of_ten_is_within_3_percent (void **state)
{
    (void) state;
    assert_true (jobshop ("ft10", 60000) <= 957);
}

static void
projects_are_solved_or_within_3_percent (void **state)
{
    static const char *const names[] = { "j301_1", "j301_2", "j305_1", "j3010_1", "j3013_1", "j3029_1" };
    guint solved = 0;
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
        g_autofree char *path = g_strdup_printf ("%s/projects/%s.sm", FOLDER, names[i]);
        g_autoptr (Timetable) timetable = read_project (path);
        gint64 optimum = read_optimum (FOLDER "/projects/OPTIMA.tsv", names[i], 3);
        gint64 finish = finish_of (timetable, names[i], optimum, 40000);
        assert_true (finish * 100 <= optimum * 103);
        solved += finish == optimum;
    }
    assert_true (solved >= 4);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (job_shops_are_solved),
        cmocka_unit_test (the_square_of_ten_is_within_3_percent),
        cmocka_unit_test (projects_are_solved_or_within_3_percent),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
