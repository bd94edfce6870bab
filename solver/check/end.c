/* SPDX-License-Identifier: MIT */
/* The end of a route: docs/method.md, "The end" and "Tied slots". */
#include "check/steps.h"

#include "check/facts.h"
#include "check/offers.h"
#include "check/state.h"

/* WANT_HELD asks for one triple; the others don't ask whose the part is. */
static gboolean
slot_is_as_wanted (const WantSlot *asked, const Held *held)
{
    const Held exactly = { asked->part, asked->stepping, asked->owner, asked->bound };

    return asked->kind == WANT_HELD ? held_equal (&exactly, held)
                                    : want_slot_is_met (asked, held->part, held->stepping);
}

static gboolean
end_has_wanted_parts (const Walker *walker, Refusal *refusal)
{
    const State *state = walker->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = &state->held[slot];
        const WantSlot *asked = &walker->want->slots[slot];

        if (slot_is_as_wanted (asked, held))
            continue;
        g_autofree char *words = held_in_words (held);
        g_autofree char *place = mark_in_words (asked->at);
        return refuse (refusal, "end-want", "at the end %s holds %s, which is not what is wanted (%s)",
                       board_slot (state->board, slot)->name, words, place);
    }
    return TRUE;
}

/* Of a component whose last write failed nothing can be said to be as wanted; such is a spare image, or nothing would
 * have started. */
static gboolean
refuse_if_failed (const State *state, guint component, Refusal *refusal)
{
    if (!state->failed[component])
        return TRUE;
    return refuse (refusal, "end-want",
                   "at the end the last write of %s has failed, and the want says what it is to be",
                   board_component (state->board, component)->name);
}

static gboolean
end_has_exact_releases (const Walker *walker, Refusal *refusal)
{
    const State *state = walker->state;

    for (guint i = 0; walker->want->exact_release != NULL && i < state->board->components->len; i++) {
        int asked = walker->want->exact_release[i];

        if (asked < 0)
            continue;
        if (!refuse_if_failed (state, i, refusal))
            return FALSE;
        if (state->releases[i] == (guint) asked)
            continue;
        const Component *component = board_component (state->board, i);
        return refuse (refusal, "end-want", "at the end %s is at %s, and %s is wanted", component->name,
                       state_release (state, i)->name, component_release (component, (guint) asked)->name);
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
        if (!refuse_if_failed (state, i, refusal))
            return FALSE;
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

        if (held->part != NULL && held->owner == OWNER_LOAN && walker->want->slots[slot].kind != WANT_HELD) {
            g_autofree char *part = held_in_words (held);

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

/* Whether a rule of form `one-of` is among those that tie the slot: one of the two slots then has to be empty. */
static gboolean
one_of_ties (const Walker *walker, guint slot)
{
    const Board *board = walker->state->board;
    const GPtrArray *rules = walker->library->rules;
    g_autoptr (GPtrArray) one_of = g_ptr_array_new ();

    for (guint i = 0; i < rules->len; i++)
        if (((const Rule *) rules->pdata[i])->form == FORM_ONE_OF)
            g_ptr_array_add (one_of, rules->pdata[i]);
    for (guint other = 0; other < board->slots->len; other++)
        if (rules_tie_kinds (one_of, board, slot, other))
            return TRUE;
    return FALSE;
}

/* A tied slot may end with any part that isn't lent (that is seen to elsewhere), but a full one not empty. */
static gboolean
slot_ends_as_it_may (const Walker *walker, guint slot)
{
    const Held began = held_from_fitted (unit_began (walker->start->unit, slot)), *ends = &walker->state->held[slot];

    if (walker->want->slots[slot].kind != WANT_NOTHING || held_equal (&began, ends))
        return TRUE;
    return slot_is_tied (walker, slot) && (ends->part != NULL || one_of_ties (walker, slot));
}

static gboolean
end_leaves_the_rest (const Walker *walker, Refusal *refusal)
{
    const State *state = walker->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        if (slot_ends_as_it_may (walker, slot))
            continue;
        const Held began = held_from_fitted (unit_began (walker->start->unit, slot)), *ends = &state->held[slot];
        g_autofree char *before = held_in_words (&began);
        g_autofree char *after = held_in_words (ends);
        gboolean another_owner = g_str_equal (before, after);
        return refuse (
            refusal, "end-slot-changed", "%s, of which the want says nothing, began with %s and ends with %s%s",
            board_slot (state->board, slot)->name, before, after, another_owner ? " that is not its own" : "");
    }
    return TRUE;
}

static gboolean
want_frees_spare (const Want *want, guint component)
{
    return want->spares_apart || want->firmware[component] != NULL || want->keep_component[component] ||
           (want->exact_release != NULL && want->exact_release[component] >= 0);
}

/* Where the unit file gives several releases that it may have begun with, and this component has been written since, no
 * release is known to be the one. */
static gboolean
ends_at_what_it_began_with (const Walker *walker, guint component)
{
    const Unit *unit = walker->start->unit;
    const UnitRelease *began = unit->began_releases != NULL ? &unit->began_releases[component] : NULL;
    guint ends = walker->state->releases[component];

    if (began == NULL || (began->count > 1 && unit->releases[component].count > 1))
        return ends == walker->start->releases[component];
    return began->count == 1 && began->may_be[ends];
}

/* A spare image goes along with a change of the active one. */
static gboolean
end_has_spares (const Walker *walker, Refusal *refusal)
{
    const State *state = walker->state;

    for (guint i = 0; i < state->board->components->len; i++) {
        int spare = board_find_spare (state->board, i);

        if (spare < 0 || want_frees_spare (walker->want, (guint) spare) || ends_at_what_it_began_with (walker, i) ||
            state_spare_release (state, i) == (int) state->releases[i])
            continue;
        const char *name = board_component (state->board, (guint) spare)->name;
        g_autofree char *holds = state->failed[spare]
                                     ? g_strdup ("has failed")
                                     : g_strdup_printf ("is at %s", state_release (state, (guint) spare)->name);
        return refuse (refusal, "end-spare",
                       "at the end %s is at %s, which is not what it began with, and its spare image %s %s",
                       board_component (state->board, i)->name, state_release (state, i)->name, name, holds);
    }
    return TRUE;
}

gboolean
end_is_allowed (const Walker *walker, Refusal *refusal)
{
    if (walker->want == NULL)
        return TRUE;
    if (!refuse_unless_starts (walker->broken, "end-does-not-start", "at the end", refusal))
        return FALSE;
    return walker->want->just_starts ||
           (end_has_wanted_parts (walker, refusal) && end_has_wanted_firmware (walker, refusal) &&
            end_has_exact_releases (walker, refusal) && end_has_no_loaner (walker, refusal) &&
            end_leaves_the_rest (walker, refusal) && end_has_spares (walker, refusal));
}
