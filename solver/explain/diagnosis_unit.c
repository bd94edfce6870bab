/* SPDX-License-Identifier: MIT */
/* The unit as the evidence leaves it: a copy with fewer releases; and what orders of steps start from. */
#include "explain/diagnosis_parts.h"
#include "explain/explain_words.h"

#include <string.h>

/* One more than `count` of them, the last all zero, as every array of a unit is made; NULL of NULL. Transfer full. */
static gpointer
array_copy (gconstpointer array, guint count, gsize size)
{
    char *copy = NULL;

    if (array == NULL)
        return NULL;
    copy = g_malloc0_n (count + 1, size);
    memcpy (copy, array, count * size);
    return copy;
}

/* Transfer full. */
static UnitRelease *
releases_copy (const UnitRelease *releases, const Board *board)
{
    UnitRelease *copy = array_copy (releases, board->components->len, sizeof (UnitRelease));

    for (guint c = 0; copy != NULL && c < board->components->len; c++)
        copy[c].may_be = array_copy (releases[c].may_be, board_component (board, c)->releases->len, sizeof (gboolean));
    return copy;
}

/* Transfer full. */
static Unit *
unit_copy (const Unit *unit)
{
    Unit *copy = g_memdup2 (unit, sizeof *unit);
    guint n_slots = unit->board->slots->len, n_components = unit->board->components->len;

    copy->releases = releases_copy (unit->releases, unit->board);
    copy->began_releases = releases_copy (unit->began_releases, unit->board);
    copy->fitted = array_copy (unit->fitted, n_slots, sizeof (Fitted));
    copy->began = array_copy (unit->began, n_slots, sizeof (Fitted));
    copy->pulled = unit->pulled == NULL ? NULL : g_array_copy (unit->pulled);
    copy->failed = array_copy (unit->failed, n_components, sizeof (gboolean));
    copy->insertions = array_copy (unit->insertions, n_slots, sizeof (guint));
    copy->counted = array_copy (unit->counted, n_slots, sizeof (gboolean));
    copy->factory = factory_copy (&unit->factory, unit->board);
    return copy;
}

Unit *
unit_with_cases_left (const Unit *unit, const Evidence *evidence)
{
    Unit *left = unit_copy (unit);

    for (guint c = 0; c < unit->board->components->len; c++) {
        UnitRelease *known = &left->releases[c];

        known->count = 0;
        for (guint r = 0; r < board_component (unit->board, c)->releases->len; r++) {
            known->may_be[r] = evidence->may_be[c][r];
            known->count += known->may_be[r];
        }
    }
    return left;
}

Shop *
shop_with_asked (const DiagnosisQuestion *question)
{
    Shop *shop = shop_copy (question->shop);

    for (guint s = 0; s < question->unit->board->slots->len; s++) {
        const Fitted *asked = &question->unit->fitted[s], *there = &question->before->fitted[s];
        Lot lot = { .owner = OWNER_STOCK, .part = asked->part, .stepping = asked->stepping, .count = 1 };

        lot.bound = asked->bound;
        lot.at = asked->at;
        if (asked->part != NULL && (asked->part != there->part || asked->stepping != there->stepping))
            g_array_append_val (shop->lots, lot);
    }
    return shop;
}

Unit *
diagnosis_from (const Diagnosis *diagnosis)
{
    return diagnosis->before != NULL ? diagnosis->before : diagnosis->unit;
}

Shop *
diagnosis_shop (const DiagnosisQuestion *question, const Diagnosis *diagnosis)
{
    return diagnosis->before_shop != NULL ? diagnosis->before_shop : question->shop;
}

GPtrArray *
case_combinations (const Unit *unit, const DarkCase *one, guint most)
{
    guint n_components = unit->board->components->len;
    g_autofree UnitRelease *releases = g_memdup2 (unit->releases, n_components * sizeof (UnitRelease));
    Unit narrowed = *unit;

    for (guint c = 0; c < n_components; c++)
        releases[c].may_be = one->may_be[c];
    narrowed.releases = releases;
    return unit_cases (&narrowed, most);
}

char *
explain_releases (const Component *component, const gboolean *mask)
{
    g_autoptr (GPtrArray) names = g_ptr_array_new ();

    for (guint r = 0; r < component->releases->len; r++)
        if (mask[r])
            g_ptr_array_add (names, (char *) component_release (component, r)->name);
    return text_join (names, "or");
}
