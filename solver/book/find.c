/* SPDX-License-Identifier: MIT */
/* Finding things in a book by name or by index, and the words for its enums. */
#include "book/reader.h"

#include <string.h>

static const char *const kind_list[] = { "processor", "heat-sink", "memory", "supply", "riser",
                                         "fan",       "baffle",    "blank",  "medium", NULL };
static const char *const method_list[] = { "host", "controller", "clip", "jumper", "spare", NULL };
static const char *const owner_list[] = { "own", "loan", "stock", NULL };

G_STATIC_ASSERT (G_N_ELEMENTS (kind_list) == KIND_COUNT + 1);
G_STATIC_ASSERT (G_N_ELEMENTS (method_list) == METHOD_COUNT + 1);
G_STATIC_ASSERT (G_N_ELEMENTS (owner_list) == OWNER_COUNT + 1);

const char *const *
part_kind_words (void)
{
    return kind_list;
}

const char *const *
method_words (void)
{
    return method_list;
}

const char *const *
owner_words (void)
{
    return owner_list;
}

const char *
part_kind_name (PartKind kind)
{
    return kind_list[kind];
}

const char *
method_name (Method method)
{
    return method_list[method];
}

const char *
owner_name (Owner owner)
{
    return owner_list[owner];
}

const Attribute *
attribute_find (const GPtrArray *attributes, const char *name)
{
    for (guint i = 0; i < attributes->len; i++) {
        const Attribute *attribute = g_ptr_array_index (attributes, i);
        if (strcmp (attribute->name, name) == 0)
            return attribute;
    }
    return NULL;
}

/* Index of the struct, of those that start with a name, that has this one; -1 when there is none. */
static int
find_named (const GPtrArray *things, const char *name)
{
    for (guint i = 0; i < things->len; i++)
        if (strcmp (*(const char *const *) g_ptr_array_index (things, i), name) == 0)
            return (int) i;
    return -1;
}

const Board *
book_find_board (const Book *book, const char *name)
{
    int index = find_named (book->boards, name);
    return index < 0 ? NULL : g_ptr_array_index (book->boards, index);
}

const Part *
book_find_part (const Book *book, const char *name)
{
    int index = find_named (book->parts, name);
    return index < 0 ? NULL : g_ptr_array_index (book->parts, index);
}

int
board_find_slot (const Board *board, const char *name)
{
    return find_named (board->slots, name);
}

int
board_find_component (const Board *board, const char *name)
{
    return find_named (board->components, name);
}

int
board_find_revision (const Board *board, const char *name)
{
    for (guint i = 0; i < board->revisions->len; i++)
        if (strcmp (g_ptr_array_index (board->revisions, i), name) == 0)
            return (int) i;
    return -1;
}

/* By halving: the releases ascend. */
static int
find_sorted_release (const Component *component, const char *name)
{
    guint low = 0, high = component->releases->len;
    while (low < high) {
        guint middle = low + (high - low) / 2;
        int order = version_compare (component->scheme, component_release (component, middle)->name, name);
        if (order == 0)
            return (int) middle;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return -1;
}

int
component_find_release (const Component *component, const char *name)
{
    if (version_problem (component->scheme, name))
        return -1;
    if (component->scheme == VERSIONS_LISTED)
        return find_named (component->releases, name);
    return find_sorted_release (component, name);
}

const Slot *
board_slot (const Board *board, guint index)
{
    g_return_val_if_fail (index < board->slots->len, NULL);
    return g_ptr_array_index (board->slots, index);
}

const Component *
board_component (const Board *board, guint index)
{
    g_return_val_if_fail (index < board->components->len, NULL);
    return g_ptr_array_index (board->components, index);
}

const Release *
component_release (const Component *component, guint index)
{
    g_return_val_if_fail (index < component->releases->len, NULL);
    return g_ptr_array_index (component->releases, index);
}

Powered
method_powered (const MethodEntry *entry, Method method)
{
    switch (method) {
    case METHOD_HOST:
        return POWERED_ON;
    case METHOD_CONTROLLER:
        return entry->host == HOST_ON ? POWERED_ON : POWERED_STANDBY;
    case METHOD_SPARE:
        return POWERED_STANDBY;
    default:
        return POWERED_OFF;
    }
}

const Fitted *
unit_began (const Unit *unit, guint slot)
{
    return unit->began != NULL ? &unit->began[slot] : &unit->fitted[slot];
}

guint
unit_insertions_left (const Unit *unit, guint slot)
{
    const Attribute *rated = attribute_find (board_slot (unit->board, slot)->attributes, "rated-insertions");

    if (rated == NULL || !rated->is_number)
        return G_MAXUINT;
    guint had = unit->insertions != NULL ? unit->insertions[slot] : 0;
    return rated->number > had ? (guint) rated->number - had : 0;
}

double
shop_dark_after_minutes (const Shop *shop, const Board *board)
{
    return board->dark_after_minutes > 0 ? board->dark_after_minutes : shop->dark_after_minutes;
}
