/* SPDX-License-Identifier: MIT */
/* A belief is looked at once. It has edges to the beliefs that one step leads to, and splits, each into the beliefs that
 * what is read tells apart. Beliefs are opened in layers, by the least that it costs to get there: a plan that costs k in
 * the worst case meets no belief beyond layer k, so that what is worth no more than the layers opened is exact. */
#include "beliefs_parts.h"

#include <string.h>

static void
belief_free (gpointer data)
{
    Belief *belief = data;

    g_array_unref (belief->edges);
    g_ptr_array_unref (belief->splits);
    g_free (belief);
}

static guint
hash_key (gconstpointer data)
{
    const Key *key = data;
    guint hash = 5381;

    for (guint i = 0; i < MOST_CASES; i++)
        hash = hash * 33 + (guint) key->at[i];
    return hash;
}

static gboolean
equal_keys (gconstpointer left, gconstpointer right)
{
    return memcmp (left, right, sizeof (Key)) == 0;
}

Belief *
belief_at (const Search *search, int number)
{
    return search->beliefs->pdata[number];
}

static gboolean
is_hopeless (const Search *search, const Key *key)
{
    for (guint i = 0; i < search->cases->len; i++)
        if (key->at[i] != ABSENT && !search->answer->hopeless[i])
            return FALSE;
    return TRUE;
}

int
add_belief (Search *search, const Key *key, int from, int step, GArray *layer)
{
    gpointer found;

    if (g_hash_table_lookup_extended (search->index, key, NULL, &found)) {
        int known = GPOINTER_TO_INT (found);

        if (layer == search->layer && !belief_at (search, known)->opened)
            g_array_append_val (layer, known);
        return known;
    }
    Belief *belief = g_new0 (Belief, 1);
    int number = (int) search->beliefs->len;

    *belief = (Belief){ .key = *key, .from = from, .step = step, .value = UNREACHED };
    belief->edges = g_array_new (FALSE, FALSE, sizeof (Edge));
    belief->splits = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
    g_hash_table_insert (search->index, &belief->key, GINT_TO_POINTER (number));
    g_ptr_array_add (search->beliefs, belief);
    belief->opened = is_hopeless (search, key);
    if (belief->opened)
        belief->value = 0;
    else
        g_array_append_val (layer, number);
    return number;
}

/* ---- Values ---- */

static int
least_value (const Search *search, const Belief *belief)
{
    int least = belief->value;

    for (guint i = 0; i < belief->edges->len; i++) {
        const Edge *edge = &g_array_index (belief->edges, Edge, i);
        int value = belief_at (search, edge->to)->value;

        least = MIN (least, value == UNREACHED ? UNREACHED : value + edge->cost);
    }
    for (guint s = 0; s < belief->splits->len; s++) {
        const GArray *parts = belief->splits->pdata[s];
        int dearest = 0;

        for (guint i = 0; i < parts->len; i++)
            dearest = MAX (dearest, belief_at (search, g_array_index (parts, int, i))->value);
        least = MIN (least, dearest);
    }
    return least;
}

/* Values only fall, towards what is true of the beliefs opened so far. */
static void
settle_values (const Search *search)
{
    for (gboolean falls = TRUE; falls;) {
        falls = FALSE;
        for (guint i = search->beliefs->len; i-- > 0;) {
            Belief *belief = search->beliefs->pdata[i];
            int value = least_value (search, belief);

            falls = falls || value < belief->value;
            belief->value = value;
        }
    }
}

/* ---- The search ---- */

static gboolean
is_too_large (const Search *search)
{
    return search->beliefs->len > search->most || search->singles->all->len > search->most;
}

/* FALSE: too large. The root's value stands in `*value`; UNREACHED: there is no plan. */
static gboolean
search_layers (Search *search, int *value)
{
    for (int depth = 0; search->layer->len > 0; depth++) {
        for (guint i = 0; i < search->layer->len; i++) { /* it grows by what costs nothing */
            open_belief (search, g_array_index (search->layer, int, i));
            if (is_too_large (search))
                return FALSE;
        }
        settle_values (search);
        if (belief_at (search, 0)->value <= depth)
            break;
        g_array_set_size (search->layer, 0);
        GArray *opened = search->layer;
        search->layer = search->after;
        search->after = opened;
    }
    settle_values (search);
    *value = belief_at (search, 0)->value;
    return TRUE;
}

/* What all searches of one question share. Borrowed. */
typedef struct {
    Singles *singles;
    const GPtrArray *cases;
    Counted counted;
    guint most;
} Asked;

/* From the belief in all cases, or in `only` one (>= 0). As search_layers(). */
static gboolean
search_from (const Asked *asked, PlanAnswer *answer, int only, gboolean may_read, int *value)
{
    Singles *singles = asked->singles;
    const GPtrArray *cases = asked->cases;
    Search search = { .singles = singles,
                      .cases = cases,
                      .answer = answer,
                      .may_read = may_read,
                      .counted = asked->counted,
                      .most = asked->most };
    Key root;

    search.beliefs = g_ptr_array_new_with_free_func (belief_free);
    search.index = g_hash_table_new (hash_key, equal_keys);
    search.layer = g_array_new (FALSE, FALSE, sizeof (int));
    search.after = g_array_new (FALSE, FALSE, sizeof (int));
    memset (&root, 0xff, sizeof root);
    for (guint i = 0; i < cases->len; i++)
        if (only < 0 || only == (int) i)
            root.at[i] = (int) singles_add (singles, state_from_unit (singles->question.unit, cases->pdata[i]));
    add_belief (&search, &root, -1, -1, search.layer);
    gboolean done = search_layers (&search, value);
    answer->beliefs += search.beliefs->len;
    g_hash_table_unref (search.index);
    g_ptr_array_unref (search.beliefs);
    g_array_unref (search.layer);
    g_array_unref (search.after);
    return done;
}

/* FALSE: too large. */
static gboolean
look_at_cases_alone (const Asked *asked, PlanAnswer *answer)
{
    for (guint i = 0; i < asked->cases->len; i++) {
        PlanAnswer none_known = { .n_cases = asked->cases->len };
        int value;

        if (!search_from (asked, &none_known, (int) i, FALSE, &value))
            return FALSE;
        answer->beliefs += none_known.beliefs;
        answer->hopeless[i] = value == UNREACHED;
        answer->n_hopeless += answer->hopeless[i] ? 1 : 0;
        answer->alone[i] = answer->hopeless[i] ? 0 : (guint) value;
    }
    return TRUE;
}

static PlanAnswer
search_all (const Asked *asked)
{
    PlanAnswer answer = { .kind = PLAN_TOO_LARGE, .n_cases = asked->cases->len, .single = NO_SINGLE };
    int value, single = UNREACHED;

    if (!look_at_cases_alone (asked, &answer))
        return answer;
    if (answer.n_hopeless == answer.n_cases) {
        answer.kind = PLAN_NONE;
        return answer;
    }
    if (!search_from (asked, &answer, -1, TRUE, &value))
        return answer;
    /* One route for all would be a route for a case that has none. */
    if (answer.n_hopeless == 0 && value != UNREACHED && !search_from (asked, &answer, -1, FALSE, &single))
        return answer;
    answer.kind = value == UNREACHED ? PLAN_NONE : PLAN_THERE;
    answer.worst = value == UNREACHED ? 0 : (guint) value;
    answer.single = single == UNREACHED ? NO_SINGLE : single;
    return answer;
}

PlanAnswer
beliefs_search (const Question *question, Counted counted, guint most)
{
    const PlanAnswer too_large = { .kind = PLAN_TOO_LARGE };
    g_autoptr (GPtrArray) cases = unit_cases (question->unit, MOST_CASES);

    if (cases == NULL)
        return too_large;
    g_autoptr (Singles) singles = singles_new (question);
    const Asked asked = { singles, cases, counted, most };
    return search_all (&asked);
}
