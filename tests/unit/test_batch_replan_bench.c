/* SPDX-License-Identifier: MIT */
/* The bench at a replan: what is under way goes on, who keeps a bench place, what a record's times and its silence mean.
 *
 * source: worked by hand from docs/batch.md, "When it goes wrong". A DARK unit's five steps take 8, 4, 14, 8 and 9 minutes: the processor
 * out, a loaner in, a write by the running host, the loaner out, the processor in. */
#include "batch_wall.h"

#include "batch/bench.h"
#include "reports/batch_view.h"

#define BENCH(stations, technicians)                                                                                   \
    "shop: bench\nloaners: [{part: dorvan-4c, count: 3}]\ntechnicians: " technicians "\nstations: " stations "\n"
#define RECORD(id, entries) "record: of-" id "\nunit: " id "\nentries:\n" entries "---\n"
#define ENTRY(step, outcome, time)                                                                                     \
    "  - {step: " #step ", outcome: " outcome ", time: 2034-03-06T" time "+01:00, initials: mk}\n"
#define DONE(step)         ENTRY (step, "done", "07:05")
#define FAILED(step, time) ENTRY (step, "failed, found: it did not take", time)

static const PublishedTask *
was (const Wall *wall, const char *id, guint step)
{
    return &g_array_index (batch_published_find (wall->published, id)->tasks, PublishedTask, step);
}

static gboolean
is_said_of (const Batch *batch, const char *begins, const char *has)
{
    gboolean said = FALSE;

    for (guint i = 0; i < batch->said->len; i++)
        said |= g_str_has_prefix (batch->said->pdata[i], begins) && strstr (batch->said->pdata[i], has) != NULL;
    return said;
}

static guint
under_way (const Batch *batch)
{
    return batch->replan->under_way->len;
}

/* ---- Places ---- */

#define TWO DARK ("A", "") DARK ("B", "")

/* One place; by A's record A is still on it, open, while by the clock B is in the middle of its write. */
static void
a_write_under_way_goes_on_whatever_waits (void **state)
{
    Wall wall = wall_new (BENCH ("1", "2"), TWO RECORD ("A", DONE (1)));
    gint64 begins = was (&wall, "B", 2)->begins;
    Batch *batch = replan (&wall, begins + 10);
    const BatchTask *write = task_of (unit_of (batch, "B"), 2);

    (void) state;
    assert_true (write->begins == begins && !write->done);
    assert_int_equal (write->place, was (&wall, "B", 2)->place);
    assert_int_equal (under_way (batch), 1);
    assert_true (g_array_index (batch->replan->under_way, BatchUnderWay, 0).by_clock);
    /* A waits until B is done, and as it stands open that is said. */
    assert_true (task_of (unit_of (batch, "A"), 1)->begins >= task_of (unit_of (batch, "B"), 4)->ends);
    assert_true (is_said_of (batch, "A: ", "it stands open, and no bench place is left"));
    wall_clear (&wall);
}

/* The check would see it. */
static void
a_write_under_way_that_is_put_off_is_refused (void **state)
{
    Wall wall = wall_new (BENCH ("2", "2"), TWO);
    gint64 now = was (&wall, "A", 2)->begins + 10;
    Batch *batch = replan (&wall, now);
    BatchUnit *unit = unit_of (batch, "A");
    g_autofree char *wrong = NULL, *moved = NULL;

    (void) state;
    assert_int_equal (task_of (unit, 2)->begins, now - 10);
    for (guint i = 2; i < 5; i++) {
        task_of (unit, i)->begins += 300;
        task_of (unit, i)->attended_until += 300;
        task_of (unit, i)->ends += 300;
    }
    wrong = batch_check (&wall.small->question, batch);
    assert_non_null (wrong);
    assert_non_null (strstr (wrong, "A, step 3: it is under way"));

    /* Nor may it go on elsewhere, as there are places for all that is under way. */
    batch = replan (&wall, now);
    for (guint i = 3; i < 5; i++)
        task_of (unit_of (batch, "A"), i)->place ^= 1;
    moved = batch_check (&wall.small->question, batch);
    assert_non_null (moved);
    assert_non_null (strstr (moved, "A changes its bench place"));
    wall_clear (&wall);
}

/* Two places, C under way by the clock: one of A and B, which records have on the bench still, keeps a place. A is closed, its
 * record ends with a write; B stands open. */
static void
a_closed_unit_gives_its_place_up_before_an_open_one (void **state)
{
    Wall wall = wall_new (BENCH ("2", "2") "stock: [{part: elvane-12c, count: 1}, {part: sink-130c, count: 1}]\n",
                          TWO LARGER ("C", "") RECORD ("A", DONE (1) DONE (2) DONE (3)) RECORD ("B", DONE (1)));
    gint64 begins = was (&wall, "C", 0)->begins, now = begins + 10;
    Batch *batch = replan (&wall, now);
    const BatchUnit *a = unit_of (batch, "A"), *b = unit_of (batch, "B"), *c = unit_of (batch, "C");
    gint64 free_again = MIN (task_of (b, 4)->ends, task_of (c, c->tasks->len - 1)->ends);

    (void) state;
    assert_true (begins >= was (&wall, "A", 3)->begins); /* they are all on the bench, as it seems */
    assert_true (task_of (c, 0)->begins == begins && !task_of (c, 0)->done);
    assert_int_equal (task_of (c, 1)->place, was (&wall, "C", 0)->place);
    assert_true (task_of (b, 1)->begins < task_of (a, 3)->begins);
    assert_true (task_of (a, 3)->begins >= free_again);
    assert_int_not_equal (task_of (b, 1)->place, task_of (c, 0)->place);
    assert_false (is_said_of (batch, "A: ", "stands open") || is_said_of (batch, "B: ", "stands open"));
    wall_clear (&wall);
}

/* By its record one of A and B is on the bench still; C, under way by the clock, has the place of one of them. Whoever is there goes on at
 * the other place, and is told so; who is not stays. */
static void
a_unit_that_moves_is_told_so (void **state)
{
    static const char *const records[] = { RECORD ("A", DONE (1)), RECORD ("B", DONE (1)) };
    guint in_all = 0;

    (void) state;
    for (guint u = 0; u < 2; u++) {
        g_autofree char *units = g_strconcat (TWO DARK ("C", ""), records[u], NULL);
        Wall wall = wall_new (BENCH ("2", "2"), units);
        Batch *batch = replan (&wall, was (&wall, "C", 2)->begins + 10);
        const BatchUnit *unit = batch->units->pdata[u];
        guint place = was (&wall, unit->unit->id, 0)->place, of_c = was (&wall, "C", 2)->place;
        const PlaceMove move = bench_move (&wall.small->question, batch, unit, 1);
        BatchReport report = { &wall.small->question, batch, 0 };
        RouteOptions route = { 0 };

        wall.small->question.route = &route;
        assert_int_equal (move.moves, place == of_c);
        assert_int_equal (task_of (unit, 1)->place, place == of_c ? 1 - place : place);
        assert_int_equal (task_of (unit, 4)->place, task_of (unit, 1)->place);
        in_all += move.moves ? 1 : 0;
        for (guint i = 0; i < 5; i++)
            assert_false (i != 1 && bench_move (&wall.small->question, batch, unit, i).moves);
        if (move.moves)
            assert_true (move.open && move.from == place && move.to == 1 - place);

        BatchView *view = batch_view_new (&report);
        g_autofree char *text = report_batch_text (view, FALSE), *html = report_batch_html (view, 0);
        assert_int_equal (strstr (text, "1 unit moves to another bench place:") != NULL, move.moves);
        assert_int_equal (strstr (html, "From here on at bench place") != NULL, move.moves);
        assert_int_equal (strstr (html, "close it or cover it before you lift it") != NULL, move.moves);
        batch_view_free (view);
        wall_clear (&wall);
    }
    assert_int_equal (in_all, 1);
}

/* Both began at 07:00; then the shop has one place and one technician. Nothing that is under way is dropped, and it is said. */
static void
more_under_way_than_there_is_room_for_is_let_be (void **state)
{
    static const gint64 moments[] = { 50, 160 };

    (void) state;
    for (guint m = 0; m < G_N_ELEMENTS (moments); m++) {
        Wall wall = wall_new (BENCH ("2", "2"), TWO);
        Shop *shop = wall.small->library->shops->pdata[0];
        guint begun = 0;

        shop->stations = shop->technicians = 1;
        Batch *batch = replan (&wall, moments[m]);
        assert_int_equal (batch->aside, 0);
        for (guint u = 0; u < 2; u++)
            for (guint i = 0; i < 5; i++) {
                const BatchTask *task = task_of (batch->units->pdata[u], i);
                const PublishedTask *published = was (&wall, u == 0 ? "A" : "B", i);

                if (published->begins >= moments[m] || published->ends <= moments[m])
                    continue;
                begun++;
                assert_true (task->begins == published->begins && task->ends == published->ends);
                assert_int_equal (task->place, published->place);
            }
        assert_int_equal (begun, 2);
        assert_int_equal (under_way (batch), 2);
        assert_true (is_said_of (batch, "more is under way than the shop has bench places for (1)", "let be"));
        wall_clear (&wall);
    }
}

/* ---- Stock ---- */

/* Two processors for three units; M's record can't be, so the one that was kept for it may be in it. */
static void
stock_of_a_unit_whose_record_cannot_be_is_given_to_nobody (void **state)
{
    Wall wall = wall_new ("shop: stock\ntechnicians: 2\nstations: 4\n"
                          "stock: [{part: elvane-12c, count: 2}, {part: sink-130c, count: 3}]\n",
                          LARGER ("L", "") LARGER ("M", "") LARGER ("N", "") RECORD ("M", DONE (4)));
    Batch *batch = NULL;
    g_autofree char *wrong = NULL;

    (void) state;
    assert_int_equal (unit_of (wall.small->batch, "N")->aside, ASIDE_NO_STOCK);
    batch = replan (&wall, 100);
    assert_int_equal (unit_of (batch, "M")->aside, ASIDE_RECORD);
    assert_int_equal (unit_of (batch, "L")->aside, ASIDE_NOT);
    assert_int_equal (unit_of (batch, "N")->aside, ASIDE_NO_STOCK);
    assert_true (is_said_of (batch, "M: ", "1 elvane-12c"));
    for (guint i = 0; i < batch->parts->len; i++) {
        const BatchPart *part = batch->parts->pdata[i];

        /* Nor is its number. */
        for (guint k = 0; part->owner == OWNER_STOCK && k < batch_published_find (wall.published, "M")->tasks->len; k++)
            assert_false (was (&wall, "M", k)->step.kind == STEP_FIT && was (&wall, "M", k)->step.part == part->part &&
                          was (&wall, "M", k)->part_number == part->number);
    }
    /* The check would see it. */
    for (guint k = 0; k < batch_published_find (wall.published, "M")->tasks->len; k++)
        for (guint p = 0; p < batch->parts->len && was (&wall, "M", k)->step.kind == STEP_FIT; p++)
            if (((BatchPart *) batch->parts->pdata[p])->part == was (&wall, "M", k)->step.part)
                ((BatchPart *) batch->parts->pdata[p])->number = was (&wall, "M", k)->part_number;
    wrong = batch_check (&wall.small->question, batch);
    assert_non_null (wrong);
    assert_non_null (strstr (wrong, "may be in M"));
    wall_clear (&wall);
}

/* ---- The record's times ---- */

/* The processor was out at 07:09, and the loaner that was tried at 07:13 failed. */
static void
nobody_was_at_it_since_the_last_entry (void **state)
{
    Wall wall = wall_new (BENCH ("2", "2"), TWO RECORD ("A", ENTRY (1, "done", "07:09") FAILED (2, "07:13")));
    Batch *batch = replan (&wall, 200);
    const BatchUnit *unit = unit_of (batch, "A");
    gint64 failed = 0;

    (void) state;
    assert_null (unit->stands);
    assert_int_equal (bench_worked_last (&wall.small->question, unit), 130);
    assert_int_equal (batch_left_open (&wall.small->question, batch, unit, 1).since, 130);
    assert_true (bench_step_failed (&wall.small->question, unit, 1, &failed));
    assert_int_equal (failed, 130);
    assert_false (bench_step_failed (&wall.small->question, unit, 0, &failed));
    wall_clear (&wall);
}

/* Fitted at 07:11 by the record; the timetable had it from 07:08 on. By its record the write then failed, so that it is planned anew with
 * the loaner in it. */
static void
a_loaner_is_in_it_since_the_record_says_so (void **state)
{
    static const char *const records[] = { TWO RECORD ("A", DONE (1) ENTRY (2, "done", "07:11")),
                                           TWO RECORD ("A", DONE (1) ENTRY (2, "done", "07:11") FAILED (3, "07:20")) };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (records); i++) {
        Wall wall = wall_new (BENCH ("2", "2"), records[i]);
        Batch *batch = replan (&wall, 250);
        const BatchUnit *unit = unit_of (batch, "A");
        guint found = 0;

        assert_int_equal (unit->stands != NULL, i == 1);
        for (guint p = 0; p < batch->parts->len; p++) {
            const GArray *stays = ((BatchPart *) batch->parts->pdata[p])->stays;

            for (guint s = 0; s < stays->len; s++) {
                const BatchStay *stay = &g_array_index (stays, BatchStay, s);

                if (stay->unit != 0)
                    continue;
                found++;
                assert_int_equal (bench_stay (&wall.small->question, batch, stay).from, 110);
                assert_true (bench_stay (&wall.small->question, batch, stay).to == stay->to);
            }
        }
        assert_int_equal (found, 1);
        wall_clear (&wall);
    }
}

/* One loaner. By its record B has had it and given it back before it was to begin; A, by the clock alone, waits and gets it at once. */
static void
who_has_had_a_loaner_by_now_had_it_first (void **state)
{
    Wall wall = wall_new ("shop: bench\nloaners: [{part: dorvan-4c, count: 1}]\ntechnicians: 2\nstations: 4\n",
                          TWO RECORD ("B", DONE (1) DONE (2) DONE (3) DONE (4) DONE (5)));
    Batch *batch = NULL;
    const BatchPart *part = NULL;

    (void) state;
    assert_true (was (&wall, "A", 1)->begins < was (&wall, "B", 1)->begins);
    batch = replan (&wall, 100);
    part = loaner_of (batch, unit_of (batch, "A"));
    assert_int_equal (part->stays->len, 2);
    assert_int_equal (g_array_index (part->stays, BatchStay, 0).unit, 1);
    assert_true (g_array_index (part->stays, BatchStay, 0).to == 100);
    assert_int_equal (g_array_index (part->stays, BatchStay, 1).unit, 0);
    assert_true (g_array_index (part->stays, BatchStay, 1).from == 100);
    wall_clear (&wall);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (a_write_under_way_goes_on_whatever_waits),
        cmocka_unit_test (a_write_under_way_that_is_put_off_is_refused),
        cmocka_unit_test (a_closed_unit_gives_its_place_up_before_an_open_one),
        cmocka_unit_test (a_unit_that_moves_is_told_so),
        cmocka_unit_test (more_under_way_than_there_is_room_for_is_let_be),
        cmocka_unit_test (stock_of_a_unit_whose_record_cannot_be_is_given_to_nobody),
        cmocka_unit_test (nobody_was_at_it_since_the_last_entry),
        cmocka_unit_test (a_loaner_is_in_it_since_the_record_says_so),
        cmocka_unit_test (who_has_had_a_loaner_by_now_had_it_first),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
