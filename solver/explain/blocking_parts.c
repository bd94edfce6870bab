/* SPDX-License-Identifier: MIT */
/* Which parts of the book are worth adding to a shop, and adding them. */
#include "explain/blocking_facts.h"

guint
asked_slots_of (const Asked *asked, PartKind kind)
{
    const GPtrArray *slots = asked->unit->board->slots;
    guint count = 0;

    for (guint s = 0; s < slots->len; s++)
        count += ((const Slot *) g_ptr_array_index (slots, s))->takes == kind;
    return count;
}

static gboolean
rule_needs_kind (const Rule *rule, PartKind kind)
{
    switch (rule->form) {
    case FORM_SAME:
        return rule->kind == kind || rule->with_kind == (int) kind;
    case FORM_AT_LEAST:
    case FORM_ONE_OF:
        return rule->kind == kind || rule->under_kind == kind;
    case FORM_SUM:
        return rule->from_kind == kind || (rule->sum_kinds & 1u << kind) != 0;
    case FORM_BEFORE:
    case FORM_SOME:
    case FORM_KNOWS:
    case FORM_BINDS:
        return rule->kind == kind;
    case FORM_WHEN:
    case FORM_OWN:
        return FALSE; /* what their expressions name is not looked into */
    }
    g_assert_not_reached ();
}

gboolean
asked_kind_matters (const Asked *asked, PartKind kind)
{
    const Board *board = asked->unit->board;

    for (guint r = 0; r < asked->library->rules->len; r++) {
        const Rule *rule = g_ptr_array_index (asked->library->rules, r);

        if (rule->breaking != BREAKING_WARNS && rule_needs_kind (rule, kind))
            return TRUE;
    }
    for (guint s = 0; s < board->slots->len; s++) {
        const Slot *slot = board_slot (board, s);

        if ((slot->takes == kind && asked->want->slots[s].kind != WANT_NOTHING) ||
            (slot->served_by >= 0 && board_slot (board, (guint) slot->served_by)->takes == kind))
            return TRUE;
    }
    return FALSE;
}

static gboolean
share_a_value (const Attribute *left, const Attribute *right)
{
    for (guint i = 0; i < left->values->len; i++)
        if (g_ptr_array_find (right->values, g_ptr_array_index (left->values, i), NULL))
            return TRUE;
    return FALSE;
}

static gboolean
suits_by_rule (const Rule *rule, const Part *part, const Slot *slot)
{
    if (rule->form != FORM_SAME || !rule->with_slot || rule->kind != part->kind || rule->breaking == BREAKING_WARNS)
        return TRUE;
    const Attribute *has = attribute_find (part->attributes, rule->attribute);
    const Attribute *asks = attribute_find (slot->attributes, rule->attribute);

    return asks == NULL || has == NULL || share_a_value (has, asks);
}

static gboolean
suits_slot (const Asked *asked, const Part *part, const Slot *slot)
{
    for (guint r = 0; r < asked->library->rules->len; r++)
        if (!suits_by_rule (g_ptr_array_index (asked->library->rules, r), part, slot))
            return FALSE;
    return TRUE;
}

static gboolean
is_wanted_in (const WantSlot *want, const Part *part)
{
    if (want->kind != WANT_PART && want->kind != WANT_LIKE)
        return FALSE;
    for (guint i = 0; i < part->steppings->len; i++)
        if (want_slot_is_met (want, part, g_ptr_array_index (part->steppings, i)))
            return TRUE;
    return want_slot_is_met (want, part, NULL);
}

gboolean
asked_has_use (const Asked *asked, const Part *part)
{
    const Board *board = asked->unit->board;

    for (guint s = 0; s < board->slots->len; s++) {
        const Slot *slot = board_slot (board, s);

        if (slot->takes == part->kind &&
            (suits_slot (asked, part, slot) || is_wanted_in (&asked->want->slots[s], part)))
            return TRUE;
    }
    return FALSE;
}

void
asked_each_part (const Asked *asked, PartKind kind, EachStepping each, gpointer data)
{
    const GPtrArray *parts = asked->library->book.parts;

    for (guint p = 0; p < parts->len; p++) {
        const Part *part = g_ptr_array_index (parts, p);

        if (part->kind != kind || !asked_has_use (asked, part))
            continue;
        for (guint i = 0; i < part->steppings->len; i++)
            each (part, g_ptr_array_index (part->steppings, i), data);
        if (part->steppings->len == 0)
            each (part, NULL, data);
    }
}

const char *
asked_binds_part (const Asked *asked, const Part *part)
{
    return part->binds ? asked->unit->board->binds : NULL;
}

void
asked_add_lot (const Asked *asked, Lot lot, Changes *changes)
{
    GArray *lots = g_array_copy (asked->shop->lots);

    g_array_append_val (lots, lot);
    changes_save (changes, &asked->shop->lots, sizeof asked->shop->lots);
    changes_own (changes, lots, (GDestroyNotify) g_array_unref);
    asked->shop->lots = lots;
}

void
asked_leave_useless_lots (const Asked *asked, Changes *changes)
{
    GArray *lots = g_array_new (FALSE, FALSE, sizeof (Lot));

    for (guint i = 0; i < asked->shop->lots->len; i++)
        if (asked_has_use (asked, g_array_index (asked->shop->lots, Lot, i).part))
            g_array_append_val (lots, g_array_index (asked->shop->lots, Lot, i));
    changes_save (changes, &asked->shop->lots, sizeof asked->shop->lots);
    changes_own (changes, lots, (GDestroyNotify) g_array_unref);
    asked->shop->lots = lots;
}

gboolean
asked_slot_is_tied (const Asked *asked, guint slot)
{
    const Board *board = asked->unit->board;
    guint n = board->slots->len;
    g_autofree gboolean *reached = g_new0 (gboolean, n + 1);

    for (guint s = 0; s < n; s++)
        reached[s] = asked->want->slots[s].kind != WANT_NOTHING;
    for (gboolean spread = TRUE; spread;) {
        spread = FALSE;
        for (guint from = 0; from < n; from++)
            for (guint to = 0; reached[from] && to < n; to++)
                if (!reached[to] && rules_tie_kinds (asked->library->rules, board, from, to))
                    spread = reached[to] = TRUE;
    }
    return reached[slot];
}

gboolean
support_is_denied (const Component *component, const char *generation, const char *stepping)
{
    guint newest = component->releases->len - 1;

    for (guint r = 0; r < component->releases->len; r++)
        if (release_support (component_release (component, r), generation, stepping, NULL) == SUPPORT_YES)
            return FALSE;
    return release_support (component_release (component, newest), generation, stepping, NULL) == SUPPORT_NO;
}

typedef struct {
    const Board *board;
    gboolean found;
} BoardSearch;

static void
look_for_board (const Expr *atom, gpointer data)
{
    BoardSearch *search = data;
    g_autofree char *name = g_strdup_printf ("board %s", search->board->name);

    search->found = search->found || g_str_equal (atom->name, name);
}

gboolean
expression_names_board (const Expr *expr, const Board *board)
{
    BoardSearch search = { board, FALSE };

    if (expr != NULL)
        expression_each_atom (expr, look_for_board, &search);
    return search.found;
}
