/* SPDX-License-Identifier: MIT */
/* States: copies, comparisons, the cases of a unit, which slots are live, what a spare image holds. */
#include "check/state.h"

static State *
state_new (const Unit *unit)
{
    State *state = g_new0 (State, 1);
    const Board *board = unit->board;

    state->board = board;
    state->revision = unit->revision;
    state->releases = g_new0 (guint, board->components->len);
    state->floors = g_new0 (int, board->components->len);
    state->failed = g_new0 (gboolean, board->components->len);
    state->held = g_new0 (Held, board->slots->len);
    state->fittings = g_new0 (guint, board->slots->len);
    state->unit = unit;
    return state;
}

void
state_free (State *state)
{
    if (state == NULL)
        return;
    g_free (state->releases);
    g_free (state->floors);
    g_free (state->failed);
    g_free (state->held);
    g_free (state->fittings);
    g_free (state);
}

State *
state_copy (const State *state)
{
    State *copy = state_new (state->unit);

    for (guint i = 0; i < state->board->components->len; i++) {
        copy->releases[i] = state->releases[i];
        copy->floors[i] = state->floors[i];
        copy->failed[i] = state->failed[i];
    }
    for (guint i = 0; i < state->board->slots->len; i++) {
        copy->held[i] = state->held[i];
        copy->fittings[i] = state->fittings[i];
    }
    return copy;
}

gboolean
state_equal (const State *left, const State *right)
{
    if (left->board != right->board || left->revision != right->revision)
        return FALSE;
    for (guint i = 0; i < left->board->components->len; i++)
        if (left->releases[i] != right->releases[i] || left->failed[i] != right->failed[i])
            return FALSE;
    for (guint i = 0; i < left->board->slots->len; i++)
        if (!held_equal (&left->held[i], &right->held[i]))
            return FALSE;
    return TRUE;
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
    State *state = state_new (unit);

    for (guint i = 0; i < unit->board->components->len; i++) {
        const UnitRelease *known = &unit->releases[i];
        const Component *component = board_component (unit->board, i);

        state->releases[i] = releases != NULL ? releases[i] : lowest_possible (known, component);
        state->floors[i] = MAX (known->floor, state_release (state, i)->lowest);
        state->failed[i] = unit->failed != NULL && unit->failed[i];
    }
    for (guint i = 0; i < unit->board->slots->len; i++)
        state->held[i] = held_from_fitted (&unit->fitted[i]);
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
    return left->part == right->part && left->stepping == right->stepping && left->owner == right->owner &&
           left->bound == right->bound;
}

Held
held_from_fitted (const Fitted *fitted)
{
    return (Held){ fitted->part, fitted->stepping, fitted->owner, fitted->bound };
}

Held
held_from_step (const Step *fit)
{
    return (Held){ fit->part, fit->stepping, fit->owner, fit->bound };
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

guint
unit_count_triple (const Unit *unit, const Held *triple)
{
    guint count = 0;

    for (guint i = 0; i < unit->board->slots->len; i++) {
        Held held = held_from_fitted (&unit->fitted[i]);

        if (held_equal (&held, triple))
            count++;
    }
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        Held held = held_from_fitted (&g_array_index (unit->pulled, Fitted, i));

        if (held_equal (&held, triple))
            count++;
    }
    return count;
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

int
board_find_spare (const Board *board, guint component)
{
    const char *spare = board_component (board, component)->spare;

    return spare != NULL ? board_find_component (board, spare) : -1;
}

int
state_spare_release (const State *state, guint component)
{
    int spare = board_find_spare (state->board, component);

    if (spare < 0 || state->failed[spare])
        return -1;
    return component_find_release (board_component (state->board, component),
                                   state_release (state, (guint) spare)->name);
}
