/* SPDX-License-Identifier: MIT */
/* What tests of plans with branches have in common: the plover of check-branches.yaml, and plans for it built by hand. */
#ifndef RUNGWISE_BRANCHES_FIXTURE_H
#define RUNGWISE_BRANCHES_FIXTURE_H

#include "check_fixture.h"

#include "check/branches.h"

enum { MOST = 16 };

/* Indices of releases of `base`; the unit has one of the three, and `ctl` 1. */
enum { BASE_10, BASE_11, BASE_20 };

/* All but `library` borrowed from it. */
typedef struct {
    Library *library; /* owned */
    Unit *unit;
    Shop *shop;
    Want *want;
    guint cpu1, sink1, fan1, base, ctl;
    const Part *elvane, *dorvan;
    Expr *page_requires; /* owned */
} Plover;

static inline int
plover_set_up (void **fixture)
{
    Plover *plover = g_new0 (Plover, 1);
    Library *library = plover->library = fixture_load ("check-branches.yaml");

    plover->unit = library->units->pdata[0];
    plover->shop = library->shops->pdata[0];
    plover->want = library->wants->pdata[0];
    const Board *board = plover->unit->board;
    plover->cpu1 = fixture_slot (board, "cpu1");
    plover->sink1 = fixture_slot (board, "sink1");
    plover->fan1 = fixture_slot (board, "fan1");
    plover->base = (guint) board_find_component (board, "base");
    plover->ctl = (guint) board_find_component (board, "ctl");
    plover->elvane = book_find_part (&library->book, "elvane-14");
    plover->dorvan = book_find_part (&library->book, "dorvan-8");
    if (plover->unit->failed == NULL)
        plover->unit->failed = g_new0 (gboolean, board->components->len);
    *fixture = plover;
    return 0;
}

static inline ReadPage *
page_of (const Plover *plover)
{
    return &((Component *) board_component (plover->unit->board, plover->base))->page;
}

static inline int
plover_tear_down (void **fixture)
{
    Plover *plover = *fixture;

    if (plover->page_requires != NULL)
    page_of (plover)->requires = NULL;
    expression_free (plover->page_requires);
    library_free (plover->library);
    g_free (plover);
    return 0;
}

#define PLOVER_TEST(name) cmocka_unit_test_setup_teardown (name, plover_set_up, plover_tear_down)

/* ---- Building plans ---- */

static inline void
add_case (const Plover *plover, Branch *branch, guint base_release)
{
    guint releases[2] = { 0, 0 };

    releases[plover->base] = base_release;
    g_ptr_array_add (branch->cases, branch_case_copy (releases, 2));
}

/* `cases`: bits of releases of base. Transfer none to `after`, which owns it; full without. */
static inline Branch *
grow (const Plover *plover, Branch *after, guint cases, Then then)
{
    Branch *branch = branch_new ();

    branch->then = then;
    branch->component = then == THEN_READ ? plover->base : 0;
    for (guint release = BASE_10; release <= BASE_20; release++)
        if ((cases & 1u << release) != 0)
            add_case (plover, branch, release);
    if (after != NULL)
        g_ptr_array_add (after->next, branch);
    return branch;
}

static inline Branch *
grow_dark (const Plover *plover, Branch *after, guint cases, Then then)
{
    Branch *branch = grow (plover, after, cases, then);

    branch->dark = TRUE;
    return branch;
}

static inline void
do_step (Branch *branch, Step step)
{
    g_array_append_val (branch->steps, step);
}

static inline Step
fit_b1 (const Plover *plover)
{
    Step step = step_fit (plover->cpu1, plover->elvane, OWNER_UNIT, NULL);

    step.stepping = g_intern_string ("b1");
    return step;
}

static inline Step
fit_dorvan (const Plover *plover)
{
    Step step = step_fit (plover->cpu1, plover->dorvan, OWNER_LOAN, NULL);

    step.stepping = g_intern_string ("a1");
    return step;
}

static inline void
do_writes_and_put_back (const Plover *plover, Branch *branch, guint from)
{
    for (guint release = from + 1; release <= BASE_20; release++)
        do_step (branch, step_write (plover->base, release, METHOD_HOST));
    do_step (branch, step_remove (plover->cpu1));
    do_step (branch, fit_b1 (plover));
}

enum { ALL_CASES = 1 << BASE_10 | 1 << BASE_11 | 1 << BASE_20, OLD_CASES = 1 << BASE_10 | 1 << BASE_11 };

/* The start is tried as the unit is; where it stays dark, again with the loaner, which shows the release. */
typedef struct {
    Branch *root;                          /* owned */
    Branch *starts, *dark, *at_10, *at_11; /* borrowed from it */
} LoanerPlan;

static inline LoanerPlan
loaner_plan (const Plover *plover)
{
    LoanerPlan plan = { .root = grow (plover, NULL, ALL_CASES, THEN_TRY) };

    plan.starts = grow (plover, plan.root, 1 << BASE_20, THEN_END);
    plan.dark = grow_dark (plover, plan.root, OLD_CASES, THEN_TRY);
    do_step (plan.dark, step_remove (plover->cpu1));
    do_step (plan.dark, fit_dorvan (plover));
    plan.at_10 = grow (plover, plan.dark, 1 << BASE_10, THEN_END);
    do_writes_and_put_back (plover, plan.at_10, BASE_10);
    plan.at_11 = grow (plover, plan.dark, 1 << BASE_11, THEN_END);
    do_writes_and_put_back (plover, plan.at_11, BASE_11);
    return plan;
}

/* A page shows the release at once. */
static inline void
give_page (Plover *plover, const char *requires)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    ReadPage *page = page_of (plover);

    page->there = TRUE;
    page->minutes = 3;
    if (requires == NULL)
        return;
    plover->page_requires = page->requires = expression_parse (requires, (Mark){ 0 }, NULL, complaints);
    assert_int_equal (complaints_count (complaints), 0);
}

static inline LoanerPlan
page_plan (const Plover *plover)
{
    LoanerPlan plan = { .root = grow (plover, NULL, ALL_CASES, THEN_READ) };

    for (guint release = BASE_10; release <= BASE_20; release++) {
        Branch *branch = grow (plover, plan.root, 1u << release, THEN_END);

        if (release == BASE_20)
            continue;
        do_step (branch, step_remove (plover->cpu1));
        do_step (branch, fit_dorvan (plover));
        do_writes_and_put_back (plover, branch, release);
    }
    plan.at_10 = plan.root->next->pdata[BASE_10];
    plan.at_11 = plan.root->next->pdata[BASE_11];
    plan.starts = plan.root->next->pdata[BASE_20];
    return plan;
}

/* ---- What is said of them ---- */

static inline BranchCheck *
check (const Plover *plover, const Branch *plan)
{
    BranchCheck *checked = check_branches (plover->library, plover->shop, plover->unit, plover->want, plan, MOST);

    assert_non_null (checked);
    return checked;
}

static inline BranchCheck *
sound (const Plover *plover, const Branch *plan)
{
    BranchCheck *checked = check (plover, plan);

    if (!checked->sound)
        fail_msg ("refused: %s", checked->why);
    assert_null (checked->why);
    return checked;
}

/* The plan is freed. `why`: how the sentence begins, all of it where it says nothing of files. */
static inline void
refused (const Plover *plover, Branch *root, const char *why)
{
    g_autoptr (Branch) plan = root;
    g_autoptr (BranchCheck) checked = check (plover, plan);

    assert_false (checked->sound);
    assert_int_equal (checked->costs->len, 0);
    if (!g_str_has_prefix (checked->why, why))
        fail_msg ("said: %s\ninstead of: %s", checked->why, why);
}

static inline void
assert_cost (const BranchCheck *checked, guint case_index, BranchCost expected)
{
    const BranchCost *cost = &g_array_index (checked->costs, BranchCost, case_index);

    assert_int_equal (cost->given_up, expected.given_up);
    assert_int_equal (cost->steps, expected.steps);
    assert_int_equal (cost->insertions, expected.insertions);
    assert_int_equal (cost->tries, expected.tries);
    assert_int_equal (cost->dark_tries, expected.dark_tries);
    assert_int_equal (cost->reads, expected.reads);
    assert_float_equal (cost->minutes, expected.minutes, 1e-9);
}

#endif
