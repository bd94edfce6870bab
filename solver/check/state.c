/* SPDX-License-Identifier: MIT */
/* States: copies, the cases of a unit, which slots are live. */
#include "check/state.h"

static State *
state_new (const Board *board, guint revision)
{
    State *state = g_new0 (State, 1);

    state->board = board;
    state->revision = revision;
    state->releases = g_new0 (guint, board->components->len);
    state->floors = g_new0 (int, board->components->len);
    state->held = g_new0 (Held, board->slots->len);
    return state;
}

void
state_free (State *state)
{
    if (state == NULL)
        return;
    g_free (state->releases);
    g_free (state->floors);
    g_free (state->held);
    g_free (state);
}

State *
state_copy (const State *state)
{
    State *copy = state_new (state->board, state->revision);

    for (guint i = 0; i < state->board->components->len; i++) {
        copy->releases[i] = state->releases[i];
        copy->floors[i] = state->floors[i];
    }
    for (guint i = 0; i < state->board->slots->len; i++)
        copy->held[i] = state->held[i];
    return copy;
}

static guint
lowest_possible (const UnitRelease *known, const Component *component)
{
    for (guint i = 0; i < component->releases->len; i++)
        if (known->may_be[i])
            return i;
    g_assert_not_reached (); /* a component has at least one release that it may have */
}

State *
state_from_unit (const Unit *unit, const guint *releases)
{
    State *state = state_new (unit->board, unit->revision);

    for (guint i = 0; i < unit->board->components->len; i++) {
        const UnitRelease *known = &unit->releases[i];
        const Component *component = board_component (unit->board, i);

        state->releases[i] = releases != NULL ? releases[i] : lowest_possible (known, component);
        state->floors[i] = MAX (known->floor, state_release (state, i)->lowest);
    }
    for (guint i = 0; i < unit->board->slots->len; i++)
        state->held[i] = (Held){ unit->fitted[i].part, unit->fitted[i].stepping, OWNER_UNIT };
    return state;
}

/* Steps `releases` to the next combination, the last component counting fastest. FALSE after the last one. */
static gboolean
next_case (const Unit *unit, guint *releases)
{
    for (guint i = unit->board->components->len; i-- > 0;) {
        const Component *component = board_component (unit->board, i);

        for (guint r = releases[i] + 1; r < component->releases->len; r++)
            if (unit->releases[i].may_be[r]) {
                releases[i] = r;
                return TRUE;
            }
        releases[i] = lowest_possible (&unit->releases[i], component);
    }
    return FALSE;
}

GPtrArray *
unit_cases (const Unit *unit, guint most)
{
    g_autoptr (GPtrArray) cases = g_ptr_array_new_with_free_func (g_free);
    guint n_components = unit->board->components->len;
    g_autofree guint *releases = g_new0 (guint, n_components);

    for (guint i = 0; i < n_components; i++)
        releases[i] = lowest_possible (&unit->releases[i], board_component (unit->board, i));
    do {
        if (cases->len == most)
            return NULL;
        g_ptr_array_add (cases, g_memdup2 (releases, n_components * sizeof (guint)));
    } while (next_case (unit, releases));
    return g_steal_pointer (&cases);
}

gboolean
held_equal (const Held *left, const Held *right)
{
    if (left->part == NULL || right->part == NULL)
        return left->part == right->part;
    return left->part == right->part && left->stepping == right->stepping && left->owner == right->owner;
}

guint
state_count_triple (const State *state, const Held *triple)
{
    guint count = 0;

    for (guint i = 0; i < state->board->slots->len; i++)
        if (held_equal (&state->held[i], triple))
            count++;
    return count;
}

gboolean
state_slot_is_live (const State *state, guint slot)
{
    int server = board_slot (state->board, slot)->served_by;

    /* No chain is longer than the slots; one that is runs in a circle and keeps nothing alive. */
    for (guint links = 0; server >= 0; links++) {
        if (links == state->board->slots->len || state->held[server].part == NULL)
            return FALSE;
        server = board_slot (state->board, (guint) server)->served_by;
    }
    return TRUE;
}

const Held *
state_live_part (const State *state, guint slot)
{
    if (state->held[slot].part == NULL || !state_slot_is_live (state, slot))
        return NULL;
    return &state->held[slot];
}

const Release *
state_release (const State *state, guint component)
{
    return component_release (board_component (state->board, component), state->releases[component]);
}
