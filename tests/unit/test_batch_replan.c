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
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
