/* SPDX-License-Identifier: MIT */
/* Alternatives: best first over sets of ruled-out needs.
 *
 * The best route needs this and that; ruling out one of its needs at a time gives the next questions, whose best routes
 * have needs of their own, and so on. Taken cheapest first, the routes come out in the order of their cost, and each
 * set of needs that is not more than an earlier one's comes out once. A route that does without all that is ruled out
 * in a later question is the best of that one too, when it was planned with less ruled out: then no plan is made. */
#include "explain/needs.h"

#include <string.h>

#define MOST_CASES 1024 /* combinations of releases that a route is walked in again */

/* A planned route, or the news that there is none. */
typedef struct {
    NeedSet *without;    /* owned: what was ruled out */
    NeedSet *needs;      /* owned; NULL without a route */
    RouteAnswer *answer; /* owned; NULL once it was given away, and without a route */
    Walk *walk;          /* borrowed from the answer */
} Planned;

/* A question that has a route. */
typedef struct {
    NeedSet *without; /* owned */
    Planned *planned; /* borrowed: maybe planned with less ruled out */
} Node;

typedef struct {
    const Question *question;
    GPtrArray *planned; /* Planned*; owned */
    GPtrArray *open;    /* Node*; owned */
    GHashTable *seen;   /* NeedSet*; owned: asked already */
    GPtrArray *given;   /* NeedSet*, borrowed: needs of the routes that were given out */
    guint plans;
    gboolean complete;
} Finder;

void
alternative_free (Alternative *alternative)
{
    if (alternative == NULL)
        return;
    g_clear_pointer (&alternative->answer, route_answer_free);
    if (alternative->needed.lots != NULL)
        g_array_unref (alternative->needed.lots);
    if (alternative->without != NULL)
        g_ptr_array_unref (alternative->without);
    g_free (alternative);
}

static void
planned_free (gpointer data)
{
    Planned *planned = data;

    g_free (planned->without);
    g_free (planned->needs);
    g_clear_pointer (&planned->answer, route_answer_free);
    g_free (planned);
}

static void
node_free (gpointer data)
{
    Node *node = data;

    g_free (node->without);
    g_free (node);
}

/* ---- Planning one question ---- */

static Objective
objective_of (const Question *question)
{
    return question->options == NULL ? OBJECTIVE_STEPS : question->options->objective;
}

static RouteAnswer *
plan_without (const Question *question, const NeedSet *without)
{
    g_auto (Narrowed) narrowed = { 0 };
    RouteOptions options = { 0 };

    if (question->options != NULL)
        options = *question->options;
    options.no_ways_back = TRUE;
    options.no_branches = TRUE;
    question_without (question, without, &narrowed);
    return route_find (narrowed.question.library, narrowed.question.shop, narrowed.question.unit,
                       narrowed.question.want, &options);
}

/* Walks the route with all that the shop has, in every case, to the want as it was asked. The answer keeps the walk of
 * its first case. */
static gboolean
holds_for_real (const Question *question, RouteAnswer *answer)
{
    g_autoptr (GPtrArray) cases = unit_cases (question->unit, MOST_CASES);
    guint count = cases == NULL ? 1 : cases->len;

    for (guint i = 0; i < count; i++) {
        g_autoptr (State) start = state_from_unit (question->unit, cases == NULL ? NULL : cases->pdata[i]);
        Walk *walk = check_walk (question->library, question->shop, question->want, start, answer->steps);
        gboolean sound = walk->sound;

        if (i == 0) {
            walk_free (answer->walk);
            answer->walk = walk;
        } else {
            walk_free (walk);
        }
        if (!sound)
            return FALSE;
    }
    return TRUE;
}

static gboolean
has_route (const RouteAnswer *answer)
{
    return answer->steps != NULL && (answer->claim == CLAIM_PROVED_SHORTEST || answer->claim == CLAIM_BEST_FOUND);
}

/* Nothing more to be had here: there is none, or none that serves every case. */
static gboolean
is_settled_without_route (const RouteAnswer *answer)
{
    return answer->claim == CLAIM_NO_ROUTE || answer->claim == CLAIM_READ_FIRST;
}

static Planned *
plan (Finder *finder, const NeedSet *without)
{
    g_autoptr (RouteAnswer) answer = plan_without (finder->question, without);
    Planned *planned = g_new0 (Planned, 1);

    finder->plans++;
    planned->without = g_strdup (without);
    g_ptr_array_add (finder->planned, planned);
    if (!has_route (answer)) {
        finder->complete &= is_settled_without_route (answer);
        return planned;
    }
    if (!holds_for_real (finder->question, answer)) {
        finder->complete = FALSE;
        return planned;
    }
    planned->needs = need_set_of_route (finder->question, answer->steps);
    planned->walk = answer->walk;
    planned->answer = g_steal_pointer (&answer);
    return planned;
}

/* What was planned with less ruled out and settles this question; NULL: nothing does. */
static Planned *
find_planned (const Finder *finder, const NeedSet *without)
{
    for (guint i = 0; i < finder->planned->len; i++) {
        Planned *planned = finder->planned->pdata[i];

        if (need_set_is_within (planned->without, without) &&
            (planned->needs == NULL || !need_sets_meet (planned->needs, without)))
            return planned;
    }
    return NULL;
}

/* ---- Best first ---- */

/* Takes over `without`. */
static void
ask (Finder *finder, NeedSet *without)
{
    Planned *planned = NULL;
    Node *node = NULL;

    if (!g_hash_table_add (finder->seen, without))
        return;
    planned = find_planned (finder, without);
    if (planned == NULL && finder->plans == ALTERNATIVES_MOST_PLANS) {
        finder->complete = FALSE;
        return;
    }
    if (planned == NULL)
        planned = plan (finder, without);
    if (planned->needs == NULL)
        return;
    node = g_new0 (Node, 1);
    node->without = g_strdup (without);
    node->planned = planned;
    g_ptr_array_add (finder->open, node);
}

static void
ask_for_children (Finder *finder, const Node *node)
{
    for (guint i = 0; node->planned->needs[i] != '\0'; i++) {
        NeedSet *without = NULL;

        if (node->planned->needs[i] != NEED_IN)
            continue;
        without = g_strdup (node->without);
        without[i] = NEED_IN;
        ask (finder, without);
    }
}

/* Of equals the one that was asked first. Transfer full. */
static Node *
take_cheapest (Finder *finder)
{
    Objective objective = objective_of (finder->question);
    guint best = 0;

    for (guint i = 1; i < finder->open->len; i++)
        if (walks_compare (objective, ((Node *) finder->open->pdata[i])->planned->walk,
                           ((Node *) finder->open->pdata[best])->planned->walk) < 0)
            best = i;
    return g_ptr_array_steal_index (finder->open, best);
}

static gboolean
adds_something (const Finder *finder, const Planned *planned)
{
    for (guint i = 0; i < finder->given->len; i++)
        if (need_set_is_within (finder->given->pdata[i], planned->needs))
            return FALSE;
    return planned->answer != NULL;
}

static Alternative *
alternative_new (Finder *finder, const Node *node)
{
    Alternative *alternative = g_new0 (Alternative, 1);

    g_ptr_array_add (finder->given, node->planned->needs);
    alternative->answer = g_steal_pointer (&node->planned->answer);
    needed_of_route (finder->question, alternative->answer->steps, &alternative->needed);
    alternative->without = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; node->without[i] != '\0'; i++)
        if (node->without[i] == NEED_IN)
            g_ptr_array_add (alternative->without, need_in_words (finder->question, i));
    return alternative;
}

static void
finder_clear (Finder *finder)
{
    g_ptr_array_unref (finder->open);
    g_ptr_array_unref (finder->planned);
    g_ptr_array_unref (finder->given);
    g_hash_table_unref (finder->seen);
}

GPtrArray *
alternatives_find (const Question *question, guint most, gboolean *complete)
{
    GPtrArray *found = g_ptr_array_new_with_free_func ((GDestroyNotify) alternative_free);
    Finder finder = { .question = question,
                      .planned = g_ptr_array_new_with_free_func (planned_free),
                      .open = g_ptr_array_new_with_free_func (node_free),
                      .seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL),
                      .given = g_ptr_array_new (),
                      .complete = TRUE };

    ask (&finder, need_set_new (question));
    while (finder.open->len > 0 && found->len < most) {
        Node *node = take_cheapest (&finder);

        if (adds_something (&finder, node->planned))
            g_ptr_array_add (found, alternative_new (&finder, node));
        if (found->len < most)
            ask_for_children (&finder, node);
        else
            finder.complete &= strchr (node->planned->needs, NEED_IN) == NULL;
        node_free (node);
    }
    *complete = finder.complete && finder.open->len == 0;
    finder_clear (&finder);
    return found;
}
