/* SPDX-License-Identifier: MIT */
/* batch_check() believes nothing that a batch says of itself alone: what is done, begun, waits, is let be, given or left.
 *
 * source: docs/batch.md, "Check" and "When it goes wrong", worked by hand; each forged answer is one that a bench could not have come to.
 * A DARK unit's five steps take 8, 4, 14, 8 and 9 minutes: the processor out, a loaner in, a write, the loaner out, the processor in. */
#include "batch_wall.h"

#define BENCH(stations, technicians, loaners)                                                                          \
    "shop: bench\nloaners: [{part: dorvan-4c, count: " loaners "}]\ntechnicians: " technicians "\nstations: " stations  \
    "\n"
#define STOCK(count)                                                                                                   \
    "shop: stock\ntechnicians: 3\nstations: 4\nstock: [{part: elvane-12c, count: " count "}, "                          \
    "{part: sink-130c, count: 4}]\n"
#define LENDS                                                                                                          \
    "shop: lends on\nlend-pulled-parts: yes\ntechnicians: 1\nstations: 4\n"                                             \
    "stock: [{part: elvane-12c, count: 3}, {part: sink-130c, count: 3}]\n"
#define RECORD(id, entries) "record: of-" id "\nunit: " id "\nentries:\n" entries "---\n"
#define ENTRY(step, outcome, time)                                                                                     \
    "  - {step: " #step ", outcome: " outcome ", time: 2034-03-06T" time "+01:00, initials: mk}\n"
#define DONE(step)   ENTRY (step, "done", "07:05")
#define FAILED(step) ENTRY (step, "failed, found: it did not take", "07:13")
#define TWO          DARK ("A", "") DARK ("B", "")

static void
assert_taken (const Wall *wall)
{
    g_autofree char *wrong = batch_check (&wall->small->question, wall->small->batch);

    if (wrong != NULL)
        fail_msg ("\"%s\"", wrong);
}

static void
assert_refused (const Wall *wall, const char *said)
{
    g_autofree char *wrong = batch_check (&wall->small->question, wall->small->batch);

    if (wrong == NULL || strstr (wrong, said) == NULL)
        fail_msg ("\"%s\" is not \"%s\"", wrong != NULL ? wrong : "nothing", said);
}

/* Which is a good answer. */
static Batch *
replan_taken (Wall *wall, gint64 now)
{
    replan (wall, now);
    assert_taken (wall);
    return wall->small->batch;
}

static PublishedTask *
was (const Wall *wall, const char *id, guint step)
{
    return &g_array_index (batch_published_find (wall->published, id)->tasks, PublishedTask, step);
}

static void
put_at (BatchTask *task, gint64 begins)
{
    task->attended_until += begins - task->begins;
    task->ends += begins - task->begins;
    task->begins = begins;
}

/* The steps from `from` on wait, and follow each other from the moment on. */
static void
let_wait (const BatchUnit *unit, guint from, gint64 begins)
{
    for (guint i = from; i < unit->tasks->len; i++) {
        BatchTask *task = task_of (unit, i);

        task->done = FALSE;
        put_at (task, begins);
        begins = task->ends;
    }
}

/* ---- Done, begun ---- */

/* One technician: at 07:05 A's first step runs until 07:08, and B's are all to come. */
static void
what_was_not_published_is_not_done (void **state)
{
    Wall wall = wall_new (BENCH ("2", "1", "2"), TWO);
    Batch *batch = replan_taken (&wall, 50);
    guint begun = was (&wall, "A", 0)->begins == 0 ? 0 : 1;
    BatchTask *under_way = task_of (batch->units->pdata[begun], 0), *to_come = task_of (batch->units->pdata[1 - begun], 0);
    const char *other = ((BatchUnit *) batch->units->pdata[1 - begun])->unit->id;
    const BatchTask kept[] = { *under_way, *to_come };
    GArray *tasks = batch_published_find (wall.published, other)->tasks;

    (void) state;
    assert_true (under_way->begins == 0 && under_way->ends == 80 && !under_way->done && to_come->begins >= 50);
    under_way->done = TRUE;
    under_way->attended_until = under_way->ends = 50;
    assert_refused (&wall, "step 1: it is done, and by the published timetable it is not over");
    *under_way = kept[0];
    *to_come = (BatchTask){ .begins = 10, .attended_until = 40, .ends = 40, .part = -1, .done = TRUE };
    assert_refused (&wall, "step 1: it is done, and not at its published time");
    *to_come = kept[1];
    put_at (to_come, 10);
    assert_refused (&wall, "step 1: it has begun before now, and not as it was published");
    g_array_set_size (tasks, 0);
    assert_refused (&wall, "step 1: it is done or under way, and was not published");
    wall_clear (&wall);
}

/* Both are past their first steps by the clock; A's record has no more than the first one. */
static void
what_a_record_does_not_say_is_not_done (void **state)
{
    Wall wall = wall_new (BENCH ("2", "2", "2"), TWO RECORD ("A", DONE (1)));
    Batch *batch = replan_taken (&wall, was (&wall, "A", 1)->ends + 10);
    BatchTask *task = task_of (unit_of (batch, "A"), 1);

    (void) state;
    assert_false (task->done);
    *task = (BatchTask){ .step = 1, .begins = was (&wall, "A", 1)->begins, .attended_until = was (&wall, "A", 1)->ends,
                         .ends = was (&wall, "A", 1)->ends, .part = task->part, .done = TRUE };
    assert_refused (&wall, "A, step 2: it is done, and the unit's record does not say so");
    wall_clear (&wall);
}

/* ---- What may wait ---- */

/* Of one loaner: the first unit has given it back, so it can be in the second. */
static void
a_loaner_that_came_back_excuses_nobody (void **state)
{
    Wall wall = wall_new (BENCH ("4", "2", "1"), TWO);
    const char *last = was (&wall, "A", 1)->begins > was (&wall, "B", 1)->begins ? "A" : "B";
    const char *first = *last == 'A' ? "B" : "A";
    gint64 now = was (&wall, last, 2)->begins + 10;
    Batch *batch = replan_taken (&wall, now);

    (void) state;
    assert_true (was (&wall, first, 3)->ends <= now);
    let_wait (unit_of (batch, last), 1, now);
    assert_refused (&wall, "step 3: it is under way, and is not gone on with as it was published");
    wall_clear (&wall);
}

/* A's is out of use by its record; B has the other one. */
static void
another_loaner_that_broke_excuses_nobody (void **state)
{
    Wall wall = wall_new (BENCH ("4", "2", "2"), TWO RECORD ("A", DONE (1) FAILED (2)));
    gint64 now = was (&wall, "B", 2)->begins + 10;
    Batch *batch = replan_taken (&wall, now);

    (void) state;
    assert_int_equal (batch->replan->lost->len, 1);
    assert_int_not_equal (was (&wall, "A", 1)->part_number, was (&wall, "B", 1)->part_number);
    let_wait (unit_of (batch, "B"), 1, now);
    assert_refused (&wall, "B, step 3: it is under way, and is not gone on with as it was published");
    /* Were it the same one, it could be that it never came to B. */
    g_array_index (batch->replan->lost, BatchLost, 0).number = was (&wall, "B", 1)->part_number;
    g_autofree char *other = batch_check (&wall.small->question, batch);
    assert_true (other == NULL || strstr (other, "under way") == NULL);
    wall_clear (&wall);
}

/* ---- Let be ---- */

/* Three are under way, and then there are two technicians: one too many excuses one. */
static void
one_too_many_excuses_one (void **state)
{
    Wall wall = wall_new (BENCH ("3", "3", "3"), TWO DARK ("C", ""));
    Shop *shop = wall.small->library->shops->pdata[0];
    BatchTask *other = NULL;
    guint third = 0;

    (void) state;
    shop->technicians = 2;
    Batch *batch = replan_taken (&wall, 50);
    for (guint i = 0; i < 3; i++) {
        BatchTask *task = task_of (batch->units->pdata[i], 0);

        assert_true (task->begins == 0 && !task->done);
        third += task->technician == 2 ? 1 : 0;
        other = task->technician != 2 ? task : other;
    }
    assert_int_equal (third, 1);
    other->technician = 2;
    assert_refused (&wall, "technician 3 is one that the shop does not have");
    wall_clear (&wall);
}

/* ---- Pulled parts ---- */

/* L's record says that its processor came out, and then that it starts with an old release alone; D has it. */
static void
what_nobody_was_seen_to_have_given_is_not_lent (void **state)
{
    Wall wall = wall_new (LENDS, DARK ("D", "") LARGER ("L", "") RECORD (
                                     "L", DONE (1) ENTRY (2, "failed, found: dark, firmware: {system: 1.4.0}", "07:12")));
    Record *record = wall.small->library->records->pdata[0];
    RecordEntry *entry = record->entries->pdata[0];
    PublishedUnit *giver = (PublishedUnit *) batch_published_find (wall.published, "L");
    guint number = was (&wall, "D", 1)->part_number;
    static const char said[] = "is lent, and nothing says that L has given it";

    (void) state;
    replan_taken (&wall, 350);
    assert_int_equal (was (&wall, "L", 0)->step.kind, STEP_REMOVE);
    was (&wall, "L", 0)->ends = 10000;
    was (&wall, "D", 1)->part_number = 9;
    assert_taken (&wall); /* by L's record */
    entry->number = 3;
    assert_refused (&wall, said);
    was (&wall, "D", 1)->part_number = number;
    assert_taken (&wall); /* D had it by the clock */
    was (&wall, "D", 1)->part_number = 9;
    /* Beside the sheet: another thing done there says nothing, the same thing does. */
    entry->number = 0;
    entry->step = was (&wall, "L", 0)->step;
    entry->step.kind = STEP_FIT;
    assert_refused (&wall, said);
    entry->step.kind = STEP_REMOVE;
    assert_taken (&wall);
    /* Nor does a step of that number on a sheet before. */
    entry->number = 1;
    assert_taken (&wall);
    BatchEarlier *left = g_new0 (BatchEarlier, 1);
    left->steps = g_array_new (FALSE, TRUE, sizeof (Step));
    left->entries = record->entries->len;
    giver->earlier = g_ptr_array_new_with_free_func (batch_earlier_free);
    g_ptr_array_add (giver->earlier, left);
    assert_refused (&wall, said);
    wall_clear (&wall);
}

/* ---- Stock ---- */

/* As many as there are; then one of them, nobody knows which, is out of use. */
static void
stock_that_is_out_of_use_is_not_there (void **state)
{
    Wall wall = wall_new (STOCK ("2"), LARGER ("L", "") LARGER ("M", ""));
    Batch *batch = replan_taken (&wall, 0);
    BatchLost lost = { .owner = OWNER_STOCK, .unit = "L", .entry = 1, .at = { "a.yaml", 3, 1 } };

    (void) state;
    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *part = batch->parts->pdata[p];

        lost.part = part->part->kind == KIND_PROCESSOR ? part->part : lost.part;
        lost.stepping = part->part->kind == KIND_PROCESSOR ? part->stepping : lost.stepping;
    }
    g_array_append_val (batch->replan->lost, lost);
    assert_refused (&wall, "elvane-12c: some way of some unit takes more of it than the stock has");
    wall_clear (&wall);
}

static GPtrArray *
left_route (const PublishedUnit *published)
{
    GPtrArray *earlier = g_ptr_array_new_with_free_func (batch_earlier_free);
    BatchEarlier *one = g_new0 (BatchEarlier, 1);

    one->steps = g_array_new (FALSE, TRUE, sizeof (Step));
    one->entries = 1;
    for (guint k = 0; k < published->tasks->len; k++)
        g_array_append_val (one->steps, g_array_index (published->tasks, PublishedTask, k).step);
    g_ptr_array_add (earlier, one);
    return earlier;
}

/* M's record can't be, and it may be as far as any route that it has left: what that fits, of which no number is known, is kept. */
static void
stock_of_a_route_that_was_left_is_kept_too (void **state)
{
    Wall wall = wall_new (STOCK ("3"), LARGER ("L", "") LARGER ("M", "") LARGER ("N", "") RECORD ("M", DONE (4)));
    Batch *batch = replan_taken (&wall, 0);
    PublishedUnit *published = (PublishedUnit *) batch_published_find (wall.published, "M");
    Shop *shop = wall.small->library->shops->pdata[0];
    guint of_m = 0;

    (void) state;
    assert_int_equal (unit_of (batch, "M")->aside, ASIDE_RECORD);
    assert_int_equal (batch->aside, 1);
    for (guint k = 0; k < published->tasks->len; k++)
        if (was (&wall, "M", k)->step.kind == STEP_FIT && was (&wall, "M", k)->step.part->kind == KIND_PROCESSOR)
            of_m = was (&wall, "M", k)->part_number;
    published->earlier = left_route (published);
    unit_of (batch, "M")->earlier = left_route (published);
    g_array_set_size (published->tasks, 0);
    assert_taken (&wall);
    for (guint i = 0; i < shop->lots->len; i++) {
        Lot *lot = &g_array_index (shop->lots, Lot, i);

        lot->count -= lot->part->kind == KIND_PROCESSOR ? 1 : 0;
    }
    for (guint p = 0; p < batch->parts->len; p++) {
        BatchPart *part = batch->parts->pdata[p];

        part->number = part->part->kind == KIND_PROCESSOR && part->number == 3 ? of_m : part->number;
    }
    assert_refused (&wall, "elvane-12c: some way of some unit takes more of it than the stock has");
    wall_clear (&wall);
}

/* ---- Openings ---- */

/* Unit 08 (data/larkfield/units): the loaner in, what it shows is read, two writes, the loaner out, elvane-12c in. Nothing is read
 * in front of the last step, whatever the plan says of itself. */
static void
a_reading_that_is_not_made_excuses_no_gap (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        "shop: one\nloaners: [{part: dorvan-4c, count: 1}]\nstock: [{part: elvane-12c, count: 2}]\n",
        "unit: P\nboard: dunnock-1s\nrevision: r2\nfirmware: {system: unknown, controller: 1.8, logic: k2}\n"
        "becomes: larger\nfitted:\n  sink1: sink-130c\n" DUNNOCK_REST);
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "P");
    const BatchMode *mode = mode_of (batch, unit);
    BatchTask *last = task_of (unit, 4);

    (void) state;
    assert_int_equal (unit->tasks->len, 5);
    put_at (last, last->begins + 10);
    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *part = batch->parts->pdata[p];

        for (guint i = 0; i < part->stays->len; i++)
            g_array_index (part->stays, BatchStay, i).from +=
                g_array_index (part->stays, BatchStay, i).fit_step == 4 ? 10 : 0;
    }
    for (int turn = 0; turn < 2; turn++) {
        g_autofree char *wrong = batch_check (&small->question, batch);

        assert_non_null (wrong);
        assert_non_null (strstr (wrong, "P, step 5: the unit is left open before it, and need not be"));
        g_array_index (mode->branching->readings, BatchReading, 0).before = 4;
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (what_was_not_published_is_not_done),
        cmocka_unit_test (what_a_record_does_not_say_is_not_done),
        cmocka_unit_test (a_loaner_that_came_back_excuses_nobody),
        cmocka_unit_test (another_loaner_that_broke_excuses_nobody),
        cmocka_unit_test (one_too_many_excuses_one),
        cmocka_unit_test (what_nobody_was_seen_to_have_given_is_not_lent),
        cmocka_unit_test (stock_that_is_out_of_use_is_not_there),
        cmocka_unit_test (stock_of_a_route_that_was_left_is_kept_too),
        cmocka_unit_test (a_reading_that_is_not_made_excuses_no_gap),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
