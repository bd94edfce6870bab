/* SPDX-License-Identifier: MIT */
/* A state written back as a unit in the middle of its work. */
#include "check/check.h"

#include "check/state.h"

/* One of the unit's own parts that may have been moved. */
typedef struct {
    Fitted fitted;
    gboolean placed; /* it is in a slot now */
} Piece;

/* Nobody has touched the slot, so what is in it is that very piece. */
static gboolean
is_untouched (const State *state, guint slot)
{
    Held came = held_from_fitted (&state->unit->fitted[slot]);

    return state->fittings[slot] == 0 && held_equal (&came, &state->held[slot]);
}

/* The unit's own parts, but for those in untouched slots. Transfer full (GArray of Piece). */
static GArray *
moved_pieces (const State *state)
{
    const Unit *unit = state->unit;
    GArray *pieces = g_array_new (FALSE, TRUE, sizeof (Piece));

    for (guint i = 0; i < state->board->slots->len; i++) {
        Piece piece = { unit->fitted[i], FALSE };

        if (piece.fitted.part != NULL && piece.fitted.owner == OWNER_UNIT && !is_untouched (state, i))
            g_array_append_val (pieces, piece);
    }
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        Piece piece = { g_array_index (unit->pulled, Fitted, i), FALSE };

        g_array_append_val (pieces, piece);
    }
    return pieces;
}

static gboolean
is_piece (const Piece *piece, const Held *held)
{
    Held own = held_from_fitted (&piece->fitted);

    return held_equal (&own, held);
}

/* Several pieces of one triple: a state does not say which of them was put where, so their serials are let go. */
static void
forget_serials (GArray *pieces, const Held *held, const char *unless)
{
    gboolean differ = FALSE;

    for (guint i = 0; i < pieces->len; i++) {
        const Piece *piece = &g_array_index (pieces, Piece, i);

        differ |= is_piece (piece, held) && g_strcmp0 (piece->fitted.serial, unless) != 0;
    }
    for (guint i = 0; differ && i < pieces->len; i++) {
        Piece *piece = &g_array_index (pieces, Piece, i);

        if (is_piece (piece, held))
            piece->fitted.serial = NULL;
    }
}

/* Takes the first piece that is such a part and lies beside the unit. FALSE when there is none. */
static gboolean
place_piece (GArray *pieces, const Held *held, Fitted *out)
{
    for (guint i = 0; i < pieces->len; i++) {
        Piece *piece = &g_array_index (pieces, Piece, i);

        if (piece->placed || !is_piece (piece, held))
            continue;
        forget_serials (pieces, held, piece->fitted.serial);
        piece->placed = TRUE;
        *out = piece->fitted;
        return TRUE;
    }
    return FALSE;
}

static void
fill_slots (Unit *unit, const State *state, GArray *pieces)
{
    for (guint i = 0; i < state->board->slots->len; i++) {
        const Held *held = &state->held[i];

        if (is_untouched (state, i))
            unit->fitted[i] = state->unit->fitted[i];
        else if (held->part == NULL || held->owner != OWNER_UNIT || !place_piece (pieces, held, &unit->fitted[i]))
            unit->fitted[i] = (Fitted){ .part = held->part,
                                        .stepping = held->stepping,
                                        .owner = held->owner,
                                        .bound = held->bound,
                                        .at = state->unit->at };
        unit->began[i] = *unit_began (state->unit, i);
    }
    for (guint i = 0; i < pieces->len; i++) {
        const Piece *piece = &g_array_index (pieces, Piece, i);

        if (!piece->placed)
            g_array_append_val (unit->pulled, piece->fitted);
    }
}

/* Transfer full. */
static UnitRelease
release_copy (const UnitRelease *known, const Component *component)
{
    UnitRelease copy = *known;

    copy.may_be = g_memdup2 (known->may_be, component->releases->len * sizeof (gboolean));
    return copy;
}

static void
fill_components (Unit *unit, const State *state)
{
    const Unit *came = state->unit;
    const UnitRelease *began = came->began_releases != NULL ? came->began_releases : came->releases;

    for (guint i = 0; i < state->board->components->len; i++) {
        UnitRelease *known = &unit->releases[i];

        known->may_be = g_new0 (gboolean, board_component (state->board, i)->releases->len + 1);
        known->may_be[state->releases[i]] = TRUE;
        known->count = 1;
        known->floor = state->floors[i];
        known->at = came->releases[i].at;
        unit->began_releases[i] = release_copy (&began[i], board_component (state->board, i));
        unit->failed[i] = state->failed[i];
    }
}

static void
fill_insertions (Unit *unit, const State *state)
{
    const Unit *came = state->unit;

    for (guint i = 0; i < state->board->slots->len; i++) {
        unit->insertions[i] = (came->insertions != NULL ? came->insertions[i] : 0) + state->fittings[i];
        unit->counted[i] = came->counted != NULL && came->counted[i];
    }
}

Unit *
unit_at_state (const State *state)
{
    guint n_slots = state->board->slots->len, n_components = state->board->components->len;
    Unit *unit = g_new0 (Unit, 1);
    g_autoptr (GArray) pieces = moved_pieces (state);

    unit->id = state->unit->id;
    unit->file = state->unit->file;
    unit->note = state->unit->note;
    unit->at = state->unit->at;
    unit->becomes = state->unit->becomes;
    unit->becomes_at = state->unit->becomes_at;
    unit->due = state->unit->due;
    unit->priority = state->unit->priority;
    unit->own_parts_stay = state->unit->own_parts_stay;
    unit->board = state->board;
    unit->revision = state->revision;
    unit->factory = factory_copy (&state->unit->factory, state->board);
    unit->releases = g_new0 (UnitRelease, n_components + 1);
    unit->began_releases = g_new0 (UnitRelease, n_components + 1);
    unit->failed = g_new0 (gboolean, n_components + 1);
    unit->fitted = g_new0 (Fitted, n_slots + 1);
    unit->began = g_new0 (Fitted, n_slots + 1);
    unit->pulled = g_array_new (FALSE, TRUE, sizeof (Fitted));
    unit->insertions = g_new0 (guint, n_slots + 1);
    unit->counted = g_new0 (gboolean, n_slots + 1);
    fill_components (unit, state);
    fill_slots (unit, state, pieces);
    fill_insertions (unit, state);
    return unit;
}
