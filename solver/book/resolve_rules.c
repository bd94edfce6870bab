/* SPDX-License-Identifier: MIT */
/* Resolving what parts, firmware and rules ask for: expressions that could hold, and attributes that rules need. */
#include "book/library.h"
#include "book/offers.h"
#include "book/read.h"

#include <string.h>

/* ---- Expressions ---- */

/* A requires and a conflicts of the book itself. What must not be there may well be in no version at all. */
static void
check_pair (const Offers *offers, const GPtrArray *boards, const Expr *requires, const Expr *conflicts)
{
    if (offers_check_names (offers, boards, requires, NAMES_KNOWN))
        offers_check_can_hold (offers, boards, requires);
    offers_check_names (offers, boards, conflicts, NAMES_KNOWN);
}

static guint
count_slots (const Board *board, PartKind kind)
{
    guint count = 0;
    for (guint i = 0; i < board->slots->len; i++)
        count += board_slot (board, i)->takes == kind;
    return count;
}

static void
check_part_expressions (const Loader *loader, const Offers *offers)
{
    const Book *book = &loader->library->book;
    for (guint i = 0; i < book->parts->len; i++) {
        const Part *part = g_ptr_array_index (book->parts, i);
        g_autoptr (GPtrArray) boards = g_ptr_array_new ();
        for (guint j = 0; j < book->boards->len; j++)
            if (count_slots (g_ptr_array_index (book->boards, j), part->kind))
                g_ptr_array_add (boards, g_ptr_array_index (book->boards, j));
        check_pair (offers, boards, part->requires, part->conflicts);
    }
}

static void
check_firmware_expressions (const Loader *loader, const Offers *offers)
{
    for (guint i = 0; i < loader->firmware->len; i++) {
        const Firmware *firmware = g_ptr_array_index (loader->firmware, i);
        const Component *component = firmware->component;
        if (component->spare_of)
            continue; /* what it asks for, the active image does as well */
        for (int method = 0; method < METHOD_COUNT; method++)
            check_pair (offers, firmware->boards, component->methods[method].requires, NULL);
        check_pair (offers, firmware->boards, component->page.requires, NULL);
        for (guint j = 0; j < component->releases->len; j++) {
            const Release *release = component_release (component, j);
            check_pair (offers, firmware->boards, release->to_write_requires, release->to_write_conflicts);
            check_pair (offers, firmware->boards, release->running_requires, release->running_conflicts);
        }
    }
}

static void
check_rule_expressions (const Loader *loader, const Offers *offers)
{
    const Library *library = loader->library;
    for (guint i = 0; i < library->rules->len; i++) {
        const Rule *rule = g_ptr_array_index (library->rules, i);
        offers_check_names (offers, library->book.boards, rule->when, NAMES_NOT_MISSPELT);
        offers_check_names (offers, library->book.boards, rule->conflicts, NAMES_NOT_MISSPELT);
        if (!offers_can_hold (offers, library->book.boards, rule->when))
            continue; /* nothing of this book comes under the rule */
        if (offers_check_names (offers, library->book.boards, rule->requires, NAMES_KNOWN))
            offers_check_can_hold (offers, library->book.boards, rule->requires);
    }
}

/* ---- Attributes that rules need ---- */

static gboolean
any_slot_states (const Board *board, PartKind kind, const char *attribute)
{
    for (guint i = 0; i < board->slots->len; i++)
        if (board_slot (board, i)->takes == kind && attribute_find (board_slot (board, i)->attributes, attribute))
            return TRUE;
    return FALSE;
}

/* A slot for `covering` that lies over one for `under`. */
static gboolean
has_cover (const Board *board, PartKind covering, PartKind under)
{
    for (guint i = 0; i < board->slots->len; i++) {
        const Slot *slot = board_slot (board, i);
        if (slot->takes == covering && slot->over >= 0 && board_slot (board, (guint) slot->over)->takes == under)
            return TRUE;
    }
    return FALSE;
}

/* The attribute that a `same` rule needs of a part of this kind on this board, or NULL. */
static const char *
same_needs (const Rule *rule, const Board *board, PartKind kind)
{
    if (kind != rule->kind && (int) kind != rule->with_kind)
        return NULL;
    if (strcmp (rule->attribute, "model") == 0)
        return NULL;
    gboolean applies;
    if (rule->with_slot)
        applies = any_slot_states (board, kind, rule->attribute);
    else if (rule->with_kind >= 0)
        applies = count_slots (board, rule->kind) && count_slots (board, (PartKind) rule->with_kind);
    else
        applies = count_slots (board, kind) > 1 && (!rule->unless_mixed || board->mixed_steppings);
    return applies ? rule->attribute : NULL;
}

/* The attributes, at most two, that a rule needs of a part of this kind where this board has a slot for it. */
static void
rule_needs (const Rule *rule, const Board *board, PartKind kind, const char *needs[2])
{
    needs[0] = needs[1] = NULL;
    if (count_slots (board, kind) == 0)
        return;
    switch (rule->form) {
    case FORM_SAME:
        needs[0] = same_needs (rule, board, kind);
        return;
    case FORM_AT_LEAST:
        if (has_cover (board, rule->kind, rule->under_kind)) {
            needs[0] = kind == rule->kind ? rule->attribute : NULL;
            needs[1] = kind == rule->under_kind ? rule->under_attribute : NULL;
        }
        return;
    case FORM_SUM:
        if (count_slots (board, rule->from_kind)) {
            needs[0] = rule->sum_kinds & 1u << kind ? rule->attribute : NULL;
            needs[1] = kind == rule->from_kind ? rule->within_attribute : NULL;
        }
        return;
    case FORM_BEFORE:
    case FORM_SOME:
    case FORM_WHEN:
    case FORM_KNOWS:
    case FORM_ONE_OF:
    case FORM_BINDS:
    case FORM_OWN:
        return;
    }
    g_assert_not_reached ();
}

static void
check_part_states (const Loader *loader, const Rule *rule, const Board *board, const Part *part, const char *attribute)
{
    if (!attribute || attribute_find (part->attributes, attribute))
        return;
    g_autofree char *expected =
        g_strdup_printf ("expected \"%s:\" among its keys: board %s has a slot for it", attribute, board->name);
    complaints_add (loader->complaints, part->at, expected, "%s %s states no %s, which rule %s needs",
                    part_kind_name (part->kind), part->name, attribute, rule->id);
}

static void
check_attributes (const Loader *loader, const Rule *rule)
{
    const Book *book = &loader->library->book;
    for (guint i = 0; i < book->boards->len; i++)
        for (guint j = 0; j < book->parts->len; j++) {
            const Board *board = g_ptr_array_index (book->boards, i);
            const Part *part = g_ptr_array_index (book->parts, j);
            const char *needs[2];
            if (g_hash_table_contains (loader->damaged, part))
                continue; /* it may be the very key that could not be read */
            rule_needs (rule, board, part->kind, needs);
            check_part_states (loader, rule, board, part, needs[0]);
            check_part_states (loader, rule, board, part, needs[1]);
        }
}

/* ---- All of it ---- */

void
resolve_rules (Loader *loader)
{
    g_autoptr (Offers) offers = offers_new (loader);
    check_part_expressions (loader, offers);
    check_firmware_expressions (loader, offers);
    check_rule_expressions (loader, offers);
    for (guint i = 0; i < loader->library->rules->len; i++)
        check_attributes (loader, g_ptr_array_index (loader->library->rules, i));
}
