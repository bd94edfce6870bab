/* SPDX-License-Identifier: MIT */
/* The end of a route: docs/method.md, "The end" and "Tied slots". */
#include "check/steps.h"

#include "check/facts.h"
#include "check/offers.h"
#include "check/state.h"

static char *
held_in_words (const Held *held)
{
    return held->part != NULL ? part_in_words (held->part, held->stepping) : g_strdup ("nothing");
}

static gboolean
end_has_wanted_parts (const Walker *walker, Refusal *refusal)
{
    const State *state = walker->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = &state->held[slot];
        const WantSlot *asked = &walker->want->slots[slot];

        if (want_slot_is_met (asked, held->part, held->stepping))
            continue;
        g_autofree char *words = held_in_words (held);
        g_autofree char *place = mark_in_words (asked->at);
        return refuse (refusal, "end-want", "at the end %s holds %s, which is not what is wanted (%s)",
                       board_slot (state->board, slot)->name, words, place);
    }
    return TRUE;
}

static gboolean
end_has_wanted_firmware (const Walker *walker, Refusal *refusal)
{
    const State *state = walker->state;

    for (guint i = 0; i < state->board->components->len; i++) {
        const Expr *asked = walker->want->firmware[i];

        if (asked == NULL)
            continue;
        g_autoptr (GArray) offers = offers_of_release (state->board, i, state->releases[i]);
        if (offers_satisfy (state->board, offers, asked))
            continue;
        g_autofree char *text = expression_to_string (asked);
        g_autofree char *place = mark_in_words (asked->at);
        return refuse (refusal, "end-want", "at the end %s is at %s, and %s is wanted (%s)",
                       board_component (state->board, i)->name, state_release (state, i)->name, text, place);
    }
    return TRUE;
}

static gboolean
end_has_no_loaner (const Walker *walker, Refusal *refusal)
{
    const State *state = walker->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = &state->held[slot];

        if (held->part != NULL && held->owner == OWNER_LOAN) {
            g_autofree char *part = part_in_words (held->part, held->stepping);

            return refuse (refusal, "end-loaner", "at the end the loaner %s is still in %s", part,
                           board_slot (state->board, slot)->name);
        }
    }
    return TRUE;
}

/* Tied: rules tie it, directly or by way of other slots, to a slot that the want mentions. */
static gboolean
slot_is_tied (const Walker *walker, guint slot)
{
    const Board *board = walker->state->board;
    guint n = board->slots->len;
    g_autofree gboolean *reached = g_new0 (gboolean, n + 1);

    for (guint s = 0; s < n; s++)
        reached[s] = walker->want->slots[s].kind != WANT_NOTHING;
    for (gboolean spread = TRUE; spread;) {
        spread = FALSE;
        for (guint from = 0; from < n; from++)
            for (guint to = 0; reached[from] && to < n; to++)
                if (!reached[to] && rules_tie_kinds (walker->library->rules, board, from, to))
                    spread = reached[to] = TRUE;
    }
    return reached[slot];
}

/* A tied slot may end with any part that isn't lent (that is seen to elsewhere), but a full one not empty. */
static gboolean
slot_ends_as_it_may (const Walker *walker, guint slot)
{
    const Held *began = &walker->start->held[slot], *ends = &walker->state->held[slot];

    if (walker->want->slots[slot].kind != WANT_NOTHING || held_equal (began, ends))
        return TRUE;
    return ends->part != NULL && slot_is_tied (walker, slot);
}

static gboolean
end_leaves_the_rest (const Walker *walker, Refusal *refusal)
{
    const State *state = walker->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        if (slot_ends_as_it_may (walker, slot))
            continue;
        const Held *began = &walker->start->held[slot], *ends = &state->held[slot];
        g_autofree char *before = held_in_words (began);
        g_autofree char *after = held_in_words (ends);
        gboolean same_part = began->part == ends->part && began->stepping == ends->stepping;
        return refuse (refusal, "end-slot-changed",
                       "%s, of which the want says nothing, began with %s and ends with %s%s",
                       board_slot (state->board, slot)->name, before, after, same_part ? " that is not its own" : "");
    }
    return TRUE;
}

gboolean
end_is_allowed (const Walker *walker, Refusal *refusal)
{
    if (walker->want == NULL)
        return TRUE;
    return refuse_unless_starts (walker->broken, "end-does-not-start", "at the end", refusal) &&
           end_has_wanted_parts (walker, refusal) && end_has_wanted_firmware (walker, refusal) &&
           end_has_no_loaner (walker, refusal) && end_leaves_the_rest (walker, refusal);
}
