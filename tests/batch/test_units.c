/* SPDX-License-Identifier: MIT */
/* Who does what, the end of long work, and timetables that make no sense. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "generate.h"
#include "solved.h"

static gboolean
same_schedule (const Timetable *timetable, const Schedule *left, const Schedule *right)
{
    for (guint i = 0; i < left->jobs; i++) {
        const Job *job = g_ptr_array_index (timetable->jobs, i);
        if (left->mode[i] != right->mode[i])
            return FALSE;
        const Mode *mode = g_ptr_array_index (job->modes, left->mode[i]);
        if (memcmp (left->start[i], right->start[i], mode->tasks->len * sizeof (gint64)) != 0)
            return FALSE;
    }
    return TRUE;
}

/* Random batches of growing size: checked, repeatable, and no two uses of one unit overlap. */
static void
every_use_gets_its_own_unit (void **state)
{
    (void) state;
    for (guint64 seed = 1; seed <= 20; seed++) {
        Drawn drawn = { .seed = seed,
                        .jobs = 5 + (guint) seed * 3,
                        .kinds = 6,
                        .least_tasks = 2,
                        .most_tasks = 5,
                        .most_modes = 2,
                        .stations = 3,
                        .hands = 3,
                        .places = 6,
                        .longest = 30,
                        .shift = seed % 2 ? 480 : 0,
                        .night = 960,
                        .pause = 30,
                        .due = TRUE,
                        .lent = TRUE };
        g_autoptr (Timetable) timetable = draw_batch (&drawn);
        g_autoptr (Schedule) schedule = solve (timetable, 200), again = solve (timetable, 200);
        assert_true (same_schedule (timetable, schedule, again));
        g_autoptr (Assignment) assignment = timetable_assign (timetable, schedule);
        g_autoptr (GHashTable) busy = g_hash_table_new (g_int64_hash, g_int64_equal);
        g_autoptr (GArray) keys = g_array_sized_new (FALSE, FALSE, sizeof (gint64), 100000);
        for (guint i = 0; i < schedule->jobs; i++) {
            const Mode *mode =
                g_ptr_array_index (((Job *) g_ptr_array_index (timetable->jobs, i))->modes, schedule->mode[i]);
            for (guint k = 0; k < mode->tasks->len; k++) {
                const Task *task = &g_array_index (mode->tasks, Task, k);
                guint hand = assignment->task_hand[i][k];
                assert_true (task->attended > 0 ? hand < 3 : hand == G_MAXUINT);
                for (gint64 at = 0; at < task->attended; at++) {
                    gint64 key = (schedule->start[i][k] + at) * 8 + hand;
                    g_array_append_val (keys, key);
                    assert_true (keys->len < 100000);
                    assert_true (g_hash_table_add (busy, &g_array_index (keys, gint64, keys->len - 1)));
                }
            }
        }
    }
}

static void
nonsense_is_named (void **state)
{
    static const gint64 lengths[] = { 10, 10, 10 };
    (void) state;
    for (guint i = 0; i < 13; i++) {
        static const char *const words[] = { NULL,
                                             "comes before itself",
                                             "does not come after task",
                                             "does not exist",
                                             "attended for longer",
                                             "weighs nothing",
                                             "before the one before it is over",
                                             "more than one way",
                                             "has begun, task 1 before it has not",
                                             "begins not within task 1",
                                             "does not end within task 2",
                                             "ends in task 2 no later than it begins",
                                             "comes not within task 3" };
        g_autoptr (Timetable) timetable = timetable_new ();
        Mode *mode = add_chain (timetable, lengths, 3);
        Window windows[] = { { 0, 10 }, { 10, 20 } };
        Job *job = g_ptr_array_index (timetable->jobs, 0);
        timetable_add_resource (timetable, "bench", 1);
        if (i == 1)
            timetable_add_after (mode, 0, 2);
        else if (i == 2)
            timetable_add_span (mode, 0, 1, 2, 1);
        else if (i == 3)
            timetable_add_gain (mode, 1, 1, 1);
        else if (i == 4)
            task_of (mode, 1)->attended = 11;
        else if (i == 5)
            job->weight = 0;
        else if (i == 6)
            g_array_append_vals (timetable->calendar.shifts, windows, 2);
        else if (i == 7)
            timetable_add_task (timetable_add_mode (job), 1, 0);
        if (i == 7)
            task_of (mode, 0)->fixed = 0;
        if (i == 8)
            task_of (mode, 1)->fixed = 20;
        if (i == 9)
            timetable_add_span (mode, 0, 1, 0, 1)->lead = 10;
        else if (i == 10)
            timetable_add_span (mode, 0, 1, 0, 1)->tail = -1;
        else if (i == 11)
            *timetable_add_span (mode, 0, 1, 1, 1) = (Span){ 0, 1, 1, 1, 5, 5 };
        else if (i == 12)
            timetable_add_gain (mode, 0, 1, 2)->early = 10;
        g_autofree char *said = timetable_nonsense (timetable);
        if (words[i] == NULL)
            assert_null (said);
        else if (said == NULL || strstr (said, words[i]) == NULL)
            fail_msg ("\"%s\" was expected in: %s", words[i], said);
    }
}

static gboolean
keep_on (const TimetableCost *best, const TimetableCost *bound, gpointer data)
{
    guint *asked = data;
    assert_true (best->finish >= bound->finish);
    return ++*asked < 5;
}

static void
long_work_can_be_ended (void **state)
{
    Drawn drawn = { .seed = 9,
                    .jobs = 40,
                    .least_tasks = 3,
                    .most_tasks = 6,
                    .most_modes = 2,
                    .stations = 4,
                    .hands = 2,
                    .places = 5,
                    .longest = 30,
                    .shift = 480,
                    .night = 960,
                    .pause = 30,
                    .due = TRUE,
                    .lent = TRUE };
    g_autoptr (Timetable) timetable = draw_batch (&drawn);
    guint asked = 0;
    ScheduleOptions options = { .seed = 1, .go_on = keep_on, .go_on_data = &asked };
    g_autoptr (Schedule) schedule = timetable_solve (timetable, &options);
    g_autofree char *wrong = timetable_check (timetable, schedule);
    (void) state;
    assert_null (wrong);
    assert_true (schedule->stopped);
    assert_int_equal (asked, 5);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (long_work_can_be_ended),
        cmocka_unit_test (every_use_gets_its_own_unit),
        cmocka_unit_test (nonsense_is_named),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
