/* SPDX-License-Identifier: MIT */
/* Plans with branches: the tree itself, when a start or a page may be asked, and what a sound plan costs. */
#include "check/branches.h"

#include "check/branches_parts.h"
#include "check/offers.h"

static void
branch_unref (gpointer data)
{
    branch_free (data);
}

Branch *
branch_new (void)
{
    Branch *branch = g_new0 (Branch, 1);

    branch->cases = g_ptr_array_new_with_free_func (g_free);
    branch->steps = g_array_new (FALSE, FALSE, sizeof (Step));
    branch->then = THEN_END;
    branch->next = g_ptr_array_new_with_free_func (branch_unref);
    return branch;
}

void
branch_free (Branch *branch)
{
    if (branch == NULL)
        return;
    g_ptr_array_unref (branch->cases);
    g_array_unref (branch->steps);
    g_ptr_array_unref (branch->next);
    g_free (branch);
}

guint *
branch_case_copy (const guint *releases, guint n_components)
{
    return g_memdup2 (releases, n_components * sizeof (guint));
}

/* Nothing that is broken harms under one of `powers`. */
static gboolean
may_be_powered (const Library *library, const Shop *shop, const State *state, guint powers)
{
    g_autoptr (GPtrArray) broken = check_state (library, shop, state);

    for (guint i = 0; i < broken->len; i++) {
        const Broken *one = broken->pdata[i];

        if (one->breaking == BREAKING_HARMS && (one->powers & powers) != 0)
            return FALSE;
    }
    return TRUE;
}

gboolean
page_can_be_read (const Library *library, const Shop *shop, const State *state, guint component)
{
    g_return_val_if_fail (component < state->board->components->len, FALSE);
    const ReadPage *page = &board_component (state->board, component)->page;

    if (!page->there || state->failed[component])
        return FALSE;
    g_autoptr (GArray) offers = offers_of_state (state);
    return (page->requires == NULL || offers_satisfy (state->board, offers, page->requires)) &&
           may_be_powered (library, shop, state, POWER_STANDBY);
}

gboolean
start_can_be_tried (const Library *library, const Shop *shop, const State *state)
{
    return may_be_powered (library, shop, state, POWER_ON | POWER_STANDBY);
}

static gboolean
walk_plan (PlanWalk *walk, const Branch *plan)
{
    g_autoptr (GPtrArray) standings = standings_new ();

    if (plan->dark)
        return plan_refuse (walk, "the plan begins as if the unit had stayed dark, and no start was tried");
    return plan_begins_with_all_cases (walk, plan, standings) && plan_walk_branch (walk, plan, standings);
}

/* Each case points to the plan's own copy of its releases, which outlives the check. */
static const guint *
find_case (const PlanWalk *walk, const Branch *plan, guint index)
{
    for (guint i = 0; i < plan->cases->len; i++)
        if (plan_is_case (walk, index, plan->cases->pdata[i]))
            return plan->cases->pdata[i];
    g_assert_not_reached (); /* the root holds every case */
}

static void
sum_up (BranchCheck *check)
{
    guint served = 0;

    for (guint i = 0; i < check->costs->len; i++) {
        const BranchCost *cost = &g_array_index (check->costs, BranchCost, i);

        if (cost->given_up) {
            check->given_up++;
            continue;
        }
        served++;
        check->worst_steps = MAX (check->worst_steps, cost->steps);
        check->worst_minutes = MAX (check->worst_minutes, cost->minutes);
        check->expected_steps += cost->steps;
        check->expected_minutes += cost->minutes;
    }
    if (served == 0)
        return;
    check->expected_steps /= served;
    check->expected_minutes /= served;
}

BranchCheck *
check_branches (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const Branch *plan,
                guint most)
{
    g_autoptr (GPtrArray) cases = unit_cases (unit, most);

    if (cases == NULL)
        return NULL;
    g_autoptr (GArray) path = g_array_new (FALSE, FALSE, sizeof (Step));
    BranchCheck *check = g_new0 (BranchCheck, 1);
    check->costs = g_array_new (FALSE, TRUE, sizeof (BranchCost));
    g_array_set_size (check->costs, cases->len);
    PlanWalk walk = { library, shop, unit, want, cases, check->costs, path, NULL };

    check->sound = walk_plan (&walk, plan);
    check->why = walk.why;
    g_assert (check->sound == (check->why == NULL));
    if (!check->sound) {
        g_array_set_size (check->costs, 0);
        return check;
    }
    for (guint i = 0; i < cases->len; i++)
        g_array_index (check->costs, BranchCost, i).releases = find_case (&walk, plan, i);
    sum_up (check);
    return check;
}

void
branch_check_free (BranchCheck *check)
{
    if (check == NULL)
        return;
    g_free (check->why);
    g_array_unref (check->costs);
    g_free (check);
}
