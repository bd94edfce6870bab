/* SPDX-License-Identifier: MIT */
#include "back.h"

typedef struct {
    Graph *graph;
    World from;
    int number;
    GArray *edges; /* int: from, to, from, to, ... */
} Building;

/* How the unit was powered last makes no difference to what can be done. */
static World
without_mode (World world)
{
    world.mode = MODE_FRESH;
    return world;
}

static void
note_edge (const Move *move, gpointer data)
{
    Building *building = data;
    gboolean is_new = FALSE;
    World to = without_mode (move_apply (&building->graph->play, &building->from, move));
    int ends[2] = { building->number, world_table_add (&building->graph->table, &to, &is_new) };
    g_array_append_vals (building->edges, ends, 2);
}

/* Sorts the edges by where they lead to. */
static void
turn_around (Graph *graph, const GArray *edges)
{
    guint count = graph->table.worlds->len;
    graph->into = g_array_sized_new (FALSE, TRUE, sizeof (guint), count + 1);
    g_array_set_size (graph->into, count + 1);
    graph->froms = g_array_sized_new (FALSE, FALSE, sizeof (int), edges->len / 2);
    g_array_set_size (graph->froms, edges->len / 2);
    guint *into = &g_array_index (graph->into, guint, 0);
    for (guint e = 0; e < edges->len; e += 2)
        into[g_array_index (edges, int, e + 1) + 1]++;
    for (guint i = 0; i < count; i++)
        into[i + 1] += into[i];
    g_autoptr (GArray) next = g_array_copy (graph->into);
    for (guint e = 0; e < edges->len; e += 2)
        g_array_index (graph->froms, int, g_array_index (next, guint, g_array_index (edges, int, e + 1))++) =
            g_array_index (edges, int, e);
}

Graph *
graph_new (const Job *job, int most_worlds)
{
    Graph *graph = g_new0 (Graph, 1);
    gboolean is_new = FALSE;
    graph->job = job_that_keeps_nothing (job);
    g_assert (play_setup (&graph->play, &graph->job, -1));
    graph->distances = g_hash_table_new_full (NULL, NULL, NULL, g_free);
    world_table_init (&graph->table);
    world_table_add (&graph->table, &graph->play.start, &is_new);
    g_autoptr (GArray) edges = g_array_new (FALSE, FALSE, sizeof (int));
    Building building = { .graph = graph, .edges = edges };
    for (guint i = 0; i < graph->table.worlds->len && !graph->too_large; i++) {
        building.number = (int) i;
        building.from = *world_table_get (&graph->table, (int) i);
        Verdict verdict = world_verdict (&graph->play, &building.from);
        each_move (&graph->play, &building.from, &verdict, note_edge, &building);
        graph->too_large = (int) graph->table.worlds->len > most_worlds;
    }
    if (!graph->too_large)
        turn_around (graph, edges);
    return graph;
}

void
graph_free (Graph *graph)
{
    if (!graph)
        return;
    world_table_clear (&graph->table);
    g_clear_pointer (&graph->into, g_array_unref);
    g_clear_pointer (&graph->froms, g_array_unref);
    g_clear_pointer (&graph->distances, g_hash_table_unref);
    g_free (graph);
}

/* How many moves each world is from one like `target`; -1: none leads there. Breadth first, against the moves. */
static int *
distances_to (const Graph *graph, const World *target)
{
    guint count = graph->table.worlds->len;
    int *distances = g_new (int, count);
    g_autoptr (GArray) queue = g_array_sized_new (FALSE, FALSE, sizeof (int), count);
    for (guint i = 0; i < count; i++) {
        int number = (int) i;
        gboolean alike = worlds_alike (&graph->play, world_table_get (&graph->table, number), target);
        distances[i] = alike ? 0 : -1;
        if (alike)
            g_array_append_val (queue, number);
    }
    for (guint at = 0; at < queue->len; at++) {
        int to = g_array_index (queue, int, at);
        for (guint e = g_array_index (graph->into, guint, to); e < g_array_index (graph->into, guint, to + 1); e++) {
            int from = g_array_index (graph->froms, int, e);
            if (distances[from] >= 0)
                continue;
            distances[from] = distances[to] + 1;
            g_array_append_val (queue, from);
        }
    }
    return distances;
}

static int
number_of (Graph *graph, const World *world)
{
    gboolean is_new = FALSE;
    World plain = without_mode (*world);
    int number = world_table_add (&graph->table, &plain, &is_new);
    g_assert (!is_new); /* every step leads to a world that was there before */
    return number;
}

void
working_state_note (WorkingState *state, const World *world, gboolean starts)
{
    if (!starts)
        return;
    state->works = TRUE;
    state->working = *world;
}

BackAnswer
graph_way_back (Graph *graph, const WorkingState *state, const World *after, int *steps)
{
    *steps = 0;
    if (!state->works)
        return WAY_NONE_BEFORE;
    int target = number_of (graph, &state->working);
    int *distances = g_hash_table_lookup (graph->distances, GINT_TO_POINTER (target));
    if (!distances) {
        distances = distances_to (graph, &state->working);
        g_hash_table_insert (graph->distances, GINT_TO_POINTER (target), distances);
    }
    *steps = distances[number_of (graph, after)];
    return *steps < 0 ? WAY_NO_RETURN : WAY_THERE;
}

gboolean
is_unknown_lost (const Play *play, const WorkingState *state, const World *after)
{
    for (int c = 0; c < play->job->firmware_count; c++) {
        gboolean known = TRUE, same = TRUE;
        for (int k = 0; k < play->case_count; k++) {
            known = known && state->working.release[k][c] == state->working.release[0][c];
            same = same && state->working.release[k][c] == after->release[k][c];
        }
        if (!known && !same)
            return TRUE;
    }
    return FALSE;
}
