/* SPDX-License-Identifier: MIT */
/* What may be done with a belief: end, try a start, read a page, take a step. */
#include "beliefs_parts.h"

#include <string.h>

/* ---- The end ---- */

/* The steps that led there first. Transfer full. */
static GArray *
path_to (const Search *search, int number)
{
    GArray *path = g_array_new (FALSE, FALSE, sizeof (Step));

    for (; number >= 0; number = belief_at (search, number)->from) {
        int step = belief_at (search, number)->step;

        if (step >= 0)
            g_array_prepend_val (path, g_array_index (search->singles->steps, Step, step));
    }
    return path;
}

/* By the whole route, since the end may be asked what the work began with. */
static gboolean
case_ends (const Search *search, int number, guint index)
{
    const Question *asked = &search->singles->question;
    g_autoptr (GArray) path = path_to (search, number);
    g_autoptr (State) start = state_from_unit (asked->unit, search->cases->pdata[index]);
    g_autoptr (Walk) walk = check_walk (asked->library, asked->shop, asked->want, start, path);

    g_assert (walk->sound || walk->first_bad == path->len);
    return walk->sound;
}

static gboolean
is_end (const Search *search, int number)
{
    const Key *key = &belief_at (search, number)->key;

    for (guint i = 0; i < search->cases->len; i++)
        if (key->at[i] != ABSENT && singles_at (search->singles, (guint) key->at[i])->meets == MEETS_NO)
            return FALSE;
    for (guint i = 0; i < search->cases->len; i++)
        if (key->at[i] != ABSENT && singles_at (search->singles, (guint) key->at[i])->meets == MEETS_BY_CASE &&
            !case_ends (search, number, i))
            return FALSE;
    return TRUE;
}

/* ---- What may be done ---- */

/* Where one step leads from a state; ABSENT: it is not allowed. Moves are sorted by step. */
static int
after_step (const Single *single, guint step)
{
    for (guint i = 0; i < single->moves->len; i++)
        if (g_array_index (single->moves, Onward, i).step == step)
            return (int) g_array_index (single->moves, Onward, i).to;
    return ABSENT;
}

static int
cost_of (const Search *search, guint step)
{
    const Step *made = &g_array_index (search->singles->steps, Step, step);

    return search->counted == COUNT_STEPS || (made->kind == STEP_FIT && made->part->kind == KIND_PROCESSOR) ? 1 : 0;
}

static void
take_step (Search *search, int number, guint step)
{
    const int cost = cost_of (search, step);
    Key after;

    memset (&after, 0xff, sizeof after);
    for (guint i = 0; i < search->cases->len; i++) {
        int at = belief_at (search, number)->key.at[i];

        if (at == ABSENT)
            continue;
        after.at[i] = after_step (singles_moves (search->singles, (guint) at), step);
        if (after.at[i] == ABSENT)
            return;
    }
    const Edge edge = { add_belief (search, &after, number, (int) step, cost > 0 ? search->after : search->layer),
                        cost };
    if (edge.to != number)
        g_array_append_val (belief_at (search, number)->edges, edge);
}

/* What a start that is tried, or a page (of `component` >= 0), shows of a state; two that show the same stay together. */
static gboolean
shows_alike (const Single *left, const Single *right, int component)
{
    if (component >= 0)
        return left->state->releases[component] == right->state->releases[component];
    if (left->starts != right->starts)
        return FALSE;
    return !left->starts || memcmp (left->state->releases, right->state->releases,
                                    left->state->board->components->len * sizeof (guint)) == 0;
}

static gboolean
may_be_read (const Single *single, int component)
{
    return component >= 0 ? (single->pages >> component & 1) != 0 : single->may_try;
}

/* Takes out of `rest` the cases that show the same as its first one. */
static Key
take_alike (const Search *search, Key *rest, int component)
{
    const Single *first = NULL;
    Key alike;

    memset (&alike, 0xff, sizeof alike);
    for (guint i = 0; i < search->cases->len; i++) {
        if (rest->at[i] == ABSENT)
            continue;
        const Single *single = singles_at (search->singles, (guint) rest->at[i]);
        if (first == NULL)
            first = single;
        if (!shows_alike (first, single, component))
            continue;
        alike.at[i] = rest->at[i];
        rest->at[i] = ABSENT;
    }
    return alike;
}

static gboolean
is_empty (const Key *key)
{
    for (guint i = 0; i < MOST_CASES; i++)
        if (key->at[i] != ABSENT)
            return FALSE;
    return TRUE;
}

/* `component` -1: a start is tried. A reading that tells nothing apart is none. */
static void
read_what_shows (Search *search, int number, int component)
{
    Key rest = belief_at (search, number)->key;

    for (guint i = 0; i < search->cases->len; i++)
        if (rest.at[i] != ABSENT && !may_be_read (singles_reads (search->singles, (guint) rest.at[i]), component))
            return;
    Key alike = take_alike (search, &rest, component);
    if (is_empty (&rest))
        return;
    GArray *parts = g_array_new (FALSE, FALSE, sizeof (int));
    for (;;) {
        int part = add_belief (search, &alike, number, -1, search->layer);

        g_array_append_val (parts, part);
        if (is_empty (&rest))
            break;
        alike = take_alike (search, &rest, component);
    }
    g_ptr_array_add (belief_at (search, number)->splits, parts);
}

void
open_belief (Search *search, int number)
{
    int n_components = (int) search->singles->question.unit->board->components->len;

    if (belief_at (search, number)->opened)
        return;
    belief_at (search, number)->opened = TRUE;
    if (is_end (search, number)) {
        belief_at (search, number)->value = 0;
        return;
    }
    for (int component = -1; search->may_read && component < n_components; component++)
        read_what_shows (search, number, component);
    for (guint step = 0; step < search->singles->steps->len; step++)
        take_step (search, number, step);
}
