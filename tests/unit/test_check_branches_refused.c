/* SPDX-License-Identifier: MIT */
/* For each condition of a plan with branches, a plan that breaks it alone, and the sentence that says so.
 *
 * source: docs/method.md, "Plans with branches", and check/branches.h; counts and minutes worked by hand from the file. */
#include "branches_fixture.h"

/* ---- The cases ---- */

static void
the_root_has_the_units_cases_each_once (void **fixture)
{
    const Plover *plover = *fixture;

    refused (plover, grow (plover, NULL, OLD_CASES, THEN_GIVE_UP),
             "where base began at 2.0, at the beginning: the plan leaves this case out");
    Branch *twice = grow (plover, NULL, ALL_CASES, THEN_GIVE_UP);
    add_case (plover, twice, BASE_11);
    refused (plover, twice, "where base began at 1.1, at the beginning: the plan has this case 2 times");
    Branch *foreign = grow (plover, NULL, ALL_CASES, THEN_GIVE_UP);
    add_case (plover, foreign, 7);
    refused (plover, foreign, "at the beginning: the plan has 4 cases, and the unit has 3");
}

static void
each_case_goes_on_in_one_branch (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan missing = loaner_plan (plover);

    g_ptr_array_remove_index (missing.dark->next, 0);
    refused (plover, missing.root, "where base began at 1.0, after step 2: no branch goes on");
    LoanerPlan twice = loaner_plan (plover);
    add_case (plover, twice.at_11, BASE_10);
    refused (plover, twice.root,
             "where base began at 1.0, after step 2: this case stands 2 times in the branches that go on");
    LoanerPlan foreign = loaner_plan (plover);
    add_case (plover, foreign.at_11, BASE_20);
    refused (plover, foreign.root, "after step 2: the branches that go on are for 3 cases, and 2 get there");
    LoanerPlan empty = loaner_plan (plover);
    grow (plover, empty.dark, 0, THEN_GIVE_UP);
    refused (plover, empty.root, "after step 2: a branch that goes on is for no case");
}

static void
an_end_has_nothing_after_it (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan plan = loaner_plan (plover);

    grow (plover, plan.at_10, 1 << BASE_10, THEN_END);
    refused (plover, plan.root, "after step 6: the plan ends, and has branches that go on");
    Branch *given_up = grow (plover, NULL, ALL_CASES, THEN_GIVE_UP);
    grow (plover, given_up, ALL_CASES, THEN_GIVE_UP);
    refused (plover, given_up, "at the beginning: the plan ends, and has branches that go on");
    refused (plover, grow (plover, NULL, ALL_CASES, (Then) 17), "at the beginning: it is not said what comes then");
}

/* ---- What nothing tells apart ---- */

static void
dark_cases_go_on_in_one_dark_branch (void **fixture)
{
    const Plover *plover = *fixture;
    Branch *root = grow (plover, NULL, ALL_CASES, THEN_TRY);

    grow (plover, root, 1 << BASE_20, THEN_END);
    grow_dark (plover, root, 1 << BASE_10, THEN_GIVE_UP);
    grow_dark (plover, root, 1 << BASE_11, THEN_GIVE_UP);
    refused (plover, root,
             "where base began at 1.0, at the beginning: nothing tells this from where base began at 1.1, "
             "and another branch goes on there");
    LoanerPlan light = loaner_plan (plover);
    light.dark->dark = FALSE;
    refused (plover, light.root,
             "where base began at 1.0, at the beginning: the unit stays dark, and the branch that goes "
             "on is for one that starts");
    LoanerPlan dark = loaner_plan (plover);
    dark.starts->dark = TRUE;
    refused (plover, dark.root,
             "where base began at 2.0, at the beginning: the unit starts, and the branch that goes on is "
             "for one that stayed dark");
    LoanerPlan mixed = loaner_plan (plover);
    add_case (plover, mixed.dark, BASE_20);
    g_ptr_array_remove_index (mixed.root->next, 0);
    refused (plover, mixed.root,
             "where base began at 2.0, at the beginning: the unit starts, and the branch that goes on "
             "is for one that stayed dark");
}

static void
no_branch_is_dark_unless_a_start_was_tried (void **fixture)
{
    Plover *plover = *fixture;
    LoanerPlan first = loaner_plan (plover);

    first.root->dark = TRUE;
    refused (plover, first.root,
             "at the beginning: the plan begins as if the unit had stayed dark, and no start was tried");
    give_page (plover, NULL);
    LoanerPlan page = page_plan (plover);
    page.at_11->dark = TRUE;
    refused (plover, page.root,
             "where base began at 1.1, at the beginning: a page is read, and the branch that goes on is "
             "for a unit that stayed dark");
}

/* Once 2.0 is written over 1.1 and over 2.0, a start shows 2.0 in both. */
static void
cases_that_start_with_equal_releases_go_on_together (void **fixture)
{
    const Plover *plover = *fixture;

    plover->unit->releases[plover->base].may_be[BASE_10] = FALSE;
    plover->unit->releases[plover->base].count = 2;
    for (guint apart = 0; apart < 2; apart++) {
        Branch *root = grow (plover, NULL, 1 << BASE_11 | 1 << BASE_20, THEN_TRY);

        do_step (root, step_write (plover->base, BASE_20, METHOD_CLIP));
        if (!apart)
            grow (plover, root, 1 << BASE_11 | 1 << BASE_20, THEN_END);
        for (guint release = BASE_11; apart && release <= BASE_20; release++)
            grow (plover, root, 1u << release, THEN_END);
        if (apart) {
            refused (plover, root,
                     "where base began at 1.1, after step 1: nothing tells this from where base began at "
                     "2.0, and another branch goes on there");
            continue;
        }
        g_autoptr (Branch) plan = root;
        g_autoptr (BranchCheck) checked = sound (plover, plan);
        assert_int_equal (checked->worst_steps, 1);
    }
}

/* The page of ctl says the same in all cases. */
static void
cases_of_one_page_go_on_together (void **fixture)
{
    Plover *plover = *fixture;

    ((Component *) board_component (plover->unit->board, plover->ctl))->page.there = TRUE;
    give_page (plover, NULL);
    LoanerPlan plan = page_plan (plover);
    plan.root->component = plover->ctl;
    refused (plover, plan.root,
             "where base began at 1.0, at the beginning: nothing tells this from where base began at "
             "1.1, and another branch goes on there");
}

/* ---- Whether it may be tried, or read ---- */

/* 120 W under a heat sink for 80; what harms while on keeps the unit dark too. */
static void
no_start_is_tried_that_harms (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan sink = loaner_plan (plover);
    plover->unit->fitted[plover->sink1].part = book_find_part (&plover->library->book, "low-sink");
    refused (plover, sink.root, "where base began at 1.0, at the beginning: a start is tried, and would harm the unit");
    plover->unit->fitted[plover->sink1].part = book_find_part (&plover->library->book, "high-sink");
    LoanerPlan fan = loaner_plan (plover);
    do_step (fan.root, step_fit (plover->fan1, book_find_part (&plover->library->book, "fan-hot"), OWNER_LOAN, NULL));
    refused (plover, fan.root, "where base began at 1.0, after step 1: a start is tried, and would harm the unit");
}

static void
a_page_is_read_only_where_it_can_be (void **fixture)
{
    Plover *plover = *fixture;
    const char *beginning = "where base began at 1.0, at the beginning: the page of base cannot be read";

    refused (plover, page_plan (plover).root, beginning); /* there is none */
    give_page (plover, "ctl >= 2");
    refused (plover, page_plan (plover).root, beginning);
    page_of (plover)->requires = NULL;
    plover->unit->failed[plover->base] = TRUE;
    refused (plover, page_plan (plover).root, beginning);
    plover->unit->failed[plover->base] = FALSE;
    LoanerPlan fan = page_plan (plover);
    do_step (fan.root, step_fit (plover->fan1, book_find_part (&plover->library->book, "fan-hot"), OWNER_LOAN, NULL));
    refused (plover, fan.root, "where base began at 1.0, after step 1: the page of base cannot be read");
    LoanerPlan none_such = page_plan (plover);
    none_such.root->component = 9;
    refused (plover, none_such.root,
             "at the beginning: the page of component number 9 is read, and there is none such");
}

/* ---- The steps ---- */

static void
a_step_is_allowed_in_every_case_that_gets_there (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan plan = loaner_plan (plover);

    g_array_remove_index (plan.at_10->steps, 0); /* 2.0 over 1.0 */
    refused (plover, plan.root, "where base began at 1.0, step 3: base 2.0 may be written only over base >= 1.1 ");
    LoanerPlan twice = loaner_plan (plover);
    do_step (twice.dark, step_write (plover->base, BASE_20, METHOD_HOST));
    refused (plover, twice.root, "where base began at 1.0, step 3: base 2.0 may be written only over base >= 1.1 ");
}

/* A case without a route comes along: what it forbids is forbidden. */
static void
a_step_is_allowed_in_cases_that_are_given_up_too (void **fixture)
{
    const Plover *plover = *fixture;
    Branch *root = grow (plover, NULL, ALL_CASES, THEN_TRY);

    grow (plover, root, 1 << BASE_20, THEN_END);
    Branch *dark = grow_dark (plover, root, OLD_CASES, THEN_GIVE_UP);
    do_step (dark, step_write (plover->base, BASE_20, METHOD_HOST));
    refused (plover, root, "where base began at 1.0, step 1: ");
}

static void
what_is_kept_is_kept_where_the_plan_gives_up (void **fixture)
{
    const Plover *plover = *fixture;
    Branch *root = grow (plover, NULL, ALL_CASES, THEN_GIVE_UP);

    do_step (root, step_remove (plover->sink1));
    refused (plover, root, "where base began at 1.0, step 1: sink1 is to be kept as it is");
}

static void
the_end_is_as_wanted_in_every_case (void **fixture)
{
    const Plover *plover = *fixture;
    LoanerPlan loaner = loaner_plan (plover);

    g_array_set_size (loaner.at_11->steps, 1);
    refused (plover, loaner.root, "where base began at 1.1, after step 3: at the end cpu1 holds dorvan-8 a1");
    LoanerPlan dark = loaner_plan (plover);
    g_array_remove_index (dark.at_11->steps, 0);
    refused (plover, dark.root, "where base began at 1.1, after step 4: at the end the unit is not known to start: ");
}

/* Where there is one case, no sentence names it. */
static void
a_unit_with_one_case_is_not_told_apart (void **fixture)
{
    const Plover *plover = *fixture;
    UnitRelease *known = &plover->unit->releases[plover->base];

    known->may_be[BASE_11] = known->may_be[BASE_20] = FALSE;
    known->count = 1;
    refused (plover, grow (plover, NULL, 1 << BASE_11, THEN_END), "at the beginning: the plan leaves this case out");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        PLOVER_TEST (the_root_has_the_units_cases_each_once),
        PLOVER_TEST (each_case_goes_on_in_one_branch),
        PLOVER_TEST (an_end_has_nothing_after_it),
        PLOVER_TEST (dark_cases_go_on_in_one_dark_branch),
        PLOVER_TEST (no_branch_is_dark_unless_a_start_was_tried),
        PLOVER_TEST (cases_that_start_with_equal_releases_go_on_together),
        PLOVER_TEST (cases_of_one_page_go_on_together),
        PLOVER_TEST (no_start_is_tried_that_harms),
        PLOVER_TEST (a_page_is_read_only_where_it_can_be),
        PLOVER_TEST (a_step_is_allowed_in_every_case_that_gets_there),
        PLOVER_TEST (a_step_is_allowed_in_cases_that_are_given_up_too),
        PLOVER_TEST (what_is_kept_is_kept_where_the_plan_gives_up),
        PLOVER_TEST (the_end_is_as_wanted_in_every_case),
        PLOVER_TEST (a_unit_with_one_case_is_not_told_apart),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
