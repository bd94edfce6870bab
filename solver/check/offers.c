/* SPDX-License-Identifier: MIT */
/* Offers: the names that a state has, one by one, and the truth of an atom over them. */
#include "check/offers.h"

#include "check/state.h"

static void
add_all (GArray *offers, const GArray *provides, OfferedBy by, guint index)
{
    for (guint i = 0; i < provides->len; i++) {
        Offer offer = { g_array_index (provides, Provide, i), by, index };

        g_array_append_val (offers, offer);
    }
}

static void
add_board (GArray *offers, const State *state)
{
    g_autoptr (GArray) provides = g_array_new (FALSE, FALSE, sizeof (Provide));

    board_each_provide (state->board, state->revision, provides);
    add_all (offers, provides, OFFERED_BY_BOARD, 0);
}

static void
add_release (GArray *offers, const Board *board, guint component, guint release)
{
    g_autoptr (GArray) provides = g_array_new (FALSE, FALSE, sizeof (Provide));
    const Component *entry = board_component (board, component);

    release_each_provide (entry, component_release (entry, release), provides);
    add_all (offers, provides, OFFERED_BY_COMPONENT, component);
}

static void
add_slot (GArray *offers, const State *state, guint slot)
{
    const Held *held = state_live_part (state, slot);
    Offer name = { { board_slot (state->board, slot)->name, NULL }, OFFERED_BY_SLOT, slot };

    if (held == NULL)
        return;
    g_autoptr (GArray) provides = g_array_new (FALSE, FALSE, sizeof (Provide));
    part_each_provide (held->part, held->stepping, provides);
    add_all (offers, provides, OFFERED_BY_SLOT, slot);
    g_array_append_val (offers, name);
}

GArray *
offers_of_state (const State *state)
{
    GArray *offers = g_array_new (FALSE, FALSE, sizeof (Offer));

    add_board (offers, state);
    for (guint i = 0; i < state->board->components->len; i++)
        if (!state->failed[i])
            add_release (offers, state->board, i, state->releases[i]);
    for (guint i = 0; i < state->board->slots->len; i++)
        add_slot (offers, state, i);
    return offers;
}

GArray *
offers_of_release (const Board *board, guint component, guint release)
{
    GArray *offers = g_array_new (FALSE, FALSE, sizeof (Offer));

    add_release (offers, board, component, release);
    return offers;
}

gboolean
offer_answers (const Board *board, const Offer *offer, const Expr *atom)
{
    if (offer->provide.name != atom->name)
        return FALSE;
    return atom->op == OP_ANY || board_version_answers (board, atom, offer->provide.version);
}

typedef struct {
    const Board *board;
    const GArray *offers;
} Ground;

static gboolean
atom_holds (const Expr *atom, gpointer data)
{
    const Ground *ground = data;

    for (guint i = 0; i < ground->offers->len; i++)
        if (offer_answers (ground->board, &g_array_index (ground->offers, Offer, i), atom))
            return TRUE;
    return FALSE;
}

gboolean
offers_satisfy (const Board *board, const GArray *offers, const Expr *expr)
{
    Ground ground = { board, offers };

    return expression_holds (expr, atom_holds, &ground);
}

gboolean
offers_allow (const Board *board, const GArray *offers, const Expr *needs, const Expr *conflicts)
{
    if (needs != NULL && !offers_satisfy (board, offers, needs))
        return FALSE;
    return conflicts == NULL || !offers_satisfy (board, offers, conflicts);
}
