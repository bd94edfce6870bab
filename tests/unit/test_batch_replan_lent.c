/* SPDX-License-Identifier: MIT */
/* Pulled parts that are lent on stay the parts of their units over replans, whatever becomes of a unit's route.
 *
 * source: worked by hand from docs/batch.md, "When it goes wrong", and the minutes of SHOP_TIMES. L takes its dorvan-4c out from 07:00
 * to 07:08 and is done at 07:21; with one technician D, which is dark, borrows it from 07:29 to 07:55 (opening 6, out 2; in 4, write 14; opening 6, out 2).
 * elvane-12c does not start with system 1.4.0 (data/larkfield/book, as in story 06), so L itself borrows a dorvan-4c where that is
 * what it turns out to have. */
#include "batch_units.h"

#include "reports/batch_view.h"

#define SHOP_OF(technicians, loaners)                                                                                  \
    "shop: lends on\nlend-pulled-parts: yes\ntechnicians: " technicians "\nstations: 4\n" loaners                       \
    "stock: [{part: elvane-12c, count: 3}, {part: sink-130c, count: 3}]\n"
#define RECORD(unit, entries) "record: bench of " unit "\nunit: " unit "\nentries:\n" entries "---\n"
#define AT(step, outcome, more, time)                                                                                  \
    "  - {step: " #step ", outcome: " outcome ", " more "time: 2034-03-06T" time "+01:00, initials: mk}\n"
#define READ_OLD "found: does not start, firmware: {system: 1.4.0}, "

typedef struct {
    SmallBatch *small;
    BatchPublished *published, *before; /* what it hangs up; what it went by */
    Batch *batch;
} Chain;

/* The first plan, hung on the wall. */
static Chain
chain_new (const char *shop, const char *units)
{
    Chain chain = { .small = small_batch (shop, units) };

    chain.batch = small_batch_plan (chain.small);
    chain.published = batch_publish (chain.batch);
    return chain;
}

/* Plans again, by what hangs on the wall, and hangs that up instead. */
static Batch *
chain_on (Chain *chain, gint64 now)
{
    chain->small->question.published = chain->published;
    chain->small->question.now = now;
    chain->batch = small_batch_plan (chain->small);
    batch_published_free (chain->before);
    chain->before = chain->published;
    chain->published = batch_publish (chain->batch);
    return chain->batch;
}

static void
chain_clear (Chain *chain)
{
    small_batch_free (chain->small);
    batch_published_free (chain->published);
    batch_published_free (chain->before);
}

static const BatchPart *
part_of (const Batch *batch, const char *unit)
{
    for (guint i = 0; i < batch->parts->len; i++) {
        const BatchPart *part = batch->parts->pdata[i];

        if (part->from_unit >= 0 && strcmp (((BatchUnit *) batch->units->pdata[part->from_unit])->unit->id, unit) == 0)
            return part;
    }
    fail_msg ("no part of %s is lent", unit);
    return NULL;
}

static const char *
borrower_of (const Batch *batch, const BatchPart *part, guint stay)
{
    assert_true (stay < part->stays->len);
    return ((BatchUnit *) batch->units->pdata[g_array_index (part->stays, BatchStay, stay).unit])->unit->id;
}

static const BatchStay *
stay_at (const BatchPart *part, guint stay)
{
    return &g_array_index (part->stays, BatchStay, stay);
}

static gboolean
is_said (const Batch *batch, const char *piece)
{
    for (guint i = 0; i < batch->said->len; i++)
        if (strstr (batch->said->pdata[i], piece) != NULL)
            return TRUE;
    return FALSE;
}

static guint
processors_beside (const Unit *unit)
{
    guint count = 0;

    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++)
        count += g_array_index (unit->pulled, Fitted, i).part->kind == KIND_PROCESSOR;
    return count;
}

/* ---- A lender that is planned anew ---- */

#define OUT_AT_D                                                                                                       \
    DARK ("D", "")                                                                                                     \
    LARGER ("L", "") RECORD ("L", AT (1, "done", "", "07:08") AT (2, "failed", READ_OLD, "07:12"))

static void
a_part_that_is_out_lies_beside_its_unit_no_more (void **state)
{
    Chain chain = chain_new (SHOP_OF ("1", ""), OUT_AT_D);
    const BatchPart *part = part_of (chain.batch, "L");
    guint number = part->number;

    (void) state;
    assert_int_equal (part->from_step, 0);
    assert_string_equal (borrower_of (chain.batch, part, 0), "D");
    assert_true (stay_at (part, 0)->from == 290 && stay_at (part, 0)->to == 550);
    chain_on (&chain, 350);
    const BatchUnit *giver = unit_of (chain.batch, "L");
    part = part_of (chain.batch, "L");
    assert_int_equal (chain.batch->aside, 0);
    assert_non_null (giver->stands);
    assert_int_equal (processors_beside (giver->stands), 0);
    /* It is still the part of L, which gets it only when D has given it back. */
    assert_int_equal (part->number, number);
    assert_int_equal (part->from_step, G_MAXUINT);
    assert_string_equal (part->serial, "S-L");
    assert_int_equal (part->stays->len, 2);
    assert_string_equal (borrower_of (chain.batch, part, 0), "D");
    assert_true (stay_at (part, 0)->from == 290 && stay_at (part, 0)->to == 550);
    assert_string_equal (borrower_of (chain.batch, part, 1), "L");
    assert_true (stay_at (part, 1)->from >= 550);
    chain_clear (&chain);
}

/* Whatever the moment of the next plans is, nothing moves, and the part keeps to its unit and its number. */
static void
it_is_out_in_every_later_plan_too (void **state)
{
    static const gint64 moments[] = { 350, 360, 500, 549 };
    Chain chain = chain_new (SHOP_OF ("1", ""), OUT_AT_D);
    guint number = part_of (chain.batch, "L")->number;
    gint64 finish = 0;

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (moments); i++) {
        Batch *batch = chain_on (&chain, moments[i]);

        assert_int_equal (batch->aside, 0);
        assert_int_equal (part_of (batch, "L")->number, number);
        assert_int_equal (part_of (batch, "L")->stays->len, 2);
        assert_int_equal (processors_beside (unit_of (batch, "L")->stands), 0);
        if (i > 0) {
            assert_int_equal (batch->moved, 0);
            assert_true (batch->finish == finish);
        }
        finish = batch->finish;
    }
    chain_clear (&chain);
}

/* Before D has it, D still counts on it: it is lent on as before. Nobody counts on it where the shop has one: L has it again. */
static void
what_nobody_counts_on_lies_beside_its_unit (void **state)
{
    Chain wanted = chain_new (SHOP_OF ("1", ""), OUT_AT_D);
    Chain alone = chain_new (SHOP_OF ("1", ""),
                             LARGER ("L", "") RECORD ("L", AT (1, "done", "", "07:08") AT (2, "failed", READ_OLD, "07:12")));
    Batch *batch = chain_on (&wanted, 130);

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_int_equal (processors_beside (unit_of (batch, "L")->stands), 0);
    assert_int_equal (part_of (batch, "L")->stays->len, 2);
    batch = chain_on (&alone, 130);
    assert_int_equal (batch->aside, 0);
    assert_int_equal (processors_beside (unit_of (batch, "L")->stands), 1);
    for (guint i = 0; i < batch->parts->len; i++)
        assert_int_equal (((BatchPart *) batch->parts->pdata[i])->owner, OWNER_STOCK);
    chain_clear (&wanted);
    chain_clear (&alone);
}

/* ---- Whoever counts on what is not given ---- */

#define FOUR DARK ("D", "") DARK ("E", "") LARGER ("L", "") LARGER ("M", "")

/* L has not begun, by its record; whoever would have its part by now waits, and only that one. */
static void
a_borrower_waits_for_the_unit_whose_part_it_gets (void **state)
{
    Chain chain = chain_new (SHOP_OF ("4", ""), FOUR RECORD ("L", AT (1, "skipped", "", "07:05")));
    const BatchPart *late = part_of (chain.batch, "L"), *other = part_of (chain.batch, "M");
    g_autofree char *waits = g_strdup (borrower_of (chain.batch, late, 0)),
                    *goes_on = g_strdup (borrower_of (chain.batch, other, 0));
    gint64 now = MAX (stay_at (late, 0)->from, stay_at (other, 0)->from) + 10, from = stay_at (other, 0)->from;
    guint number = other->number;
    Batch *batch = NULL;

    (void) state;
    assert_string_not_equal (waits, goes_on);
    batch = chain_on (&chain, now);
    assert_int_equal (batch->aside, 0);
    assert_true (is_said (batch, "the dorvan-4c of L, which has not given it yet; it is taken to wait in front of step 2"));
    assert_false (task_of (unit_of (batch, waits), 1)->done);
    assert_true (task_of (unit_of (batch, waits), 1)->begins >= now);
    other = part_of (batch, "M");
    assert_int_equal (other->number, number);
    assert_string_equal (borrower_of (batch, other, 0), goes_on);
    assert_true (stay_at (other, 0)->from == from);
    chain_clear (&chain);
}

/* D has it by its record, so L has given it, whatever the clock says. */
static void
a_borrowers_record_shows_that_it_was_given (void **state)
{
    Chain chain = chain_new (SHOP_OF ("2", ""), DARK ("D", "") LARGER ("L", "") RECORD (
                                                    "D", AT (1, "done", "", "07:02") AT (2, "done", "", "07:04")));
    Batch *batch = chain_on (&chain, 50);

    (void) state;
    assert_int_equal (batch->aside, 0);
    assert_true (is_said (batch, "L: by the timetable alone its step 1 is not done by now, and by the record of D"));
    assert_true (task_of (unit_of (batch, "L"), 0)->done && !task_of (unit_of (batch, "L"), 1)->done);
    assert_true (task_of (unit_of (batch, "D"), 1)->done);
    assert_string_equal (borrower_of (batch, part_of (batch, "L"), 0), "D");
    chain_clear (&chain);
}

/* L's record is of a route that it has left; by the next one it is as far as the clock says, or as D's record shows. */
static void
a_record_of_a_route_that_was_left_says_nothing_of_the_next (void **state)
{
    Chain chain = chain_new (SHOP_OF ("1", ""), DARK ("D", "") LARGER ("L", "") RECORD ("L", AT (1, "failed", READ_OLD, "07:02"))
                                                    RECORD ("D", AT (1, "done", "", "07:40") AT (2, "done", "", "07:44")));
    Record *of_d = chain.small->library->records->pdata[strcmp (
        ((Record *) chain.small->library->records->pdata[0])->unit, "D") == 0 ? 0 : 1];
    guint entries = of_d->entries->len, step = 0;
    Batch *batch = NULL;

    (void) state;
    of_d->entries->len = 0; /* not written yet */
    batch = chain_on (&chain, 50);
    assert_int_equal (unit_of (batch, "L")->earlier->len, 1);
    step = part_of (batch, "L")->from_step;
    assert_string_equal (borrower_of (batch, part_of (batch, "L"), 0), "D");
    gint64 now = task_of (unit_of (batch, "L"), step)->begins + 10;
    of_d->entries->len = entries;
    batch = chain_on (&chain, now);
    assert_int_equal (batch->aside, 0);
    assert_true (is_said (batch, "L: by the timetable alone its step "));
    assert_true (task_of (unit_of (batch, "L"), step)->done && task_of (unit_of (batch, "D"), 1)->done);
    chain_clear (&chain);
}

/* Both records can't be true: D was given some other one, and there is none. */
static void
two_records_that_contradict_each_other_are_said (void **state)
{
    Chain chain = chain_new (SHOP_OF ("2", ""),
                             DARK ("D", "") LARGER ("L", "") RECORD ("L", AT (1, "skipped", "", "07:05"))
                                 RECORD ("D", AT (1, "done", "", "07:29") AT (2, "done", "", "07:33")));
    Batch *batch = chain_on (&chain, 350);

    (void) state;
    assert_true (is_said (batch, "D: by its record it has had the dorvan-4c of L, which has not given it yet"));
    assert_int_equal (unit_of (batch, "D")->aside, ASIDE_RECORD);
    assert_non_null (strstr (unit_of (batch, "D")->why, "none is left for it"));
    assert_int_equal (unit_of (batch, "L")->aside, ASIDE_NOT);
    chain_clear (&chain);
}

/* ---- A pulled part that broke ---- */

/* The shop's own is as good as before; the part of L is out of use, with its number, and stays so. */
static void
a_pulled_part_that_broke_is_not_one_of_the_shops (void **state)
{
    Chain chain = chain_new (SHOP_OF ("2", ""), FOUR RECORD ("D", AT (1, "done", "", "07:29")
                                                                 AT (2, "failed", "found: a bent contact, ", "07:33")));
    const BatchPart *part = loaner_of (chain.batch, unit_of (chain.batch, "D"));
    guint number = part->number;
    const char *whose = ((BatchUnit *) chain.batch->units->pdata[part->from_unit])->unit->id;
    const char *other = strcmp (whose, "L") == 0 ? "M" : "L";

    (void) state;
    for (int turn = 0; turn < 3; turn++) {
        Batch *batch = chain_on (&chain, 600 + 30 * turn);
        const GArray *lost = batch->replan->lost;

        assert_int_equal (batch->aside, 0);
        assert_int_equal (lost->len, 1);
        assert_int_equal (g_array_index (lost, BatchLost, 0).number, number);
        assert_string_equal (borrower_of (batch, part_of (batch, other), part_of (batch, other)->stays->len - 1), "D");
        for (guint i = 0; i < batch->parts->len; i++) {
            const BatchPart *one = batch->parts->pdata[i];

            if (one->number == number && one->part->kind == KIND_PROCESSOR && one->owner != OWNER_STOCK)
                for (guint k = 0; k < one->stays->len; k++)
                    assert_true (stay_at (one, k)->to <= 600);
        }
    }
    chain_clear (&chain);
}

/* ---- The check ---- */

static void
assert_refused (Chain *chain, const Batch *batch, const char *piece)
{
    g_autofree char *wrong = batch_check (&chain->small->question, batch);

    if (wrong == NULL || strstr (wrong, piece) == NULL)
        fail_msg ("\"%s\", not \"%s\"", wrong, piece);
}

static void
the_check_sees_what_is_not_so (void **state)
{
    Chain chain = chain_new (SHOP_OF ("1", ""), OUT_AT_D);
    Batch *batch = chain_on (&chain, 350);
    BatchPart *part = (BatchPart *) part_of (batch, "L");
    const Fitted again = { .part = part->part, .stepping = part->stepping, .owner = OWNER_UNIT };
    BatchLost lost = { .owner = OWNER_LOAN, .part = part->part, .stepping = part->stepping, .unit = "D", .entry = 1,
                       .number = part->number, .at = { "a.yaml", 3, 1 } };
    BatchUnit *giver = unit_of (batch, "L");
    guint in_cpu1 = g_array_index (mode_of (batch, giver)->steps, Step, 0).slot;
    Fitted held = giver->stands->fitted[in_cpu1];

    (void) state;
    g_autofree char *fine = batch_check (&chain.small->question, batch);
    assert_null (fine);

    /* It would be in D and in L at once. */
    giver->stands->fitted[in_cpu1] = again;
    g_autofree char *wrong = batch_check (&chain.small->question, batch);
    assert_non_null (wrong);
    giver->stands->fitted[in_cpu1] = held;
    g_array_append_val (giver->stands->pulled, again);
    assert_refused (&chain, batch, "dorvan-4c #1 is lent, and L has it too");
    g_array_set_size (giver->stands->pulled, giver->stands->pulled->len - 1);

    g_array_append_val (batch->replan->lost, lost);
    assert_refused (&chain, batch, "dorvan-4c #1 is out of use (a.yaml:3), and is to be in D");
    g_array_set_size (batch->replan->lost, batch->replan->lost->len - 1);
    g_autofree char *as_before = batch_check (&chain.small->question, batch);
    assert_null (as_before);

    /* Nothing says that it was given. */
    g_array_set_size (chain.before->parts, 0);
    assert_refused (&chain, batch, "dorvan-4c #1 is lent, and nothing says that L has given it");
    chain_clear (&chain);
}

/* ---- As JSON ---- */

static void
the_json_says_whose_each_part_is (void **state)
{
    Chain chain = chain_new (SHOP_OF ("1", ""), OUT_AT_D);

    (void) state;
    for (int turn = 0; turn < 2; turn++) {
        RouteOptions route = { 0 };
        g_autoptr (BatchPublished) said = batch_publish (chain.batch);
        BatchReport report = { &chain.small->question, chain.batch, 0 };
        chain.small->question.route = &route;
        BatchView *view = batch_view_new (&report);
        g_autofree char *text = report_batch_json (view);
        g_autoptr (Complaints) complaints = complaints_new ();
        g_autoptr (BatchPublished) read =
            batch_published_read ("last.json", text, &chain.small->library->book, chain.small->units,
                                  &chain.small->question.clock, complaints);

        assert_non_null (read);
        assert_int_equal (read->parts->len, 1);
        const PublishedPart *is = &g_array_index (read->parts, PublishedPart, 0),
                            *was = &g_array_index (said->parts, PublishedPart, 0);
        assert_string_equal (is->unit, "L");
        assert_ptr_equal (is->part, was->part);
        assert_ptr_equal (is->stepping, was->stepping);
        assert_ptr_equal (is->bound, was->bound);
        assert_string_equal (is->serial, "S-L");
        assert_int_equal (is->number, was->number);
        assert_int_equal (is->step, turn == 0 ? 0 : G_MAXUINT);
        batch_view_free (view);
        chain.small->question.route = NULL;
        chain_on (&chain, 350);
    }
    chain_clear (&chain);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (a_part_that_is_out_lies_beside_its_unit_no_more),
        cmocka_unit_test (it_is_out_in_every_later_plan_too),
        cmocka_unit_test (what_nobody_counts_on_lies_beside_its_unit),
        cmocka_unit_test (a_borrower_waits_for_the_unit_whose_part_it_gets),
        cmocka_unit_test (a_borrowers_record_shows_that_it_was_given),
        cmocka_unit_test (a_record_of_a_route_that_was_left_says_nothing_of_the_next),
        cmocka_unit_test (two_records_that_contradict_each_other_are_said),
        cmocka_unit_test (a_pulled_part_that_broke_is_not_one_of_the_shops),
        cmocka_unit_test (the_check_sees_what_is_not_so),
        cmocka_unit_test (the_json_says_whose_each_part_is),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
