/* SPDX-License-Identifier: MIT */
#include "by_trying.h"

#include "check/steps.h"

typedef struct {
    State *state; /* owned */
    guint steps;
} Seen;

typedef struct {
    Walker walker;     /* what every state shares; `state` and `broken` are set for the one being looked at */
    GArray *seen;      /* Seen, in the order of their steps */
    GHashTable *known; /* set of char *: keys of the states; owned */
    guint most_states;
} Trying;

/* What tells two states apart. Transfer full. */
static char *
state_key (const State *state)
{
    GString *key = g_string_new (NULL);
    for (guint c = 0; c < state->board->components->len; c++)
        g_string_append_printf (key, "%u/%d ", state->releases[c], state->floors[c]);
    for (guint s = 0; s < state->board->slots->len; s++) {
        const Held *held = &state->held[s];
        if (held->part != NULL)
            g_string_append_printf (key, "%s/%s/%u", held->part->name, held->stepping ? held->stepping : "",
                                    (guint) held->owner);
        g_string_append_c (key, ';');
    }
    return g_string_free (key, FALSE);
}

static void
seen_clear (gpointer seen)
{
    state_free (((Seen *) seen)->state);
}

/* Takes the state over. */
static void
meet (Trying *trying, State *state, guint steps)
{
    char *key = state_key (state);
    if (!g_hash_table_add (trying->known, key)) {
        state_free (state);
        return;
    }
    Seen seen = { state, steps };
    g_array_append_val (trying->seen, seen);
}

static void
try_step (Trying *trying, const Step *step, guint steps)
{
    const Walker *walker = &trying->walker;
    Refusal refusal = { NULL, NULL };
    if (step_is_known (walker, step, &refusal) && step_is_allowed (walker, step, &refusal)) {
        g_autoptr (State) after = state_copy (walker->state);
        state_apply (after, step);
        g_autoptr (GPtrArray) broken = check_state (walker->library, walker->shop, after);
        if (step->kind != STEP_WRITE || write_is_allowed_after (walker, step, broken, &refusal))
            meet (trying, g_steal_pointer (&after), steps + 1);
    }
    g_free (refusal.why);
}

static void
try_fits (Trying *trying, guint slot, guint steps)
{
    const GPtrArray *parts = trying->walker.library->book.parts;
    for (guint p = 0; p < parts->len; p++) {
        const Part *part = parts->pdata[p];
        for (guint s = 0; s < MAX (part->steppings->len, 1); s++)
            for (Owner owner = OWNER_UNIT; owner < OWNER_COUNT; owner++) {
                Step step = { .kind = STEP_FIT, .slot = slot, .part = part, .owner = owner };
                step.stepping = part->steppings->len ? part->steppings->pdata[s] : NULL;
                if (part->kind == board_slot (trying->walker.state->board, slot)->takes)
                    try_step (trying, &step, steps);
            }
    }
}

static void
try_all (Trying *trying, guint steps)
{
    const State *state = trying->walker.state;
    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = &state->held[slot];
        Step out = { .kind = STEP_REMOVE, .slot = slot, .part = held->part, .stepping = held->stepping };
        out.owner = held->owner;
        if (held->part != NULL)
            try_step (trying, &out, steps);
        else
            try_fits (trying, slot, steps);
    }
    for (guint c = 0; c < state->board->components->len; c++)
        for (guint r = 0; r < board_component (state->board, c)->releases->len; r++)
            for (Method method = METHOD_HOST; method < METHOD_COUNT; method++) {
                Step step = { .kind = STEP_WRITE, .component = c, .release = r, .method = method };
                try_step (trying, &step, steps);
            }
}

static gboolean
is_end (Trying *trying)
{
    Refusal refusal = { NULL, NULL };
    gboolean end = end_is_allowed (&trying->walker, &refusal);
    g_free (refusal.why);
    return end;
}

/* Stands the walker in each state in turn, until one is an end. */
static guint
run (Trying *trying)
{
    for (guint i = 0; i < trying->seen->len && trying->seen->len <= trying->most_states; i++) {
        const Seen seen = g_array_index (trying->seen, Seen, i);
        Walker *walker = &trying->walker;
        walker->state = seen.state;
        g_autoptr (GPtrArray) broken = check_state (walker->library, walker->shop, seen.state);
        walker->broken = broken;
        if (is_end (trying))
            return seen.steps;
        try_all (trying, seen.steps);
    }
    return G_MAXUINT;
}

guint
shortest_by_trying (const Library *library, guint most_states, guint *met)
{
    g_autoptr (State) start = state_from_unit (library->units->pdata[0], NULL);
    Trying trying = { .most_states = most_states };
    trying.walker = (Walker){
        .library = library, .shop = library->shops->pdata[0], .want = library->wants->pdata[0], .start = start
    };
    trying.seen = g_array_new (FALSE, FALSE, sizeof (Seen));
    g_array_set_clear_func (trying.seen, seen_clear);
    trying.known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    meet (&trying, state_copy (start), 0);
    guint steps = run (&trying);
    if (met != NULL)
        *met = trying.seen->len;
    g_array_unref (trying.seen);
    g_hash_table_unref (trying.known);
    return steps;
}
