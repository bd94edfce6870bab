/* SPDX-License-Identifier: MIT */
/* The rest of a published batch: what is done stays, what is under way goes on, what a record departs from is planned anew.
 *
 * source: worked by hand from docs/batch.md, "When it goes wrong". A DARK unit's five steps take 8, 4, 14, 8 and 9 minutes; they
 * share the loaners, so that the next unit's step 2 begins when step 4 of the one before is over. */
#include "batch_units.h"

#define THREE DARK ("A", "") DARK ("B", "") DARK ("C", "")
#define ENTRY(step, outcome, found)                                                                                    \
    "  - {step: " #step ", outcome: " outcome ", " found "time: 2034-03-06T07:00+01:00, initials: mk}\n"
#define DONE(step) ENTRY (step, "done", "")

typedef struct {
    SmallBatch *small;
    BatchPublished *published;
    gint64 begins[3][5]; /* as published */
} Wall;

/* Plans the three units and hangs the timetable on the wall. `first`: whose record `entries` (nullable) are: the unit that goes
 * first by the timetable, which is A as units of one class go in the order of the file. */
static Wall
wall_new (const char *shop, const char *entries)
{
    g_autofree char *record =
        entries != NULL ? g_strconcat ("record: bench\nunit: A\nentries:\n", entries, "---\n", NULL) : g_strdup ("");
    g_autofree char *units = g_strconcat (THREE, record, NULL);
    Wall wall = { .small = small_batch (shop, units) };
    Batch *batch = small_batch_plan (wall.small);

    for (guint u = 0; u < 3; u++)
        for (guint i = 0; i < 5; i++)
            wall.begins[u][i] = task_of (batch->units->pdata[u], i)->begins;
    wall.published = batch_publish (batch);
    return wall;
}

static Batch *
replan (Wall *wall, gint64 now)
{
    wall->small->question.published = wall->published;
    wall->small->question.now = now;
    return small_batch_plan (wall->small);
}

static void
wall_clear (Wall *wall)
{
    small_batch_free (wall->small);
    batch_published_free (wall->published);
}

static void
nothing_changed_and_nothing_moves (void **state)
{
    static const gint64 moments[] = { 0, 85, 130, 300, 500, 2000 };

    (void) state;
    for (guint m = 0; m < G_N_ELEMENTS (moments); m++) {
        Wall wall = wall_new (LOANERS ("1"), NULL);
        Batch *batch = replan (&wall, moments[m]);

        assert_int_equal (batch->moved, 0);
        assert_int_equal (batch->aside, 0);
        for (guint u = 0; u < 3; u++)
            for (guint i = 0; i < 5; i++) {
                const BatchTask *task = task_of (batch->units->pdata[u], i);

                assert_true (task->begins == wall.begins[u][i]);
                assert_int_equal (task->done, task->ends <= moments[m]);
            }
        wall_clear (&wall);
    }
}

/* Whoever is first: its record says what the timetable says. */
static void
a_record_that_keeps_to_its_route_moves_nothing (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), DONE (1) DONE (2));
    gint64 now = wall.begins[0][2] + 10;
    Batch *batch = replan (&wall, now);
    const BatchUnit *unit = unit_of (batch, "A");

    (void) state;
    assert_int_equal (batch->moved, 0);
    assert_null (unit->stands);
    assert_true (task_of (unit, 1)->done && !task_of (unit, 2)->done);
    assert_true (task_of (unit, 2)->begins == wall.begins[0][2]);
    wall_clear (&wall);
}

/* Nobody wrote step 3 down, and by the timetable it is over: it is still to be done. */
static void
what_a_record_leaves_out_is_still_to_be_done (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), DONE (1) DONE (2));
    gint64 now = wall.begins[0][2] + 200;
    Batch *batch = replan (&wall, now);
    const BatchUnit *unit = unit_of (batch, "A");

    (void) state;
    assert_null (unit->stands);
    assert_true (task_of (unit, 1)->done && !task_of (unit, 2)->done);
    assert_true (task_of (unit, 2)->begins >= now);
    assert_true (batch->moved >= 3);
    wall_clear (&wall);
}

static void
a_write_that_broke_off_is_planned_anew (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), DONE (1) DONE (2) ENTRY (3, "failed", "found: power went, "));
    gint64 now = wall.begins[0][2] + 150;
    Batch *batch = replan (&wall, now);
    const BatchUnit *unit = unit_of (batch, "A");
    const BatchEarlier *earlier = NULL;

    (void) state;
    assert_int_equal (unit->aside, ASIDE_NOT);
    assert_non_null (unit->stands);
    assert_int_equal (unit->earlier->len, 1);
    earlier = unit->earlier->pdata[0];
    assert_int_equal (earlier->entries, 3);
    assert_int_equal (earlier->steps->len, 5);
    assert_true (unit->tasks->len > 0 && task_of (unit, 0)->begins >= now);
    /* The other two have nothing to do with it. */
    for (guint u = 1; u < 3; u++)
        assert_int_equal (((BatchUnit *) batch->units->pdata[u])->aside, ASIDE_NOT);

    /* Published again, with nothing new: the unit goes on by its second route. */
    BatchPublished *again = batch_publish (batch);
    gint64 begins = task_of (unit, 0)->begins;
    batch_published_free (wall.published);
    wall.published = again;
    batch = replan (&wall, now);
    assert_int_equal (batch->moved, 0);
    assert_true (task_of (unit_of (batch, "A"), 0)->begins == begins);
    wall_clear (&wall);
}

static void
a_loaner_that_failed_is_gone_for_all (void **state)
{
    Wall wall = wall_new (LOANERS ("2"), DONE (1) ENTRY (2, "failed", "found: bent contact, "));
    gint64 now = wall.begins[0][1] + 20;
    Batch *batch = replan (&wall, now);
    guint parts = 0;

    (void) state;
    assert_int_equal (batch->aside, 0);
    /* A goes on by its route, with the other one; the fitting that failed is not under way. */
    assert_null (unit_of (batch, "A")->stands);
    assert_true (task_of (unit_of (batch, "A"), 0)->done);
    assert_true (task_of (unit_of (batch, "A"), 1)->begins >= now);
    for (guint i = 0; i < batch->parts->len; i++)
        parts += ((BatchPart *) batch->parts->pdata[i])->owner == OWNER_LOAN ? 1 : 0;
    assert_int_equal (parts, 1);
    wall_clear (&wall);
}

static void
without_its_only_loaner_nobody_is_served (void **state)
{
    Wall wall = wall_new (LOANERS ("1"), DONE (1) ENTRY (2, "failed", "found: bent contact, "));
    Batch *batch = replan (&wall, wall.begins[0][1] + 40);

    (void) state;
    assert_int_equal (batch->aside, 3);
    wall_clear (&wall);
}

static void
a_record_that_cannot_be_sets_its_unit_aside (void **state)
{
    Wall wall = wall_new (LOANERS ("3"), DONE (2));
    Batch *batch = replan (&wall, 100);

    (void) state;
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_RECORD);
    assert_non_null (strstr (unit_of (batch, "A")->why, "cpu1"));
    assert_int_equal (batch->aside, 1);
    wall_clear (&wall);
}

/* ---- Left by the clock alone, and its record comes later ---- */

/* A was planned anew behind its step 2, which the timetable alone said was done; its second route is what was left of the first. */
static Wall
wall_left_by_clock (const char *entries)
{
    Wall wall = wall_new (LOANERS ("3"), entries);
    PublishedUnit *unit = wall.published->units->pdata[0];
    BatchEarlier *earlier = g_new0 (BatchEarlier, 1);

    assert_string_equal (unit->unit, "A");
    *earlier = (BatchEarlier){ g_array_new (FALSE, TRUE, sizeof (Step)), 0, 2 };
    for (guint i = 0; i < unit->tasks->len; i++)
        g_array_append_val (earlier->steps, g_array_index (unit->tasks, PublishedTask, i).step);
    g_array_remove_range (unit->tasks, 0, 2);
    unit->earlier = g_ptr_array_new_with_free_func (batch_earlier_free);
    g_ptr_array_add (unit->earlier, earlier);
    return wall;
}

static void
a_record_that_comes_later_tells_of_what_the_clock_said (void **state)
{
    /* `done`: of the three steps of the second route. The last record begins with the second sheet. */
    static const struct {
        const char *entries;
        guint belong, done;
    } cases[] = {
        { NULL, 0, 0 },
        { DONE (1) DONE (2), 2, 0 },
        { DONE (1) DONE (2) DONE (1), 2, 1 },
        { DONE (1) DONE (2) DONE (1) DONE (2), 2, 2 },
        { DONE (1), 0, 1 },
        { DONE (1) DONE (2) DONE (3), 0, 3 },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        Wall wall = wall_left_by_clock (cases[i].entries);
        Batch *batch = replan (&wall, wall.begins[0][2]);
        const BatchUnit *unit = unit_of (batch, "A");
        const BatchEarlier *earlier = NULL;
        guint done = 0;

        assert_int_equal (unit->aside, ASIDE_NOT);
        assert_int_equal (unit->earlier->len, 1);
        earlier = unit->earlier->pdata[0];
        assert_int_equal (earlier->entries, cases[i].belong);
        assert_int_equal (earlier->done, cases[i].belong > 0 ? 0 : 2);
        assert_int_equal (unit->tasks->len, 3);
        for (guint k = 0; k < unit->tasks->len; k++)
            done += task_of (unit, k)->done ? 1 : 0;
        assert_int_equal (done, cases[i].done);
        wall_clear (&wall);
    }
}

/* The order is the same one wherever the unit stands: when it is due, its weight, and that its own parts are lent to nobody. With a record
 * and by the timetable alone. */
static void
what_was_asked_of_a_unit_is_asked_of_it_anew (void **state)
{
    static const char *const entries[] = { NULL, DONE (1) DONE (2) };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (entries); i++) {
        Wall wall = wall_left_by_clock (entries[i]);
        Unit *asked = wall.small->units->pdata[0];
        Batch *batch = NULL;
        const Unit *stands = NULL;
        const Job *job = NULL;

        asked->due = "2034-03-06T08:00";
        asked->priority = 5;
        asked->own_parts_stay = TRUE;
        batch = replan (&wall, wall.begins[0][2]);
        stands = unit_of (batch, "A")->stands;
        job = batch->timetable->jobs->pdata[g_array_index (batch->job_of_unit, guint, 0)];
        assert_non_null (stands);
        assert_int_equal (stands->priority, 5);
        assert_true (stands->own_parts_stay);
        assert_string_equal (stands->due, "2034-03-06T08:00");
        assert_string_equal (stands->becomes, "runs");
        assert_int_equal (unit_of (batch, "A")->due, 600);
        assert_int_equal (job->due, 600);
        assert_int_equal (job->weight, 5);
        wall_clear (&wall);
    }
}

/* ---- Pulled parts ---- */

#define LENT_ON                                                                                                        \
    "shop: lends on\nlend-pulled-parts: yes\ntechnicians: 2\nstations: 4\n"                                            \
    "stock: [{part: elvane-12c, count: 2}, {part: sink-130c, count: 2}]\n"

/* L gives the only dorvan-4c; D borrows it, then E. At every moment of the timetable it goes on as it was. */
static void
a_pulled_part_goes_on_as_it_was_published (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (LENT_ON, DARK ("D", "") DARK ("E", "") LARGER ("L", ""));
    Batch *batch = small_batch_plan (small);
    gint64 finish = batch->finish,
           in_second = loaner_of (batch, unit_of (batch, "E"))->stays->len == 2
                           ? g_array_index (loaner_of (batch, unit_of (batch, "E"))->stays, BatchStay, 1).from
                           : -1;
    g_autoptr (BatchPublished) published = batch_publish (batch);

    (void) state;
    assert_true (in_second > 0);
    small->question.published = published;
    for (gint64 now = 0; now <= finish + 50; now += 50) {
        small->question.now = now;
        batch = small_batch_plan (small);
        assert_int_equal (batch->aside, 0);
        assert_int_equal (batch->moved, 0);
        assert_int_equal (batch->finish, finish);
        assert_true (g_array_index (loaner_of (batch, unit_of (batch, "E"))->stays, BatchStay, 1).from == in_second);
    }
}

/* The giver's record says that its processor was not taken out when the timetable says it was: those who borrow it wait. */
static void
a_pulled_part_that_is_late_is_waited_for (void **state)
{
    g_autofree char *units = g_strconcat (DARK ("D", "") LARGER ("L", ""), "record: bench\nunit: L\nentries:\n",
                                          ENTRY (1, "skipped", ""), "---\n", NULL);
    g_autoptr (SmallBatch) small = small_batch (LENT_ON, units);
    Batch *batch = small_batch_plan (small);
    gint64 was = g_array_index (loaner_of (batch, unit_of (batch, "D"))->stays, BatchStay, 0).from, now = was - 10,
           out = -1;
    g_autoptr (BatchPublished) published = batch_publish (batch);
    const BatchUnit *giver = NULL;

    (void) state;
    small->question.published = published;
    small->question.now = now;
    batch = small_batch_plan (small);
    giver = unit_of (batch, "L");
    assert_int_equal (batch->aside, 0);
    assert_true (batch->moved > 0);
    for (guint i = 0; i < giver->tasks->len; i++) {
        const Step *step = &g_array_index (mode_of (batch, giver)->steps, Step, i);

        if (step->kind == STEP_REMOVE && step->part != NULL && step->part->kind == KIND_PROCESSOR)
            out = task_of (giver, i)->ends;
    }
    assert_true (out > now);
    assert_true (g_array_index (loaner_of (batch, unit_of (batch, "D"))->stays, BatchStay, 0).from >= out);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (nothing_changed_and_nothing_moves),
        cmocka_unit_test (a_record_that_keeps_to_its_route_moves_nothing),
        cmocka_unit_test (what_a_record_leaves_out_is_still_to_be_done),
        cmocka_unit_test (a_write_that_broke_off_is_planned_anew),
        cmocka_unit_test (a_loaner_that_failed_is_gone_for_all),
        cmocka_unit_test (without_its_only_loaner_nobody_is_served),
        cmocka_unit_test (a_record_that_cannot_be_sets_its_unit_aside),
        cmocka_unit_test (a_record_that_comes_later_tells_of_what_the_clock_said),
        cmocka_unit_test (what_was_asked_of_a_unit_is_asked_of_it_anew),
        cmocka_unit_test (a_pulled_part_goes_on_as_it_was_published),
        cmocka_unit_test (a_pulled_part_that_is_late_is_waited_for),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
