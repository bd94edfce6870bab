/* SPDX-License-Identifier: MIT */
/* A state is the values of the variables that can change, the floors that matter, and how the unit is powered. States
 * are kept packed, one row each, and found again through an open-addressing table of row numbers. The bound need not
 * be consistent, so a state reached more cheaply is opened again.
 *
 * Work on slots within one opening can be put in one order without loss: everything that comes out first, then
 * everything that goes in, each in the order of the slots. (What goes in and comes out again in one opening never
 * helps; and parts taken out earlier are at hand no later.) So each such step has a rank, a state remembers the rank of
 * the last one, and only higher ranks follow. A write starts the ranks anew. */
#include "route/search.h"
#include "route/heap.h"

#include <string.h>

#define NO_PARENT             G_MAXUINT32
#define STATES_BETWEEN_ASKING 2048

typedef struct {
    Cost spent; /* least found so far */
    Cost to_go; /* the bound */
    guint32 parent;
    gint32 move; /* >= 0: write; < 0: slot move, packed by pack_move */
} Node;

typedef struct {
    const Problem *problem;
    const Bound *bound;
    guint *active; /* owned; variables that can change */
    guint n_active, stride;
    GArray *rows;   /* guint16, `stride` per node */
    GArray *nodes;  /* Node */
    guint32 *slots; /* owned; node + 1, or 0 */
    guint n_slots;  /* a power of two */
    Heap heap;
    Cost ceiling; /* nothing dearer is of interest */
    Cost mask;    /* which parts of a cost count */
    Cost best;    /* of a goal reached */
    guint32 best_node;
    guint16 *values, *floors;      /* owned; of the node being opened */
    guint16 *after, *after_floors; /* owned; of the one being reached */
    guint16 *row;                  /* owned; scratch */
} Search;

/* ---- States ---- */

/* How the unit is powered, and with the power off the rank of the last work on a slot (0: none yet). */
typedef struct {
    Mode mode;
    guint rank;
} Power;

static void
pack (Search *search, const guint16 *values, const guint16 *floors, Power power)
{
    for (guint i = 0; i < search->n_active; i++)
        search->row[i] = values[search->active[i]];
    for (guint f = 0; f < search->problem->n_floors; f++)
        search->row[search->n_active + f] = floors[f];
    search->row[search->stride - 1] = (guint16) (power.rank * MODE_COUNT + power.mode);
}

static const guint16 *
row_of (const Search *search, guint32 node)
{
    return &g_array_index (search->rows, guint16, (gsize) node * search->stride);
}

static Power
unpack (Search *search, guint32 node)
{
    const guint16 *row = row_of (search, node);
    for (guint i = 0; i < search->n_active; i++)
        search->values[search->active[i]] = row[i];
    for (guint f = 0; f < search->problem->n_floors; f++)
        search->floors[f] = row[search->n_active + f];
    guint16 power = row[search->stride - 1];
    return (Power){ (Mode) (power % MODE_COUNT), power / MODE_COUNT };
}

static guint
hash_row (const guint16 *row, guint length)
{
    guint64 hash = 1469598103934665603u;
    for (guint i = 0; i < length; i++)
        hash = (hash ^ row[i]) * 1099511628211u;
    return (guint) (hash ^ (hash >> 32));
}

static void
grow_table (Search *search)
{
    guint n_slots = search->n_slots * 2;
    g_free (search->slots);
    search->slots = g_new0 (guint32, n_slots);
    search->n_slots = n_slots;
    for (guint32 node = 0; node < search->nodes->len; node++) {
        guint at = hash_row (row_of (search, node), search->stride) & (n_slots - 1);
        while (search->slots[at] != 0)
            at = (at + 1) & (n_slots - 1);
        search->slots[at] = node + 1;
    }
}

/* The node of the state in `row`; a new one (spent COST_NEVER) when it was not met before. */
static guint32
intern_row (Search *search)
{
    guint at = hash_row (search->row, search->stride) & (search->n_slots - 1);
    for (; search->slots[at] != 0; at = (at + 1) & (search->n_slots - 1))
        if (memcmp (row_of (search, search->slots[at] - 1), search->row, search->stride * sizeof (guint16)) == 0)
            return search->slots[at] - 1;
    guint32 node = search->nodes->len;
    Node fresh = { COST_NEVER, COST_NEVER, NO_PARENT, 0 };
    g_array_append_val (search->nodes, fresh);
    g_array_append_vals (search->rows, search->row, search->stride);
    search->slots[at] = node + 1;
    if ((guint64) search->nodes->len * 2 > search->n_slots)
        grow_table (search);
    return node;
}

/* ---- Moves ---- */

static gint32
pack_move (guint var, guint value)
{
    return -1 - (gint32) (var << 16 | value);
}

static Move
unpack_move (gint32 packed)
{
    if (packed >= 0)
        return (Move){ .is_write = TRUE, .write = (guint) packed };
    guint both = (guint) (-1 - packed);
    return (Move){ .var = both >> 16, .value = both & 0xffff };
}

static void
reach (Search *search, guint32 parent, Cost spent, const guint16 *values, const guint16 *floors, Power power,
       gint32 move)
{
    pack (search, values, floors, power);
    guint known = search->nodes->len;
    guint32 index = intern_row (search);
    Node *node = &g_array_index (search->nodes, Node, index);
    if (index == known)
        node->to_go = bound_of (search->bound, values, power.mode);
    Cost whole = cost_add (spent, node->to_go) & search->mask;
    if ((spent & search->mask) >= (node->spent & search->mask) || node->to_go == COST_NEVER ||
        whole >= (search->best & search->mask) || whole > search->ceiling)
        return;
    node->spent = spent;
    node->parent = parent;
    node->move = move;
    heap_push (&search->heap, whole, index);
    Cost end = spent + cost_end (search->problem, power.mode);
    if ((end & search->mask) < (search->best & search->mask) && (end & search->mask) <= search->ceiling &&
        problem_goal_met (search->problem, values) && problem_starts (search->problem, values)) {
        search->best = end;
        search->best_node = index;
    }
}

/* The floors after one more fitting in this slot; NULL: it has had as many as it may. */
static const guint16 *
count_fitting (Search *search, guint var)
{
    const Variable *slot = &search->problem->vars[var];
    if (slot->wear < 0)
        return search->floors;
    if (search->floors[slot->wear] >= slot->left)
        return NULL;
    memcpy (search->after_floors, search->floors, search->problem->n_floors * sizeof (guint16));
    search->after_floors[slot->wear]++;
    return search->after_floors;
}

static void
open_slot (Search *search, guint32 node, Cost spent, guint var, Power power)
{
    const Problem *problem = search->problem;
    guint16 held = search->values[var];
    memcpy (search->after, search->values, problem->n_vars * sizeof (guint16));
    guint rank = 1 + var + (held != 0 ? 0 : problem->n_slots);
    if (power.mode == MODE_OFF && rank <= power.rank)
        return;
    Power after = { MODE_OFF, rank };
    spent += cost_go_off (problem, power.mode);
    if (held != 0 && problem->vars[var].stays[held])
        return;
    if (held != 0) {
        search->after[var] = 0;
        reach (search, node, spent + cost_remove (problem, var, held), search->after, search->floors, after,
               pack_move (var, 0));
        return;
    }
    const guint16 *floors = count_fitting (search, var);
    for (guint16 value = 1; floors != NULL && value < problem->vars[var].size; value++) {
        if (!problem_at_hand (problem, problem->vars[var].triple[value], search->values))
            continue;
        search->after[var] = value;
        reach (search, node, spent + cost_fit (problem, var, value), search->after, floors, after,
               pack_move (var, value));
    }
}

static gboolean
floors_allow (const Search *search, const Write *write)
{
    for (guint e = 0; e < write->effects->len; e++) {
        const Effect *effect = &g_array_index (write->effects, Effect, e);
        int floor = search->problem->vars[effect->var].floor;
        if (floor >= 0 && search->floors[floor] > effect->max_level)
            return FALSE;
    }
    return TRUE;
}

static void
open_write (Search *search, guint32 node, Cost spent, guint index, Power power, gboolean starts, gboolean quiet)
{
    const Problem *problem = search->problem;
    const Write *write = problem->writes->pdata[index];
    if ((write->start_before && !starts) || (write->standby_quiet && !quiet) || !floors_allow (search, write) ||
        !clauses_hold (write->before, search->values) || problem_method_barred (problem, write->method, search->values))
        return;
    memcpy (search->after, search->values, problem->n_vars * sizeof (guint16));
    memcpy (search->after_floors, search->floors, problem->n_floors * sizeof (guint16));
    for (guint e = 0; e < write->effects->len; e++) {
        const Effect *effect = &g_array_index (write->effects, Effect, e);
        int floor = problem->vars[effect->var].floor;
        search->after[effect->var] = (guint16) effect->value;
        if (floor >= 0)
            search->after_floors[floor] = (guint16) MAX (search->after_floors[floor], effect->raise_to);
    }
    if ((write->start_after && !problem_starts (problem, search->after)) ||
        (write->standby_quiet && !problem_standby_quiet (problem, search->after)))
        return;
    reach (search, node, spent + write->cost + cost_power (problem, write, power.mode), search->after,
           search->after_floors, (Power){ write->mode, 0 }, (gint32) index);
}

static void
open_node (Search *search, guint32 node)
{
    const Problem *problem = search->problem;
    Power power = unpack (search, node);
    Cost spent = g_array_index (search->nodes, Node, node).spent;
    gboolean starts = problem_starts (problem, search->values);
    gboolean quiet = problem_standby_quiet (problem, search->values);
    for (guint i = 0; i < search->n_active && search->active[i] < problem->n_slots; i++)
        open_slot (search, node, spent, search->active[i], power);
    for (guint w = 0; w < problem->writes->len; w++)
        open_write (search, node, spent, w, power, starts, quiet);
}

/* ---- Running ---- */

static void
search_init (Search *search, const Problem *problem, const Bound *bound, const SearchLimits *limits)
{
    *search = (Search){
        .problem = problem, .bound = bound, .ceiling = limits->ceiling, .mask = limits->mask, .best = COST_NEVER
    };
    search->active = g_new (guint, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        if (!problem->vars[v].fixed && problem->vars[v].size > 1)
            search->active[search->n_active++] = v;
    search->stride = search->n_active + problem->n_floors + 1;
    search->rows = g_array_new (FALSE, FALSE, sizeof (guint16));
    search->nodes = g_array_new (FALSE, FALSE, sizeof (Node));
    search->n_slots = 1024;
    search->slots = g_new0 (guint32, search->n_slots);
    heap_init (&search->heap);
    search->values = g_new0 (guint16, problem->n_vars + 1);
    search->after = g_new0 (guint16, problem->n_vars + 1);
    search->floors = g_new0 (guint16, problem->n_floors + 1);
    search->after_floors = g_new0 (guint16, problem->n_floors + 1);
    search->row = g_new0 (guint16, search->stride);
    for (guint v = 0; v < problem->n_vars; v++) {
        search->values[v] = (guint16) problem->vars[v].initial;
        if (problem->vars[v].floor >= 0)
            search->floors[problem->vars[v].floor] = (guint16) problem->vars[v].start_floor;
    }
}

static void
search_clear (Search *search)
{
    g_free (search->active);
    g_array_unref (search->rows);
    g_array_unref (search->nodes);
    g_free (search->slots);
    heap_clear (&search->heap);
    g_free (search->values);
    g_free (search->after);
    g_free (search->floors);
    g_free (search->after_floors);
    g_free (search->row);
}

static GArray *
trace_back (const Search *search)
{
    GArray *moves = g_array_new (FALSE, FALSE, sizeof (Move));
    for (guint32 node = search->best_node;;) {
        const Node *there = &g_array_index (search->nodes, Node, node);
        if (there->parent == NO_PARENT)
            break;
        Move move = unpack_move (there->move);
        g_array_prepend_val (moves, move);
        node = there->parent;
    }
    return moves;
}

static gboolean
may_open (const SearchLimits *limits, guint64 opened)
{
    if (opened == limits->most)
        return FALSE;
    return limits->go_on == NULL || opened % STATES_BETWEEN_ASKING != 0 || limits->go_on (opened, limits->data);
}

SearchResult *
search_run (const Problem *problem, const Bound *bound, const SearchLimits *limits)
{
    Search search;
    SearchResult *result = g_new0 (SearchResult, 1);
    search_init (&search, problem, bound, limits);
    reach (&search, NO_PARENT, 0, search.values, search.floors, (Power){ problem->begin_mode, 0 }, 0);
    result->exhausted = TRUE;
    while (!heap_is_empty (&search.heap)) {
        HeapEntry entry = heap_pop (&search.heap);
        const Node *node = &g_array_index (search.nodes, Node, entry.node);
        if (entry.key >= (search.best & limits->mask) || (limits->any && search.best != COST_NEVER))
            break;
        if (entry.key > (cost_add (node->spent, node->to_go) & limits->mask))
            continue;
        if (!may_open (limits, result->opened)) {
            result->exhausted = FALSE;
            result->least_open = entry.key;
            break;
        }
        result->opened++;
        open_node (&search, entry.node);
    }
    result->cost = search.best;
    if (search.best != COST_NEVER)
        result->moves = trace_back (&search);
    search_clear (&search);
    return result;
}

void
search_result_free (SearchResult *result)
{
    g_clear_pointer (&result->moves, g_array_unref);
    g_free (result);
}
