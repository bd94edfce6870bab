/* SPDX-License-Identifier: MIT */
/* The walk of all cases through a plan with branches, in each of them by the same checker as any route. */
#include "check/branches_parts.h"

static BranchCost *
cost_of (PlanWalk *walk, const Standing *standing)
{
    return &g_array_index (walk->costs, BranchCost, standing->index);
}

/* Every step is allowed; the end may be any, but what the want keeps is kept all the way. */
static gboolean
steps_are_allowed (const Walk *walked, const GArray *steps)
{
    return walked->sound || walked->first_bad == steps->len;
}

static gboolean
walk_steps (PlanWalk *walk, const Branch *branch, GPtrArray *standings)
{
    for (guint i = 0; i < standings->len; i++) {
        Standing *standing = standings->pdata[i];
        g_autoptr (Walk) walked = check_walk (walk->library, walk->shop, walk->want, standing->state, branch->steps);

        if (!steps_are_allowed (walked, branch->steps))
            return plan_refuse_step (walk, standing->index, walk->path->len + walked->first_bad + 1, walked->why);
        state_free (standing->state);
        standing->state = g_steal_pointer (&walked->last);
    }
    g_array_append_vals (walk->path, branch->steps->data, branch->steps->len);
    return TRUE;
}

/* The whole way of each case once more: what the work began with is asked at the end, and counted all along. */
static gboolean
ends (PlanWalk *walk, const GPtrArray *standings, gboolean given_up)
{
    for (guint i = 0; i < standings->len; i++) {
        const Standing *standing = standings->pdata[i];
        BranchCost *cost = cost_of (walk, standing);
        g_autoptr (State) start = state_from_unit (walk->unit, walk->cases->pdata[standing->index]);
        g_autoptr (Walk) walked = check_walk (walk->library, walk->shop, walk->want, start, walk->path);

        g_assert (steps_are_allowed (walked, walk->path)); /* they were walked branch by branch */
        if (!walked->sound && !given_up)
            return plan_refuse_case (walk, standing->index, "%s", walked->why);
        cost->given_up = given_up;
        cost->steps = walked->steps;
        cost->insertions = walked->insertions;
        cost->minutes += walked->minutes;
    }
    return TRUE;
}

static gboolean
tries (PlanWalk *walk, GPtrArray *standings)
{
    double wait = shop_dark_after_minutes (walk->shop, walk->unit->board);

    for (guint i = 0; i < standings->len; i++) {
        Standing *standing = standings->pdata[i];
        BranchCost *cost = cost_of (walk, standing);

        if (!start_can_be_tried (walk->library, walk->shop, standing->state))
            return plan_refuse_case (walk, standing->index, "a start is tried, and would harm the unit");
        standing->starts = state_starts (walk->library, walk->shop, standing->state);
        cost->tries++;
        cost->minutes += walk->shop->start_minutes;
        if (standing->starts)
            continue;
        cost->dark_tries++;
        cost->minutes += wait;
    }
    return TRUE;
}

static gboolean
reads (PlanWalk *walk, guint component, GPtrArray *standings)
{
    if (component >= walk->unit->board->components->len)
        return plan_refuse (walk, "the page of component number %u is read, and there is none such", component);
    const Component *read = board_component (walk->unit->board, component);
    for (guint i = 0; i < standings->len; i++) {
        Standing *standing = standings->pdata[i];
        BranchCost *cost = cost_of (walk, standing);

        if (!page_can_be_read (walk->library, walk->shop, standing->state, component))
            return plan_refuse_case (walk, standing->index, "the page of %s cannot be read", read->name);
        cost->reads++;
        cost->minutes += read->page.minutes;
    }
    return TRUE;
}

/* Takes the cases of one of the branches out of `standings`. Transfer full. */
static GPtrArray *
take_those_of (GPtrArray *standings, guint next)
{
    GPtrArray *taken = standings_new ();

    for (guint i = 0; i < standings->len;)
        if (((const Standing *) standings->pdata[i])->next == next)
            g_ptr_array_add (taken, g_ptr_array_steal_index (standings, i));
        else
            i++;
    return taken;
}

static gboolean
goes_on (PlanWalk *walk, const Branch *branch, GPtrArray *standings)
{
    if (!plan_parts_cases (walk, branch, standings) || !plan_keeps_alike_together (walk, branch, standings))
        return FALSE;
    for (guint i = 0; i < branch->next->len; i++) {
        g_autoptr (GPtrArray) those = take_those_of (standings, i);

        if (!plan_walk_branch (walk, branch->next->pdata[i], those))
            return FALSE;
    }
    return TRUE;
}

static gboolean
walk_what_then (PlanWalk *walk, const Branch *branch, GPtrArray *standings)
{
    switch (branch->then) {
    case THEN_TRY:
        return tries (walk, standings) && goes_on (walk, branch, standings);
    case THEN_READ:
        return reads (walk, branch->component, standings) && goes_on (walk, branch, standings);
    case THEN_END:
    case THEN_GIVE_UP:
        if (branch->next->len > 0)
            return plan_refuse (walk, "the plan ends, and has branches that go on");
        return ends (walk, standings, branch->then == THEN_GIVE_UP);
    }
    return plan_refuse (walk, "it is not said what comes then");
}

gboolean
plan_walk_branch (PlanWalk *walk, const Branch *branch, GPtrArray *standings)
{
    guint before = walk->path->len;

    if (!walk_steps (walk, branch, standings) || !walk_what_then (walk, branch, standings))
        return FALSE;
    g_array_set_size (walk->path, before);
    return TRUE;
}
