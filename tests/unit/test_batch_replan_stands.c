/* SPDX-License-Identifier: MIT */
/* Where a unit stands that can't go on by its route though its record keeps to it, or by the clock alone.
 *
 * source: worked by hand from docs/batch.md, "When it goes wrong", and docs/files.md, "Record". A DARK unit's five steps: own
 * processor out, loaner in, write, loaner out, own processor in. */
#include "batch/standing.h"
#include "batch_wall.h"

#define TWO              DARK ("A", "") DARK ("B", "")
#define ENTRY(step, what) "  - {step: " step ", " what ", time: 2034-03-06T07:00+01:00, initials: mk}\n"
#define DONE(step)       ENTRY (#step, "outcome: done")
#define FAILED(step)     ENTRY (#step, "outcome: failed, found: bent contact")
#define RECORD(unit, entries) "record: bench\nunit: " unit "\nentries:\n" entries "---\n"
/* B breaks its loaner. */
#define B_BREAKS         RECORD ("B", DONE (1) FAILED (2))

static PublishedUnit *
published_of (const Wall *wall, const char *id)
{
    for (guint i = 0; i < wall->published->units->len; i++)
        if (strcmp (((PublishedUnit *) wall->published->units->pdata[i])->unit, id) == 0)
            return wall->published->units->pdata[i];
    fail_msg ("%s is not published", id);
    return NULL;
}

static PublishedTask *
was (const Wall *wall, const char *id, guint step)
{
    return &g_array_index (published_of (wall, id)->tasks, PublishedTask, step - 1);
}

static guint
component_of (const Unit *unit, const char *name)
{
    int component = board_find_component (unit->board, name);

    assert_true (component >= 0);
    return (guint) component;
}

static gboolean
has_only (const Unit *unit, const char *component, const char *release)
{
    guint c = component_of (unit, component);
    int r = component_find_release (board_component (unit->board, c), release);

    assert_true (r >= 0);
    return unit->releases[c].count == 1 && unit->releases[c].may_be[r];
}

static guint
slot_of (const Unit *unit, const char *name)
{
    int slot = board_find_slot (unit->board, name);

    assert_true (slot >= 0);
    return (guint) slot;
}

/* ---- A loaner breaks elsewhere, and its record has more to say than its steps ---- */

/* A waits for the only loaner, which breaks in B. */
static void
a_release_that_was_read_is_kept (void **state)
{
    Wall wall = wall_new (LOANERS ("1"), TWO RECORD ("A", ENTRY ("1", "outcome: done, firmware: {controller: 1.8}"))
                                             B_BREAKS);
    Batch *batch = replan (&wall, was (&wall, "B", 2)->begins + 20);
    const Unit *stands = unit_of (batch, "A")->stands;

    (void) state;
    assert_true (has_only (unit_of (batch, "A")->unit, "controller", "1.4"));
    assert_non_null (stands);
    assert_true (has_only (stands, "controller", "1.8"));
    assert_null (stands->fitted[slot_of (stands, "cpu1")].part);
    assert_int_equal (((BatchEarlier *) unit_of (batch, "A")->earlier->pdata[0])->entries, 1);
    assert_int_equal (change_of (batch, "A")->kind, CHANGE_ASIDE);
    wall_clear (&wall);
}

/* Two are lost, one of them in A, whose socket was strained by it: it has one insertion more behind it than its steps say. */
static void
an_insertion_that_failed_is_kept (void **state)
{
    Wall wall = wall_new (LOANERS ("2"), TWO RECORD ("A", DONE (1) FAILED (2)) B_BREAKS);
    Batch *batch = replan (&wall, MAX (was (&wall, "A", 2)->begins, was (&wall, "B", 2)->begins) + 20);
    const BatchUnit *unit = unit_of (batch, "A");
    guint slot = slot_of (unit->unit, "cpu1");

    (void) state;
    assert_int_equal (batch->replan->lost->len, 2);
    assert_non_null (unit->stands);
    assert_int_equal (unit->stands->insertions[slot],
                      (unit->unit->insertions != NULL ? unit->unit->insertions[slot] : 0) + 1);
    wall_clear (&wall);
}

/* As A's second step system 1.4.0 is put on by clip, as somebody thought that it was bad; the clip slipped, and now it is. By
 * the book the clip is for a release that is bad (data/larkfield/book/firmware-dunnock-1s.yaml, recovery-only), so the route leads
 * on from what the record leaves alone. */
#define CLIP_SLIPPED RECORD ("A", DONE (1) ENTRY ("2", "outcome: failed, found: the clip slipped"))

static void
publish_clip (const Wall *wall)
{
    const Unit *came = wall->small->units->pdata[0];
    PublishedTask clip = *was (wall, "A", 1);
    guint system = component_of (came, "system");

    clip.step = (Step){ .kind = STEP_WRITE, .component = system, .method = METHOD_CLIP };
    while (!came->releases[system].may_be[clip.step.release])
        clip.step.release++;
    clip.part_number = 0;
    clip.begins = clip.attended_until = clip.ends;
    g_array_insert_val (published_of (wall, "A")->tasks, 1, clip);
}

static void
a_write_that_failed_is_kept (void **state)
{
    static const struct {
        const char *shop, *units;
        ChangeWhy why;
    } cases[] = {
        { LOANERS ("1"), TWO CLIP_SLIPPED B_BREAKS, LEFT_LOST }, /* it does without */
        { LOANERS ("3"), TWO CLIP_SLIPPED, LEFT_REFUSED },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        Wall wall = wall_new (cases[i].shop, cases[i].units);
        const Unit *came = wall.small->units->pdata[0], *stands = NULL;
        guint system = component_of (came, "system");
        Batch *batch = NULL;

        publish_clip (&wall);
        batch = replan (&wall, was (&wall, "B", 2)->begins + 20);
        stands = unit_of (batch, "A")->stands;
        assert_non_null (stands);
        assert_true (stands->failed[system]);
        assert_false (came->failed != NULL && came->failed[system]);
        assert_int_equal (((BatchEarlier *) unit_of (batch, "A")->earlier->pdata[0])->entries, 2);
        assert_int_equal (change_of (batch, "A")->kind, CHANGE_ROUTE);
        assert_int_equal (change_of (batch, "A")->why, cases[i].why);
        wall_clear (&wall);
    }
}

/* ---- The published route is not to be had any more ---- */

#define OTHER_WANT                                                                                                     \
    "shop: lends\nloaners: [{part: dorvan-4c, count: 3}]\nstock: [{part: elvane-12c, count: 3}, {part: sink-130c, "    \
    "count: 3}]\ntechnicians: 2\nstations: 4\n"

/* A is to become what L becomes. */
static void
want_other (const Wall *wall)
{
    wall->small->wants->pdata[0] = wall->small->wants->pdata[2];
}

#define THREE TWO LARGER ("L", "own-parts-stay: yes\n")

static void
by_the_clock_it_is_planned_on_from_there (void **state)
{
    Wall wall = wall_new (OTHER_WANT, THREE);
    gint64 now = was (&wall, "A", 2)->ends;
    guint number = was (&wall, "A", 2)->part_number;
    const BatchUnit *unit = NULL;
    Batch *batch = NULL;
    guint slot = slot_of (wall.small->units->pdata[0], "cpu1");
    gboolean in_place = FALSE;

    (void) state;
    want_other (&wall);
    batch = replan (&wall, now);
    unit = unit_of (batch, "A");
    assert_int_equal (unit->aside, ASIDE_NOT);
    assert_non_null (unit->stands);
    assert_string_equal (unit->stands->fitted[slot].part->name, "dorvan-4c");
    assert_int_equal (unit->stands->fitted[slot].owner, OWNER_LOAN);
    assert_int_equal (((BatchEarlier *) unit->earlier->pdata[0])->done, 2);
    assert_true (is_said (batch, "A: its published route can't be gone on with"));
    assert_true (is_said (batch, "its steps up to 2 are done"));
    assert_int_equal (change_of (batch, "A")->kind, CHANGE_ROUTE);
    assert_int_equal (change_of (batch, "A")->why, LEFT_REFUSED);
    /* The loaner in it is the one that it was given, and held from the beginning. */
    for (guint i = 0; i < batch->parts->len; i++) {
        const BatchPart *part = batch->parts->pdata[i];

        for (guint k = 0; k < part->stays->len; k++) {
            const BatchStay *stay = &g_array_index (part->stays, BatchStay, k);

            if (part->owner == OWNER_LOAN && batch->units->pdata[stay->unit] == unit) {
                assert_int_equal (part->number, number);
                in_place = TRUE;
            }
        }
    }
    assert_true (in_place);
    wall_clear (&wall);
}

static void
in_the_middle_of_a_step_nobody_knows_how_far_it_is (void **state)
{
    Wall wall = wall_new (OTHER_WANT, THREE);
    Batch *batch = NULL;

    (void) state;
    want_other (&wall);
    batch = replan (&wall, was (&wall, "A", 3)->begins + 10);
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_RECORD);
    assert_non_null (strstr (unit_of (batch, "A")->why, "nobody knows how far it is"));
    assert_non_null (strstr (unit_of (batch, "A")->why, "step 3 is under way"));
    assert_int_equal (batch->aside, 1);
    wall_clear (&wall);
}

static void
what_cannot_have_been_done_sets_it_aside (void **state)
{
    Wall wall = wall_new (OTHER_WANT, THREE);
    Batch *batch = NULL;
    Unit *unit = wall.small->units->pdata[0];

    (void) state;
    want_other (&wall);
    unit->fitted[slot_of (unit, "cpu1")].part = NULL; /* its file is another one by now */
    batch = replan (&wall, was (&wall, "A", 2)->ends);
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_RECORD);
    assert_non_null (strstr (unit_of (batch, "A")->why, "nobody knows how far it is"));
    assert_non_null (strstr (unit_of (batch, "A")->why, "nothing can have been removed from cpu1"));
    wall_clear (&wall);
}

static void
not_begun_is_planned_from_the_beginning (void **state)
{
    Wall wall = wall_new (OTHER_WANT, THREE);
    Batch *batch = NULL;

    (void) state;
    want_other (&wall);
    batch = replan (&wall, 0);
    assert_int_equal (unit_of (batch, "A")->aside, ASIDE_NOT);
    assert_null (unit_of (batch, "A")->stands);
    assert_false (is_said (batch, "A: its published route can't be gone on with"));
    wall_clear (&wall);
}

/* ---- Which loaner is in it ---- */

/* By the record alone. Transfer full. */
static guint *
held_by_record (Wall *wall, UnitPlan *plan)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    Planning planning = { .plans = plan };
    Standing standing = { .planning = &planning, .published = published_of (wall, "A") };

    *plan = (UnitPlan){ .unit = wall->small->units->pdata[0], .published = standing.published };
    standing.record = batch_record_of (wall->small->library, "A", complaints);
    assert_non_null (standing.record);
    return standing_held_by_entries (&standing, 0);
}

/* The sheet's number is that of the part that was fitted as the sheet says, at once: not of one that came in for a bad one, or
 * that was put in beside the sheet. The unit that keeps to its route and then can't has the number that its record tells. */
static void
a_number_is_the_sheet_s_only_where_the_record_keeps_to_it (void **state)
{
    static const struct {
        const char *record;
        gboolean known;
    } cases[] = {
        { RECORD ("A", DONE (1) DONE (2)), TRUE },
        { RECORD ("A", DONE (1) FAILED (2) DONE (2)), FALSE },
        { RECORD ("A", DONE (1) DONE (2) ENTRY ("{do: remove, slot: cpu1}", "outcome: done")
                           ENTRY ("{do: fit, slot: cpu1, part: dorvan-4c, from: loan}", "outcome: done")),
          FALSE },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autofree char *units = g_strconcat (THREE, cases[i].record, NULL);
        Wall wall = wall_new (OTHER_WANT, units);
        g_autoptr (GPtrArray) of = g_ptr_array_new ();
        BatchUnit unit = { .unit = wall.small->units->pdata[0] };
        Batch batch = { .units = of };
        UnitPlan plan;
        guint *held = held_by_record (&wall, &plan), slot = slot_of (unit.unit, "cpu1");
        Planning planning = { .batch = &batch, .plans = &plan };
        guint sheet = was (&wall, "A", 2)->part_number;

        assert_true (sheet > 0);
        assert_int_equal (held[slot], cases[i].known ? sheet : 0);
        /* Left from what its record says: by its steps alone the sheet's number would be in it. */
        g_ptr_array_add (of, &unit);
        g_autoptr (GArray) steps = standing_published_steps (plan.published);
        plan.done = 2;
        plan.as_read = standing_unit_after (plan.unit, steps, 2);
        plan.as_read_held = held;
        const Unit *read = plan.as_read;
        standing_leave_at_step (&planning, 0);
        assert_ptr_equal (unit.stands, read);
        assert_null (plan.as_read);
        assert_int_equal (plan.held[slot], cases[i].known ? sheet : 0);
        g_free (plan.held);
        g_ptr_array_unref (unit.earlier);
        unit_free (unit.stands);
        wall_clear (&wall);
    }
}

/* ---- What nobody has read ---- */

/* Of each component every release may be on it: more combinations than a route is walked in. After a write of one, that one is
 * known, and of the others still every release may be there. */
static void
what_nobody_has_read_is_not_known_after_steps (void **state)
{
    g_autoptr (Library) library = batch_library (
        "unit: W\nboard: twite-4s\nrevision: r1\nfitted: {}\n"
        "firmware: {system: unknown, controller: unknown, logic: unknown, engine: unknown}\n");
    const Unit *unit = library->units->pdata[0];
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));
    Step write = { .kind = STEP_WRITE, .component = component_of (unit, "controller"), .release = 1 };
    guint combinations = 1;

    (void) state;
    g_array_append_val (steps, write);
    g_autoptr (Unit) after = standing_unit_after (unit, steps, 1);
    for (guint c = 0; c < unit->board->components->len; c++) {
        combinations *= unit->releases[c].count;
        assert_int_equal (after->releases[c].count, c == write.component ? 1 : unit->releases[c].count);
        for (guint r = 0; r < board_component (unit->board, c)->releases->len; r++)
            assert_int_equal (after->releases[c].may_be[r],
                              c == write.component ? r == 1 : unit->releases[c].may_be[r]);
    }
    assert_true (combinations > BATCH_MOST_CASES);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (a_release_that_was_read_is_kept),
        cmocka_unit_test (an_insertion_that_failed_is_kept),
        cmocka_unit_test (a_write_that_failed_is_kept),
        cmocka_unit_test (by_the_clock_it_is_planned_on_from_there),
        cmocka_unit_test (in_the_middle_of_a_step_nobody_knows_how_far_it_is),
        cmocka_unit_test (what_cannot_have_been_done_sets_it_aside),
        cmocka_unit_test (not_begun_is_planned_from_the_beginning),
        cmocka_unit_test (a_number_is_the_sheet_s_only_where_the_record_keeps_to_it),
        cmocka_unit_test (what_nobody_has_read_is_not_known_after_steps),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
