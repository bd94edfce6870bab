/* SPDX-License-Identifier: MIT */
/* Library: making and freeing books, rules, and the whole. What is one bench's own: library_bench.c. What
 * explains a dark unit: library_evidence.c. */
#include "book/library.h"

static void
unref_array (GPtrArray *array)
{
    if (array)
        g_ptr_array_unref (array);
}

/* ---- Boards ---- */

Attribute *
attribute_new (const char *name, Mark at)
{
    Attribute *attribute = g_new0 (Attribute, 1);
    attribute->name = name;
    attribute->values = g_ptr_array_new ();
    attribute->at = at;
    return attribute;
}

void
attribute_free (gpointer data)
{
    Attribute *attribute = data;
    g_ptr_array_unref (attribute->values);
    g_free (attribute);
}

Slot *
slot_new (const char *name, Mark at)
{
    Slot *slot = g_new0 (Slot, 1);
    slot->name = name;
    slot->attributes = g_ptr_array_new_with_free_func (attribute_free);
    slot->over = slot->served_by = -1;
    slot->at = at;
    return slot;
}

void
slot_free (gpointer data)
{
    Slot *slot = data;
    g_ptr_array_unref (slot->attributes);
    g_free (slot);
}

SteppingSet *
stepping_set_new (const char *generation, GPtrArray *steppings, Mark at)
{
    SteppingSet *set = g_new0 (SteppingSet, 1);
    set->generation = generation;
    set->steppings = steppings;
    set->at = at;
    return set;
}

void
stepping_set_free (gpointer data)
{
    SteppingSet *set = data;
    unref_array (set->steppings);
    g_free (set);
}

Board *
board_new (const char *name, Mark at)
{
    Board *board = g_new0 (Board, 1);
    board->name = name;
    board->revisions = g_ptr_array_new ();
    board->slots = g_ptr_array_new_with_free_func (slot_free);
    board->components = g_ptr_array_new ();
    board->attributes = g_ptr_array_new_with_free_func (attribute_free);
    board->provides = g_ptr_array_new_with_free_func (g_free);
    board->at = at;
    return board;
}

void
board_free (gpointer data)
{
    Board *board = data;
    g_ptr_array_unref (board->revisions);
    g_ptr_array_unref (board->slots);
    g_ptr_array_unref (board->components);
    unref_array (board->mixed_steppings);
    g_ptr_array_unref (board->attributes);
    g_ptr_array_unref (board->provides);
    g_free (board);
}

/* ---- Firmware ---- */

Support *
support_new (const char *generation, GPtrArray *steppings, Mark at)
{
    Support *support = g_new0 (Support, 1);
    support->generation = generation;
    support->steppings = steppings;
    support->at = at;
    return support;
}

void
support_free (gpointer data)
{
    Support *support = data;
    unref_array (support->steppings);
    g_free (support);
}

Release *
release_new (const char *name, Mark at)
{
    Release *release = g_new0 (Release, 1);
    release->name = name;
    release->lowest = -1;
    release->also_writes = g_ptr_array_new_with_free_func (g_free);
    release->bytes = -1;
    release->provides = g_ptr_array_new_with_free_func (g_free);
    release->at = at;
    return release;
}

void
release_free (gpointer data)
{
    Release *release = data;
    unref_array (release->starts);
    unref_array (release->never_starts);
    expression_free (release->from);
    expression_free (release->to_write_requires);
    expression_free (release->to_write_conflicts);
    expression_free (release->running_requires);
    expression_free (release->running_conflicts);
    g_ptr_array_unref (release->also_writes);
    g_ptr_array_unref (release->provides);
    g_free (release);
}

Component *
component_new (const char *name, Mark at)
{
    Component *component = g_new0 (Component, 1);
    component->name = name;
    component->releases = g_ptr_array_new_with_free_func (release_free);
    component->at = at;
    return component;
}

void
component_free (gpointer data)
{
    Component *component = data;
    for (int method = 0; method < METHOD_COUNT; method++)
        expression_free (component->methods[method].requires);
    expression_free (component->page.requires);
    g_ptr_array_unref (component->releases);
    g_free (component);
}

/* ---- Parts, rules, cautions ---- */

Part *
part_new (const char *name, Mark at)
{
    Part *part = g_new0 (Part, 1);
    part->name = name;
    part->steppings = g_ptr_array_new ();
    part->attributes = g_ptr_array_new_with_free_func (attribute_free);
    part->provides = g_ptr_array_new_with_free_func (g_free);
    part->at = at;
    return part;
}

void
part_free (gpointer data)
{
    Part *part = data;
    g_ptr_array_unref (part->steppings);
    g_ptr_array_unref (part->attributes);
    expression_free (part->requires);
    expression_free (part->conflicts);
    g_ptr_array_unref (part->provides);
    g_free (part);
}

Rule *
rule_new (const char *id, Mark at)
{
    Rule *rule = g_new0 (Rule, 1);
    rule->id = id;
    rule->with_kind = -1;
    rule->at = at;
    return rule;
}

void
rule_free (gpointer data)
{
    Rule *rule = data;
    expression_free (rule->when);
    expression_free (rule->requires);
    expression_free (rule->conflicts);
    g_free (rule);
}

void
caution_free (gpointer data)
{
    Caution *caution = data;
    unref_array (caution->when);
    g_free (caution);
}

/* ---- The whole ---- */

Library *
library_new (void)
{
    Library *library = g_new0 (Library, 1);
    library->book.titles = g_ptr_array_new ();
    library->book.boards = g_ptr_array_new_with_free_func (board_free);
    library->book.firmware = g_ptr_array_new_with_free_func (component_free);
    library->book.parts = g_ptr_array_new_with_free_func (part_free);
    library->rules = g_ptr_array_new_with_free_func (rule_free);
    library->cautions = g_ptr_array_new_with_free_func (caution_free);
    library->units = g_ptr_array_new_with_free_func ((GDestroyNotify) unit_free);
    library->wants = g_ptr_array_new_with_free_func ((GDestroyNotify) want_free);
    library->shops = g_ptr_array_new_with_free_func ((GDestroyNotify) shop_free);
    library->routes = g_ptr_array_new_with_free_func (route_free);
    library->records = g_ptr_array_new_with_free_func (record_free);
    library->records_by_unit =
        g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_ptr_array_unref);
    library->looks = g_ptr_array_new_with_free_func (look_free);
    library->signs = g_ptr_array_new_with_free_func (sign_free);
    library->seens = g_ptr_array_new_with_free_func (seen_free);
    library->left_out = g_array_new (FALSE, FALSE, sizeof (RowLeftOut));
    return library;
}

void
library_free (Library *library)
{
    if (!library)
        return;
    /* Units, wants, records and what was seen count by their board, so they go first. */
    g_ptr_array_unref (library->seens);
    g_hash_table_unref (library->records_by_unit);
    g_ptr_array_unref (library->records);
    g_ptr_array_unref (library->routes);
    g_ptr_array_unref (library->wants);
    g_ptr_array_unref (library->units);
    g_ptr_array_unref (library->shops);
    g_ptr_array_unref (library->signs);
    g_ptr_array_unref (library->looks);
    g_ptr_array_unref (library->cautions);
    g_ptr_array_unref (library->rules);
    g_ptr_array_unref (library->book.boards);
    g_ptr_array_unref (library->book.firmware);
    g_ptr_array_unref (library->book.parts);
    g_ptr_array_unref (library->book.titles);
    g_array_unref (library->left_out);
    g_free (library);
}
