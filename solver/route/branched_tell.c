/* SPDX-License-Identifier: MIT */
/* What a start that is tried, or a page that is read, tells of a belief's cases, and what each part of them comes to. */
#include "route/branched_search.h"

#include <string.h>

static gboolean
same_releases (const Beliefs *beliefs, const guint16 *row, guint left, guint right)
{
    return memcmp (row_case (beliefs, row, left) + 1, row_case (beliefs, row, right) + 1,
                   beliefs->n_components * sizeof (guint16)) == 0;
}

/* Some start and some don't, or those that start differ. */
gboolean
start_tells (const Beliefs *beliefs, const guint16 *row, const guint8 *starts)
{
    guint first = 0;
    while (first < row_count (row) && !starts[first])
        first++;
    for (guint i = 0; first < row_count (row) && i < row_count (row); i++)
        if (!starts[i] || !same_releases (beliefs, row, first, i))
            return TRUE;
    return FALSE;
}

static guint16
value_in (const Beliefs *beliefs, const guint16 *row, guint at, guint var)
{
    return row_case (beliefs, row, at)[1 + var - beliefs->problem->n_slots];
}

gboolean
page_tells (const Beliefs *beliefs, const guint16 *row, guint var)
{
    for (guint i = 1; i < row_count (row); i++)
        if (value_in (beliefs, row, i, var) != value_in (beliefs, row, 0, var))
            return TRUE;
    return FALSE;
}

/* Solves the marked cases by themselves and adds what they come to. FALSE: there is no plan for them. */
static gboolean
part_off (Search *search, guint32 index, const guint8 *marked, Cost cost)
{
    Beliefs *beliefs = search->beliefs;
    const guint16 *part = row_part (beliefs, node_at (search, index)->row, marked);
    Cost spent = node_at (search, index)->spent + cost;
    guint lead = cost_lead (beliefs->problem, spent), next = G_MAXUINT, weight = row_weight (beliefs, part);
    if (weight > 0 && !may_come_to (search, lead))
        return FALSE;
    const Plan *plan = plan_for_belief (
        beliefs, part, weight == 0 || search->most == G_MAXUINT ? G_MAXUINT : search->most - lead, &next);
    if (plan == NULL) {
        if (next != G_MAXUINT)
            search->next = MIN (search->next, lead + next);
        return FALSE;
    }
    Node *node = node_at (search, index);
    g_ptr_array_add (node->parts, (gpointer) plan);
    if (weight == 0)
        return TRUE;
    node->worst = MAX (node->worst, lead + plan->worst);
    node->parted = sum_plus (node->parted, sum_plus (sum_of (beliefs, spent, weight), plan->sum));
    return TRUE;
}

/* Parts off every marked case together with those that are not told from it: by the value of `var`, or, below 0, by all
 * releases. Marks are taken away. */
static gboolean
part_off_all (Search *search, guint32 index, guint8 *marked, int var, Cost cost)
{
    const Beliefs *beliefs = search->beliefs;
    const guint16 *row = node_at (search, index)->row;
    guint count = row_count (row);
    g_autofree guint8 *together = g_new (guint8, count);
    node_at (search, index)->parts = g_ptr_array_new ();
    for (guint first = 0; first < count; first++) {
        if (!marked[first])
            continue;
        memset (together, 0, count);
        for (guint i = first; i < count; i++) {
            gboolean alike =
                var < 0 ? same_releases (beliefs, row, first, i)
                        : value_in (beliefs, row, first, (guint) var) == value_in (beliefs, row, i, (guint) var);
            together[i] = marked[i] && alike;
            marked[i] = marked[i] && !together[i];
        }
        if (!part_off (search, index, together, cost))
            return FALSE;
    }
    return TRUE;
}

void
search_look_into_try (Search *search, guint32 index)
{
    Beliefs *beliefs = search->beliefs;
    const Problem *problem = beliefs->problem;
    const guint16 *row = node_at (search, index)->row;
    guint count = row_count (row), n_dark = 0;
    g_autofree guint8 *starts = g_new (guint8, count);
    g_autofree guint8 *dark = g_new (guint8, count);
    row_look (beliefs, row, starts, dark);
    for (guint i = 0; i < count; i++)
        n_dark += dark[i] = !starts[i];
    if (!part_off_all (search, index, starts, -1, problem->start_cost))
        return;
    if (n_dark == 0) {
        search_finish (search, index, NULL);
        return;
    }
    const guint16 *rest = row_part (beliefs, row, dark);
    const Node *from = node_at (search, index);
    Node node = { .kind = NODE_DARK,
                  .row = rest,
                  .spent = from->spent + problem->start_cost + beliefs->dark_cost,
                  .parted = from->parted,
                  .worst = from->worst,
                  .parent = index };
    search_reach (search, node);
}

void
search_look_into_page (Search *search, guint32 index)
{
    const Problem *problem = search->beliefs->problem;
    const Node *node = node_at (search, index);
    guint count = row_count (node->row), var = node->component;
    double minutes = board_component (problem->unit->board, problem->vars[var].index)->page.minutes;
    g_autofree guint8 *marked = g_new (guint8, count);
    memset (marked, 1, count);
    if (part_off_all (search, index, marked, (int) var, (Cost) (minutes * 10 + 0.5) * problem->weights->tenth))
        search_finish (search, index, NULL);
}
