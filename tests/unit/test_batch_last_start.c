/* SPDX-License-Identifier: MIT */
/* The start at the end of a route: part of a last step that is attended to its end, else a task of its own.
 *
 * source: worked by hand from docs/batch.md, "The last start". A SENT unit is one write through the controller, 14 minutes of which 1 is
 * attended (data/larkfield/book/firmware-dunnock-1s.yaml), then a start of 5. */
#include "batch_wall.h"

#define SENT(id)                                                                                                       \
    "unit: " id "\nboard: dunnock-1s\nrevision: r1\nfirmware: {system: 1.4.0, controller: \"2.10\", logic: k2}\n"       \
    "becomes: runs\nfitted:\n  cpu1: {part: elvane-8c, stepping: b1}\n  sink1: sink-70c\n" DUNNOCK_REST
#define SHOP(hands, places) "shop: sends\ntechnicians: " hands "\nstations: " places "\n"
#define UNTIL(to)           "shifts: [{days: [mon, tue, wed, thu, fri], from: 07:00, to: " to "}]\n"
#define RECORD(entries)     "record: bench\nunit: A\nentries: [" entries "]\n---\n"
#define WRITTEN             "{step: 1, outcome: done, time: 2034-03-06T07:15+01:00, initials: mk}"

enum { DAY = 14400 };

/* The write is where it belongs, and the start behind it. */
static void
assert_times (const BatchUnit *unit, gint64 begins, gint64 start)
{
    const BatchTask *task = task_of (unit, 0);

    assert_int_equal (unit->tasks->len, 1);
    assert_int_equal (task->begins, begins);
    assert_int_equal (task->attended_until, begins + 10);
    assert_true (task->start.apart);
    assert_int_equal (task->start.step_ends, begins + 140);
    assert_int_equal (task->start.begins, start);
    assert_int_equal (task->ends, start + 50);
}

/* ---- When it comes ---- */

static void
it_follows_where_somebody_is_free (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (SHOP ("1", "2"), SENT ("A"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_times (unit_of (batch, "A"), 0, 140);
    assert_int_equal (task_of (unit_of (batch, "A"), 0)->start.technician, 0);
    assert_int_equal (batch->finish, 190);
}

/* The write is over at 07:14; a start would be over at 07:19. */
static void
it_waits_for_the_next_shift (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (SHOP ("1", "2") UNTIL ("07:18"), SENT ("A"));

    (void) state;
    assert_times (unit_of (small_batch_plan (small), "A"), 0, DAY);
}

static void
it_waits_for_the_end_of_a_break (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        SHOP ("1", "2") "shifts: [{days: [mon], from: 07:00, to: 12:00, breaks: [{from: 07:15, to: 07:30}]}]\n",
        SENT ("A"));

    (void) state;
    assert_times (unit_of (small_batch_plan (small), "A"), 0, 300);
}

/* Written from 07:00 and 07:01 on; the one pair of hands starts them one after the other. */
static void
one_technician_starts_one_at_a_time (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (SHOP ("1", "2"), SENT ("A") SENT ("B"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_times (unit_of (batch, "A"), 0, 140);
    assert_times (unit_of (batch, "B"), 10, 190);
}

static void
the_bench_place_is_held_until_it_runs (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (SHOP ("2", "1"), SENT ("A") SENT ("B"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_times (unit_of (batch, "A"), 0, 140);
    assert_times (unit_of (batch, "B"), 190, 330);
}

/* Its last step fits a part: 4 minutes, and 5 for the start in them. */
static void
it_is_part_of_a_step_that_is_attended (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (LOANERS ("1"), DARK ("A", ""));
    const BatchUnit *unit = unit_of (small_batch_plan (small), "A");

    (void) state;
    assert_int_equal (unit->tasks->len, 5);
    for (guint i = 0; i < 5; i++)
        assert_false (task_of (unit, i)->start.apart);
    assert_int_equal (task_of (unit, 4)->ends - task_of (unit, 4)->begins, 90);
    assert_int_equal (task_of (unit, 4)->attended_until, task_of (unit, 4)->ends);
}

/* ---- Replans ---- */

/* The start hangs on the wall for the next morning. */
static Wall
sent_wall (const char *record)
{
    g_autofree char *units = g_strconcat (SENT ("A"), record, NULL);

    return wall_new (SHOP ("1", "2") UNTIL ("07:18"), units);
}

static PublishedTask *
was (const Wall *wall)
{
    const PublishedUnit *unit = wall->published->units->pdata[0];

    return &g_array_index (unit->tasks, PublishedTask, 0);
}

/* While it is written, behind that, in the night, while it is started, and when it runs. */
static void
nothing_moves_where_nothing_happened (void **state)
{
    static const gint64 moments[] = { 0, 100, 140, 150, 6000, DAY, DAY + 20, DAY + 50, 2 * DAY };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (moments); i++) {
        Wall wall = sent_wall ("");
        Batch *batch = replan (&wall, moments[i]);

        assert_int_equal (batch->moved, 0);
        assert_int_equal (batch->replan->changed, 0);
        assert_int_equal (batch->replan->published, 2);
        assert_times (unit_of (batch, "A"), 0, DAY);
        assert_int_equal (task_of (unit_of (batch, "A"), 0)->done, moments[i] >= DAY + 50);
        assert_int_equal (batch->replan->under_way->len, moments[i] > 0 && moments[i] < DAY + 50);
        wall_clear (&wall);
    }
}

/* It is free, and stays all the same where it hangs, though it could come sooner. */
static void
it_keeps_its_published_time (void **state)
{
    Wall wall = sent_wall ("");

    (void) state;
    was (&wall)->start.begins += 100;
    was (&wall)->ends += 100;
    Batch *batch = replan (&wall, 6000);
    assert_int_equal (batch->moved, 0);
    assert_times (unit_of (batch, "A"), 0, DAY + 100);
    wall_clear (&wall);
}

/* 06:50 is in no shift: it alone moves, to 07:00, and that is why. */
static void
it_moves_where_nobody_works_any_more (void **state)
{
    Wall wall = sent_wall ("");
    const BatchChange *change = NULL;

    (void) state;
    was (&wall)->start.begins -= 100;
    was (&wall)->ends -= 100;
    Batch *batch = replan (&wall, 6000);
    assert_times (unit_of (batch, "A"), 0, DAY);
    assert_int_equal (batch->moved, 1);
    change = &batch->replan->changes[0];
    assert_int_equal (change->kind, CHANGE_TIMES);
    assert_int_equal (change->why, MOVED_SHIFT);
    assert_true (change->about_start);
    assert_int_equal (change->first, 0);
    wall_clear (&wall);
}

/* Whoever says that the step is done has seen it start. */
static void
a_record_of_the_step_takes_the_start_as_seen (void **state)
{
    Wall wall = sent_wall (RECORD (WRITTEN));
    Batch *batch = replan (&wall, 200);
    const BatchTask *task = task_of (unit_of (batch, "A"), 0);

    (void) state;
    assert_true (task->done && !task->by_clock);
    assert_true (task->ends <= 200);
    assert_int_equal (batch->replan->under_way->len, 0);
    assert_int_equal (batch->replan->recorded_steps, 1);
    wall_clear (&wall);
}

/* ---- The check ---- */

static void
start_early (Batch *batch)
{
    BatchTask *task = task_of (unit_of (batch, "A"), 0);

    task->start.begins -= 10;
    task->ends -= 10;
}

static void
start_for_less (Batch *batch)
{
    task_of (unit_of (batch, "B"), 0)->ends -= 10;
}

/* A is started from 07:30 to 07:35, B behind it. */
static void
start_two_at_once (Batch *batch)
{
    BatchTask *task = task_of (unit_of (batch, "B"), 0);

    task->start.begins -= 10;
    task->ends -= 10;
}

static void
start_in_the_break (Batch *batch)
{
    BatchTask *task = task_of (unit_of (batch, "A"), 0);

    task->start.begins -= 20;
    task->ends -= 20;
}

static void
start_at_night (Batch *batch)
{
    BatchTask *task = task_of (unit_of (batch, "B"), 0);

    task->start.begins += 6000;
    task->ends += 6000;
}

static void
start_within_the_write (Batch *batch)
{
    task_of (unit_of (batch, "A"), 0)->start = (LastStart){ .apart = FALSE };
}

static void
a_start_that_cannot_be_is_refused (void **state)
{
    static const struct {
        void (*tamper) (Batch *batch);
        const char *wrong;
    } changes[] = {
        { start_early, "A, step 1: somebody attends to it during a break" },
        { start_for_less, "B, step 1: its start is not as long as a start takes" },
        { start_two_at_once, "technician 1 is with A and B at once" },
        { start_in_the_break, "A, step 1: somebody attends to it during a break" },
        { start_at_night, "B, step 1: it is not inside a shift" },
        { start_within_the_write, "A, step 1: its start is no task of its own, and nobody need be there as the step ends" },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (changes); i++) {
        g_autoptr (SmallBatch) small = small_batch (
            SHOP ("1", "2") "shifts: [{days: [mon], from: 07:00, to: 12:00, breaks: [{from: 07:15, to: 07:30}]}]\n",
            SENT ("A") SENT ("B"));
        Batch *batch = small_batch_plan (small);

        assert_int_equal (task_of (unit_of (batch, "A"), 0)->start.begins, 300);
        assert_int_equal (task_of (unit_of (batch, "B"), 0)->start.begins, 350);
        changes[i].tamper (batch);
        g_autofree char *wrong = batch_check (&small->question, batch);
        assert_non_null (wrong);
        if (strstr (wrong, changes[i].wrong) == NULL)
            fail_msg ("expected: %s\nsaid: %s", changes[i].wrong, wrong);
    }
}

/* Its last step is attended to its end. */
static void
a_start_apart_from_such_a_step_is_refused (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (LOANERS ("1"), DARK ("A", ""));
    Batch *batch = small_batch_plan (small);
    BatchTask *task = task_of (unit_of (batch, "A"), 4);

    (void) state;
    task->attended_until -= 50;
    task->start = (LastStart){ TRUE, task->attended_until, task->attended_until, task->technician };
    g_autofree char *wrong = batch_check (&small->question, batch);
    assert_non_null (wrong);
    assert_non_null (strstr (wrong, "A, step 5: its start is a task of its own, and should be part of the step"));
}

/* Without breaks nothing else stands in the way of a start in the midst of the write. */
static void
a_start_before_the_step_is_over_is_refused (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (SHOP ("1", "2"), SENT ("A"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    start_early (batch);
    g_autofree char *wrong = batch_check (&small->question, batch);
    assert_non_null (wrong);
    assert_non_null (strstr (wrong, "A, step 1: it is started before the step is over"));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (it_follows_where_somebody_is_free),
        cmocka_unit_test (it_waits_for_the_next_shift),
        cmocka_unit_test (it_waits_for_the_end_of_a_break),
        cmocka_unit_test (one_technician_starts_one_at_a_time),
        cmocka_unit_test (the_bench_place_is_held_until_it_runs),
        cmocka_unit_test (it_is_part_of_a_step_that_is_attended),
        cmocka_unit_test (nothing_moves_where_nothing_happened),
        cmocka_unit_test (it_keeps_its_published_time),
        cmocka_unit_test (it_moves_where_nobody_works_any_more),
        cmocka_unit_test (a_record_of_the_step_takes_the_start_as_seen),
        cmocka_unit_test (a_start_that_cannot_be_is_refused),
        cmocka_unit_test (a_start_apart_from_such_a_step_is_refused),
        cmocka_unit_test (a_start_before_the_step_is_over_is_refused),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
