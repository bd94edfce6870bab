/* SPDX-License-Identifier: MIT */
/* Numeric limits enter lazily: what a solution broke becomes a clause, as general as the numbers allow. */
#include "route/layers_parts.h"

/* ---- Counts of parts ---- */

/* More sets than this are not written down at once; then only the one that was broken is. */
#define MOST_SETS 128

static Literal
without_triple (const Problem *problem, guint var, guint triple)
{
    const Variable *variable = &problem->vars[var];
    Literal literal = { var, g_new (guint8, variable->size) };
    for (guint value = 0; value < variable->size; value++)
        literal.in[value] = value == 0 || variable->triple[value] != triple;
    return literal;
}

/* One of these slots (ascending) does without the part. */
static void
forbid_together (Layers *layers, const guint *slots, guint n, guint triple)
{
    Clause *clause = g_new0 (Clause, 1);
    clause->literals = g_new0 (Literal, n + 1);
    for (guint i = 0; i < n; i++)
        clause->literals[clause->count++] = without_triple (layers->problem, slots[i], triple);
    g_ptr_array_add (layers->always, clause);
}

/* Every set of `size` of the holders, as long as there are few. FALSE: too many. */
static gboolean
forbid_every_set (Layers *layers, const GArray *holders, guint size, guint triple)
{
    guint64 sets = 1;
    for (guint i = 0; i < size; i++)
        sets = sets * (holders->len - i) / (i + 1);
    if (sets > MOST_SETS || size > holders->len)
        return FALSE;
    g_autofree guint *pick = g_new (guint, size + 1);
    g_autofree guint *slots = g_new (guint, size + 1);
    for (guint i = 0; i < size; i++)
        pick[i] = i;
    for (;;) {
        for (guint i = 0; i < size; i++)
            slots[i] = g_array_index (holders, guint, pick[i]);
        forbid_together (layers, slots, size, triple);
        guint last = size;
        while (last > 0 && pick[last - 1] == holders->len - size + last - 1)
            last--;
        if (last == 0)
            return TRUE;
        pick[last - 1]++;
        for (guint i = last; i < size; i++)
            pick[i] = pick[i - 1] + 1;
    }
}

static void
learn_at_hand (Layers *layers, const Replay *replay)
{
    const Problem *problem = layers->problem;
    guint count = g_array_index (problem->triples, Triple, replay->triple).count;
    g_autoptr (GArray) holders = g_array_new (FALSE, FALSE, sizeof (guint)); /* could hold it */
    g_autoptr (GArray) held = g_array_new (FALSE, FALSE, sizeof (guint));    /* held it together, or were about to */
    for (guint v = 0; v < problem->n_slots; v++) {
        const Variable *var = &problem->vars[v];
        gboolean holds = replay->values[v] != 0 && var->triple[replay->values[v]] == replay->triple;
        count -= var->fixed && holds;
        if (!var->fixed && (holds || v == replay->var))
            g_array_append_val (held, v);
        for (guint value = 1; !var->fixed && value < var->size; value++)
            if (var->triple[value] == replay->triple)
                g_array_append_val (holders, v);
    }
    if (!forbid_every_set (layers, holders, count + 1, replay->triple))
        forbid_together (layers, (const guint *) (const void *) held->data, held->len, replay->triple);
}

/* ---- Totals ---- */

typedef struct {
    const Problem *problem;
    const Sum *sum;
    const guint16 *values;
    guint8 *blamed; /* per slot: its load is needed for the limit to be broken */
} Blame;

static double
limit_of (const Blame *blame)
{
    double supply = 0, largest = 0;
    for (guint v = 0; v < blame->problem->n_slots; v++)
        if (blame->values[v] != 0 && problem_live (blame->problem, v, blame->values)) {
            supply += blame->sum->supply[v][blame->values[v]];
            largest = MAX (largest, blame->sum->supply[v][blame->values[v]]);
        }
    return supply - (blame->sum->lose_largest ? largest : 0);
}

/* Lets go of slots, the smallest loads first, as long as the rest still breaks the limit. */
static void
shrink_blame (Blame *blame)
{
    double load = blame->sum->base, limit = limit_of (blame);
    for (guint v = 0; v < blame->problem->n_slots; v++) {
        blame->blamed[v] = blame->values[v] != 0 && problem_live (blame->problem, v, blame->values) &&
                           blame->sum->load[v][blame->values[v]] > 0;
        load += blame->blamed[v] ? blame->sum->load[v][blame->values[v]] : 0;
    }
    for (gboolean let_go = TRUE; let_go;) {
        int smallest = -1;
        let_go = FALSE;
        for (guint v = 0; v < blame->problem->n_slots; v++)
            if (blame->blamed[v] && (smallest < 0 || blame->sum->load[v][blame->values[v]] <
                                                         blame->sum->load[smallest][blame->values[smallest]]))
                smallest = (int) v;
        if (smallest < 0 || load - blame->sum->load[smallest][blame->values[smallest]] <= limit + TOTAL_SLACK)
            break;
        load -= blame->sum->load[smallest][blame->values[smallest]];
        blame->blamed[smallest] = 0;
        let_go = TRUE;
    }
}

/* Something blamed draws less or goes dark, or some supply gives more. */
static Clause *
clause_of_blame (const Blame *blame)
{
    const Problem *problem = blame->problem;
    guint8 **in = g_new0 (guint8 *, problem->n_slots + 1);
    for (guint v = 0; v < problem->n_slots; v++)
        in[v] = g_new0 (guint8, problem->vars[v].size);
    for (guint v = 0; v < problem->n_slots; v++) {
        gboolean live = blame->values[v] != 0 && problem_live (problem, v, blame->values);
        double gives = blame->sum->supply[v][blame->values[v]];
        for (guint value = 0; value < problem->vars[v].size; value++)
            in[v][value] |= (blame->blamed[v] && blame->sum->load[v][value] < blame->sum->load[v][blame->values[v]]) ||
                            blame->sum->supply[v][value] > gives;
        for (int server = problem->vars[v].server; server >= 0; server = problem->vars[server].server) {
            if (blame->blamed[v])
                in[server][0] = 1;
            /* A supply that is dead now may come alive when an empty server is filled. */
            for (guint value = 1;
                 !live && gives > 0 && blame->values[server] == 0 && value < problem->vars[server].size; value++)
                in[server][value] = 1;
        }
    }
    Clause *clause = g_new0 (Clause, 1);
    clause->literals = g_new0 (Literal, problem->n_slots + 1);
    for (guint v = 0; v < problem->n_slots; v++) {
        gboolean any = FALSE;
        for (guint value = 0; value < problem->vars[v].size; value++)
            any = any || in[v][value];
        if (any && !problem->vars[v].fixed && problem->vars[v].size > 1)
            clause->literals[clause->count++] = (Literal){ v, g_steal_pointer (&in[v]) };
    }
    for (guint v = 0; v < problem->n_slots; v++)
        g_free (in[v]);
    g_free (in);
    return clause;
}

static void
learn_sum (Layers *layers, const Replay *replay)
{
    const Problem *problem = layers->problem;
    const Sum *sum = problem->sums->pdata[replay->sum];
    g_autofree guint8 *blamed = g_new0 (guint8, problem->n_slots + 1);
    g_autofree guint *sizes = g_new (guint, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        sizes[v] = problem->vars[v].size;
    Blame blame = { problem, sum, replay->values, blamed };
    shrink_blame (&blame);
    Clause *clause = clause_of_blame (&blame);
    if (sum->needed_to_start)
        g_ptr_array_add (layers->start, clause_copy (clause, sizes));
    if (sum->needed_on_standby)
        g_ptr_array_add (layers->standby, clause_copy (clause, sizes));
    for (guint m = 0; m < METHOD_COUNT; m++)
        if ((sum->bars & METHOD_BIT (m)) != 0)
            g_ptr_array_add (layers->bars[m], clause_copy (clause, sizes));
    clause_free (clause);
}

void
layers_learn (Layers *layers, const Replay *replay)
{
    if (replay->verdict == REPLAY_AT_HAND)
        learn_at_hand (layers, replay);
    else
        learn_sum (layers, replay);
}
