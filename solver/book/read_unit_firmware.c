/* SPDX-License-Identifier: MIT */
/* The firmware of a unit: which releases each component has or may have, and what is known beside them. */
#include "book/read_unit.h"

#include "book/library.h"
#include "book/read.h"

#include <string.h>

/* ---- Which releases a component may have ---- */

/* Counts the releases that it may have; complains when none is left. */
static void
count_possible (Loader *loader, const Component *component, UnitRelease *out, const Node *node)
{
    out->count = 0;
    for (guint i = 0; i < component->releases->len; i++)
        out->count += out->may_be[i] ? 1 : 0;
    if (out->count == 0 && !g_hash_table_contains (loader->damaged, component))
        loader_complain (loader, node, "expected a release that is in the book, or unknown",
                         "no release of %s in the book is so", component->name);
}

/* A range or an expression, as an expression. NULL after a complaint. */
static Expr *
read_possible (Loader *loader, const Component *component, const Node *node)
{
    g_autofree char *first = NULL, *last = NULL;
    if (!value_split_range (node->text, &first, &last))
        return value_expression (loader, node, component->name, component->name);
    if (text_name_problem (first) || text_name_problem (last)) {
        loader_complain (loader, node, "expected two releases, such as 1.0 .. 1.4", "\"%s\" is not a range",
                         node->text);
        return NULL;
    }
    g_autofree char *both = g_strdup_printf (">= %s, <= %s", first, last);
    return expression_parse (both, node->at, component->name, loader->complaints); /* of two names: cannot fail */
}

static void
read_possible_releases (Loader *loader, const Component *component, const Node *node, UnitRelease *out)
{
    g_autoptr (Expr) expr = read_possible (loader, component, node);
    if (!expr || !check_release_expression (loader, component, expr))
        return;
    for (guint i = 0; i < component->releases->len; i++)
        out->may_be[i] = release_answers (component, expr, i);
    count_possible (loader, component, out, node);
}

static void
read_one_release (Loader *loader, const Component *component, const Node *node, UnitRelease *out)
{
    int index = read_release_name (loader, component, node);
    if (index < 0)
        return;
    out->may_be[index] = TRUE;
    out->count++;
}

static void
read_listed_releases (Loader *loader, const Component *component, const Node *node, UnitRelease *out)
{
    for (guint i = 0; i < node->items->len; i++) {
        int index = read_release_name (loader, component, g_ptr_array_index (node->items, i));
        if (index >= 0)
            out->may_be[index] = TRUE;
    }
    if (node->items->len == 0)
        loader_complain (loader, node, "expected at least one release", "%s is an empty list", component->name);
    for (guint i = 0; i < component->releases->len; i++)
        out->count += out->may_be[i] ? 1 : 0;
}

static void
read_unit_release (Loader *loader, const Component *component, const Node *node, UnitRelease *out)
{
    out->at = node->at;
    if (node->kind == NODE_LIST) {
        read_listed_releases (loader, component, node, out);
        return;
    }
    const char *text = value_scalar (loader, node, component->name,
                                     "expected a release, unknown, a range such as 1.0 .. 1.4, or a list");
    if (!text)
        return;
    if (strcmp (text, "unknown") == 0) {
        for (guint i = 0; i < component->releases->len; i++)
            out->may_be[i] = TRUE;
        out->count = component->releases->len;
    } else if (strpbrk (text, " <>=!,()"))
        read_possible_releases (loader, component, node, out);
    else
        read_one_release (loader, component, node, out);
}

/* ---- The firmware of a unit ---- */

/* Reads each component that is named. `given` (per component) is set for those, and for one that was meant but misspelt, which
 * is not missing as well. */
static void
read_named_releases (Loader *loader, const Node *node, const Board *board, UnitRelease *out, gboolean *given)
{
    g_autofree const char **known = names_of (board->components);
    for (guint i = 0; i < node->keys->len; i++) {
        const Node *key = g_ptr_array_index (node->keys, i);
        int index = read_component_name (loader, board, key);
        const char *nearest = index < 0 ? text_nearest (key->text, known) : NULL;
        if (index >= 0)
            read_unit_release (loader, board_component (board, (guint) index), g_ptr_array_index (node->items, i),
                               &out[index]);
        if (index >= 0 || nearest)
            given[index >= 0 ? index : board_find_component (board, nearest)] = TRUE;
    }
}

UnitRelease *
read_releases_found (Loader *loader, const Node *node, const Board *board)
{
    g_autofree gboolean *given = g_new0 (gboolean, board->components->len + 1);
    if (!node)
        return NULL;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "firmware", "expected each component with its release");
        return NULL;
    }
    UnitRelease *releases = unit_releases_new (board);
    read_named_releases (loader, node, board, releases, given);
    return releases;
}

/* A spare image that is not told of has what the active image has, as far as that is known. Of a board that is itself
 * complained about, the active image may be missing, or another's. */
static void
copy_from_active (Unit *unit, guint spare)
{
    const Component *component = board_component (unit->board, spare);
    int active = board_find_component (unit->board, component->spare_of);
    if (active < 0)
        return;
    const UnitRelease *from = &unit->releases[active];
    UnitRelease *out = &unit->releases[spare];
    guint most = MIN (component->releases->len, board_component (unit->board, (guint) active)->releases->len);
    for (guint i = 0; i < most; i++)
        out->may_be[i] = from->may_be[i];
    out->count = from->count;
    out->at = from->at;
}

void
fill_untold_spares (Unit *unit)
{
    for (guint i = 0; i < unit->board->components->len; i++)
        if (board_component (unit->board, i)->spare_of && unit->releases[i].at.line == 0)
            copy_from_active (unit, i);
}

void
read_unit_firmware (Loader *loader, const Node *node, Unit *unit)
{
    const GPtrArray *components = unit->board->components;
    g_autofree gboolean *given = g_new0 (gboolean, components->len + 1);
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "firmware", "expected each component with its release");
        return;
    }
    read_named_releases (loader, node, unit->board, unit->releases, given);
    for (guint i = 0; i < components->len; i++) {
        const Component *component = board_component (unit->board, i);
        g_autofree char *expected =
            g_strdup_printf ("expected \"%s:\" with a release, or with unknown", component->name);
        if (!given[i] && !component->spare_of && !loader_has_lost (loader, component->name))
            complaints_add (loader->complaints, node->at, expected, "the release of %s is not given", component->name);
    }
}

void
read_floors (Loader *loader, const Node *node, Unit *unit)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "floor", "expected a component with a release");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        int index = read_component_name (loader, unit->board, g_ptr_array_index (node->keys, i));
        if (index >= 0)
            unit->releases[index].floor = read_release_at_or_above (
                loader, board_component (unit->board, (guint) index), g_ptr_array_index (node->items, i));
    }
}

void
read_failed (Loader *loader, const Node *node, Unit *unit)
{
    g_autoptr (GPtrArray) nodes = value_list_or_one (loader, node, "failed");
    if (!nodes)
        return;
    unit->failed = g_new0 (gboolean, unit->board->components->len + 1);
    for (guint i = 0; i < nodes->len; i++) {
        const Node *item = g_ptr_array_index (nodes, i);
        int index = read_component_name (loader, unit->board, item);
        if (index >= 0 && unit->failed[index])
            loader_complain (loader, item, "expected each component once", "failed lists %s twice", item->text);
        else if (index >= 0)
            unit->failed[index] = TRUE;
    }
}
