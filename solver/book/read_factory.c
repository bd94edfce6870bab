/* SPDX-License-Identifier: MIT */
/* How a board left the factory, and what follows from it for the releases that it may have now. */
#include "book/read.h"
#include "book/read_unit.h"

#include <string.h>

static void
read_label (Loader *loader, const Node *node, Unit *unit)
{
    const Board *board = unit->board;
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "label", "expected a component with the release that the label names");
        return;
    }
    unit->factory.label = g_new0 (int, board->components->len + 1);
    for (guint i = 0; i < board->components->len; i++)
        unit->factory.label[i] = -1;
    for (guint i = 0; i < node->keys->len; i++) {
        int index = read_component_name (loader, board, g_ptr_array_index (node->keys, i));
        if (index >= 0)
            unit->factory.label[index] =
                read_release_name (loader, board_component (board, (guint) index), g_ptr_array_index (node->items, i));
    }
}

FactoryKeys
read_factory (Loader *loader, const Node *node, Unit *unit)
{
    MapReader reader;
    FactoryKeys keys = { NULL, NULL };
    gboolean written = TRUE; /* somebody may have, where nobody says */
    if (!map_begin (&reader, loader, node, "factory"))
        return keys;
    keys.made = map_take (&reader, "made", KEY_OPTIONAL);
    keys.label = map_take (&reader, "label", KEY_OPTIONAL);
    unit->factory.at = node->at;
    unit->factory.made = value_date (loader, keys.made, "made");
    read_label (loader, keys.label, unit);
    value_yes (loader, map_take (&reader, "written-since", KEY_OPTIONAL), "written-since", &written);
    unit->factory.unwritten = !written;
    map_end (&reader);
    return keys;
}

/* ---- What follows ---- */

/* Nobody went back below what the label names; that is a habit of the trade, not a fact: docs/files.md says so. */
static gboolean
label_allows (const Factory *factory, guint component, guint release)
{
    int label = factory->label ? factory->label[component] : -1;
    return label < 0 || (factory->unwritten ? (int) release == label : (int) release >= label);
}

/* What came out later, or on that very day, was not on the board. Dates are YYYY-MM-DD: their texts are in their order. */
static gboolean
date_allows (const Factory *factory, const Release *release)
{
    return !factory->made || !factory->unwritten || !release->date || strcmp (release->date, factory->made) < 0;
}

/* Where the label of this component is written. */
static Mark
label_mark (const FactoryKeys *keys, const Component *component)
{
    for (guint i = 0; i < keys->label->keys->len; i++)
        if (strcmp (((const Node *) g_ptr_array_index (keys->label->keys, i))->text, component->name) == 0)
            return ((const Node *) g_ptr_array_index (keys->label->items, i))->at;
    g_assert_not_reached ();
}

static void
complain_of_label (Loader *loader, const Unit *unit, guint component, const FactoryKeys *keys)
{
    const Component *one = board_component (unit->board, component);
    const char *label = component_release (one, (guint) unit->factory.label[component])->name;
    const Mark at = unit->releases[component].at;
    g_autofree char *expected = g_strdup_printf (
        "expected %s%s among the releases at %s:%u:%u, or %s", label, unit->factory.unwritten ? "" : " or above",
        at.file, at.line, at.column, unit->factory.unwritten ? "written-since: yes" : "no label");
    complaints_add (loader->complaints, label_mark (keys, one), expected,
                    "the label names %s %s, and the unit can have no such release", one->name, label);
}

static void
complain_of_date (Loader *loader, const Unit *unit, guint component, const FactoryKeys *keys)
{
    const Mark at = unit->releases[component].at;
    g_autofree char *expected = g_strdup_printf (
        "expected an older one among the releases at %s:%u:%u, or written-since: yes", at.file, at.line, at.column);
    complaints_add (loader->complaints, keys->made->at, expected,
                    "the board was made on %s, and no release of %s that the unit can have is older",
                    unit->factory.made, board_component (unit->board, component)->name);
}

/* Takes out what does not go with the label, or with the date. FALSE, and nothing is taken out, when none would be left. */
static gboolean
narrow (const Unit *unit, guint component, gboolean by_label)
{
    const Component *one = board_component (unit->board, component);
    UnitRelease *known = &unit->releases[component];
    guint left = 0;
    for (int pass = 0; pass < 2; pass++) {
        for (guint i = 0; i < one->releases->len; i++) {
            gboolean allowed = by_label ? label_allows (&unit->factory, component, i)
                                        : date_allows (&unit->factory, component_release (one, i));
            if (pass == 0)
                left += known->may_be[i] && allowed;
            else
                known->may_be[i] = known->may_be[i] && allowed;
        }
        if (left == 0)
            return FALSE;
    }
    known->count = left;
    return TRUE;
}

/* A spare image that is not told of has what was left of the active image: one mistake, one complaint. */
static gboolean
is_as_active (const Unit *unit, guint component)
{
    const Component *one = board_component (unit->board, component);
    int active = one->spare_of ? board_find_component (unit->board, one->spare_of) : -1;
    return active >= 0 && unit->releases[component].at.line == unit->releases[active].at.line &&
           unit->releases[component].at.column == unit->releases[active].at.column;
}

void
narrow_by_factory (Loader *loader, Unit *unit, const FactoryKeys *keys, gboolean spares)
{
    for (guint i = 0; i < unit->board->components->len; i++) {
        const Component *component = board_component (unit->board, i);
        if ((component->spare_of != NULL) != spares || unit->releases[i].count == 0 ||
            g_hash_table_contains (loader->damaged, component))
            continue;
        if (!narrow (unit, i, TRUE))
            complain_of_label (loader, unit, i, keys);
        else if (!is_as_active (unit, i) && !narrow (unit, i, FALSE))
            complain_of_date (loader, unit, i, keys);
    }
}
