/* SPDX-License-Identifier: MIT */
/* Units: a board as it stands, with the releases that it has or may have. */
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

/* `FIRST .. LAST`, ends included. Splits into the two; FALSE when it is no range. */
static gboolean
split_range (const char *text, char **first, char **last)
{
    const char *dots = strstr (text, " .. ");
    if (!dots)
        return FALSE;
    *first = g_strstrip (g_strndup (text, (gsize) (dots - text)));
    *last = g_strstrip (g_strdup (dots + strlen (" .. ")));
    return TRUE;
}

/* A range or an expression, as an expression. NULL after a complaint. */
static Expr *
read_possible (Loader *loader, const Component *component, const Node *node)
{
    g_autofree char *first = NULL, *last = NULL;
    if (!split_range (node->text, &first, &last))
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

static void
read_unit_firmware (Loader *loader, const Node *node, Unit *unit)
{
    const GPtrArray *components = unit->board->components;
    g_autofree gboolean *given = g_new0 (gboolean, components->len + 1);
    g_autofree const char **known = names_of (components);
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "firmware", "expected each component with its release");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        const Node *key = g_ptr_array_index (node->keys, i);
        int index = read_component_name (loader, unit->board, key);
        if (index < 0) {
            const char *nearest = text_nearest (key->text, known); /* misspelt, so not missing as well */
            if (nearest)
                given[board_find_component (unit->board, nearest)] = TRUE;
            continue;
        }
        given[index] = TRUE;
        read_unit_release (loader, board_component (unit->board, (guint) index), g_ptr_array_index (node->items, i),
                           &unit->releases[index]);
    }
    for (guint i = 0; i < components->len; i++) {
        const char *name = board_component (unit->board, i)->name;
        g_autofree char *expected = g_strdup_printf ("expected \"%s:\" with a release, or with unknown", name);
        if (!given[i] && !loader_has_lost (loader, name))
            complaints_add (loader->complaints, node->at, expected, "the release of %s is not given", name);
    }
}

static void
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

/* ---- What is fitted ---- */

static void
read_fitted_slot (Loader *loader, const Slot *slot, const Node *node, Fitted *out)
{
    MapReader reader;
    const Node *part_node = node, *stepping_node = NULL;
    out->at = node->at;
    if (node->kind == NODE_SCALAR && strcmp (node->text, "empty") == 0)
        return;
    if (node->kind == NODE_MAP) {
        if (!map_begin (&reader, loader, node, "this slot"))
            return;
        part_node = map_take (&reader, "part", KEY_REQUIRED);
        stepping_node = map_take (&reader, "stepping", KEY_OPTIONAL);
        out->serial = value_text (loader, map_take (&reader, "serial", KEY_OPTIONAL), "serial");
        map_end (&reader);
    }
    const Part *part = part_node ? read_part_name (loader, part_node, slot->takes) : NULL;
    if (part && read_stepping (loader, part, stepping_node, part_node, &out->stepping))
        out->part = part;
}

static void
read_fitted (Loader *loader, const Node *node, Unit *unit)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "fitted", "expected a slot with a part");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        int index = read_slot_name (loader, unit->board, g_ptr_array_index (node->keys, i));
        if (index >= 0)
            read_fitted_slot (loader, board_slot (unit->board, (guint) index), g_ptr_array_index (node->items, i),
                              &unit->fitted[index]);
    }
}

/* ---- The unit ---- */

static Unit *
unit_new (const char *id, const Board *board, Mark at)
{
    Unit *unit = g_new0 (Unit, 1);
    unit->id = id;
    unit->file = at.file;
    unit->board = board;
    unit->at = at;
    unit->releases = g_new0 (UnitRelease, board->components->len + 1);
    unit->fitted = g_new0 (Fitted, board->slots->len + 1);
    for (guint i = 0; i < board->components->len; i++) {
        unit->releases[i].may_be = g_new0 (gboolean, board_component (board, i)->releases->len + 1);
        unit->releases[i].floor = -1;
    }
    for (guint i = 0; i < board->slots->len; i++)
        unit->fitted[i].at = at;
    return unit;
}

static const Board *
read_board_name (Loader *loader, const Node *node)
{
    const char *name = value_name (loader, node, "board");
    const Board *board = name ? book_find_board (&loader->library->book, name) : NULL;
    if (name && !board) {
        g_autofree const char **known = names_of (loader->library->book.boards);
        loader_unknown (loader, node->at, "board", name, NULL, known);
    }
    return board;
}

static void
read_revision (Loader *loader, const Node *node, Unit *unit)
{
    const char *name = value_name (loader, node, "revision");
    int index = name ? board_find_revision (unit->board, name) : -1;
    if (name && index < 0 && !g_hash_table_contains (loader->damaged, unit->board)) {
        g_autoptr (GPtrArray) revisions = g_ptr_array_new ();
        for (guint i = 0; i < unit->board->revisions->len; i++)
            g_ptr_array_add (revisions, g_ptr_array_index (unit->board->revisions, i));
        g_ptr_array_add (revisions, NULL);
        g_autofree char *whole = g_strdup_printf ("board %s", unit->board->name);
        loader_unknown (loader, node->at, "revision", name, whole, (const char *const *) revisions->pdata);
    }
    unit->revision = (guint) MAX (index, 0);
}

static gboolean
id_is_free (Loader *loader, const char *id, Mark at)
{
    for (guint i = 0; i < loader->library->units->len; i++) {
        const Unit *earlier = g_ptr_array_index (loader->library->units, i);
        if (earlier->id != id)
            continue;
        loader_twice (loader, at, "unit", id, earlier->at);
        return FALSE;
    }
    return TRUE;
}

void
read_unit (Loader *loader, const Node *root)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this unit"))
        return;
    const Node *id_node = map_take (&reader, "unit", KEY_REQUIRED);
    const char *id = value_text (loader, id_node, "unit");
    const Board *board = read_board_name (loader, map_take (&reader, "board", KEY_REQUIRED));
    const char *note = value_text (loader, map_take (&reader, "note", KEY_OPTIONAL), "note");
    const Node *revision = map_take (&reader, "revision", KEY_REQUIRED);
    const Node *firmware =
        map_take (&reader, "firmware", board && board->components->len ? KEY_REQUIRED : KEY_OPTIONAL);
    const Node *floor = map_take (&reader, "floor", KEY_OPTIONAL), *fitted = map_take (&reader, "fitted", KEY_OPTIONAL);
    map_end (&reader);
    if (!board || !id || !id_is_free (loader, id, id_node->at)) {
        loader->lost_unit = TRUE;
        return;
    }
    Unit *unit = unit_new (id, board, id_node->at);
    unit->note = note;
    read_revision (loader, revision, unit);
    if (firmware)
        read_unit_firmware (loader, firmware, unit);
    read_floors (loader, floor, unit);
    read_fitted (loader, fitted, unit);
    g_ptr_array_add (loader->library->units, unit);
}
