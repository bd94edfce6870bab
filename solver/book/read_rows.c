/* SPDX-License-Identifier: MIT */
/* Rows of a table as units. Each row becomes the document that a unit's file would hold, and is read as that: so every rule and
 * every complaint of unit files holds for rows too, at the place of the cell. */
#include "book/read.h"
#include "book/row_nodes.h"

#include <string.h>

/* ---- What a row says ---- */

static void
add_failed (Node *unit, const Cell *cell)
{
    Node *list = node_list_new (cell->at);
    for (gsize at = 0; cell->text[at];) {
        gsize blank = strspn (cell->text + at, " \t\r\n"), word = strcspn (cell->text + at + blank, " \t\r\n");
        if (word)
            g_ptr_array_add (list->items, cell_piece (cell, at + blank, word));
        at += blank + word;
    }
    node_put (unit, "failed", list);
}

/* Spreadsheets write TRUE and FALSE. */
static Node *
yes_or_no (const Cell *cell)
{
    Node *node = cell_node (cell);
    g_autofree char *text = node->text;
    node->text = g_ascii_strdown (text, -1);
    return node;
}

/* A release or what is possible; several with | between them. */
static Node *
releases_of (const Cell *cell)
{
    if (!strchr (cell->text, '|'))
        return cell_node (cell);
    Node *list = node_list_new (cell->at);
    for (const char *at = cell->text;; at++) {
        gsize length = strcspn (at, "|");
        g_ptr_array_add (list->items, cell_piece (cell, (gsize) (at - cell->text), length));
        at += length;
        if (*at == '\0')
            return list;
    }
}

/* Where the stepping begins in `part:stepping`, behind the colon; 0 when there is none. A name may have colons too: the part is the
 * longest one that there is; where there is none, what stands before the last colon was meant. */
static gsize
stepping_from (const Loader *loader, const char *text)
{
    const char *last = strrchr (text, ':');
    if (!last || book_find_part (&loader->library->book, text))
        return 0;
    for (const char *colon = last; colon; colon = g_strrstr_len (text, colon - text, ":")) {
        g_autofree char *name = g_strndup (text, (gsize) (colon - text));
        if (book_find_part (&loader->library->book, g_strstrip (name)))
            return (gsize) (colon - text) + 1;
    }
    return (gsize) (last - text) + 1;
}

/* `part`, `part:stepping` or `empty`, and the serial from its own cell (nullable). */
static Node *
fitted_of (const Loader *loader, const Cell *cell, const Cell *serial)
{
    gsize stepping = stepping_from (loader, cell->text);
    if (!stepping && !serial)
        return cell_node (cell);
    Node *map = node_map_new (cell->at);
    node_put (map, "part", stepping ? cell_piece (cell, 0, stepping - 1) : cell_node (cell));
    if (stepping)
        node_put (map, "stepping", cell_piece (cell, stepping, strlen (cell->text) - stepping));
    if (serial)
        node_put (map, "serial", cell_node (serial));
    return map;
}

/* A slot's cell has to hold a part where there is a serial. */
static void
check_serial (Loader *loader, const Column *column, const Cell *serial, const Cell *part)
{
    g_autofree char *expected = g_strdup_printf ("expected a part under \"%s\", or no serial", column->thing);
    if (!part || strcmp (part->text, "empty") == 0)
        complaints_add (loader->complaints, serial->at, expected, "a serial for slot %s, which holds no part",
                        column->thing);
}

static void
add_slot (Row *row, const Column *column, const Cell *cell)
{
    const Cell *serial = row_cell (row, COLUMN_SERIAL, column->thing);
    gboolean is_part = strcmp (cell->text, "empty") != 0;
    node_put (node_below (row->unit, "fitted", cell->at), column->thing,
              fitted_of (row->loader, cell, is_part ? serial : NULL));
}

/* A cell of a slot or component that the row's board has not got is a mistake. */
static void
add_thing (Row *row, const Column *column, const Cell *cell)
{
    const Board *board = row->board;
    gboolean of_slot = column->role != COLUMN_FLOOR && column->role != COLUMN_LABEL;
    gboolean of_component = column->role != COLUMN_SERIAL && column->role != COLUMN_INSERTIONS;
    gboolean is_slot = of_slot && board_find_slot (board, column->thing) >= 0;
    gboolean is_component = of_component && board_find_component (board, column->thing) >= 0;
    if (!is_slot && !is_component) {
        if (!g_hash_table_contains (row->loader->damaged, board))
            complaints_add (row->loader->complaints, cell->at, "expected nothing here, or another board",
                            "board %s has no %s %s", board->name,
                            !of_slot ? "component" : of_component ? "slot or component" : "slot", column->thing);
        return;
    }
    if (column->role == COLUMN_SERIAL)
        check_serial (row->loader, column, cell, row_cell (row, COLUMN_THING, column->thing));
    else if (column->role == COLUMN_INSERTIONS)
        node_put (node_below (row->unit, "insertions", cell->at), column->thing, cell_node (cell));
    else if (column->role == COLUMN_FLOOR)
        node_put (node_below (row->unit, "floor", cell->at), column->thing, cell_node (cell));
    else if (column->role == COLUMN_LABEL)
        node_put (node_below (node_below (row->unit, "factory", cell->at), "label", cell->at), column->thing,
                  cell_node (cell));
    else if (is_slot)
        add_slot (row, column, cell);
    else
        node_put (node_below (row->unit, "firmware", cell->at), column->thing, releases_of (cell));
}

static void
add_cell (Row *row, const Column *column, const Cell *cell)
{
    switch (column->role) {
    case COLUMN_OWN_PARTS_STAY:
        node_put (row->unit, "own-parts-stay", yes_or_no (cell));
        break;
    case COLUMN_MADE:
        node_put (node_below (row->unit, "factory", cell->at), "made", cell_node (cell));
        break;
    case COLUMN_WRITTEN_SINCE:
        node_put (node_below (row->unit, "factory", cell->at), "written-since", yes_or_no (cell));
        break;
    case COLUMN_FAILED:
        add_failed (row->unit, cell);
        break;
    case COLUMN_THING:
    case COLUMN_FLOOR:
    case COLUMN_LABEL:
    case COLUMN_SERIAL:
    case COLUMN_INSERTIONS:
        if (row->board) /* an unknown one is complained about, and says nothing of its cells */
            add_thing (row, column, cell);
        break;
    case COLUMN_BLANK:
        complaints_add (row->loader->complaints, cell->at, "expected nothing here, or a name in the first line",
                        "this cell is in a column without a name");
        break;
    default: /* the column is called as the key is */
        node_put (row->unit, column->name, cell_node (cell));
    }
}

/* ---- What a row has to say ---- */

/* A stand-in goes on, so that the row's other mistakes are said too. */
static void
add_missing (Row *row)
{
    static const struct {
        ColumnRole role;
        const char *key;
    } needed[] = { { COLUMN_UNIT, "unit" }, { COLUMN_BOARD, "board" }, { COLUMN_REVISION, "revision" } };
    const Mark at = row->cells->at;
    for (guint i = 0; i < G_N_ELEMENTS (needed); i++) {
        if (row_cell (row, needed[i].role, NULL))
            continue;
        complaints_add (row->loader->complaints, row_place (row, needed[i].role, NULL), "expected it in its column",
                        "this row has no %s", needed[i].key);
        g_autofree char *stand_in = needed[i].role == COLUMN_UNIT
                                        ? g_strdup_printf ("%s:%u", at.file, at.line)
                                        : g_strdup (row->board ? g_ptr_array_index (row->board->revisions, 0) : "r1");
        if (needed[i].role != COLUMN_BOARD)
            node_put (row->unit, needed[i].key, node_scalar_new (stand_in, at));
    }
}

static void
add_missing_releases (Row *row)
{
    for (guint i = 0; row->board && i < row->board->components->len; i++) {
        const Component *component = board_component (row->board, i);
        if (component->spare_of || row_cell (row, COLUMN_THING, component->name))
            continue;
        const Mark at = row_place (row, COLUMN_THING, component->name);
        g_autofree char *expected =
            g_strdup_printf ("expected a release under \"%s\", or unknown", component->name);
        complaints_add (row->loader->complaints, at, expected, "the release of %s is not given", component->name);
        node_put (node_below (row->unit, "firmware", at), component->name, node_scalar_new ("unknown", at));
    }
}

/* ---- A row ---- */

/* The unit of a row, as a document. Transfer full; NULL after a complaint that leaves nothing to read. */
static Node *
document_of (Row *row)
{
    const Cell *board = row_cell (row, COLUMN_BOARD, NULL);
    row->unit = node_map_new (row->cells->at);
    row->board = board ? book_find_board (&row->loader->library->book, g_intern_string (board->text)) : NULL;
    for (guint i = 0; i < row->cells->cells->len; i++) {
        static const Column beyond = { .role = COLUMN_BLANK };
        const Cell *cell = &g_array_index (row->cells->cells, Cell, i);
        if (!cell_is_blank (cell))
            add_cell (row, i < row->columns->len ? &g_array_index (row->columns, Column, i) : &beyond, cell);
    }
    add_missing (row);
    add_missing_releases (row);
    if (board)
        return g_steal_pointer (&row->unit);
    g_clear_pointer (&row->unit, node_free);
    return NULL;
}

static void
lose_row (const Row *row)
{
    const Cell *id = row_cell (row, COLUMN_UNIT, NULL);
    LostRow lost = { id ? g_intern_string (id->text) : NULL, row->cells->at };
    g_array_append_val (row->loader->library->lost_rows, lost);
}

/* Reads a row as a unit; one with a mistake gives none. The loader's complaints are those of rows. */
static void
read_row (Loader *loader, const GArray *columns, const TableRow *cells)
{
    GPtrArray *units = loader->library->units;
    guint complaints = complaints_count (loader->complaints), before = units->len;
    Row row = { .loader = loader, .columns = columns, .cells = cells };
    Node *document = document_of (&row);
    if (document)
        read_unit (loader, document);
    node_free (document);
    if (complaints_count (loader->complaints) == complaints)
        return;
    lose_row (&row);
    g_ptr_array_set_size (units, (int) before);
    g_hash_table_remove_all (loader->row_words); /* the next row's mistakes are its own */
    loader->lost_row = TRUE;
}

static void
read_table (Loader *loader, const Table *table)
{
    g_autoptr (GArray) columns = NULL;
    if (table->rows->len > 0)
        columns = columns_read (loader, g_ptr_array_index (table->rows, 0));
    else if (!loader->lost_unit)
        complaints_add (loader->complaints, (Mark){ table->file, 1, 1 },
                        "expected a line with the names of its columns, then a line a unit", "this table is empty");
    if (!columns) {
        loader->lost_unit = TRUE;
        return;
    }
    Complaints *complaints = loader->complaints;
    gboolean lost_unit = loader->lost_unit;
    loader->complaints = loader->row_complaints ? loader->row_complaints : complaints;
    loader->row_words = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    for (guint i = 1; i < table->rows->len; i++)
        read_row (loader, columns, g_ptr_array_index (table->rows, i));
    g_clear_pointer (&loader->row_words, g_hash_table_unref);
    loader->complaints = complaints;
    /* A row that is left out ends nothing, where rows are told of apart. */
    loader->lost_unit = lost_unit || (!loader->row_complaints && loader->lost_row);
}

void
read_tables (Loader *loader)
{
    for (guint i = 0; i < loader->tables->len; i++)
        read_table (loader, g_ptr_array_index (loader->tables, i));
}
