/* SPDX-License-Identifier: MIT */
#include "route/bound_parts.h"
#include "route/heap.h"

#include <string.h>

typedef struct {
    guint from, to;
    Cost cost;
} Edge;

struct Joint {
    const Problem *problem; /* borrowed */
    GArray *members;        /* guint; owned */
    guint *stride;          /* owned; per member */
    guint n_states;
    GArray *edges; /* Edge, sorted by target; owned */
    guint *first;  /* owned; per state: its first edge as a target */
};

guint
joint_index (const Joint *joint, const guint16 *values)
{
    guint index = 0;
    for (guint i = 0; i < joint->members->len; i++)
        index += joint->stride[i] * values[g_array_index (joint->members, guint, i)];
    return index;
}

static void
decode (const Joint *joint, guint state, guint16 *values)
{
    for (guint i = 0; i < joint->members->len; i++) {
        guint v = g_array_index (joint->members, guint, i);
        values[v] = (guint16) (state / joint->stride[i] % joint->problem->vars[v].size);
    }
}

static gboolean
is_member (const Joint *joint, guint var)
{
    for (guint i = 0; i < joint->members->len; i++)
        if (g_array_index (joint->members, guint, i) == var)
            return TRUE;
    return FALSE;
}

/* The clauses that are about members alone. Transfer container. */
static GPtrArray *
wholly_inside (const Joint *joint, const GPtrArray *const *lists, guint n)
{
    GPtrArray *inside = g_ptr_array_new ();
    for (guint i = 0; i < n; i++)
        for (guint c = 0; lists[i] != NULL && c < lists[i]->len; c++) {
            const Clause *clause = lists[i]->pdata[c];
            gboolean all = TRUE;
            for (guint l = 0; l < clause->count; l++)
                all = all && is_member (joint, clause->literals[l].var);
            if (all)
                g_ptr_array_add (inside, lists[i]->pdata[c]);
        }
    return inside;
}

static void
add_edges_of (Joint *joint, const Write *write)
{
    const Problem *problem = joint->problem;
    const GPtrArray *lists[] = { write->before, problem->bars[write->method],
                                 write->start_before ? problem->start : NULL,
                                 write->standby_quiet ? problem->standby : NULL };
    g_autoptr (GPtrArray) asked = wholly_inside (joint, lists, G_N_ELEMENTS (lists));
    g_autofree guint16 *values = problem_initial_values (problem);
    gboolean sets = FALSE;
    for (guint e = 0; e < write->effects->len; e++)
        sets = sets || is_member (joint, g_array_index (write->effects, Effect, e).var);
    for (guint state = 0; sets && state < joint->n_states; state++) {
        decode (joint, state, values);
        if (!clauses_hold (asked, values))
            continue;
        for (guint e = 0; e < write->effects->len; e++)
            values[g_array_index (write->effects, Effect, e).var] =
                (guint16) g_array_index (write->effects, Effect, e).value;
        Edge edge = { state, joint_index (joint, values), write->cost };
        if (edge.to != state)
            g_array_append_val (joint->edges, edge);
    }
}

static int
by_target (gconstpointer left, gconstpointer right)
{
    const Edge *l = left, *r = right;
    if (l->to != r->to)
        return l->to < r->to ? -1 : 1;
    return l->from < r->from ? -1 : l->from > r->from;
}

Joint *
joint_new (const Problem *problem, const GArray *members)
{
    Joint *joint = g_new0 (Joint, 1);
    joint->problem = problem;
    joint->members = g_array_new (FALSE, FALSE, sizeof (guint));
    joint->stride = g_new0 (guint, members->len + 1);
    joint->n_states = 1;
    for (guint i = 0; i < members->len; i++) {
        guint v = g_array_index (members, guint, i);
        g_array_append_val (joint->members, v);
        joint->stride[i] = joint->n_states;
        joint->n_states *= problem->vars[v].size;
    }
    joint->edges = g_array_new (FALSE, FALSE, sizeof (Edge));
    for (guint w = 0; w < problem->writes->len; w++)
        add_edges_of (joint, problem->writes->pdata[w]);
    g_array_sort (joint->edges, by_target);
    joint->first = g_new0 (guint, joint->n_states + 2);
    for (guint i = 0; i < joint->edges->len; i++)
        joint->first[g_array_index (joint->edges, Edge, i).to + 1]++;
    for (guint state = 0; state < joint->n_states; state++)
        joint->first[state + 1] += joint->first[state];
    return joint;
}

void
joint_free (Joint *joint)
{
    if (joint == NULL)
        return;
    g_array_unref (joint->members);
    g_free (joint->stride);
    g_array_unref (joint->edges);
    g_free (joint->first);
    g_free (joint);
}

Cost *
joint_costs (const Joint *joint, guint var, const guint8 *in)
{
    Cost *cost = g_new (Cost, joint->n_states);
    g_autofree guint16 *values = problem_initial_values (joint->problem);
    Heap heap;
    heap_init (&heap);
    for (guint state = 0; state < joint->n_states; state++) {
        decode (joint, state, values);
        cost[state] = in[values[var]] ? 0 : COST_NEVER;
        if (cost[state] == 0)
            heap_push (&heap, 0, state);
    }
    while (!heap_is_empty (&heap)) {
        HeapEntry entry = heap_pop (&heap);
        if (entry.key > cost[entry.node])
            continue;
        for (guint i = joint->first[entry.node]; i < joint->first[entry.node + 1]; i++) {
            const Edge *edge = &g_array_index (joint->edges, Edge, i);
            if (entry.key + edge->cost >= cost[edge->from])
                continue;
            cost[edge->from] = entry.key + edge->cost;
            heap_push (&heap, cost[edge->from], edge->from);
        }
    }
    heap_clear (&heap);
    return cost;
}
