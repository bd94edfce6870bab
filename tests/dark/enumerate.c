/* SPDX-License-Identifier: MIT */
#include "enumerate.h"

#include <string.h>

/* ---- What each slot and component may have ---- */

static gboolean
same_held (const Held *one, const Held *other)
{
    return one->part == other->part && one->stepping == other->stepping && one->owner == other->owner &&
           one->bound == other->bound;
}

static GArray *
slot_may_hold (const Library *library, const Unit *unit, guint slot)
{
    GArray *list = g_array_new (FALSE, TRUE, sizeof (Held));
    const Fitted *fitted = &unit->fitted[slot];
    const Held nothing = { NULL, NULL, OWNER_UNIT, NULL };
    const Held there = { fitted->part, fitted->stepping, fitted->owner, fitted->bound };
    gboolean found = fitted->part == NULL;

    g_array_append_val (list, nothing);
    for (guint p = 0; p < library->book.parts->len; p++) {
        const Part *part = library->book.parts->pdata[p];

        if (part->kind != board_slot (unit->board, slot)->takes)
            continue;
        for (guint s = 0; s < MAX (part->steppings->len, 1); s++) {
            const Held held = { part, part->steppings->len > 0 ? part->steppings->pdata[s] : NULL, OWNER_UNIT, NULL };

            g_array_append_val (list, held);
            found = found || same_held (&held, &there);
        }
    }
    if (!found)
        g_array_append_val (list, there);
    return list;
}

static gboolean
is_failed (const Unit *unit, guint component)
{
    return unit->failed != NULL && unit->failed[component];
}

/* ---- One state ---- */

guint
enumeration_bit_of_component (const Enumeration *all, guint component)
{
    return all->n_slots + component;
}

guint
enumeration_bit_of_revision (const Enumeration *all)
{
    return all->n_slots + all->n_components;
}

guint
enumeration_bit_of_redundancy (const Enumeration *all)
{
    return all->n_slots + all->n_components + 1;
}

guint
enumeration_facts (const Enumeration *all)
{
    return all->n_slots + all->n_components + 2;
}

static gboolean
same_place (Mark one, Mark other)
{
    return one.line == other.line && one.column == other.column && g_strcmp0 (one.file, other.file) == 0;
}

guint
enumeration_bit_of_rule (const Enumeration *all, const char *id, Mark at)
{
    for (guint i = 0; i < all->n_rules; i++)
        if (((const Rule *) all->library->rules->pdata[i])->id == id)
            return i;
    for (guint c = 0; c < all->n_components && g_str_equal (id, "while-running"); c++) {
        const Component *component = board_component (all->unit->board, c);

        for (guint r = 0; r < component->releases->len; r++)
            if (same_place (component_release (component, r)->at, at))
                return all->n_rules + c;
    }
    g_assert_not_reached ();
}

static gboolean
keeps_dark (const Broken *broken)
{
    return broken->breaking == BREAKING_STOPS ||
           (broken->breaking == BREAKING_HARMS && (broken->powers & POWER_ON) != 0);
}

static void
look_at_state (Enumeration *all, const State *state, gboolean redundant, guint64 alike)
{
    Shop shop = *all->shop;
    Enumerated seen = { .alike = alike };

    shop.redundant_supplies = redundant;
    g_autoptr (GPtrArray) broken = check_state (all->library, &shop, state);
    for (guint i = 0; i < broken->len; i++) {
        const Broken *one = broken->pdata[i];

        if (!keeps_dark (one))
            continue;
        if (g_str_equal (one->rule, "failed-write")) {
            seen.failed = TRUE;
            continue;
        }
        guint64 bit = (guint64) 1 << enumeration_bit_of_rule (all, one->rule, one->at);
        seen.broken |= bit;
        seen.stated_broken |= one->sureness == SURE_STATED ? bit : 0;
    }
    seen.starts = broken_verdict (broken);
    g_array_append_val (all->states, seen);
    for (guint c = 0; c < all->n_components; c++) {
        guint8 release = state->failed[c] ? G_MAXUINT8 : (guint8) state->releases[c];

        g_array_append_val (all->releases, release);
    }
}

/* ---- All of them ---- */

static void
each_release (Enumeration *all, State *state, guint component, gboolean redundant, guint64 alike)
{
    if (component == all->n_components) {
        look_at_state (all, state, redundant, alike);
        return;
    }
    guint releases = board_component (all->unit->board, component)->releases->len;
    for (guint r = 0; r < all->sizes[component]; r++) {
        state->failed[component] = r == releases;
        state->releases[component] = r == releases ? 0 : r;
        each_release (all, state, component + 1, redundant, alike);
    }
}

static void
each_part (Enumeration *all, State *state, guint slot, gboolean redundant, guint64 alike)
{
    const Fitted *fitted = &all->unit->fitted[slot];

    if (slot == all->n_slots) {
        each_release (all, state, 0, redundant, alike);
        return;
    }
    const Held there = { fitted->part, fitted->stepping, fitted->owner, fitted->bound };
    for (guint i = 0; i < all->held[slot]->len; i++) {
        const Held *held = &g_array_index (all->held[slot], Held, i);
        gboolean same = fitted->part == NULL ? held->part == NULL : same_held (held, &there);

        state->held[slot] = *held;
        each_part (all, state, slot + 1, redundant, alike | (same ? (guint64) 1 << slot : 0));
    }
}

static guint64
how_many (const Enumeration *all)
{
    guint64 count = all->unit->board->revisions->len * (all->shop->redundant_supplies ? 2 : 1);

    for (guint slot = 0; slot < all->n_slots; slot++)
        count *= all->held[slot]->len;
    for (guint c = 0; c < all->n_components; c++)
        count *= all->sizes[c];
    return count;
}

/* Redundancy is asked for as the shop does, or not. */
static void
each_revision (Enumeration *all)
{
    g_autoptr (State) state = state_from_unit (all->unit, NULL);

    for (int redundant = all->shop->redundant_supplies ? 1 : 0; redundant >= 0; redundant--)
        for (guint revision = 0; revision < all->unit->board->revisions->len; revision++) {
            guint64 alike = 0;

            state->revision = revision;
            if (revision == all->unit->revision)
                alike |= (guint64) 1 << enumeration_bit_of_revision (all);
            if (redundant == (all->shop->redundant_supplies ? 1 : 0))
                alike |= (guint64) 1 << enumeration_bit_of_redundancy (all);
            each_part (all, state, 0, redundant, alike);
        }
}

Enumeration *
enumerate (const Library *library, const Shop *shop, const Unit *unit, guint most)
{
    Enumeration *all = g_new0 (Enumeration, 1);

    all->library = library;
    all->shop = shop;
    all->unit = unit;
    all->n_slots = unit->board->slots->len;
    all->n_components = unit->board->components->len;
    all->n_rules = library->rules->len;
    all->held = g_new0 (GArray *, all->n_slots + 1);
    all->sizes = g_new0 (guint, all->n_components + 1);
    all->states = g_array_new (FALSE, FALSE, sizeof (Enumerated));
    all->releases = g_array_new (FALSE, FALSE, sizeof (guint8));
    for (guint slot = 0; slot < all->n_slots; slot++)
        all->held[slot] = slot_may_hold (library, unit, slot);
    for (guint c = 0; c < all->n_components; c++)
        all->sizes[c] = board_component (unit->board, c)->releases->len + (is_failed (unit, c) ? 1 : 0);
    if (how_many (all) > most)
        g_clear_pointer (&all, enumeration_free);
    else
        each_revision (all);
    return all;
}

void
enumeration_free (Enumeration *all)
{
    for (guint slot = 0; slot < all->n_slots; slot++)
        g_array_unref (all->held[slot]);
    g_free (all->held);
    g_free (all->sizes);
    g_array_unref (all->states);
    g_array_unref (all->releases);
    g_free (all);
}

/* ---- What follows ---- */

guint64
enumeration_alike (const Enumeration *all, guint state, const guint *releases)
{
    guint64 alike = g_array_index (all->states, Enumerated, state).alike;

    for (guint c = 0; c < all->n_components; c++) {
        guint8 release = g_array_index (all->releases, guint8, state * all->n_components + c);
        guint wanted = is_failed (all->unit, c) ? G_MAXUINT8 : releases[c];

        if (release == wanted)
            alike |= (guint64) 1 << enumeration_bit_of_component (all, c);
    }
    return alike;
}

/* What the states that start have in common with the unit; each once, those within another left out. Transfer full. */
static GArray *
largest_in_common (const Enumeration *all, const guint *releases)
{
    GArray *common = g_array_new (FALSE, FALSE, sizeof (guint64));

    for (guint s = 0; s < all->states->len; s++) {
        guint64 alike = enumeration_alike (all, s, releases);
        gboolean within = g_array_index (all->states, Enumerated, s).starts != STARTS_YES;

        for (guint i = 0; i < common->len && !within; i++)
            within = (alike & ~g_array_index (common, guint64, i)) == 0;
        for (guint i = common->len; i-- > 0 && !within;)
            if ((g_array_index (common, guint64, i) & ~alike) == 0)
                g_array_remove_index_fast (common, i);
        if (!within)
            g_array_append_val (common, alike);
    }
    return common;
}

static gboolean
none_has (const GArray *common, guint64 facts)
{
    for (guint i = 0; i < common->len; i++)
        if ((facts & ~g_array_index (common, guint64, i)) == 0)
            return FALSE;
    return TRUE;
}

static gboolean
is_minimal (const GArray *common, guint64 facts)
{
    for (guint64 left = facts; left != 0; left &= left - 1)
        if (none_has (common, facts & ~(left & -left)))
            return FALSE;
    return TRUE;
}

GArray *
enumeration_sets (const Enumeration *all, const guint *releases)
{
    g_autoptr (GArray) common = largest_in_common (all, releases);
    GArray *sets = g_array_new (FALSE, FALSE, sizeof (guint64));

    for (guint64 facts = 0; facts < (guint64) 1 << enumeration_facts (all); facts++)
        if (none_has (common, facts) && is_minimal (common, facts))
            g_array_append_val (sets, facts);
    return sets;
}

static int
ascending (gconstpointer left, gconstpointer right)
{
    guint64 one = *(const guint64 *) left, other = *(const guint64 *) right;

    return one < other ? -1 : one > other;
}

GArray *
enumeration_corrections (const Enumeration *all, const guint *releases)
{
    GArray *common = largest_in_common (all, releases);

    for (guint i = 0; i < common->len; i++)
        g_array_index (common, guint64, i) =
            (((guint64) 1 << enumeration_facts (all)) - 1) & ~g_array_index (common, guint64, i);
    g_array_sort (common, ascending);
    return common;
}

gboolean
enumeration_keeps_dark (const Enumeration *all, const guint *releases, guint64 facts, guint64 rules,
                        gboolean stated_alone)
{
    for (guint s = 0; s < all->states->len; s++) {
        const Enumerated *state = &g_array_index (all->states, Enumerated, s);
        guint64 broken = stated_alone ? state->stated_broken : state->broken;

        if (!state->failed && (broken & rules) == 0 && (facts & ~enumeration_alike (all, s, releases)) == 0)
            return FALSE;
    }
    return TRUE;
}
