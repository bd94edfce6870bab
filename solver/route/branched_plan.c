/* SPDX-License-Identifier: MIT */
/* From plans of the search to a tree that people read: steps for moves, and no more branches than there are ways. */
#include "route/branched_parts.h"
#include "route/moves.h"
#include "route/route_parts.h"

#include <string.h>

/* ---- Cases ---- */

typedef struct {
    guint n_components;
} CaseOrder;

static int
by_releases (gconstpointer left, gconstpointer right, gpointer data)
{
    const guint *one = *(guint *const *) left, *other = *(guint *const *) right;
    const CaseOrder *order = data;
    for (guint c = 0; c < order->n_components; c++)
        if (one[c] != other[c])
            return one[c] < other[c] ? -1 : 1;
    return 0;
}

static void
sort_cases (GPtrArray *cases, guint n_components)
{
    CaseOrder order = { n_components };
    g_ptr_array_sort_with_data (cases, by_releases, &order);
}

static void
add_cases (const Beliefs *beliefs, const guint16 *row, GPtrArray *cases)
{
    for (guint i = 0; i < row_count (row); i++) {
        const GPtrArray *of = row_class (beliefs, row, i)->cases;
        for (guint c = 0; c < of->len; c++)
            g_ptr_array_add (cases, branch_case_copy (of->pdata[c], beliefs->n_components));
    }
    sort_cases (cases, beliefs->n_components);
}

/* ---- One branch for several that are alike ---- */

static gboolean
ends_alike (const Branch *left, const Branch *right)
{
    return left->next->len == 0 && right->next->len == 0 && left->then == right->then &&
           route_steps_equal (left->steps, right->steps);
}

static void
take_cases (Branch *branch, Branch *from, guint n_components)
{
    while (from->cases->len > 0)
        g_ptr_array_add (branch->cases, g_ptr_array_steal_index (from->cases, from->cases->len - 1));
    sort_cases (branch->cases, n_components);
}

static void
merge_alike (GPtrArray *next, guint n_components)
{
    for (guint i = 0; i < next->len; i++)
        for (guint j = next->len; j-- > i + 1;) {
            Branch *one = next->pdata[i], *other = next->pdata[j];
            if (one->dark != other->dark || !ends_alike (one, other))
                continue;
            take_cases (one, other, n_components);
            g_ptr_array_remove_index (next, j);
        }
}

/* All ways from here are one: nothing need be read for it. */
static void
drop_idle_reading (Branch *branch)
{
    for (guint i = 0; i < branch->next->len; i++)
        if (!ends_alike (branch->next->pdata[0], branch->next->pdata[i]))
            return;
    if (branch->next->len == 0)
        return;
    const Branch *only = branch->next->pdata[0];
    g_array_append_vals (branch->steps, only->steps->data, only->steps->len);
    branch->then = only->then;
    g_ptr_array_set_size (branch->next, 0);
}

/* ---- Steps ---- */

static GArray *
steps_of (Beliefs *beliefs, const Plan *plan)
{
    g_autoptr (GArray) moves = g_array_new (FALSE, FALSE, sizeof (Move));
    g_array_append_vals (moves, plan->moves->data, plan->moves->len);
    beliefs_move_start (beliefs, plan->row, 0);
    if (plan->known && moves->len > 0)
        moves_order (beliefs->problem, moves);
    return moves_to_steps (beliefs->problem, moves);
}

Branch *
plan_to_branch (Beliefs *beliefs, const Plan *plan)
{
    const Problem *problem = beliefs->problem;
    Branch *branch = branch_new ();
    g_array_unref (branch->steps);
    branch->steps = steps_of (beliefs, plan);
    branch->then = plan->then;
    branch->dark = plan->dark;
    branch->component = plan->then == THEN_READ ? problem->vars[plan->component].index : 0;
    add_cases (beliefs, plan->row, branch->cases);
    for (guint i = 0; i < plan->next->len; i++)
        g_ptr_array_add (branch->next, plan_to_branch (beliefs, plan->next->pdata[i]));
    merge_alike (branch->next, beliefs->n_components);
    drop_idle_reading (branch);
    return branch;
}
