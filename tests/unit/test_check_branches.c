/* SPDX-License-Identifier: MIT */
/* Sound plans with branches and what they cost; when a page may be read and a start be tried.
 *
 * source: docs/method.md, "Plans with branches", and check/branches.h; counts and minutes worked by hand from the file. */
#include "branches_fixture.h"

/* ---- Sound plans ---- */

/* 1.0: opening 6, out 2, in 3, two writes of 5 after a start of 5, opening 6, out 2, in 3, last start 5: 42; two tries of 5,
 * one dark for the board's 12: 64. 1.1 is one write less. 2.0: the walk of no step takes nothing; one try. */
static void
starts_that_are_tried_are_sound_and_counted (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan plan = loaner_plan (plover);
    g_autoptr (Branch) root = plan.root;
    g_autoptr (BranchCheck) checked = sound (plover, root);

    assert_int_equal (checked->costs->len, 3);
    assert_cost (checked, BASE_10,
                 (BranchCost){ .steps = 6, .insertions = 2, .tries = 2, .dark_tries = 1, .minutes = 64 });
    assert_cost (checked, BASE_11,
                 (BranchCost){ .steps = 5, .insertions = 2, .tries = 2, .dark_tries = 1, .minutes = 59 });
    assert_cost (checked, BASE_20, (BranchCost){ .tries = 1, .minutes = 5 });
    assert_int_equal (checked->worst_steps, 6);
    assert_float_equal (checked->expected_steps, 11.0 / 3, 1e-9);
    assert_float_equal (checked->worst_minutes, 64, 1e-9);
    assert_float_equal (checked->expected_minutes, 128.0 / 3, 1e-9);
    assert_int_equal (checked->given_up, 0);
    assert_ptr_equal (g_array_index (checked->costs, BranchCost, BASE_20).releases, root->cases->pdata[2]);
}

static void
the_shop_says_how_long_to_wait_where_the_board_does_not (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan plan = loaner_plan (plover);
    g_autoptr (Branch) root = plan.root;

    ((Board *) plover->unit->board)->dark_after_minutes = 0;
    g_autoptr (BranchCheck) checked = sound (plover, root);
    assert_float_equal (checked->worst_minutes, 64 - 12 + 7, 1e-9);
}

static void
a_page_that_is_read_is_sound_and_counted (void **fixture)
{
    Plover *plover = *fixture;

    give_page (plover, "ctl >= 1");
    LoanerPlan plan = page_plan (plover);
    g_autoptr (Branch) root = plan.root;
    g_autoptr (BranchCheck) checked = sound (plover, root);
    assert_cost (checked, BASE_10, (BranchCost){ .steps = 6, .insertions = 2, .reads = 1, .minutes = 45 });
    assert_cost (checked, BASE_20, (BranchCost){ .reads = 1, .minutes = 3 });
}

/* Without the loaner there is nothing to be done for 1.0 and 1.1; they count for nothing. */
static void
giving_up_is_sound_and_costs_nothing (void **fixture)
{
    const Plover *plover = *fixture;
    g_autoptr (Branch) root = grow (plover, NULL, ALL_CASES, THEN_TRY);

    grow (plover, root, 1 << BASE_20, THEN_END);
    Branch *dark = grow_dark (plover, root, OLD_CASES, THEN_GIVE_UP);
    do_step (dark, step_remove (plover->cpu1));
    g_autoptr (BranchCheck) checked = sound (plover, root);
    assert_int_equal (checked->given_up, 2);
    assert_int_equal (checked->worst_steps, 0);
    assert_float_equal (checked->expected_minutes, 5, 1e-9);
    assert_true (g_array_index (checked->costs, BranchCost, BASE_10).given_up);
    assert_int_equal (g_array_index (checked->costs, BranchCost, BASE_10).steps, 1);
}

static void
a_plan_that_gives_every_case_up_is_sound (void **fixture)
{
    const Plover *plover = *fixture;
    g_autoptr (Branch) root = grow (plover, NULL, ALL_CASES, THEN_GIVE_UP);
    g_autoptr (BranchCheck) checked = sound (plover, root);

    assert_int_equal (checked->given_up, 3);
    assert_float_equal (checked->expected_steps, 0, 0);
}

/* By clip any release may be written over any. */
static void
one_branch_for_all_is_a_route (void **fixture)
{
    const Plover *plover = *fixture;
    g_autoptr (Branch) root = grow (plover, NULL, ALL_CASES, THEN_END);

    do_step (root, step_write (plover->base, BASE_20, METHOD_CLIP));
    g_autoptr (BranchCheck) checked = sound (plover, root);
    assert_int_equal (checked->worst_steps, 1);
    assert_float_equal (checked->worst_minutes, 6 + 20 + 5, 1e-9);
}

/* What is shown may be left unused: 1.0 and 1.1 start apart, and are written by clip alike. */
static void
cases_that_are_told_apart_may_go_on_together (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan plan = loaner_plan (plover);
    g_autoptr (Branch) root = plan.root;

    g_ptr_array_set_size (plan.dark->next, 0);
    Branch *both = grow (plover, plan.dark, OLD_CASES, THEN_END);
    do_step (both, step_write (plover->base, BASE_20, METHOD_CLIP));
    do_step (both, step_remove (plover->cpu1));
    do_step (both, fit_b1 (plover));
    g_autoptr (BranchCheck) checked = sound (plover, root);
    assert_int_equal (checked->worst_steps, 5);
}

static void
more_cases_than_asked_for_are_not_looked_at (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan plan = loaner_plan (plover);
    g_autoptr (Branch) root = plan.root;

    assert_null (check_branches (plover->library, plover->shop, plover->unit, plover->want, root, 2));
}

/* ---- Whether it may be tried, or read ---- */

/* A heat sink that is too small harms while on alone: the page may be read, a start not be tried. */
static void
a_page_asks_nothing_of_what_harms_while_on (void **fixture)
{
    Plover *plover = *fixture;
    g_autoptr (State) state = state_from_unit (plover->unit, NULL);

    give_page (plover, NULL);
    assert_true (page_can_be_read (plover->library, plover->shop, state, plover->base));
    assert_false (page_can_be_read (plover->library, plover->shop, state, plover->ctl));
    assert_true (start_can_be_tried (plover->library, plover->shop, state));
    state->held[plover->sink1].part = book_find_part (&plover->library->book, "low-sink");
    assert_true (page_can_be_read (plover->library, plover->shop, state, plover->base));
    assert_false (start_can_be_tried (plover->library, plover->shop, state));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        PLOVER_TEST (starts_that_are_tried_are_sound_and_counted),
        PLOVER_TEST (the_shop_says_how_long_to_wait_where_the_board_does_not),
        PLOVER_TEST (a_page_that_is_read_is_sound_and_counted),
        PLOVER_TEST (giving_up_is_sound_and_costs_nothing),
        PLOVER_TEST (a_plan_that_gives_every_case_up_is_sound),
        PLOVER_TEST (one_branch_for_all_is_a_route),
        PLOVER_TEST (cases_that_are_told_apart_may_go_on_together),
        PLOVER_TEST (more_cases_than_asked_for_are_not_looked_at),
        PLOVER_TEST (a_page_asks_nothing_of_what_harms_while_on),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
