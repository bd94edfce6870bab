/* SPDX-License-Identifier: MIT */
/* A row of a table as the nodes of a document. */
#ifndef RUNGWISE_ROW_NODES_H
#define RUNGWISE_ROW_NODES_H

#include "book/table_columns.h"

/* A row that is being read. */
typedef struct {
    Loader *loader;
    const GArray *columns; /* Column */
    const TableRow *cells;
    const Board *board; /* NULL: it is not known */
    Node *unit;         /* the document so far; owned */
} Row;

gboolean cell_is_blank (const Cell *cell);
/* The cell of a column with something in it; `thing` as in Column. NULL when there is none. */
const Cell *row_cell (const Row *row, ColumnRole role, const char *thing);
/* Where such a cell stands or would stand; the row's own place where it ends before. */
Mark row_place (const Row *row, ColumnRole role, const char *thing);

/* All transfer full. */
Node *cell_node (const Cell *cell);
/* Part of a cell, from a byte on, without the blanks around it. */
Node *cell_piece (const Cell *cell, gsize from, gsize length);
Node *node_scalar_new (const char *text, Mark at);
Node *node_list_new (Mark at);
Node *node_map_new (Mark at);
/* Takes over `value`; the key stands where the value does. */
void node_put (Node *map, const char *key, Node *value);
/* The map under a key of a map; made there where it is missing. Transfer none. */
Node *node_below (Node *map, const char *key, Mark at);

#endif
