/* SPDX-License-Identifier: MIT */
/* Why a step is in a route, found by trying without it: the route without the write, the state with the other part. */
#include "reports/reasons.h"

/* Of longer routes no reasons are given: each costs a walk of the whole. */
#define MOST_REASONED 512

static const Step *
step_at (const RouteJob *job, guint index)
{
    return &g_array_index (job->steps, Step, index);
}

static const State *
state_at (const RouteJob *job, guint index)
{
    return g_ptr_array_index (job->states, index);
}

static const State *
first_state (const RouteJob *job)
{
    return state_at (job, 0);
}

static const State *
last_state (const RouteJob *job)
{
    return state_at (job, job->steps->len);
}

static gboolean
same_held (const Held *left, const Held *right)
{
    return left->part == right->part &&
           (left->part == NULL || (left->stepping == right->stepping && left->owner == right->owner));
}

/* Without the write, some later step is refused, or the end is. */
static char *
reason_of_write (const RouteJob *job, guint index)
{
    g_autoptr (GArray) others = g_array_new (FALSE, FALSE, sizeof (Step));
    g_autoptr (Walk) walk = NULL;

    g_array_append_vals (others, job->steps->data, job->steps->len);
    g_array_remove_index (others, index);
    walk = check_walk (job->library, job->shop, job->want, first_state (job), others);
    if (walk->sound || walk->why == NULL)
        return NULL;
    if (walk->first_bad >= others->len)
        return g_strdup_printf ("without it the end is not reached: %s", walk->why);
    return g_strdup_printf ("without it step %u is refused: %s",
                            walk->first_bad < index ? walk->first_bad + 1 : walk->first_bad + 2, walk->why);
}

static gboolean
keeps_dark (const Broken *broken)
{
    return broken->breaking == BREAKING_STOPS ||
           (broken->breaking == BREAKING_HARMS && (broken->powers & POWER_ON) != 0);
}

/* The facts of the first rule that keeps the state from starting, or its sentence where it has none; NULL: it starts.
 */
static char *
what_keeps_dark (const RouteJob *job, const State *state)
{
    g_autoptr (GPtrArray) broken = check_state (job->library, job->shop, state);

    for (guint i = 0; i < broken->len; i++) {
        const Broken *rule = g_ptr_array_index (broken, i);
        g_autoptr (GPtrArray) facts = g_ptr_array_new ();

        if (!keeps_dark (rule))
            continue;
        for (guint f = 0; f < rule->facts->len; f++)
            g_ptr_array_add (facts, ((const Fact *) g_ptr_array_index (rule->facts, f))->text);
        if (facts->len == 0)
            return g_strdup (rule->says);
        g_ptr_array_add (facts, NULL);
        return g_strjoinv ("; ", (char **) facts->pdata);
    }
    return NULL;
}

/* The next host write before anything else happens to the slot of step `index`; -1: there is none. */
static int
next_host_write (const RouteJob *job, guint index)
{
    for (guint i = index + 1; i < job->steps->len; i++) {
        const Step *step = step_at (job, i);

        if (step->kind != STEP_WRITE && step->slot == step_at (job, index)->slot)
            return -1;
        if (step->kind == STEP_WRITE && step->method == METHOD_HOST)
            return (int) i;
    }
    return -1;
}

static char *
held_in_words (const Held *held)
{
    g_autofree char *part = words_part (held->part, held->stepping);

    return held->part == NULL ? g_strdup ("the slot empty") : g_strdup_printf ("%s there instead", part);
}

/* Loaners of one kind stand in for each other, so all of them give way at once to what their slots end with. */
static char *
reason_of_loaner (const RouteJob *job, guint index)
{
    const Step *step = step_at (job, index);
    int moment = next_host_write (job, index);
    g_autoptr (State) instead = NULL;
    g_autofree char *ending = held_in_words (&last_state (job)->held[step->slot]);
    g_autofree char *sentence = NULL;

    if (moment < 0)
        return NULL;
    instead = state_copy (state_at (job, (guint) moment));
    for (guint s = 0; s < instead->board->slots->len; s++)
        if (instead->held[s].part != NULL && instead->held[s].owner == OWNER_LOAN &&
            instead->held[s].part->kind == step->part->kind)
            instead->held[s] = last_state (job)->held[s];
    sentence = what_keeps_dark (job, instead);
    if (sentence == NULL)
        return g_strdup_printf ("lent for step %d", moment + 1);
    return g_strdup_printf ("lent so that the unit starts for step %d; with %s: %s", moment + 1, ending, sentence);
}

/* A part that comes out for a while only: what goes wrong when it stays in. */
static char *
reason_of_removal (const RouteJob *job, guint index)
{
    const Step *step = step_at (job, index);
    const Held *taken = &state_at (job, index)->held[step->slot];
    int moment = next_host_write (job, index);
    g_autoptr (State) instead = NULL;
    g_autofree char *sentence = NULL;

    if (moment < 0 || taken->owner == OWNER_LOAN)
        return NULL;
    instead = state_copy (state_at (job, (guint) moment));
    instead->held[step->slot] = *taken;
    sentence = what_keeps_dark (job, instead);
    return sentence == NULL
               ? NULL
               : g_strdup_printf ("taken out so that the unit starts for step %d; left in: %s", moment + 1, sentence);
}

/* A slot that the want does not mention, and that ends with another part: what goes wrong at the end with the old one.
 */
static char *
reason_of_change (const RouteJob *job, guint index)
{
    const Step *step = step_at (job, index);
    const Held *began = &first_state (job)->held[step->slot];
    g_autoptr (State) instead = NULL;
    g_autofree char *before = held_in_words (began);
    g_autofree char *sentence = NULL;

    if (job->want == NULL || job->want->slots[step->slot].kind != WANT_NOTHING ||
        same_held (began, &last_state (job)->held[step->slot]))
        return NULL;
    instead = state_copy (last_state (job));
    instead->held[step->slot] = *began;
    sentence = what_keeps_dark (job, instead);
    return sentence == NULL ? NULL : g_strdup_printf ("changed along; at the end, with %s: %s", before, sentence);
}

char *
route_reason (const RouteJob *job, guint index)
{
    if (job->steps->len > MOST_REASONED)
        return NULL;
    const Step *step = step_at (job, index);

    switch (step->kind) {
    case STEP_WRITE:
        return reason_of_write (job, index);
    case STEP_REMOVE:
        return reason_of_removal (job, index);
    case STEP_FIT:
        return step->owner == OWNER_LOAN ? reason_of_loaner (job, index) : reason_of_change (job, index);
    }
    g_assert_not_reached ();
}
