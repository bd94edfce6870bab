/* SPDX-License-Identifier: MIT */
/* Units: a board as it stands. Its firmware: read_unit_firmware.c, read_factory.c; its parts: read_fitted.c. */
#include "book/read_unit.h"

#include "book/library.h"
#include "book/read.h"

#define MOST_PRIORITY 1000000

/* ---- Which board it is ---- */

const Board *
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
    const Mark *earlier = g_hash_table_lookup (loader->unit_marks, id);
    if (!earlier)
        g_hash_table_insert (loader->unit_marks, (gpointer) id, g_memdup2 (&at, sizeof at));
    return loader_is_first (loader, "unit", id, at, earlier);
}

/* ---- The unit ---- */

/* Keys that are read when the board is known. */
typedef struct {
    const Node *revision, *firmware, *floor, *factory, *failed, *insertions, *fitted, *pulled, *began;
} UnitKeys;

/* What a batch asks of the unit: no board is needed for it. */
typedef struct {
    const char *becomes, *due;
    gint64 priority;
    gboolean own_parts_stay;
    Mark becomes_at;
} BatchKeys;

static BatchKeys
take_batch_keys (MapReader *reader, Mark unit_at)
{
    Loader *loader = reader->loader;
    const Node *becomes = map_take (reader, "becomes", KEY_OPTIONAL);
    BatchKeys keys = { .priority = 1, .becomes_at = becomes ? becomes->at : unit_at };
    keys.becomes = value_text (loader, becomes, "becomes");
    keys.due = value_local_time (loader, map_take (reader, "due", KEY_OPTIONAL), "due");
    value_whole (loader, map_take (reader, "priority", KEY_OPTIONAL), "priority", 1, MOST_PRIORITY, &keys.priority);
    value_yes (loader, map_take (reader, "own-parts-stay", KEY_OPTIONAL), "own-parts-stay", &keys.own_parts_stay);
    return keys;
}

static void
set_batch_keys (const BatchKeys *keys, Unit *unit)
{
    unit->becomes = keys->becomes;
    unit->becomes_at = keys->becomes_at;
    unit->due = keys->due;
    unit->priority = (guint) keys->priority;
    unit->own_parts_stay = keys->own_parts_stay;
}

static UnitKeys
take_keys (MapReader *reader, const Board *board)
{
    return (UnitKeys){
        .revision = map_take (reader, "revision", KEY_REQUIRED),
        .firmware = map_take (reader, "firmware", board && board->components->len ? KEY_REQUIRED : KEY_OPTIONAL),
        .floor = map_take (reader, "floor", KEY_OPTIONAL),
        .factory = map_take (reader, "factory", KEY_OPTIONAL),
        .failed = map_take (reader, "failed", KEY_OPTIONAL),
        .insertions = map_take (reader, "insertions", KEY_OPTIONAL),
        .fitted = map_take (reader, "fitted", KEY_OPTIONAL),
        .pulled = map_take (reader, "pulled", KEY_OPTIONAL),
        .began = map_take (reader, "began", KEY_OPTIONAL),
    };
}

/* What the factory says of the active image holds for a spare image that is not told of, too. */
static void
read_releases (Loader *loader, const UnitKeys *keys, Unit *unit)
{
    if (keys->firmware)
        read_unit_firmware (loader, keys->firmware, unit);
    FactoryKeys factory = read_factory (loader, keys->factory, unit);
    narrow_by_factory (loader, unit, &factory, FALSE);
    if (keys->firmware)
        fill_untold_spares (unit);
    narrow_by_factory (loader, unit, &factory, TRUE);
}

static void
read_keys (Loader *loader, const UnitKeys *keys, Unit *unit)
{
    read_revision (loader, keys->revision, unit);
    read_releases (loader, keys, unit);
    read_floors (loader, keys->floor, unit);
    read_failed (loader, keys->failed, unit);
    read_insertions (loader, keys->insertions, unit);
    read_fitted (loader, keys->fitted, "fitted", unit->board, unit->fitted, NULL);
    read_pulled (loader, keys->pulled, unit);
    read_began (loader, keys->began, unit);
    check_lent_parts (loader, unit);
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
    UnitKeys keys = take_keys (&reader, board);
    BatchKeys batch = take_batch_keys (&reader, id_node ? id_node->at : root->at);
    map_end (&reader);
    gboolean is_new = id && id_is_free (loader, id, id_node->at);
    if (!board || !is_new) {
        loader->lost_unit = TRUE;
        return;
    }
    Unit *unit = unit_new (id, board, id_node->at);
    unit->note = note;
    set_batch_keys (&batch, unit);
    read_keys (loader, &keys, unit);
    g_ptr_array_add (loader->library->units, unit);
}
