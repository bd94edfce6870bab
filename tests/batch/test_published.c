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

/* Chosen on these very instances (docs/timetable.md, "How long it takes"): they say nothing of others. */
enum { SEEDS = 2, MOST_SHOP = 150000, MOST_PROJECT = 60000 };

/* Solves one; the answer is checked, and our bound is no higher than the published optimum. Returns the finish. */
static gint64
finish_of (Timetable *timetable, const char *name, gint64 optimum, guint64 seed, guint64 most_tried)
{
    ScheduleOptions options = { .seed = seed, .most_tried = most_tried };
    g_autoptr (Schedule) schedule = timetable_solve (timetable, &options);
    g_autofree char *wrong = timetable_check (timetable, schedule);
    printf ("%-8s seed %" G_GUINT64_FORMAT "  optimum %4" G_GINT64_FORMAT "  reached %4" G_GINT64_FORMAT
            "  bound %4" G_GINT64_FORMAT "%s  timetables %" G_GUINT64_FORMAT "\n",
            name, seed, optimum, schedule->cost.finish, schedule->bound.finish, schedule->proved ? "  proved" : "",
            schedule->tried);
    assert_null (wrong);
    assert_int_equal (schedule->left_out, 0);
    assert_true (schedule->bound.finish <= optimum);
    assert_true (schedule->cost.finish >= optimum);
    assert_true (!schedule->proved || schedule->cost.finish == optimum);
    assert_true (schedule->tried <= most_tried);
    return schedule->cost.finish;
}

static gint64
jobshop (const char *name, guint64 seed)
{
    g_autofree char *path = g_strdup_printf ("%s/jobshop/%s.txt", FOLDER, name);
    g_autoptr (Timetable) timetable = read_jobshop (path);
    return finish_of (timetable, name, read_optimum (FOLDER "/jobshop/OPTIMA.tsv", name, 3), seed, MOST_SHOP);
}

static void
job_shops_are_solved (void **state)
{
    (void) state;
    for (guint64 seed = 1; seed <= SEEDS; seed++) {
        assert_int_equal (jobshop ("la01", seed), 666);
        assert_int_equal (jobshop ("la02", seed), 655);
        assert_int_equal (jobshop ("la05", seed), 593);
    }
    assert_int_equal (jobshop ("ft06", 1), 55); /* never proved, so that all is tried that may be */
}

static void
the_square_of_ten_is_within_3_percent (void **state)
{
    (void) state;
    for (guint64 seed = 1; seed <= SEEDS; seed++)
        assert_true (jobshop ("ft10", seed) <= 957);
}

/* At least four at the optimum. */
static void
solve_projects (guint64 seed)
{
    static const char *const names[] = { "j301_1", "j301_2", "j305_1", "j3010_1", "j3013_1", "j3029_1" };
    guint solved = 0;
    for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
        g_autofree char *path = g_strdup_printf ("%s/projects/%s.sm", FOLDER, names[i]);
        g_autoptr (Timetable) timetable = read_project (path);
        gint64 optimum = read_optimum (FOLDER "/projects/OPTIMA.tsv", names[i], 3);
        gint64 finish = finish_of (timetable, names[i], optimum, seed, MOST_PROJECT);
        assert_true (finish * 100 <= optimum * 103);
        solved += finish == optimum;
    }
    assert_true (solved >= 4);
}

static void
projects_are_solved_or_within_3_percent (void **state)
{
    (void) state;
    for (guint64 seed = 1; seed <= SEEDS; seed++)
        solve_projects (seed);
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
