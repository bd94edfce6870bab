/* SPDX-License-Identifier: MIT */
/* The table: every state of the processor slots and of the components that decide starting, everything else left out,
 * with the least cost from each to the goal. It sees that a part taken out has to go back in, and what opening and
 * starting cost. Clauses that touch anything left out count as kept, so it never says too much.
 *
 * Where a route is known, states that no better route can pass are left out: from the start to such a state and on to
 * the goal, slot by slot and component by component, takes more steps than that route has. */
#include "route/bound_parts.h"
#include "route/heap.h"

#include <string.h>

/* States without modes; above this, components and then slots are left out of the pattern. */
#define MOST_STATES 12000

typedef struct {
    guint32 from, to;
    Cost with_writes, slots_only;
} Edge;

typedef struct {
    const Problem *problem;
    Table *table;
    guint8 *inside;                                  /* per variable: in the pattern */
    GPtrArray *start, *standby, *bars[METHOD_COUNT]; /* Clause*, borrowed: those wholly inside */
    GPtrArray **before;                              /* per write: likewise */
    gboolean others_off, others_on, others_standby;  /* what is left out may change power so */
    GArray *edges;                                   /* Edge */
    guint8 *known;                                   /* per state and mode: found from the start */
    GArray *queue;                                   /* guint32: found, in order */
    guint16 *after;                                  /* scratch: the values after a write */
    guint most_steps;                                /* of the route that is known; G_MAXUINT: none is */
    guint **via; /* per variable of the pattern and value: fewest steps from the start by way of it to the goal */
} Build;

/* ---- Choosing the pattern ---- */

static gboolean
decides_start (const Problem *problem, guint var)
{
    for (guint i = 0; i < problem->start->len; i++) {
        const Clause *clause = problem->start->pdata[i];
        for (guint l = 0; l < clause->count; l++)
            if (clause->literals[l].var == var)
                return TRUE;
    }
    return FALSE;
}

/* A write of the component asks what is in a slot of the pattern. */
static gboolean
asks_about_pattern (const Build *build, guint var)
{
    const Problem *problem = build->problem;
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        gboolean sets = FALSE;
        for (guint e = 0; e < write->effects->len; e++)
            sets = sets || g_array_index (write->effects, Effect, e).var == var;
        for (guint c = 0; sets && c < write->before->len; c++) {
            const Clause *clause = write->before->pdata[c];
            for (guint l = 0; l < clause->count; l++)
                if (problem->vars[clause->literals[l].var].is_slot && build->inside[clause->literals[l].var])
                    return TRUE;
        }
    }
    return FALSE;
}

static void
choose_pattern (Build *build)
{
    const Problem *problem = build->problem;
    Table *table = build->table;
    guint states = 1;
    for (guint v = 0; v < problem->n_vars; v++) {
        const Variable *var = &problem->vars[v];
        gboolean fits = !var->fixed && var->size > 1 && (guint64) states * var->size <= MOST_STATES;
        if (var->is_slot)
            fits = fits && board_slot (problem->unit->board, v)->takes == KIND_PROCESSOR;
        else
            fits = fits && (decides_start (problem, v) || asks_about_pattern (build, v));
        if (!fits)
            continue;
        build->inside[v] = TRUE;
        g_array_append_val (table->vars, v);
        table->stride[table->vars->len - 1] = states;
        states *= var->size;
    }
    table->n_states = states;
}

static GPtrArray *
wholly_inside (const Build *build, const GPtrArray *clauses)
{
    GPtrArray *inside = g_ptr_array_new ();
    for (guint i = 0; i < clauses->len; i++) {
        const Clause *clause = clauses->pdata[i];
        gboolean all = TRUE;
        for (guint l = 0; l < clause->count; l++)
            all = all && build->inside[clause->literals[l].var];
        if (all)
            g_ptr_array_add (inside, clauses->pdata[i]);
    }
    return inside;
}

static gboolean
sets_inside (const Build *build, const Write *write)
{
    for (guint e = 0; e < write->effects->len; e++)
        if (build->inside[g_array_index (write->effects, Effect, e).var])
            return TRUE;
    return FALSE;
}

static void
look_at_the_rest (Build *build)
{
    const Problem *problem = build->problem;
    for (guint v = 0; v < problem->n_slots; v++)
        build->others_off = build->others_off || (!problem->vars[v].fixed && !build->inside[v]);
    build->before = g_new0 (GPtrArray *, problem->writes->len + 1);
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        build->before[w] = wholly_inside (build, write->before);
        if (sets_inside (build, write))
            continue;
        build->others_off = build->others_off || write->mode == MODE_OFF;
        build->others_on = build->others_on || write->mode == MODE_ON;
        build->others_standby = build->others_standby || write->mode == MODE_STANDBY;
    }
}

/* ---- States that no better route passes ---- */

static guint
slot_via (const Problem *problem, guint var, guint value, const guint8 *goal)
{
    guint fewest = G_MAXUINT,
          there = cost_lead (problem, cost_exchange (problem, var, problem->vars[var].initial, value));
    for (guint end = 0; end < problem->vars[var].size; end++)
        if (goal[end])
            fewest = MIN (fewest, there + cost_lead (problem, cost_exchange (problem, var, value, end)));
    return fewest;
}

static guint
component_via (const Problem *problem, guint var, guint value, const guint8 *goal)
{
    guint size = problem->vars[var].size;
    g_autofree Cost *there = g_new (Cost, size);
    g_autofree Cost *on = g_new (Cost, size);
    g_autofree guint8 *only = g_new0 (guint8, size);
    only[value] = 1;
    bound_component_costs (problem, var, only, there);
    bound_component_costs (problem, var, goal, on);
    Cost whole = cost_add (there[problem->vars[var].initial], on[value]);
    return whole == COST_NEVER ? G_MAXUINT : cost_lead (problem, whole);
}

/* Steps that have nothing to do with the pattern: the needs of the groups that it leaves out. */
static guint
steps_apart (const Build *build, const guint *group, const Cost *apart)
{
    const Problem *problem = build->problem;
    g_autofree guint8 *touched = g_new0 (guint8, problem->n_vars + 1);
    guint steps = 0;
    for (guint v = 0; v < problem->n_vars; v++)
        touched[group[v]] |= build->inside[v];
    for (guint v = 0; v < problem->n_vars; v++)
        steps += touched[v] ? 0 : cost_lead (problem, apart[v]);
    return steps;
}

static void
measure_vias (Build *build, guint8 *const *goal, const guint *group)
{
    const Problem *problem = build->problem;
    g_autofree guint *members = g_new0 (guint, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        members[group[v]]++;
    build->via = g_new0 (guint *, problem->n_vars + 1);
    for (guint i = 0; i < build->table->vars->len; i++) {
        guint v = g_array_index (build->table->vars, guint, i);
        build->via[v] = g_new0 (guint, problem->vars[v].size);
        for (guint value = 0; value < problem->vars[v].size; value++)
            if (problem->vars[v].is_slot)
                build->via[v][value] = slot_via (problem, v, value, goal[v]);
            else if (members[group[v]] == 1 &&
                     !problem->by_case) /* a file that writes several counts once: leave those out */
                build->via[v][value] = component_via (problem, v, value, goal[v]);
    }
}

static gboolean
takes_too_long (const Build *build, const guint16 *values)
{
    guint64 steps = 0;
    for (guint i = 0; i < build->table->vars->len; i++) {
        guint v = g_array_index (build->table->vars, guint, i);
        steps += build->via[v][values[v]];
    }
    return steps > build->most_steps;
}

/* ---- Walking it ---- */

static void
add_edge (Build *build, guint32 from, const guint16 *values, Mode mode, Cost with_writes, Cost slots_only)
{
    guint32 to = table_index (build->table, values) * MODE_COUNT + mode;
    if (to == from || takes_too_long (build, values))
        return;
    Edge edge = { from, to, with_writes, slots_only };
    g_array_append_val (build->edges, edge);
    if (!build->known[to]) {
        build->known[to] = TRUE;
        g_array_append_val (build->queue, to);
    }
}

static gboolean
at_hand_inside (const Build *build, guint triple, const guint16 *values)
{
    guint fitted = 0;
    for (guint i = 0; i < build->table->vars->len; i++) {
        guint v = g_array_index (build->table->vars, guint, i);
        const Variable *var = &build->problem->vars[v];
        fitted += var->is_slot && values[v] != 0 && var->triple[values[v]] == triple;
    }
    return fitted < g_array_index (build->problem->triples, Triple, triple).count;
}

static void
slot_edges (Build *build, guint32 from, guint16 *values, Mode mode)
{
    const Problem *problem = build->problem;
    Cost opening = cost_go_off (problem, mode);
    for (guint i = 0; i < build->table->vars->len; i++) {
        guint v = g_array_index (build->table->vars, guint, i);
        const Variable *var = &problem->vars[v];
        guint16 held = values[v];
        if (!var->is_slot)
            continue;
        if (held != 0 && !var->stays[held]) {
            Cost cost = opening + cost_remove (problem, v, held);
            values[v] = 0;
            add_edge (build, from, values, MODE_OFF, cost, cost);
        }
        for (guint16 value = 1; held == 0 && value < var->size; value++) {
            Cost cost = opening + cost_fit (problem, v, value);
            if (!at_hand_inside (build, var->triple[value], values))
                continue;
            values[v] = value;
            add_edge (build, from, values, MODE_OFF, cost, cost);
            values[v] = 0;
        }
        values[v] = held;
    }
}

static void
write_edges (Build *build, guint32 from, const guint16 *values, Mode mode, gboolean starts, gboolean quiet)
{
    const Problem *problem = build->problem;
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        if (!sets_inside (build, write) || (write->start_before && !starts) || (write->standby_quiet && !quiet) ||
            !clauses_hold (build->before[w], values) || !clauses_hold (build->bars[write->method], values))
            continue;
        memcpy (build->after, values, problem->n_vars * sizeof (guint16));
        for (guint e = 0; e < write->effects->len; e++) {
            const Effect *effect = &g_array_index (write->effects, Effect, e);
            build->after[effect->var] = (guint16) effect->value;
        }
        Cost power = cost_power (problem, write, mode);
        if (!write->start_after || clauses_hold (build->start, build->after))
            add_edge (build, from, build->after, write->mode, write->cost + power, power);
    }
}

static void
power_edges (Build *build, guint32 from, const guint16 *values, Mode mode, gboolean starts, gboolean quiet)
{
    const Problem *problem = build->problem;
    Cost off = cost_go_off (problem, mode), on = cost_go_on (problem, mode);
    if (build->others_off)
        add_edge (build, from, values, MODE_OFF, off, off);
    if (build->others_on && starts)
        add_edge (build, from, values, MODE_ON, on, on);
    if (build->others_standby && quiet)
        add_edge (build, from, values, MODE_STANDBY, 0, 0);
}

static void
decode (const Table *table, const Problem *problem, guint32 node, guint16 *values)
{
    guint state = node / MODE_COUNT;
    for (guint i = 0; i < table->vars->len; i++) {
        guint v = g_array_index (table->vars, guint, i);
        values[v] = (guint16) (state / table->stride[i] % problem->vars[v].size);
    }
}

/* Every state of the pattern that some case may begin with; of the variables before `next` that is chosen. */
static void
begin_from (Build *build, guint16 *values, guint next)
{
    if (next == build->table->vars->len) {
        guint32 first = table_index (build->table, values) * MODE_COUNT + MODE_FRESH;
        build->known[first] = TRUE;
        g_array_append_val (build->queue, first);
        return;
    }
    guint var = g_array_index (build->table->vars, guint, next);
    for (guint16 value = 0; value < build->problem->vars[var].size; value++)
        if (variable_may_begin (&build->problem->vars[var], value)) {
            values[var] = value;
            begin_from (build, values, next + 1);
        }
}

static void
walk_all (Build *build)
{
    const Problem *problem = build->problem;
    g_autofree guint16 *values = problem_initial_values (problem);
    begin_from (build, values, 0);
    for (guint i = 0; i < build->queue->len; i++) {
        guint32 node = g_array_index (build->queue, guint32, i);
        Mode mode = (Mode) (node % MODE_COUNT);
        decode (build->table, problem, node, values);
        gboolean starts = clauses_hold (build->start, values);
        gboolean quiet = clauses_hold (build->standby, values);
        slot_edges (build, node, values, mode);
        write_edges (build, node, values, mode, starts, quiet);
        power_edges (build, node, values, mode, starts, quiet);
    }
}

/* ---- Back from the goal ---- */

static gboolean
is_goal (const Build *build, const guint16 *values, guint8 *const *goal)
{
    for (guint i = 0; i < build->table->vars->len; i++) {
        guint v = g_array_index (build->table->vars, guint, i);
        if (!goal[v][values[v]])
            return FALSE;
    }
    return clauses_hold (build->start, values);
}

/* Edges by target: first[node] .. first[node + 1] into `by_target`. */
static guint *
sort_by_target (const Build *build, guint n_nodes, guint **by_target)
{
    guint *first = g_new0 (guint, n_nodes + 2);
    *by_target = g_new (guint, build->edges->len + 1);
    for (guint i = 0; i < build->edges->len; i++)
        first[g_array_index (build->edges, Edge, i).to + 1]++;
    for (guint node = 0; node < n_nodes; node++)
        first[node + 1] += first[node];
    g_autofree guint *next = g_memdup2 (first, (n_nodes + 1) * sizeof (guint));
    for (guint i = 0; i < build->edges->len; i++)
        (*by_target)[next[g_array_index (build->edges, Edge, i).to]++] = i;
    return first;
}

static void
measure (const Build *build, guint8 *const *goal, const guint *first, const guint *by_target, gboolean with_writes,
         Cost *cost)
{
    const Problem *problem = build->problem;
    guint n_nodes = build->table->n_states * MODE_COUNT;
    g_autofree guint16 *values = problem_initial_values (problem);
    Heap heap;
    heap_init (&heap);
    for (guint node = 0; node < n_nodes; node++)
        cost[node] = COST_NEVER;
    for (guint i = 0; i < build->queue->len; i++) {
        guint32 node = g_array_index (build->queue, guint32, i);
        decode (build->table, problem, node, values);
        if (!is_goal (build, values, goal))
            continue;
        cost[node] = cost_end (problem, (Mode) (node % MODE_COUNT));
        heap_push (&heap, cost[node], node);
    }
    while (!heap_is_empty (&heap)) {
        HeapEntry entry = heap_pop (&heap);
        if (entry.key > cost[entry.node])
            continue;
        for (guint i = first[entry.node]; i < first[entry.node + 1]; i++) {
            const Edge *edge = &g_array_index (build->edges, Edge, by_target[i]);
            Cost through = entry.key + (with_writes ? edge->with_writes : edge->slots_only);
            if (through >= cost[edge->from])
                continue;
            cost[edge->from] = through;
            heap_push (&heap, through, edge->from);
        }
    }
    heap_clear (&heap);
}

static void
build_clear (Build *build)
{
    for (guint w = 0; w < build->problem->writes->len; w++)
        g_ptr_array_unref (build->before[w]);
    g_free (build->before);
    g_ptr_array_unref (build->start);
    g_ptr_array_unref (build->standby);
    for (guint m = 0; m < METHOD_COUNT; m++)
        g_ptr_array_unref (build->bars[m]);
    g_array_unref (build->edges);
    g_array_unref (build->queue);
    g_free (build->known);
    g_free (build->after);
    for (guint v = 0; v < build->problem->n_vars; v++)
        g_free (build->via[v]);
    g_free (build->via);
    g_free (build->inside);
}

Table *
table_new (const Problem *problem, guint8 *const *goal, guint most_steps, const guint *group, const Cost *apart)
{
    Table *table = g_new0 (Table, 1);
    table->vars = g_array_new (FALSE, FALSE, sizeof (guint));
    table->stride = g_new0 (guint, problem->n_vars + 1);
    Build build = { .problem = problem, .table = table, .most_steps = most_steps };
    build.inside = g_new0 (guint8, problem->n_vars + 1);
    choose_pattern (&build);
    if (most_steps != G_MAXUINT)
        build.most_steps -= MIN (most_steps, steps_apart (&build, group, apart));
    measure_vias (&build, goal, group);
    build.start = wholly_inside (&build, problem->start);
    build.standby = wholly_inside (&build, problem->standby);
    for (guint m = 0; m < METHOD_COUNT; m++)
        build.bars[m] = wholly_inside (&build, problem->bars[m]);
    look_at_the_rest (&build);
    guint n_nodes = table->n_states * MODE_COUNT;
    build.edges = g_array_new (FALSE, FALSE, sizeof (Edge));
    build.queue = g_array_new (FALSE, FALSE, sizeof (guint32));
    build.known = g_new0 (guint8, n_nodes);
    build.after = g_new0 (guint16, problem->n_vars + 1);
    walk_all (&build);
    g_autofree guint *by_target = NULL;
    g_autofree guint *first = sort_by_target (&build, n_nodes, &by_target);
    table->with_writes = g_new (Cost, n_nodes);
    table->slots_only = g_new (Cost, n_nodes);
    measure (&build, goal, first, by_target, TRUE, table->with_writes);
    measure (&build, goal, first, by_target, FALSE, table->slots_only);
    build_clear (&build);
    return table;
}

void
table_free (Table *table)
{
    g_array_unref (table->vars);
    g_free (table->stride);
    g_free (table->with_writes);
    g_free (table->slots_only);
    g_free (table);
}
