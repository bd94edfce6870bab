/* SPDX-License-Identifier: MIT */
/* Cells as nodes, each with its place. */
#include "book/row_nodes.h"

#include "book/items.h"

#include <string.h>

/* ---- Cells ---- */

gboolean
cell_is_blank (const Cell *cell)
{
    return cell->text[strspn (cell->text, " \t\r\n")] == '\0';
}

/* Index of the column; -1 when the table has none such. */
static int
find_column (const Row *row, ColumnRole role, const char *thing)
{
    for (guint i = 0; i < row->columns->len; i++) {
        const Column *column = &g_array_index (row->columns, Column, i);
        if (column->role == role && column->thing == thing)
            return (int) i;
    }
    return -1;
}

const Cell *
row_cell (const Row *row, ColumnRole role, const char *thing)
{
    int index = find_column (row, role, thing);
    if (index < 0 || (guint) index >= row->cells->cells->len)
        return NULL;
    const Cell *cell = &g_array_index (row->cells->cells, Cell, index);
    return cell_is_blank (cell) ? NULL : cell;
}

Mark
row_place (const Row *row, ColumnRole role, const char *thing)
{
    int index = find_column (row, role, thing);
    return index < 0 || (guint) index >= row->cells->cells->len
               ? row->cells->at
               : g_array_index (row->cells->cells, Cell, index).at;
}

/* Whether its characters stand in the file one by one, on one line: not where quotes are doubled or lines broken. */
static gboolean
is_spelled (const Cell *cell)
{
    return strpbrk (cell->text, "\"\r\n") == NULL;
}

Node *
cell_piece (const Cell *cell, gsize from, gsize length)
{
    guint right = (cell->quoted ? 1 : 0) + cell->skipped + (guint) g_utf8_strlen (cell->text, (gssize) from);
    Node *node = item_node (cell->text + from, length, mark_right_of (cell->at, right));
    node->spelled = is_spelled (cell);
    if (!node->spelled)
        node->at = cell->at;
    return node;
}

Node *
cell_node (const Cell *cell)
{
    Node *node = node_scalar_new (cell->text, cell->at);
    node->plain = !cell->quoted;
    node->quote = (cell->quoted ? 1 : 0) + cell->skipped;
    node->spelled = is_spelled (cell);
    return node;
}

/* ---- Nodes ---- */

static Node *
new_node (NodeKind kind, Mark at)
{
    Node *node = g_new0 (Node, 1);
    node->kind = kind;
    node->at = at;
    if (kind != NODE_SCALAR)
        node->items = g_ptr_array_new_with_free_func ((GDestroyNotify) node_free);
    if (kind == NODE_MAP)
        node->keys = g_ptr_array_new_with_free_func ((GDestroyNotify) node_free);
    return node;
}

Node *
node_scalar_new (const char *text, Mark at)
{
    Node *node = new_node (NODE_SCALAR, at);
    node->text = g_strdup (text);
    node->plain = TRUE;
    return node;
}

Node *
node_list_new (Mark at)
{
    return new_node (NODE_LIST, at);
}

Node *
node_map_new (Mark at)
{
    return new_node (NODE_MAP, at);
}

void
node_put (Node *map, const char *key, Node *value)
{
    g_ptr_array_add (map->keys, node_scalar_new (key, value->at));
    g_ptr_array_add (map->items, value);
}

Node *
node_below (Node *map, const char *key, Mark at)
{
    for (guint i = 0; i < map->keys->len; i++)
        if (strcmp (((const Node *) g_ptr_array_index (map->keys, i))->text, key) == 0)
            return g_ptr_array_index (map->items, i);
    Node *below = node_map_new (at);
    node_put (map, key, below);
    return below;
}
