/* SPDX-License-Identifier: MIT */
/* A plan with branches as one way: that of its worst case. */
#include "batch/plan.h"

#include "route/branched.h"

/* More steps, then more minutes. */
static gboolean
is_worse (const BranchCost *cost, const BranchCost *than)
{
    return than == NULL || cost->steps > than->steps || (cost->steps == than->steps && cost->minutes > than->minutes);
}

static const BranchCost *
worst_case (const BranchCheck *check)
{
    const BranchCost *worst = NULL;

    for (guint i = 0; i < check->costs->len; i++) {
        const BranchCost *cost = &g_array_index (check->costs, BranchCost, i);

        if (!cost->given_up && is_worse (cost, worst))
            worst = cost;
    }
    return worst;
}

/* What only another way borrows is in no timetable, so no other unit can be counted on for it. */
static gboolean
shop_has_the_rest (const Shop *shop, const BatchMode *mode)
{
    g_autoptr (GArray) most = mode_most (mode, OWNER_LOAN);

    for (guint i = 0; i < mode->branching->lent->len; i++) {
        const Lot *beyond = &g_array_index (mode->branching->lent, Lot, i);
        guint needed = 0, there = 0;

        for (guint k = 0; k < most->len; k++)
            if (lot_is_like (&g_array_index (most, Lot, k), beyond))
                needed = g_array_index (most, Lot, k).count;
        for (guint k = 0; k < shop->lots->len; k++)
            if (lot_is_like (&g_array_index (shop->lots, Lot, k), beyond))
                there += g_array_index (shop->lots, Lot, k).count;
        if (there < needed)
            return FALSE;
    }
    return TRUE;
}

BatchMode *
mode_of_branches (const BatchQuestion *question, const Shop *shelf, const Unit *unit, const Want *want,
                  const RouteAnswer *answer)
{
    const BranchCost *worst = worst_case (answer->branches->check);
    guint n_components = unit->board->components->len;
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));
    BatchMode *mode = NULL;

    if (worst == NULL)
        return NULL;
    for (const Branch *at = answer->branches->plan; at != NULL; at = branch_next_for (at, worst->releases, n_components))
        g_array_append_vals (steps, at->steps->data, at->steps->len);
    mode = batch_mode_new (question, shelf, unit, want, steps, worst->releases);
    if (mode == NULL)
        return NULL;
    mode->answer = answer;
    mode->claim = CLAIM_BRANCHES;
    branching_new (question->shop, unit, mode, worst);
    if (!shop_has_the_rest (question->shop, mode))
        g_clear_pointer (&mode, batch_mode_free);
    return mode;
}
