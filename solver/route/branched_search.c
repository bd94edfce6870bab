/* SPDX-License-Identifier: MIT */
/* Best-first search over beliefs, with a limit on what any case may come to.
 *
 * A start that is tried, and a page that is read, part the cases. What a part comes to hangs on nothing that is done in
 * the others, so it is solved by itself, and the rest of the search only adds it. After a start there is one part that
 * goes on in this search: the cases in which the unit stayed dark. So with one component whose release is not known
 * everything is one search; parts of several cases, which are searches of their own, come with more of them.
 *
 * The order is by the sum over all cases: what was spent, and the bounds of those that are not parted yet. */
#include "route/branched_search.h"

#define BELIEFS_BETWEEN_ASKING 64

/* ---- Nodes ---- */

static Met *
meet (Search *search, const guint16 *row)
{
    const Beliefs *beliefs = search->beliefs;
    Met *met = g_hash_table_lookup (search->met, row);
    if (met != NULL)
        return met;
    met = g_new0 (Met, 1);
    met->label = NO_NODE;
    for (guint i = 0; i < row_count (row) && !met->hopeless; i++) {
        const CaseClass *one = row_class (beliefs, row, i);
        if (one->hopeless)
            continue;
        row_values (beliefs, row, i, search->values);
        Cost bound = bound_of (beliefs->bound, search->values, row_mode (row));
        met->hopeless = bound == COST_NEVER;
        met->dearest = MAX (met->dearest, cost_lead (beliefs->problem, bound));
        met->to_go = sum_plus (met->to_go, sum_of (beliefs, bound, one->cases->len));
    }
    g_hash_table_insert (search->met, (gpointer) row, met);
    return met;
}

static guint32
add_node (Search *search, const Node *node, CostSum whole)
{
    g_array_append_val (search->nodes, *node);
    heap_push_pair (&search->heap, whole.lead, whole.rest, search->nodes->len - 1);
    return search->nodes->len - 1;
}

static CostSum
spent_so_far (const Search *search, const Node *node)
{
    return sum_plus (node->parted, sum_of (search->beliefs, node->spent, row_weight (search->beliefs, node->row)));
}

/* Another way to the same belief is as good in what was spent, and in sum. */
static gboolean
is_no_better (Search *search, const Met *met, const Node *node)
{
    CostSum sum = spent_so_far (search, node);
    guint lead = cost_lead (search->beliefs->problem, node->spent);
    for (guint32 label = met->label; label != NO_NODE; label = node_at (search, label)->label) {
        Node *there = node_at (search, label);
        guint there_lead = cost_lead (search->beliefs->problem, there->spent);
        CostSum there_sum = spent_so_far (search, there);
        if (there_lead <= lead && !sum_is_less (sum, there_sum))
            return TRUE;
        if (lead <= there_lead && !sum_is_less (there_sum, sum))
            there->stale = TRUE;
    }
    return FALSE;
}

void
search_reach (Search *search, Node node)
{
    Met *met = meet (search, node.row);
    if (met->hopeless || !may_come_to (search, cost_lead (search->beliefs->problem, node.spent) + met->dearest) ||
        is_no_better (search, met, &node))
        return;
    node.label = met->label;
    met->label = add_node (search, &node, sum_plus (spent_so_far (search, &node), met->to_go));
}

/* ---- Opening a belief ---- */

void
search_finish (Search *search, guint32 parent, const Plan *rest)
{
    const Node *from = node_at (search, parent);
    const Problem *problem = search->beliefs->problem;
    Cost end = from->kind == NODE_TRY || from->kind == NODE_READ || rest != NULL
                   ? 0
                   : cost_end (problem, row_mode (from->row));
    Node node = { .kind = NODE_DONE,
                  .row = from->row,
                  .spent = from->spent + end,
                  .parted = from->parted,
                  .worst = from->worst,
                  .parent = parent,
                  .rest = rest };
    guint weight = row_weight (search->beliefs, from->row);
    guint lead = cost_lead (problem, node.spent) + (rest != NULL ? rest->worst : 0);
    /* Once all are parted, or given up, nobody comes to what is spent here. */
    if (from->kind != NODE_TRY && from->kind != NODE_READ && weight > 0) {
        if (!may_come_to (search, lead))
            return;
        node.worst = MAX (node.worst, lead);
        node.parted = sum_plus (node.parted, sum_of (search->beliefs, node.spent, weight));
        if (rest != NULL)
            node.parted = sum_plus (node.parted, rest->sum);
    }
    add_node (search, &node, node.parted);
}

static void
try_move (Search *search, guint32 parent, const Move *move, const guint8 *starts, const guint8 *quiet)
{
    const Node *from = node_at (search, parent);
    Cost cost;
    const guint16 *after = row_move (search->beliefs, from->row, move, starts, quiet, &cost);
    if (after == NULL)
        return;
    Node node = { .kind = NODE_MOVED,
                  .row = after,
                  .spent = from->spent + cost,
                  .parted = from->parted,
                  .worst = from->worst,
                  .parent = parent,
                  .move = *move };
    search_reach (search, node);
}

static void
try_moves (Search *search, guint32 parent, const guint16 *row, const guint8 *starts, const guint8 *quiet)
{
    const Problem *problem = search->beliefs->problem;
    for (guint s = 0; s < problem->n_slots; s++) {
        const Variable *var = &problem->vars[s];
        gboolean holds = row_slots (row)[s] != 0;
        for (guint value = holds ? 0 : 1; !var->fixed && value < (holds ? 1 : var->size); value++)
            try_move (search, parent, &(Move){ .var = s, .value = value }, starts, quiet);
    }
    for (guint w = 0; w < problem->writes->len; w++)
        try_move (search, parent, &(Move){ .is_write = TRUE, .write = w }, starts, quiet);
}

/* They wait with what the belief may come to at the best, and are looked into when their turn comes. */
static void
put_off (Search *search, guint32 parent, NodeKind kind, guint component)
{
    const Node *from = node_at (search, parent);
    const Met *met = meet (search, from->row);
    Node node = *from;
    node.kind = kind;
    node.parent = parent;
    node.component = component;
    node.stale = FALSE;
    add_node (search, &node, sum_plus (spent_so_far (search, from), met->to_go));
}

static void
open_belief (Search *search, guint32 index)
{
    Beliefs *beliefs = search->beliefs;
    const guint16 *row = node_at (search, index)->row;
    if (row_weight (beliefs, row) == 0 || row_count (row) == 1) {
        guint next;
        const Plan *rest = plan_for_belief (beliefs, row, G_MAXUINT, &next);
        if (rest != NULL)
            search_finish (search, index, rest);
        return;
    }
    if (row_may_end (beliefs, row))
        search_finish (search, index, NULL);
    g_autofree guint8 *starts = g_new (guint8, row_count (row));
    g_autofree guint8 *quiet = g_new (guint8, row_count (row));
    row_look (beliefs, row, starts, quiet);
    try_moves (search, index, row, starts, quiet);
    if (start_tells (beliefs, row, starts) && row_may_try (beliefs, row))
        put_off (search, index, NODE_TRY, 0);
    for (guint v = beliefs->problem->n_slots; v < beliefs->problem->n_vars; v++)
        if (page_tells (beliefs, row, v) && row_may_read (beliefs, row, v))
            put_off (search, index, NODE_READ, v);
}

/* ---- The plan ---- */

/* What is done from the parent of a NODE_DONE on. */
static Plan *
last_part (Search *search, const Node *done)
{
    const Node *parent = node_at (search, done->parent);
    Plan *plan = plan_new (search->beliefs, parent->row);
    if (done->rest != NULL) {
        g_array_append_vals (plan->moves, done->rest->moves->data, done->rest->moves->len);
        plan->then = done->rest->then;
        plan->component = done->rest->component;
        plan->known = done->rest->known;
        g_ptr_array_extend (plan->next, done->rest->next, NULL, NULL);
    } else if (parent->kind == NODE_TRY || parent->kind == NODE_READ) {
        plan->then = parent->kind == NODE_TRY ? THEN_TRY : THEN_READ;
        plan->component = parent->component;
        g_ptr_array_extend (plan->next, parent->parts, NULL, NULL);
    }
    return plan;
}

static Plan *
trace_back (Search *search, const Node *done)
{
    Plan *plan = last_part (search, done);
    const Node *at = node_at (search, done->parent);
    if (at->kind == NODE_TRY || at->kind == NODE_READ)
        at = node_at (search, at->parent);
    while (at->parent != NO_NODE) {
        if (at->kind == NODE_DARK) {
            const Node *tried = node_at (search, at->parent);
            Plan *before = plan_new (search->beliefs, tried->row);
            plan->row = at->row;
            plan->dark = TRUE;
            before->then = THEN_TRY;
            g_ptr_array_extend (before->next, tried->parts, NULL, NULL);
            g_ptr_array_add (before->next, plan);
            plan = before;
            at = node_at (search, tried->parent);
            continue;
        }
        g_array_prepend_val (plan->moves, at->move);
        plan->known = FALSE;
        at = node_at (search, at->parent);
    }
    plan->row = at->row;
    plan->sum = done->parted;
    plan->worst = done->worst;
    return plan;
}

/* ---- Running ---- */

static gboolean
may_open (Beliefs *beliefs, const guint16 *row)
{
    guint64 takes = row_count (row);
    if (beliefs->effort < takes)
        beliefs->out = TRUE;
    if (beliefs->out || (beliefs->opened % BELIEFS_BETWEEN_ASKING == 0 && !beliefs_go_on (0, beliefs)))
        return FALSE;
    beliefs->effort -= takes;
    beliefs->opened++;
    return TRUE;
}

static const Plan *
run (Search *search, const guint16 *row)
{
    search_reach (search, (Node){ .kind = NODE_MOVED, .row = row, .parent = NO_NODE });
    while (!heap_is_empty (&search->heap) && !search->beliefs->out) {
        guint32 index = heap_pop (&search->heap).node;
        const Node *node = node_at (search, index);
        if (node->kind == NODE_DONE) {
            Node done = *node;
            return trace_back (search, &done);
        }
        if (node->kind == NODE_TRY)
            search_look_into_try (search, index);
        else if (node->kind == NODE_READ)
            search_look_into_page (search, index);
        else if (!node->stale && may_open (search->beliefs, node->row))
            open_belief (search, index);
    }
    return NULL;
}

const Plan *
search_beliefs (Beliefs *beliefs, const guint16 *row, guint most, guint *next)
{
    Search search = { .beliefs = beliefs, .most = most, .next = G_MAXUINT };
    search.nodes = g_array_new (FALSE, FALSE, sizeof (Node));
    search.met = g_hash_table_new_full (NULL, NULL, NULL, g_free);
    search.values = g_new (guint16, beliefs->problem->n_vars + 1);
    heap_init (&search.heap);
    const Plan *plan = run (&search, row);
    *next = search.next;
    for (guint i = 0; i < search.nodes->len; i++)
        g_clear_pointer (&g_array_index (search.nodes, Node, i).parts, g_ptr_array_unref);
    heap_clear (&search.heap);
    g_free (search.values);
    g_hash_table_unref (search.met);
    g_array_unref (search.nodes);
    return plan;
}
