/* SPDX-License-Identifier: MIT */
/* Which board a want, a route or what was seen is about: that of the units beside it. */
#include "book/read.h"

static void
add_once (GPtrArray *boards, const Board *board)
{
    if (!g_ptr_array_find (boards, board, NULL))
        g_ptr_array_add (boards, (gpointer) board);
}

/* Boards of the units of a file, or of all (`file` NULL). */
static void
add_boards_of_units (const Loader *loader, const char *file, GPtrArray *boards)
{
    const GPtrArray *units = loader->library->units;
    for (guint i = 0; i < units->len; i++) {
        const Unit *unit = g_ptr_array_index (units, i);
        if (!file || unit->file == file)
            add_once (boards, unit->board);
    }
}

/* NULL: none is asked about by its id, or it could not be read. */
static const Unit *
unit_asked_about (const Loader *loader)
{
    const GPtrArray *units = loader->library->units;
    for (guint i = 0; loader->asked && i < units->len; i++)
        if (((const Unit *) g_ptr_array_index (units, i))->id == loader->asked)
            return g_ptr_array_index (units, i);
    return NULL;
}

GPtrArray *
boards_for_file (const Loader *loader, const char *file)
{
    const Book *book = &loader->library->book;
    const Unit *asked = unit_asked_about (loader);
    GPtrArray *boards = g_ptr_array_new ();
    add_boards_of_units (loader, file, boards);
    if (boards->len || loader->lost_unit)
        return boards; /* the unit that it goes with may be the one that could not be read */
    if (asked)
        add_once (boards, asked->board); /* what suits it is meant for it */
    add_boards_of_units (loader, NULL, boards);
    if (boards->len == 0 && book->boards->len == 1)
        g_ptr_array_add (boards, g_ptr_array_index (book->boards, 0));
    return boards;
}

void
complain_of_boards (Loader *loader, const GPtrArray *boards, Mark at, const char *what)
{
    if (boards->len)
        complaints_add (loader->complaints, at,
                        "expected units of one board, or the unit that it is for in the same file",
                        "the units have several boards: which one is this %s for?", what);
    else if (!loader->lost_unit && !loader->lost_row && !loader->unread_files)
        complaints_add (loader->complaints, at,
                        "expected a unit in the same run, so that slots and components are known",
                        "there is no unit for this %s", what);
}

gboolean
reads_well (Loader *loader, const Board *board, TryForBoard try_board, gconstpointer data)
{
    g_autoptr (Complaints) own = complaints_new ();
    g_autoptr (GHashTable) own_words = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    Complaints *complaints = loader->complaints;
    GHashTable *lost_words = loader->lost_words;
    guint wants = loader->library->wants->len, routes = loader->library->routes->len,
          seens = loader->library->seens->len;
    loader->complaints = own;
    loader->lost_words = own_words;
    try_board (loader, board, data);
    loader->complaints = complaints;
    loader->lost_words = lost_words;
    g_ptr_array_set_size (loader->library->wants, (int) wants);
    g_ptr_array_set_size (loader->library->routes, (int) routes);
    g_ptr_array_set_size (loader->library->seens, (int) seens);
    return complaints_count (own) == 0;
}

typedef struct {
    const Node *root;
    ReadForBoard read_document;
} DocumentToTry;

static void
try_document (Loader *loader, const Board *board, gconstpointer data)
{
    const DocumentToTry *document = data;
    document->read_document (loader, document->root, board);
}

void
read_for_board (Loader *loader, const Node *root, const char *what, ReadForBoard read_document)
{
    g_autoptr (GPtrArray) boards = boards_for_file (loader, root->at.file);
    const Board *board = boards->len == 1 ? g_ptr_array_index (boards, 0) : NULL;
    const DocumentToTry document = { root, read_document };
    for (guint i = 0; boards->len > 1 && !board && i < boards->len; i++)
        if (reads_well (loader, g_ptr_array_index (boards, i), try_document, &document))
            board = g_ptr_array_index (boards, i);
    if (!board)
        complain_of_boards (loader, boards, root->at, what);
    read_document (loader, root, board);
}
