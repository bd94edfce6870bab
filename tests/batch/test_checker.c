/* SPDX-License-Identifier: MIT */
/* The checker refuses each kind of wrong schedule. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "batch/timetable.h"

/* Two jobs of two tasks, one machine, one technician, one loaner that the second job gives and the first one borrows; a shift of
 * 100 with a break from 40 to 50, and another shift after a night. Worked by hand:
 *   job 1: prepare 0-10 (attended 5), work 30-60 on the machine (attended 10), the loaner held 30-60
 *   job 2: prepare 5-15 (attended 5), work 15-25 on the machine, not attended; its end gives the loaner. */
static Timetable *
make_timetable (void)
{
    Timetable *timetable = timetable_new ();
    guint machine = timetable_add_resource (timetable, "machine", 1);
    guint loaner = timetable_add_resource (timetable, "loaner", 0);
    Window windows[] = { { 0, 100 }, { 200, 300 } }, pause = { 40, 50 };
    timetable->hands = (int) timetable_add_resource (timetable, "technician", 1);
    g_array_append_vals (timetable->calendar.shifts, windows, 2);
    g_array_append_val (timetable->calendar.breaks, pause);
    for (guint i = 0; i < 2; i++) {
        Job *job = timetable_add_job (timetable);
        Mode *mode = timetable_add_mode (job);
        timetable_add_task (mode, 10, 5);
        timetable_add_task (mode, i == 0 ? 30 : 10, i == 0 ? 10 : 0);
        timetable_add_after (mode, 1, 0);
        timetable_add_span (mode, machine, 1, 1, 1);
        mode->insertions = 2;
        job->due = 50;
        job->weight = 3;
        if (i == 0)
            timetable_add_span (mode, loaner, 1, 1, 1);
        else
            timetable_add_gain (mode, loaner, 1, 1);
    }
    return timetable;
}

static Schedule *
make_schedule (void)
{
    static const gint64 starts[2][2] = { { 0, 30 }, { 5, 15 } };
    Schedule *schedule = g_new0 (Schedule, 1);
    schedule->jobs = 2;
    schedule->mode = g_new0 (guint, 2);
    schedule->start = g_new0 (gint64 *, 2);
    for (guint i = 0; i < 2; i++)
        schedule->start[i] = g_memdup2 (starts[i], sizeof starts[i]);
    schedule->cost = (TimetableCost){ .lateness = 30, .finish = 60, .insertions = 4, .attended = 20 };
    return schedule;
}

static void
assert_refused (const Timetable *timetable, const Schedule *schedule, const char *words)
{
    g_autofree char *wrong = timetable_check (timetable, schedule);
    assert_non_null (wrong);
    if (strstr (wrong, words) == NULL)
        fail_msg ("\"%s\" was expected in: %s", words, wrong);
}

static void
the_right_one_is_accepted (void **state)
{
    g_autoptr (Timetable) timetable = make_timetable ();
    g_autoptr (Schedule) schedule = make_schedule ();
    (void) state;
    assert_null (timetable_check (timetable, schedule));
}

/* One start of the right schedule changed, and what must be said. */
static void
wrong_starts_are_refused (void **state)
{
    static const struct {
        guint job, task;
        gint64 start;
        const char *words;
    } cases[] = {
        { 0, 1, 9, "job 1: task 2 begins at 9, before task 1 ends at 10" },
        { 0, 0, -3, "job 1: task 1 begins before the batch does" },
        { 0, 1, 80, "job 1: task 2 runs from 80 to 110, not within one shift" },
        { 0, 1, 150, "not within one shift" },
        { 0, 1, 45, "job 1: task 2 is attended from 45 to 55, over the break at 40" },
        { 0, 1, 35, "over the break at 40" },
        { 0, 1, 20, "there is not enough of " }, /* the machine until 25, the loaner from 25 on */
        { 1, 1, 29, "there is not enough of " }, /* so the loaner comes at 39 */
        { 1, 0, 2, "job 2: at 2 there is not enough of technician" },
    };
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autoptr (Timetable) timetable = make_timetable ();
        g_autoptr (Schedule) schedule = make_schedule ();
        schedule->start[cases[i].job][cases[i].task] = cases[i].start;
        assert_refused (timetable, schedule, cases[i].words);
    }
}

static void
a_break_does_not_stop_what_runs_unattended (void **state)
{
    g_autoptr (Timetable) timetable = make_timetable ();
    g_autoptr (Schedule) schedule = make_schedule ();
    (void) state;
    schedule->start[0][1] = 30; /* attended until 40 exactly, then through the break */
    assert_null (timetable_check (timetable, schedule));
}

static void
each_resource_is_counted (void **state)
{
    g_autoptr (Timetable) timetable = make_timetable ();
    g_autoptr (Schedule) schedule = make_schedule ();
    Resource *loaner = g_ptr_array_index (timetable->resources, 1);
    (void) state;
    loaner->capacity = 1;
    schedule->start[0][1] = 24;
    assert_refused (timetable, schedule, "job 1: at 24 there is not enough of machine");
    loaner->capacity = 0;
    ((Resource *) g_ptr_array_index (timetable->resources, 0))->capacity = 2;
    assert_refused (timetable, schedule, "job 1: at 24 there is not enough of loaner");
}

static void
times_that_are_set_are_kept (void **state)
{
    g_autoptr (Timetable) timetable = make_timetable ();
    g_autoptr (Schedule) schedule = make_schedule ();
    const Mode *mode = g_ptr_array_index (((Job *) g_ptr_array_index (timetable->jobs, 0))->modes, 0);
    Task *task = &g_array_index (mode->tasks, Task, 0);
    (void) state;
    task->not_before = 1;
    assert_refused (timetable, schedule, "begins at 0, and must not before 1");
    task->fixed = 0; /* it did, all the same */
    assert_null (timetable_check (timetable, schedule));
    task->fixed = 3;
    assert_refused (timetable, schedule, "begins at 0, but it began at 3");
}

static void
the_cost_is_recomputed (void **state)
{
    g_autoptr (Timetable) timetable = make_timetable ();
    (void) state;
    for (guint i = 0; i < 5; i++) {
        g_autoptr (Schedule) schedule = make_schedule ();
        schedule->cost.lateness += i == 0;
        schedule->cost.finish += i == 1;
        schedule->cost.moved += i == 2;
        schedule->cost.insertions += i == 3;
        schedule->cost.attended += i == 4;
        assert_refused (timetable, schedule, "not what the schedule says");
    }
}

static void
jobs_left_out_are_counted (void **state)
{
    g_autoptr (Timetable) timetable = make_timetable ();
    g_autoptr (Schedule) schedule = make_schedule ();
    (void) state;
    schedule->mode[0] = 1;
    assert_refused (timetable, schedule, "job 1 is done in a way that does not exist");
    schedule->mode[0] = G_MAXUINT;
    assert_refused (timetable, schedule, "1 jobs are left out, not 0");
    schedule->left_out = 1;
    schedule->cost = (TimetableCost){ .finish = 25, .insertions = 2, .attended = 5 };
    assert_null (timetable_check (timetable, schedule));
    schedule->jobs = 1;
    assert_refused (timetable, schedule, "the schedule has 1 jobs, the timetable 2");
    schedule->jobs = 2;
}

/* The second job's work takes longer and ends in the first one's; what they share is held and given within it. */
static void
uses_within_tasks_are_counted_there (void **state)
{
    g_autoptr (Timetable) timetable = make_timetable ();
    g_autoptr (Schedule) schedule = make_schedule ();
    Mode *takes = g_ptr_array_index (((Job *) g_ptr_array_index (timetable->jobs, 0))->modes, 0);
    Mode *gives = g_ptr_array_index (((Job *) g_ptr_array_index (timetable->jobs, 1))->modes, 0);
    Span *span = &g_array_index (takes->spans, Span, 1);
    Gain *gain = &g_array_index (gives->gains, Gain, 0);
    (void) state;
    /* Begun at 15, it gives at 16 what is wanted from 30 on. */
    gain->early = 9;
    assert_null (timetable_check (timetable, schedule));
    g_array_index (gives->tasks, Task, 1).duration = 20; /* until 35: given at 26; the machine too is held until 35 */
    assert_refused (timetable, schedule, "not enough of machine");
    g_array_index (gives->spans, Span, 0).tail = 5;
    assert_null (timetable_check (timetable, schedule));
    gain->early = 4; /* at 31 */
    assert_refused (timetable, schedule, "not enough of loaner");
    span->lead = 1;
    assert_null (timetable_check (timetable, schedule));
    g_array_index (gives->spans, Span, 0).tail = 4;
    assert_refused (timetable, schedule, "not enough of machine");
    g_array_index (takes->spans, Span, 0).lead = 1;
    assert_null (timetable_check (timetable, schedule));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (the_right_one_is_accepted),
        cmocka_unit_test (wrong_starts_are_refused),
        cmocka_unit_test (a_break_does_not_stop_what_runs_unattended),
        cmocka_unit_test (each_resource_is_counted),
        cmocka_unit_test (times_that_are_set_are_kept),
        cmocka_unit_test (the_cost_is_recomputed),
        cmocka_unit_test (uses_within_tasks_are_counted_there),
        cmocka_unit_test (jobs_left_out_are_counted),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
