/* SPDX-License-Identifier: MIT */
#include "route/layers_parts.h"

/* ---- The sweep ---- */

static gboolean
asks_about (const GPtrArray *clauses, guint var)
{
    for (guint i = 0; i < clauses->len; i++) {
        const Clause *clause = clauses->pdata[i];
        for (guint l = 0; l < clause->count; l++)
            if (clause->literals[l].var == var)
                return TRUE;
    }
    return FALSE;
}

/* Groups that the writes of this one ask about come first, so that one layer can do both. Circles are cut where they
 * are met: the layer after does the rest. */
static void
visit_group (Layers *layers, guint group, guint8 *seen)
{
    const Problem *problem = layers->problem;
    if (seen[group])
        return;
    seen[group] = TRUE;
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        if (layers->group[g_array_index (write->effects, Effect, 0).var] != group)
            continue;
        for (guint v = problem->n_slots; v < problem->n_vars; v++)
            if (!seen[layers->group[v]] && asks_about (write->before, v))
                visit_group (layers, layers->group[v], seen);
    }
    g_array_append_val (layers->order, group);
}

static void
make_sweep (Layers *layers)
{
    const Problem *problem = layers->problem;
    g_autofree guint8 *seen = g_new0 (guint8, problem->n_vars + 1);
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        visit_group (layers, layers->group[g_array_index (write->effects, Effect, 0).var], seen);
    }
    for (guint i = 0; i < layers->order->len; i++) {
        GArray *writes = g_array_new (FALSE, FALSE, sizeof (guint));
        guint group = g_array_index (layers->order, guint, i);
        for (guint w = 0; w < problem->writes->len; w++) {
            const Write *write = problem->writes->pdata[w];
            if (layers->group[g_array_index (write->effects, Effect, 0).var] == group)
                g_array_append_val (writes, w);
        }
        g_ptr_array_add (layers->writes_at, writes);
        for (guint v = problem->n_slots; v < problem->n_vars; v++)
            if (layers->group[v] == group)
                layers->position[v] = i;
    }
}

Layers *
layers_new (const Problem *problem)
{
    Layers *layers = g_new0 (Layers, 1);
    layers->problem = problem;
    layers->group = problem_groups (problem);
    layers->active = g_array_new (FALSE, FALSE, sizeof (guint));
    layers->order = g_array_new (FALSE, FALSE, sizeof (guint));
    layers->position = g_new0 (guint, problem->n_vars + 1);
    layers->writes_at = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
    layers->start = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    layers->standby = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    for (guint m = 0; m < METHOD_COUNT; m++)
        layers->bars[m] = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    layers->always = g_ptr_array_new_with_free_func ((GDestroyNotify) clause_free);
    make_sweep (layers);
    for (guint v = 0; v < problem->n_vars; v++) {
        gboolean set = problem->vars[v].is_slot;
        for (guint w = 0; w < problem->writes->len && !set; w++) {
            const Write *write = problem->writes->pdata[w];
            for (guint e = 0; e < write->effects->len; e++)
                set = set || g_array_index (write->effects, Effect, e).var == v;
        }
        if (!problem->vars[v].fixed && (problem->vars[v].size > 1 || problem->vars[v].floor >= 0) && set)
            g_array_append_val (layers->active, v);
        else if (!problem->vars[v].goal[problem->vars[v].initial])
            layers->hopeless = TRUE;
    }
    return layers;
}

void
layers_free (Layers *layers)
{
    g_free (layers->group);
    g_array_unref (layers->active);
    g_array_unref (layers->order);
    g_free (layers->position);
    g_ptr_array_unref (layers->writes_at);
    g_ptr_array_unref (layers->start);
    g_ptr_array_unref (layers->standby);
    for (guint m = 0; m < METHOD_COUNT; m++)
        g_ptr_array_unref (layers->bars[m]);
    g_ptr_array_unref (layers->always);
    g_free (layers);
}

guint
layers_packages (const Layers *layers, guint n_layers)
{
    guint a_layer = 0;
    for (guint i = 0; i < layers->active->len; i++) {
        const Variable *var = &layers->problem->vars[g_array_index (layers->active, guint, i)];
        a_layer += var->size * (var->is_slot ? 2 : 1) + (var->floor >= 0 ? var->levels : 0);
    }
    return n_layers * (a_layer + layers->problem->writes->len);
}

guint
layers_runs (const Layers *layers)
{
    return layers->runs;
}

/* ---- Reading a solution ---- */

/* The names whose versions matter, and where they stand in the answer. */
typedef struct {
    GArray *names;  /* PackageName */
    gint16 *chosen; /* owned */
    guint *value;   /* owned; [time * n_vars + var]: index into names */
    guint *write;   /* owned; [layer * places + place] */
} Answer;

static guint
ask (Answer *answer, PackageName name)
{
    g_array_append_val (answer->names, name);
    return answer->names->len - 1;
}

static void
answer_init (Answer *answer, const Unrolled *unrolled)
{
    const Layers *layers = unrolled->layers;
    guint vars = layers->problem->n_vars, places = layers_places (layers);
    answer->names = g_array_new (FALSE, FALSE, sizeof (PackageName));
    answer->value = g_new0 (guint, (unrolled->n_layers + 1) * vars + 1);
    answer->write = g_new0 (guint, (unrolled->n_layers + 1) * places + 1);
    for (guint time = 0; time <= unrolled->n_layers; time++) {
        for (guint i = 0; i < layers->active->len; i++) {
            guint at = time * vars + g_array_index (layers->active, guint, i);
            answer->value[at] = ask (answer, unrolled->value[at]);
        }
        for (guint place = 0; time > 0 && place < places; place++)
            answer->write[time * places + place] = ask (answer, unrolled->write[time * places + place]);
    }
    answer->chosen = g_new0 (gint16, answer->names->len + 1);
}

static void
answer_clear (Answer *answer)
{
    g_array_unref (answer->names);
    g_free (answer->chosen);
    g_free (answer->value);
    g_free (answer->write);
}

static void
read_slots (const Unrolled *unrolled, const Answer *answer, guint layer, GArray *moves)
{
    const Layers *layers = unrolled->layers;
    guint vars = layers->problem->n_vars;
    for (guint pass = 0; pass < 2; pass++)
        for (guint i = 0; i < layers->active->len; i++) {
            guint v = g_array_index (layers->active, guint, i);
            gint16 before = answer->chosen[answer->value[(layer - 1) * vars + v]];
            gint16 after = answer->chosen[answer->value[layer * vars + v]];
            if (!layers->problem->vars[v].is_slot || before == after || (pass == 0 ? before : after) == 0)
                continue;
            Move move = { .var = v, .value = pass == 0 ? 0 : (guint) after };
            g_array_append_val (moves, move);
        }
}

static GArray *
read_moves (const Unrolled *unrolled, const Answer *answer)
{
    const Layers *layers = unrolled->layers;
    guint places = layers_places (layers);
    GArray *moves = g_array_new (FALSE, TRUE, sizeof (Move));
    for (guint layer = 1; layer <= unrolled->n_layers; layer++) {
        read_slots (unrolled, answer, layer, moves);
        for (guint place = 0; place < places; place++) {
            const GArray *writes = layers->writes_at->pdata[place];
            gint16 number = answer->chosen[answer->write[layer * places + place]];
            if (number < 0 || (guint) number >= writes->len)
                continue;
            Move move = { .is_write = TRUE, .write = g_array_index (writes, guint, number) };
            g_array_append_val (moves, move);
        }
    }
    return moves;
}

/* ---- Solving ---- */

/* One package problem. `*moves` may break totals and counts. */
static PackagesOutcome
solve_once (Layers *layers, guint n_layers, guint most_steps, const PackagesPatience *patience, GArray **moves)
{
    g_autoptr (Unrolled) unrolled = unrolled_new (layers, n_layers);
    if (most_steps != G_MAXUINT)
        unrolled_count (unrolled, most_steps);
    Answer answer;
    answer_init (&answer, unrolled);
    layers->runs++;
    PackagesOutcome outcome =
        packages_solve_within (unrolled->packages, patience, (const PackageName *) (const void *) answer.names->data,
                               answer.names->len, answer.chosen);
    if (outcome == PACKAGES_SOLVED)
        *moves = read_moves (unrolled, &answer);
    answer_clear (&answer);
    return outcome;
}

PackagesOutcome
layers_solve (Layers *layers, guint n_layers, guint most_steps, const PackagesPatience *patience, GArray **moves)
{
    gint64 deadline = g_get_monotonic_time () + (gint64) (patience->seconds * G_USEC_PER_SEC);
    if (layers->hopeless)
        return PACKAGES_REFUTED;
    for (;;) {
        g_autoptr (GArray) found = NULL;
        PackagesPatience left = *patience;
        left.seconds = (double) (deadline - g_get_monotonic_time ()) / G_USEC_PER_SEC;
        PackagesOutcome outcome = solve_once (layers, n_layers, most_steps, &left, &found);
        if (outcome != PACKAGES_SOLVED)
            return outcome;
        Replay replay = moves_replay (layers->problem, found);
        /* The encoding does not count fittings of a slot: what needs too many says nothing about what doesn't. */
        if (replay.verdict == REPLAY_WORN) {
            replay_clear (&replay);
            return PACKAGES_OUT_OF_TIME;
        }
        gboolean lazy = replay.verdict == REPLAY_SUM || replay.verdict == REPLAY_AT_HAND;
        if (lazy)
            layers_learn (layers, &replay);
        replay_clear (&replay);
        if (lazy)
            continue;
        /* Unsound for any other reason: the encoding and the problem disagree, which the caller's own replay will say.
         */
        *moves = g_steal_pointer (&found);
        return PACKAGES_SOLVED;
    }
}
