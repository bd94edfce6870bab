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

static gboolean
branch_has_case (const Branch *branch, const guint *releases, guint n_components)
{
    for (guint i = 0; i < branch->cases->len; i++)
        if (memcmp (branch->cases->pdata[i], releases, n_components * sizeof (guint)) == 0)
            return TRUE;
    return FALSE;
}

static const Branch *
next_with_case (const Branch *branch, const guint *releases, guint n_components)
{
    for (guint i = 0; i < branch->next->len; i++)
        if (branch_has_case (branch->next->pdata[i], releases, n_components))
            return branch->next->pdata[i];
    return NULL;
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
    for (const Branch *at = answer->branches->plan; at != NULL; at = next_with_case (at, worst->releases, n_components))
        g_array_append_vals (steps, at->steps->data, at->steps->len);
    mode = batch_mode_new (question, shelf, unit, want, steps, worst->releases);
    if (mode == NULL)
        return NULL;
    mode->answer = answer;
    mode->claim = CLAIM_BRANCHES;
    return mode;
}
