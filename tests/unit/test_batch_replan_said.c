/* SPDX-License-Identifier: MIT */
/* What a batch that is planned anew says of itself: what it took for done, what is out of use, what moved and why.
 *
 * source: worked by hand from docs/batch.md, "When it goes wrong". A DARK unit's five steps: own processor out, loaner in, write,
 * loaner out, own processor in. They share the loaners; units of one class go in the order of the file. */
#include "batch_wall.h"

#define THREE DARK ("A", "") DARK ("B", "") DARK ("C", "")
#define AT(step, outcome, found, time)                                                                                 \
    "  - {step: " #step ", outcome: " outcome ", " found "time: " time ", initials: mk}\n"
#define DONE(step)            AT (step, "done", "", "2034-03-06T07:00+01:00")
#define FAILED(step)          AT (step, "failed", "found: bent contact, ", "2034-03-06T07:10+01:00")
#define RECORD(unit, entries) "record: bench\nunit: " unit "\nentries:\n" entries "---\n"

static const PublishedTask *
was (const Wall *wall, const char *id, guint step)
{
    for (guint i = 0; i < wall->published->units->len; i++) {
        const PublishedUnit *unit = wall->published->units->pdata[i];

        if (strcmp (unit->unit, id) == 0)
            return &g_array_index (unit->tasks, PublishedTask, step - 1);
    }
    fail_msg ("%s is not published", id);
    return NULL;
}

/* The answer becomes what is published. */
static void
hang_up (Wall *wall, const Batch *batch)
{
    BatchPublished *again = batch_publish (batch);

    batch_published_free (wall->published);
    wall->published = again;
}

static guint
changes_of_kind (const Batch *batch, ChangeKind kind)
{
    guint count = 0;

    for (guint i = 0; i < batch->units->len; i++)
        count += batch->replan->changes[i].kind == kind ? 1 : 0;
    return count;
}

/* ---- What is taken for done ---- */

static void
the_clock_is_told_from_the_record (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), THREE RECORD ("A", DONE (1) DONE (2)));
    Batch *batch = replan (&wall, was (&wall, "A", 3)->begins + 10);
    const BatchReplan *replan = batch->replan;
    guint by_clock = 0;

    (void) state;
    assert_int_equal (batch->moved, 0);
    assert_int_equal (replan->changed, 0);
    assert_int_equal (replan->published, 15);
    assert_int_equal (replan->records, 1);
    assert_int_equal (replan->entries, 2);
    assert_int_equal (replan->files, 1);
    assert_int_equal (replan->recorded_steps, 2);
    for (guint u = 0; u < 3; u++)
        for (guint i = 0; i < 5; i++) {
            const BatchTask *task = task_of (batch->units->pdata[u], i);

            assert_true (!task->by_clock || (task->done && u > 0));
            by_clock += task->by_clock ? 1 : 0;
        }
    assert_true (by_clock > 0);
    assert_int_equal (replan->clock_steps, by_clock);
    assert_true (replan->clock_units >= 1 && replan->clock_units <= 2);
    /* A's step 3 is under way by the timetable, and its record has all before it. */
    assert_true (replan->under_way->len >= 1);
    assert_int_equal (g_array_index (replan->under_way, BatchUnderWay, 0).step, 2);
    assert_false (g_array_index (replan->under_way, BatchUnderWay, 0).by_clock);
    wall_clear (&wall);
}

static void
a_second_record_of_a_unit_sets_it_aside (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), THREE RECORD ("A", AT (1, "done", "", "2034-03-06T07:08:30+01:00"))
                                             RECORD ("A", AT (2, "done", "", "2034-03-06T07:20+01:00")));
    Batch *batch = replan (&wall, was (&wall, "A", 3)->begins);

    (void) state;
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_RECORD);
    assert_non_null (strstr (unit_of (batch, "A")->why, "a second record of A"));
    assert_int_equal (batch->replan->entries, 2);
    assert_int_equal (batch->replan->records, 1);
    wall_clear (&wall);
}

static void
times_that_cannot_be_are_said (void **state)
{
    Wall late = wall_new (LOANERS ("3"), THREE RECORD ("A", DONE (1) AT (2, "done", "", "2034-03-06T16:20+01:00")));
    Batch *batch = replan (&late, was (&late, "A", 3)->begins);

    (void) state;
    assert_true (is_said (batch, "A: 1 of the entries of its record is timed after now, 2034-03-06T16:20"));
    assert_false (is_said (batch, "before the batch begins"));
    wall_clear (&late);

    Wall early = wall_new (LOANERS ("3"), THREE RECORD ("A", AT (1, "done", "", "2034-03-05T16:20+01:00")));
    batch = replan (&early, was (&early, "A", 2)->begins);
    assert_true (is_said (batch, "A: 1 of the entries of its record is timed before the batch begins"));
    batch = replan (&early, 100000);
    assert_true (is_said (batch, "now is after the last task of the published timetable"));
    wall_clear (&early);
}

static void
a_first_plan_says_that_records_do_not_count (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), THREE RECORD ("A", DONE (1)));

    (void) state;
    assert_true (is_said (wall.small->batch, "1 bench record is among the files"));
    assert_null (wall.small->batch->replan);
    wall_clear (&wall);
}

/* ---- Numbers ---- */

static void
what_broke_keeps_its_number (void **state)
{
    Wall wall = wall_new (LOANERS ("2"), THREE RECORD ("A", DONE (1) FAILED (2)));
    guint broken = was (&wall, "A", 2)->part_number;

    (void) state;
    assert_int_equal (broken, 1);
    /* Twice: the second run goes by what the first one said. */
    for (int run = 0; run < 2; run++) {
        Batch *batch = replan (&wall, was (&wall, "A", 2)->begins + 20);
        const BatchLost *lost = NULL;

        assert_int_equal (batch->replan->lost->len, 1);
        lost = &g_array_index (batch->replan->lost, BatchLost, 0);
        assert_int_equal (lost->number, broken);
        assert_int_equal (lost->entry, 2);
        assert_string_equal (lost->unit, "A");
        assert_true (lost->at.line > 0);
        for (guint i = 0; i < batch->parts->len; i++) {
            const BatchPart *part = batch->parts->pdata[i];

            if (part->owner == OWNER_LOAN)
                assert_int_equal (part->number, 2);
        }
        hang_up (&wall, batch);
    }
    wall_clear (&wall);
}

static void
of_three_the_other_two_keep_theirs (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), THREE RECORD ("B", DONE (1) FAILED (2)));
    guint of_a = was (&wall, "A", 2)->part_number, of_b = was (&wall, "B", 2)->part_number;
    Batch *batch = replan (&wall, MAX (was (&wall, "A", 2)->ends, was (&wall, "B", 2)->ends));

    (void) state;
    assert_true (of_a != of_b);
    assert_int_equal (batch->replan->lost->len, 1);
    assert_int_equal (g_array_index (batch->replan->lost, BatchLost, 0).number, of_b);
    assert_int_equal (loaner_of (batch, unit_of (batch, "A"))->number, of_a);
    for (guint i = 0; i < batch->parts->len; i++)
        assert_true (((BatchPart *) batch->parts->pdata[i])->number != of_b ||
                     ((BatchPart *) batch->parts->pdata[i])->owner != OWNER_LOAN);
    wall_clear (&wall);
}

/* A still has the only loaner, by its record; by the clock alone B has had it. */
static void
the_clock_does_not_give_away_what_a_record_holds (void **state)
{
    Wall wall = wall_new (LOANERS ("1"), THREE RECORD ("A", DONE (1) DONE (2)));
    gint64 now = was (&wall, "B", 5)->ends + 10;
    Batch *batch = replan (&wall, now);

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_true (is_said (batch, "B: by the timetable alone it was to have dorvan-4c #1 by now, which was then in A"));
    assert_false (task_of (unit_of (batch, "B"), 1)->done);
    assert_true (task_of (unit_of (batch, "B"), 1)->begins >= task_of (unit_of (batch, "A"), 3)->ends);
    wall_clear (&wall);
}

/* ---- What moved, and why ---- */

static void
who_waits_for_a_loaner_is_told_who_has_it (void **state)
{
    Wall wall = wall_new (LOANERS ("1"), THREE RECORD ("A", DONE (1) DONE (2)));
    /* A's write is not done when it should be; B was to fit the loaner when A's step 4 was over. */
    gint64 now = was (&wall, "A", 4)->ends - 20;
    Batch *batch = replan (&wall, now);
    const BatchChange *of_a = change_of (batch, "A"), *of_b = change_of (batch, "B");

    (void) state;
    assert_int_equal (of_a->kind, CHANGE_TIMES);
    assert_int_equal (of_a->why, MOVED_BEHIND);
    assert_int_equal (of_a->first, 2);
    assert_int_equal (of_a->moved, 3);
    assert_int_equal (of_b->kind, CHANGE_TIMES);
    assert_int_equal (of_b->why, MOVED_PART);
    assert_int_equal (of_b->about, 1);
    assert_true (batch->units->pdata[of_b->by] == unit_of (batch, "A"));
    assert_true (of_b->to == task_of (unit_of (batch, "A"), 3)->ends);
    assert_true (of_b->to > was (&wall, "B", 2)->begins);
    assert_int_equal (batch->moved, of_a->moved + of_b->moved + change_of (batch, "C")->moved);
    assert_true (batch->schedule->cost.moved > 0 && batch->schedule->cost.moved <= batch->moved); /* a block counts once */
    wall_clear (&wall);
}

static void
a_route_that_is_left_says_why (void **state)
{
    Wall wall =
        wall_new (LOANERS ("3"),
                  THREE RECORD ("A", DONE (1) DONE (2) AT (3, "failed", "found: power went, ", "2034-03-06T07:30+01:00")));
    Batch *batch = replan (&wall, was (&wall, "A", 3)->begins + 50);
    const BatchChange *change = change_of (batch, "A");

    (void) state;
    assert_int_equal (change->kind, CHANGE_ROUTE);
    assert_int_equal (change->why, LEFT_RECORD);
    assert_int_equal (change->moved, 3); /* steps 3, 4 and 5 were still to be done */
    assert_int_equal (changes_of_kind (batch, CHANGE_ROUTE), 1);
    wall_clear (&wall);
}

static void
who_is_set_aside_counts_what_was_left_to_do (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), THREE RECORD ("A", DONE (2)));
    gint64 now = was (&wall, "A", 2)->ends;
    Batch *batch = replan (&wall, now);
    const BatchChange *change = change_of (batch, "A");

    (void) state;
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_RECORD);
    assert_int_equal (change->kind, CHANGE_ASIDE);
    assert_int_equal (change->moved, 3); /* steps 1 and 2 were over by the timetable */
    wall_clear (&wall);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (the_clock_is_told_from_the_record),
        cmocka_unit_test (a_second_record_of_a_unit_sets_it_aside),
        cmocka_unit_test (times_that_cannot_be_are_said),
        cmocka_unit_test (a_first_plan_says_that_records_do_not_count),
        cmocka_unit_test (what_broke_keeps_its_number),
        cmocka_unit_test (of_three_the_other_two_keep_theirs),
        cmocka_unit_test (the_clock_does_not_give_away_what_a_record_holds),
        cmocka_unit_test (who_waits_for_a_loaner_is_told_who_has_it),
        cmocka_unit_test (a_route_that_is_left_says_why),
        cmocka_unit_test (who_is_set_aside_counts_what_was_left_to_do),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
