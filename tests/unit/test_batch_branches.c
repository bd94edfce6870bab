/* SPDX-License-Identifier: MIT */
/* Units of a batch that go by a plan with branches: what is kept for them, what is said of them, and what a record makes of them.
 *
 * source: docs/batch.md, "Plans with branches", worked by hand on Larkfield's unit 08 (data/larkfield/units/08-*.yaml says what each
 * release takes) and on its wren-2s, whose controller's page shows the system release. Minutes: SHOP_TIMES, and 9 for a host write
 * (data/larkfield/book/firmware-dunnock-1s.yaml). */
#include "batch_wall.h"

#include "batch/standing.h"
#include "json_schema.h"
#include "reports/batch_sheet.h"
#include "reports/outcome.h"
#include "route/branched.h"

/* Unit 08: no processor, and nothing known of its system release. */
#define BARE(id, system)                                                                                               \
    "unit: " id "\nboard: dunnock-1s\nrevision: r2\nfirmware: {system: " system ", controller: 1.8, logic: k2}\n"      \
    "becomes: larger\nfitted:\n  sink1: sink-130c\n" DUNNOCK_REST
/* The same with a dorvan-4c of its own. */
#define OWN(id, system)                                                                                                \
    "unit: " id "\nboard: dunnock-1s\nrevision: r2\nfirmware: {system: " system ", controller: 1.8, logic: k2}\n"      \
    "becomes: larger\nfitted:\n  cpu1: dorvan-4c\n  sink1: sink-70c\n" DUNNOCK_REST
/* A wren-2s with one socket in use; the page of its controller shows the system release. */
#define ONE(id, system)                                                                                                \
    "unit: " id "\nboard: wren-2s\nrevision: r2\nfirmware: {system: " system ", controller: 1.20-1, logic: p3}\n"      \
    "becomes: one\nfitted: {cpu1: {part: dorvan-8, stepping: a1}, sink1: sink-160, dimm-a1: mem-mk4-16,\n"             \
    "  riser1: riser-wide, drive1: start-stick, supply1: supply-750, supply2: supply-750, fan1: fan-60,\n"             \
    "  fan2: fan-60, fan3: fan-60, fan4: fan-60, duct1: duct-2s, bay2: bay-cover}\n---\n"
#define ONE_WANT "want: one\nboard: wren-2s\nslots: {cpu1: elvane-14}\n---\n"

#define NO_LOANERS            "shop: none\nstock: [{part: elvane-12c, count: 2}]\ntechnicians: 2\nstations: 4\n"
#define A_LOANER              "shop: one\nloaners: [{part: dorvan-4c, count: 1}]\nstock: [{part: elvane-12c, count: 2}]\n"
#define ENTRY(step, found)    "  - {step: " #step ", outcome: done, " found "time: 2034-03-06T07:00+01:00, initials: mk}\n"
#define RECORD(unit, entries) "record: bench\nunit: " unit "\nentries:\n" entries "---\n"

static void
assert_has (const char *text, const char *piece)
{
    g_auto (GStrv) words = g_strsplit_set (text, " \n", -1);
    g_autoptr (GString) flat = g_string_new (NULL);

    for (char **word = words; *word != NULL; word++)
        if (**word != '\0')
            g_string_append_printf (flat, "%s%s", flat->len > 0 ? " " : "", *word);
    if (strstr (flat->str, piece) == NULL)
        fail_msg ("\"%s\" is missing in:\n%s", piece, text);
}

static gint64
length_of (const BatchUnit *unit, guint step)
{
    return task_of (unit, step)->ends - task_of (unit, step)->begins;
}

/* ---- No way ---- */

/* Without a loaner elvane-12c goes in and a start is tried. By hand: 1.0.0, 1.2.0, 1.4.0 and 2.0.0 do not know elvane b1, and no
 * host runs that could write another. */
static void
what_may_have_no_way_is_counted (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (NO_LOANERS, BARE ("P", "unknown") BARE ("Q", "unknown"));
    Batch *batch = small_batch_plan (small);
    const BatchMode *mode = mode_of (batch, unit_of (batch, "P"));

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_int_equal (batch->unsure, 2);
    assert_int_equal (mode->branching->given_up, 4);
    assert_int_equal (mode->branching->common, 1);
    assert_int_equal (batch_outcome (batch, 0, FALSE), OUTCOME_SOME_ASIDE);
    /* Opening 6, fitting 4, the start that is tried 5, the last start 5: the reading has no step behind it. */
    assert_int_equal (unit_of (batch, "P")->tasks->len, 1);
    assert_int_equal (length_of (unit_of (batch, "P"), 0), 200);
    /* Where it stays dark, that takes the wait longer: 8 minutes with dunnock-1s. */
    assert_float_equal (mode->branching->longer, 8, 1e-9);
}

static void
with_a_way_for_every_release_all_is_planned (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (A_LOANER, BARE ("P", "unknown"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (batch->unsure, 0);
    assert_true (unit_of (batch, "P")->open);
    assert_int_equal (batch_outcome (batch, 0, FALSE), OUTCOME_ANSWERED);
}

/* ---- Time ---- */

/* Loaner in 6 + 4; the start that is tried 5, with the write's own start 5 and its 9 minutes; the second write 9; loaner out 6 + 2;
 * elvane-12c in 4 + 5. */
static void
a_reading_takes_its_time_where_it_is_made (void **state)
{
    static const gint64 lengths[] = { 100, 50 + 50 + 90, 90, 80, 90 };
    g_autoptr (SmallBatch) small = small_batch (A_LOANER, BARE ("P", "unknown"));
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "P");
    const BatchReading *reading = &g_array_index (mode_of (batch, unit)->branching->readings, BatchReading, 0);
    gint64 sum = 0;

    (void) state;
    assert_int_equal (unit->tasks->len, G_N_ELEMENTS (lengths));
    for (guint i = 0; i < G_N_ELEMENTS (lengths); i++) {
        assert_int_equal (length_of (unit, i), lengths[i]);
        sum += length_of (unit, i);
    }
    assert_int_equal (mode_of (batch, unit)->branching->readings->len, 1);
    assert_int_equal (reading->before, 1);
    assert_int_equal (reading->after->then, THEN_TRY);
    assert_float_equal (mode_of (batch, unit)->answer->branches->check->worst_minutes * 10, (double) sum, 1e-6);
}

/* ---- Parts ---- */

/* With 2.0.0, which knows elvane-14 b0 alone, that goes in; with 1.0.2 and after its writes the longest way takes b1. */
static void
stock_is_kept_for_every_way (void **state)
{
    static const char shop[] = ONE_WANT
        "shop: both\nstock: [{part: elvane-14, stepping: b1, count: 1}, {part: elvane-14, stepping: b0, count: 1}]\n";
    g_autoptr (SmallBatch) alone = small_batch (shop, ONE ("V", "2.1.0"));
    g_autoptr (SmallBatch) small = small_batch (shop, ONE ("U", "unknown") ONE ("V", "2.1.0"));
    Batch *batch = small_batch_plan (small);
    const BatchBranching *branching = mode_of (batch, unit_of (batch, "U"))->branching;

    (void) state;
    assert_int_equal (small_batch_plan (alone)->aside, 0);
    assert_int_equal (branching->stock->len, 1);
    assert_string_equal (g_array_index (branching->stock, Lot, 0).stepping, "b0");
    assert_int_equal (g_array_index (branching->stock, Lot, 0).count, 1);
    assert_int_equal (branching->lent->len, 0);
    assert_int_equal (unit_of (batch, "U")->aside, ASIDE_NOT);
    assert_int_equal (unit_of (batch, "V")->aside, ASIDE_NO_STOCK);
    /* Its page is read before anything is done: 2 minutes (data/larkfield/book), in the first task. */
    assert_int_equal (g_array_index (branching->readings, BatchReading, 0).before, 0);
    assert_float_equal (g_array_index (branching->readings, BatchReading, 0).minutes, 2, 1e-9);
}

/* U's dorvan-4c comes out for good at another step with every release: D can't count on it. The same unit with a release that is
 * known gives it. */
static void
only_what_is_given_whatever_is_read_is_lent_on (void **state)
{
    static const struct {
        const char *units;
        guint aside;
    } batches[] = { { OWN ("U", "unknown") DARK ("D", ""), 1 }, { OWN ("U", "2.1.0") DARK ("D", ""), 0 } };
    static const char shop[] = "shop: lends\nlend-pulled-parts: yes\n"
                               "stock: [{part: elvane-12c, count: 1}, {part: sink-130c, count: 1}]\n";

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (batches); i++) {
        g_autoptr (SmallBatch) small = small_batch (shop, batches[i].units);
        Batch *batch = small_batch_plan (small);

        assert_int_equal (unit_of (batch, "U")->aside, ASIDE_NOT);
        assert_int_equal (unit_of (batch, "U")->open, i == 0);
        assert_int_equal (batch->aside, batches[i].aside);
        if (batches[i].aside > 0)
            assert_int_not_equal (unit_of (batch, "D")->aside, ASIDE_NOT);
    }
}

/* P counts on what U seems to give, until U's way is known: then it is planned by what there is, as if U were not there. */
static void
who_counted_on_such_a_part_is_planned_without (void **state)
{
    g_autoptr (SmallBatch) small = small_batch ("shop: lends\nlend-pulled-parts: yes\n"
                                                "stock: [{part: elvane-12c, count: 2}, {part: sink-130c, count: 1}]\n",
                                                OWN ("U", "unknown") BARE ("P", "unknown"));
    Batch *batch = small_batch_plan (small);

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_int_equal (batch->unsure, 1);
    assert_int_equal (mode_of (batch, unit_of (batch, "P"))->lent->len, 0);
}

/* ---- By hand: what other ways borrow and give ---- */

static Branch *
branch_for (const Unit *unit, Branch *after, const char *release, Then then)
{
    Branch *branch = branch_new ();
    g_autoptr (State) state = state_from_unit (unit, NULL);
    guint *releases = branch_case_copy (state->releases, unit->board->components->len);

    releases[0] = (guint) component_find_release (board_component (unit->board, 0), release);
    g_ptr_array_add (branch->cases, releases);
    branch->then = then;
    if (after != NULL) {
        g_ptr_array_add (after->cases, branch_case_copy (releases, unit->board->components->len));
        g_ptr_array_add (after->next, branch);
    }
    return branch;
}

static void
add_step (Branch *branch, StepKind kind, const Unit *unit, const char *slot, const Part *part, Owner owner)
{
    Step step = { .kind = kind, .slot = (guint) board_find_slot (unit->board, slot), .part = part, .owner = owner };

    if (part != NULL && part->steppings->len > 0)
        step.stepping = part->steppings->pdata[0];
    g_array_append_val (branch->steps, step);
}

/* Both processor and heat sink come out of U first. Where 1.4.0 is read the own processor goes in again; where 2.1.0 is, a loaner
 * does. The worst case, 1.4.0, neither borrows it, nor gives the processor. */
static void
ways_are_compared_lot_by_lot (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (A_LOANER, OWN ("U", "unknown"));
    const Unit *unit = small->units->pdata[0];
    const Book *book = &small->library->book;
    g_autoptr (Branch) plan = branch_new ();
    Branch *worst = branch_for (unit, plan, "1.4.0", THEN_END), *other = branch_for (unit, plan, "2.1.0", THEN_END);
    BranchLeg legs[] = { { .branch = plan, .parent = -1 }, { .branch = worst }, { .branch = other } };
    g_autoptr (GPtrArray) all = g_ptr_array_new ();
    g_autoptr (GArray) costs = g_array_new (FALSE, TRUE, sizeof (BranchCost));
    BranchCost of_worst = { .releases = worst->cases->pdata[0], .steps = 3, .minutes = 20 };
    BranchCost of_other = { .releases = other->cases->pdata[0], .steps = 3, .minutes = 27 };
    BranchCheck check = { .costs = costs };
    BranchAnswer answer = { .plan = plan, .legs = all, .check = &check };
    RouteAnswer route = { .branches = &answer };
    BatchMode mode = { .answer = &route, .steps = g_array_new (FALSE, TRUE, sizeof (Step)) };
    BatchBranching *branching = NULL;

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (legs); i++)
        g_ptr_array_add (all, &legs[i]);
    plan->then = THEN_TRY;
    add_step (plan, STEP_REMOVE, unit, "cpu1", NULL, OWNER_UNIT);
    add_step (plan, STEP_REMOVE, unit, "sink1", NULL, OWNER_UNIT);
    add_step (worst, STEP_FIT, unit, "cpu1", book_find_part (book, "dorvan-4c"), OWNER_UNIT);
    add_step (other, STEP_FIT, unit, "cpu1", book_find_part (book, "dorvan-4c"), OWNER_LOAN);
    g_array_append_val (costs, of_worst);
    g_array_append_val (costs, of_other);
    g_array_append_vals (mode.steps, plan->steps->data, plan->steps->len);
    g_array_append_vals (mode.steps, worst->steps->data, worst->steps->len);
    mode.stock = g_array_new (FALSE, FALSE, sizeof (Lot));
    mode.lent = g_array_new (FALSE, FALSE, sizeof (Lot));
    branching = branching_new (small->question.shop, unit, &mode, &g_array_index (costs, BranchCost, 0));

    assert_float_equal (branching->longer, 7, 1e-9);
    assert_int_equal (branching->stock->len, 0);
    assert_int_equal (branching->lent->len, 1);
    assert_string_equal (g_array_index (branching->lent, Lot, 0).part->name, "dorvan-4c");
    g_autoptr (GArray) most = mode_most (&mode, OWNER_LOAN);
    assert_int_equal (most->len, 1);
    assert_int_equal (g_array_index (most, Lot, 0).count, 1);
    g_autoptr (GArray) sure = mode_pulls_surely (unit, &mode);
    assert_int_equal (sure->len, 1); /* the heat sink */
    assert_int_equal (g_array_index (sure, Pulled, 0).step, 1);
    batch_branching_free (branching);
    g_array_unref (mode.steps);
    g_array_unref (mode.stock);
    g_array_unref (mode.lent);
}

/* ---- The check ---- */

static void
assert_refused (SmallBatch *small, const char *why)
{
    g_autofree char *wrong = batch_check (&small->question, small->batch);

    assert_non_null (wrong);
    assert_has (wrong, why);
}

static void
the_check_refuses_what_does_not_hold (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (A_LOANER, BARE ("P", "unknown"));
    Batch *batch = small_batch_plan (small);
    BatchMode *mode = (BatchMode *) mode_of (batch, unit_of (batch, "P"));
    BatchTask *first = task_of (unit_of (batch, "P"), 0);
    const guint *releases = mode->branching->releases;
    Lot *stock = NULL;

    (void) state;
    batch->unsure = 1;
    assert_refused (small, "not as many units may turn out to have no way");
    batch->unsure = 0;
    mode->branching->given_up = 2;
    assert_refused (small, "not as many of its cases have no way");
    mode->branching->given_up = 0;
    g_array_index (mode->branching->readings, BatchReading, 0).minutes += 1;
    assert_refused (small, "its tries and readings do not take what its worst case does");
    g_array_index (mode->branching->readings, BatchReading, 0).minutes -= 1;
    for (guint i = 0; i < mode->answer->branches->plan->cases->len; i++) {
        const guint *other = mode->answer->branches->plan->cases->pdata[i];

        if (other[0] ==
            (guint) component_find_release (board_component (unit_of (batch, "P")->unit->board, 0), "3.0.1"))
            mode->branching->releases = other;
    }
    assert_true (mode->branching->releases != releases);
    g_autofree char *other_way = batch_check (&small->question, batch);
    assert_non_null (other_way);
    mode->branching->releases = releases;
    /* As it was once: all that is read in the first task. */
    first->ends += 50;
    first->attended_until += 50;
    assert_refused (small, "step 1: it is not as long as the step takes");
    first->ends -= 50;
    first->attended_until -= 50;
    for (guint i = 0; i < small->question.shop->lots->len; i++)
        if (g_array_index (small->question.shop->lots, Lot, i).owner == OWNER_STOCK)
            stock = &g_array_index (small->question.shop->lots, Lot, i);
    assert_null (batch_check (&small->question, batch));
    stock->count = 0;
    g_autofree char *no_stock = batch_check (&small->question, batch);
    assert_non_null (no_stock);
}

/* U's b0 is in no task, so that only what any of its ways may take tells that it is not there. */
static void
the_check_counts_stock_that_is_only_kept (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        ONE_WANT
        "shop: both\nstock: [{part: elvane-14, stepping: b1, count: 1}, {part: elvane-14, stepping: b0, count: 1}]\n",
        ONE ("U", "unknown"));
    Batch *batch = small_batch_plan (small);
    GArray *lots = small->question.shop->lots;

    (void) state;
    assert_null (batch_check (&small->question, batch));
    for (guint i = 0; i < lots->len; i++)
        if (g_strcmp0 (g_array_index (lots, Lot, i).stepping, "b0") == 0)
            g_array_index (lots, Lot, i).count = 0;
    g_autofree char *wrong = batch_check (&small->question, batch);
    assert_non_null (wrong);
}

/* ---- Records ---- */

/* The unit's first plan knows nothing of the record; `now` is the end of its first task. */
static Batch *
replan_after_first_task (Wall *wall, const char *shop, const char *units, const char *record)
{
    g_autofree char *all = g_strconcat (units, record, NULL);
    Batch *batch = NULL;
    gint64 now = 0;

    wall->small = small_batch (shop, all);
    batch = small_batch_plan (wall->small);
    now = task_of (unit_of (batch, "P"), 0)->ends;
    wall->published = batch_publish (batch);
    wall->small->question.published = wall->published;
    wall->small->question.now = now;
    return small_batch_plan (wall->small);
}

/* It shows 2.1.0: the loaner goes out and elvane-12c in. */
static void
what_was_read_leads_another_way (void **state)
{
    Wall wall = { 0 };
    Batch *batch = replan_after_first_task (&wall, A_LOANER, BARE ("P", "unknown"),
                                            RECORD ("P", ENTRY (1, "firmware: {system: 2.1.0}, ")));
    const BatchUnit *unit = unit_of (batch, "P");
    const BatchMode *mode = mode_of (batch, unit);

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_non_null (unit->stands);
    assert_int_equal (unit->stands->releases[0].count, 1);
    assert_false (unit->open);
    assert_int_equal (unit->earlier->len, 1);
    assert_int_equal (mode->steps->len, 2);
    assert_int_equal (g_array_index (mode->steps, Step, 0).kind, STEP_REMOVE);
    assert_string_equal (g_array_index (mode->steps, Step, 1).part->name, "elvane-12c");
    /* The loaner is in it from the moment on, until it comes out. */
    assert_int_equal (task_of (unit, 0)->part >= 0, TRUE);
    wall_clear (&wall);
}

/* It shows 1.2.0: that is the way which the timetable has, and nothing moves. */
static void
what_was_read_is_the_longest_way (void **state)
{
    Wall wall = { 0 };
    Batch *batch = replan_after_first_task (&wall, A_LOANER, BARE ("P", "unknown"),
                                            RECORD ("P", ENTRY (1, "firmware: {system: 1.2.0}, ")));
    const BatchUnit *unit = unit_of (batch, "P");

    (void) state;
    assert_int_equal (batch->moved, 0);
    assert_null (unit->stands);
    assert_true (task_of (unit, 0)->done && !task_of (unit, 1)->done);
    assert_false (unit->open); /* nothing depends on it any more */
    wall_clear (&wall);
}

/* It is done as far as the reading, and nobody has written down what was read: as much is open as before. */
static void
what_was_not_read_is_still_open (void **state)
{
    Wall wall = { 0 };
    Batch *batch = replan_after_first_task (&wall, A_LOANER, BARE ("P", "unknown"), RECORD ("P", ENTRY (1, "")));
    const BatchUnit *unit = unit_of (batch, "P");

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_non_null (unit->stands);
    assert_true (unit->stands->releases[0].count > 1);
    assert_true (unit->open);
    assert_int_equal (unit->tasks->len, 4);
    assert_int_equal (mode_of (batch, unit)->branching->common, 0);
    wall_clear (&wall);
}

/* It stays dark, and 1.4.0 is read from its label: without a loaner there is no way, as was said. */
static void
what_has_no_way_is_set_aside_when_it_is_read (void **state)
{
    Wall wall = { 0 };
    Batch *batch = replan_after_first_task (&wall, NO_LOANERS, BARE ("P", "unknown") BARE ("Q", "unknown"),
                                            RECORD ("P", ENTRY (1, "firmware: {system: 1.4.0}, ")));

    (void) state;
    assert_int_equal (unit_of (batch, "P")->aside, ASIDE_NO_ROUTE);
    assert_string_equal (batch_aside_key (unit_of (batch, "P")->aside), "no-route");
    assert_string_equal (batch_aside_key (ASIDE_RECORD), "record"); /* the last of them */
    assert_int_equal (unit_of (batch, "Q")->aside, ASIDE_NOT);
    assert_int_equal (batch->unsure, 1);
    wall_clear (&wall);
}

/* The wall has the way for 1.4.0, which is what was read; today's plan has it only as one of its other ways. The unit goes on from
 * where it stands, and not from the beginning. */
static void
a_way_that_is_no_mode_any_more_is_gone_on_with (void **state)
{
    g_autoptr (SmallBatch) small =
        small_batch (A_LOANER, BARE ("P", "unknown") RECORD ("P", ENTRY (1, "firmware: {system: 1.4.0}, ")));
    Batch *batch = small_batch_plan (small);
    g_autoptr (BatchPublished) published = batch_publish (batch);
    GArray *tasks = ((PublishedUnit *) published->units->pdata[0])->tasks;
    const BatchUnit *unit = NULL;

    (void) state;
    assert_int_equal (g_array_index (tasks, PublishedTask, 1).step.kind, STEP_WRITE);
    g_array_remove_index (tasks, 1); /* the write of 1.4.0 */
    small->question.published = published;
    small->question.now = g_array_index (tasks, PublishedTask, 0).ends;
    batch = small_batch_plan (small);
    unit = unit_of (batch, "P");
    assert_int_equal (unit->aside, ASIDE_NOT);
    assert_int_equal (batch->said->len, 0);
    assert_non_null (unit->stands);
    assert_int_equal (unit->tasks->len, 3);
    assert_int_equal (g_array_index (mode_of (batch, unit)->steps, Step, 0).kind, STEP_WRITE);
    assert_int_equal (unit->earlier->len, 1);
    assert_int_equal (((const BatchEarlier *) unit->earlier->pdata[0])->entries, 1);
}

/* By the clock alone it is in its second write, and nobody has written down what was read before it. */
static void
the_clock_does_not_read (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (A_LOANER, BARE ("P", "unknown"));
    Batch *batch = small_batch_plan (small);
    gint64 now = task_of (unit_of (batch, "P"), 2)->begins + 10;
    g_autoptr (BatchPublished) published = batch_publish (batch);

    (void) state;
    small->question.published = published;
    small->question.now = now;
    batch = small_batch_plan (small);
    assert_int_equal (batch->moved, 0);
    assert_int_equal (batch->said->len, 1);
    assert_has (batch->said->pdata[0], "P: by the timetable it is past a reading, and no record says what was read");
}

/* A case that nobody has read is not known after steps either: the loaner is in, and any release may be on it. */
static void
what_is_not_known_stays_so_by_the_clock (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (A_LOANER, BARE ("P", "unknown"));
    Batch *batch = small_batch_plan (small);
    const BatchUnit *unit = unit_of (batch, "P");
    const BatchMode *mode = mode_of (batch, unit);
    Unit *one = standing_unit_after (unit->unit, mode->steps, 1),
         *two = standing_unit_after (unit->unit, mode->steps, 2);

    (void) state;
    assert_int_equal (one->releases[0].count, unit->unit->releases[0].count);
    assert_int_equal (one->releases[0].count, 9);
    assert_int_equal (two->releases[0].count, 1); /* 1.4.0 was written */
    unit_free (one);
    unit_free (two);
}

/* ---- What is said ---- */

static BatchView *
view_of (SmallBatch *small, BatchReport *report)
{
    static const RouteOptions route = { 0 };

    small->question.route = &route;
    *report = (BatchReport){ &small->question, small_batch_plan (small), 0 };
    return batch_view_new (report);
}

static void
the_overview_names_what_depends (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (NO_LOANERS, BARE ("P", "unknown") BARE ("Q", "unknown"));
    BatchReport report;
    g_autoptr (BatchView) view = view_of (small, &report);
    g_autofree char *text = report_batch_text (view, FALSE);
    g_autofree char *page = report_batch_html (view, 0);

    (void) state;
    assert_has (text, "2 planned, 2 of them may turn out to have no way");
    assert_has (text, "P and Q: no way for system 1.0.0, 1.2.0, 1.4.0 or 2.0.0.");
    assert_has (text, "dark (part C). Stop there: the sheet says how to set the unit aside. Then ask");
    assert_has (text, "P and Q: another way may take up to 8 min longer");
    assert_has (page, "It may turn out to have no way</b>: with system 1.0.0, 1.2.0, 1.4.0 or 2.0.0");
    assert_has (page, "it stays dark: <b class=\"bad\">no way on</b>. Stop here, and ask");
}

/* The processor that is wanted is in: where it starts, that is all; nobody may take it for done before it was read. */
static void
a_unit_that_is_only_read_says_so (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        NO_LOANERS,
        "unit: P\nboard: dunnock-1s\nrevision: r2\nfirmware: {system: unknown, controller: 1.8, logic: k2}\n"
        "becomes: larger\nfitted:\n  cpu1: elvane-12c\n  sink1: sink-130c\n" DUNNOCK_REST);
    BatchReport report;
    g_autoptr (BatchView) view = view_of (small, &report);
    g_autofree char *text = report_batch_text (view, FALSE);
    g_autofree char *page = report_batch_html (view, 0);

    (void) state;
    assert_int_equal (unit_of (small->batch, "P")->tasks->len, 0);
    assert_int_equal (small->batch->unsure, 1);
    assert_has (text, "P: not in the timetable; it is read");
    assert_has (page, "Then try a start");
    assert_has (page, "5 minutes, not in the timetable");
    assert_null (strstr (page, "Nothing to do"));
}

static void
tasks_say_on_what_they_depend (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (A_LOANER, BARE ("P", "unknown"));
    BatchReport report;
    g_autoptr (BatchView) view = view_of (small, &report);
    const char *table = report_batch_csv (view);
    g_autofree char *page = report_batch_html (view, 0);

    (void) state;
    assert_has (table, "P,1,1,\"A1: fit dorvan-4c a1 #1 in cpu1, from the loan shelf\"");
    assert_has (table,
                "P,2,2,\"start it and read what it shows; then B1, only if it starts and shows system 1.0.0 or 1.2.0: "
                "write system 1.4.0 from the running host\"");
    assert_has (table, "P,3,3,\"B2, only if it starts and shows system 1.0.0 or 1.2.0: write system 2.1.0");
    /* The sheet of the unit calls steps what the sheet of the situation does, and sends there for the other parts. */
    assert_has (page, "B1. Write system 1.4.0");
    assert_has (
        page,
        "it starts and shows system 1.4.0: leave this sheet, go on by <b class=\"strong\">part C</b> on the sheet of "
        "situation 1");
    assert_has (page, "A1 is made in any case; B1 and what follows only if what is read says so");
}

/* Larkfield has no plan of which only another way borrows: here part C is made to, after the batch was planned. */
static void
what_only_another_way_borrows_is_said (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (A_LOANER, BARE ("P", "unknown"));
    BatchReport report;
    g_autoptr (BatchView) view = view_of (small, &report);
    const BatchMode *mode = mode_of (small->batch, unit_of (small->batch, "P"));
    GArray *steps = ((const BranchLeg *) mode->answer->branches->legs->pdata[2])->branch->steps;
    ModeSheet *of = mode_sheet_new (view, view->ways->pdata[0]); /* of the sound plan */
    Lot lot = { .owner = OWNER_LOAN, .count = 1 };

    (void) state;
    for (guint i = 0; i < steps->len; i++) {
        Step *step = &g_array_index (steps, Step, i);

        if (step->kind != STEP_FIT)
            continue;
        step->owner = OWNER_LOAN;
        lot.part = step->part;
        lot.stepping = step->stepping;
    }
    assert_non_null (lot.part);
    g_array_append_val (mode->branching->lent, lot);
    mode->branching->longer = 11.2;
    g_autofree char *text = report_batch_text (view, FALSE);
    assert_has (
        text,
        "P: each may also need 1 elvane-12c b1 from the loan shelf, in part C, if it starts and shows system 1.4.0; "
        "not in the timetable.");
    assert_has (text, "P: another way may take up to 12 min longer than the timetable has.");
    g_autoptr (GString) sheet = g_string_new (NULL);
    batch_page_put_unit (view, 0, of, sheet);
    mode_sheet_free (of);
    assert_has (sheet->str, "It may also need</b> 1 elvane-12c b1 from the loan shelf, in part C");
    assert_has (sheet->str, "up to 12 min longer");
}

static void
the_json_says_it_all (void **state)
{
    g_autoptr (SmallBatch) small = small_batch (
        ONE_WANT
        "shop: both\nstock: [{part: elvane-14, stepping: b1, count: 1}, {part: elvane-14, stepping: b0, count: 1}]\n",
        ONE ("U", "unknown"));
    BatchReport report;
    g_autoptr (BatchView) view = view_of (small, &report);
    g_autofree char *text = report_batch_json (view);
    json_t *document = json_loads (text, 0, NULL);
    const json_t *mode =
        json_array_get (json_object_get (json_array_get (json_object_get (document, "classes"), 0), "modes"), 0);
    const json_t *branching = json_object_get (mode, "branching");
    const json_t *unit = json_array_get (json_object_get (document, "units"), 0);
    const json_t *task = json_array_get (json_object_get (unit, "tasks"), 0);

    (void) state;
    assert_fits_schema ("printed-batch.schema.json", text);
    assert_non_null (branching);
    assert_int_equal (json_integer_value (json_object_get (branching, "in-any-case")), 0);
    assert_int_equal (json_array_size (json_object_get (branching, "no-way")), 0);
    assert_int_equal (json_array_size (json_object_get (branching, "may-take")), 1);
    assert_string_equal (
        json_string_value (json_object_get (json_array_get (json_object_get (branching, "readings"), 0), "reads")),
        "system");
    assert_true (json_is_true (json_object_get (unit, "depends-on-reading")));
    assert_null (json_object_get (unit, "may-have-no-way"));
    assert_string_equal (json_string_value (json_object_get (task, "label")), "B1");
    assert_string_equal (json_string_value (json_object_get (task, "if")), "the page shows system 1.0.2 or 1.2.0");
    json_decref (document);
    g_autofree char *page = report_batch_html (view, 0);
    assert_has (page, "from stock; kept for them; taken only in part D, if the page shows system 2.0.0: U");
    assert_has (page, "Kept for it in the stock</b>: 1 elvane-14 b0, taken only in part D");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (what_may_have_no_way_is_counted),
        cmocka_unit_test (with_a_way_for_every_release_all_is_planned),
        cmocka_unit_test (a_reading_takes_its_time_where_it_is_made),
        cmocka_unit_test (stock_is_kept_for_every_way),
        cmocka_unit_test (only_what_is_given_whatever_is_read_is_lent_on),
        cmocka_unit_test (who_counted_on_such_a_part_is_planned_without),
        cmocka_unit_test (ways_are_compared_lot_by_lot),
        cmocka_unit_test (the_check_refuses_what_does_not_hold),
        cmocka_unit_test (the_check_counts_stock_that_is_only_kept),
        cmocka_unit_test (what_was_read_leads_another_way),
        cmocka_unit_test (what_was_read_is_the_longest_way),
        cmocka_unit_test (what_was_not_read_is_still_open),
        cmocka_unit_test (what_has_no_way_is_set_aside_when_it_is_read),
        cmocka_unit_test (a_way_that_is_no_mode_any_more_is_gone_on_with),
        cmocka_unit_test (the_clock_does_not_read),
        cmocka_unit_test (what_is_not_known_stays_so_by_the_clock),
        cmocka_unit_test (the_overview_names_what_depends),
        cmocka_unit_test (a_unit_that_is_only_read_says_so),
        cmocka_unit_test (tasks_say_on_what_they_depend),
        cmocka_unit_test (what_only_another_way_borrows_is_said),
        cmocka_unit_test (the_json_says_it_all),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
