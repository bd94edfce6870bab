/* SPDX-License-Identifier: MIT */
/* batch_check() refuses a batch in which anything was changed by hand.
 *
 * source: docs/batch.md, "Check"; each change is one that a bench could not carry out. */
#include "batch_units.h"

#define SHOP                                                                                                           \
    "shop: all\nlend-pulled-parts: yes\ntechnicians: 1\nstations: 2\nloaners: [{part: dorvan-8, stepping: a1, count: " \
    "1}]\n"                                                                                                            \
    "stock: [{part: elvane-12c, count: 1}, {part: sink-130c, count: 1}]\n"                                             \
    "shifts: [{days: [mon, tue, wed, thu, fri], from: 07:00, to: 15:00, breaks: [{from: 09:00, to: 09:30}]}]\n"

typedef void (*Tamper) (Batch *batch);

static void
make_it_late (Batch *batch)
{
    task_of (unit_of (batch, "D"), 4)->ends += 10;
}

static void
attend_less (Batch *batch)
{
    task_of (unit_of (batch, "D"), 0)->attended_until -= 10;
}

static void
begin_before_the_step_before (Batch *batch)
{
    BatchTask *task = task_of (unit_of (batch, "D"), 1);

    task->begins -= 20;
    task->attended_until -= 20;
    task->ends -= 20;
}

static void
shift_all (BatchUnit *unit, gint64 by)
{
    for (guint i = 0; i < unit->tasks->len; i++) {
        BatchTask *task = task_of (unit, i);

        task->begins += by;
        task->attended_until += by;
        task->ends += by;
    }
}

/* 20 hours later: 03:00 and on. */
static void
work_at_night (Batch *batch)
{
    shift_all (unit_of (batch, "L"), 12000);
}

/* So that the first task of L begins at 08:59. */
static void
work_in_the_break (Batch *batch)
{
    shift_all (unit_of (batch, "L"), 1190 - task_of (unit_of (batch, "L"), 0)->begins);
}

static void
be_everywhere_at_once (Batch *batch)
{
    BatchUnit *left = unit_of (batch, "D"), *right = unit_of (batch, "E");

    shift_all (right, task_of (left, 0)->begins - task_of (right, 0)->begins);
}

static void
use_a_third_place (Batch *batch)
{
    BatchUnit *unit = unit_of (batch, "L");

    for (guint i = 0; i < unit->tasks->len; i++)
        task_of (unit, i)->place = 2;
}

static void
change_places (Batch *batch)
{
    BatchTask *task = task_of (unit_of (batch, "D"), 2);

    task->place = 1 - task->place;
}

static void
bring_a_second_technician (Batch *batch)
{
    task_of (unit_of (batch, "D"), 0)->technician = 1;
}

static void
lend_before_it_is_pulled (Batch *batch)
{
    shift_all (unit_of (batch, "L"), 2 * 14400);
    for (guint p = 0; p < batch->parts->len; p++) {
        BatchPart *part = batch->parts->pdata[p];

        for (guint i = 0; i < part->stays->len; i++)
            if (batch->units->pdata[g_array_index (part->stays, BatchStay, i).unit] == unit_of (batch, "L"))
                g_array_index (part->stays, BatchStay, i).from += 2 * 14400;
    }
}

static void
lend_what_stays (Batch *batch)
{
    ((Unit *) unit_of (batch, "L")->unit)->own_parts_stay = TRUE;
}

static void
swap_the_part (Batch *batch)
{
    BatchUnit *unit = unit_of (batch, "D");

    task_of (unit, loaner_step (mode_of (batch, unit)))->part = -1;
}

static void
lose_a_stay (Batch *batch)
{
    g_array_remove_index (loaner_of (batch, unit_of (batch, "D"))->stays, 0);
}

static void
have_one_more_in_stock (Batch *batch)
{
    for (guint i = 0; i < batch->parts->len; i++) {
        BatchPart *part = batch->parts->pdata[i];

        part->number = part->owner == OWNER_STOCK ? 2 : part->number;
    }
}

static void
leave_out_a_step (Batch *batch)
{
    g_array_set_size (unit_of (batch, "D")->tasks, 4);
}

static void
leave_out_a_step_of_the_route (Batch *batch)
{
    BatchUnit *units[] = { unit_of (batch, "D"), unit_of (batch, "E") };

    /* The loaner stays in. */
    g_array_set_size (mode_of (batch, units[0])->steps, 3);
    for (guint i = 0; i < 2; i++)
        g_array_set_size (units[i]->tasks, 3);
}

static void
take_it_for_another_unit (Batch *batch)
{
    ((Unit *) unit_of (batch, "E")->unit)->revision++;
}

static void
call_it_done (Batch *batch)
{
    task_of (unit_of (batch, "D"), 0)->done = TRUE;
}

static void
set_aside_for_no_reason (Batch *batch)
{
    unit_of (batch, "D")->aside = ASIDE_NO_STOCK;
}

static void
everything_that_is_changed_is_found (void **state)
{
    static const struct {
        Tamper tamper;
        const char *said;
    } cases[] = {
        { make_it_late, "not as long as the step takes" },
        { attend_less, "not attended for as long" },
        { begin_before_the_step_before, "before the step before it is over" },
        { work_at_night, "not inside a shift" },
        { work_in_the_break, "during a break" },
        { be_everywhere_at_once, "at once" },
        { use_a_third_place, "one that the shop does not have" },
        { change_places, "changes its bench place" },
        { bring_a_second_technician, "one that the shop does not have" },
        { lend_before_it_is_pulled, "before L has given it" },
        { lend_what_stays, "stays with L" },
        { swap_the_part, "not the part that its route says" },
        { lose_a_stay, "not where the steps of" },
        { have_one_more_in_stock, "in the shop" },
        { leave_out_a_step, "one task for each step" },
        { leave_out_a_step_of_the_route, "step 4" },
        { take_it_for_another_unit, "not as the unit for which its route was found" },
        { call_it_done, "done before it can be" },
        { set_aside_for_no_reason, "set aside" },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
        g_autoptr (SmallBatch) small = small_batch (SHOP, DARK ("D", "") DARK ("E", "") LARGER ("L", ""));
        Batch *batch = small_batch_plan (small);
        g_autofree char *sound = batch_check (&small->question, batch);

        assert_int_equal (batch->aside, 0);
        assert_null (sound);
        cases[i].tamper (batch);
        g_autofree char *wrong = batch_check (&small->question, batch);
        if (wrong == NULL || strstr (wrong, cases[i].said) == NULL)
            fail_msg ("case %u: \"%s\" is not \"%s\"", i, wrong != NULL ? wrong : "nothing", cases[i].said);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test (everything_that_is_changed_is_found) };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
