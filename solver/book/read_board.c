/* SPDX-License-Identifier: MIT */
/* Boards: revisions, slots, and which components they carry. */
#include "book/attributes.h"
#include "book/library.h"
#include "book/read.h"

#include <string.h>

/* The names of slots that one slot refers to, until all slots of the board are known. */
typedef struct {
    const Node *over, *served_by;
} SlotLinks;

/* ---- Slots ---- */

static gboolean
slot_name_is_free (Loader *loader, const Board *board, const Node *node, const char *name)
{
    int earlier = board_find_slot (board, name);
    if (earlier < 0)
        return TRUE;
    loader_twice (loader, node->at, "slot", name, board_slot (board, (guint) earlier)->at);
    return FALSE;
}

static void
read_slot (Loader *loader, BoardListing *listing, const Node *node, GArray *links)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this slot"))
        return;
    Board *board = listing->board;
    const Node *name_node = map_take (&reader, "slot", KEY_REQUIRED);
    const char *name = value_name (loader, name_node, "slot");
    Slot *slot = slot_new (name, node->at);
    int takes = value_word (loader, map_take (&reader, "takes", KEY_REQUIRED), "takes", part_kind_words ());
    slot->takes = (PartKind) MAX (takes, 0);
    SlotLinks link = { map_take (&reader, "over", KEY_OPTIONAL), map_take (&reader, "served-by", KEY_OPTIONAL) };
    attributes_read (&reader, slot->attributes);
    map_end (&reader);
    if (name && takes >= 0 && slot_name_is_free (loader, board, name_node, name)) {
        slot->at = name_node->at;
        slot->index = board->slots->len;
        g_ptr_array_add (board->slots, slot);
        g_ptr_array_add (listing->slot_nodes, (gpointer) name_node);
        g_array_append_val (links, link);
        return;
    }
    loader_lose_node (loader, node);
    slot_free (slot);
}

static int
find_link (Loader *loader, const Board *board, guint own, const Node *node, const char *key)
{
    const char *name = value_name (loader, node, key);
    if (!name)
        return -1;
    int index = board_find_slot (board, name);
    if (index < 0) {
        g_autofree const char **known = names_of (board->slots);
        g_autofree char *whole = g_strdup_printf ("board %s", board->name);
        loader_unknown (loader, node->at, "slot", name, whole, known);
    } else if (index == (int) own) {
        loader_complain (loader, node, "expected another slot", "slot %s cannot be %s itself", name, key);
        index = -1;
    }
    return index;
}

/* Slots that serve one another in a circle could never come alive. */
static void
check_serving_circles (Loader *loader, const Board *board, const GArray *links)
{
    for (guint i = 0; i < board->slots->len; i++) {
        int at = board_slot (board, i)->served_by;
        for (guint steps = 0; at >= 0 && at != (int) i && steps < board->slots->len; steps++)
            at = board_slot (board, (guint) at)->served_by;
        if (at != (int) i)
            continue;
        loader_complain (loader, g_array_index (links, SlotLinks, i).served_by,
                         "expected a slot that is alive without this one", "slot %s is served by itself in a circle",
                         board_slot (board, i)->name);
        return;
    }
}

static void
read_slots (Loader *loader, BoardListing *listing, const Node *node)
{
    const GPtrArray *items = value_list (loader, node, "slots");
    if (!items)
        return;
    g_autoptr (GArray) links = g_array_new (FALSE, FALSE, sizeof (SlotLinks));
    for (guint i = 0; i < items->len; i++)
        read_slot (loader, listing, g_ptr_array_index (items, i), links);
    for (guint i = 0; i < links->len; i++) {
        Slot *slot = g_ptr_array_index (listing->board->slots, i);
        const SlotLinks *link = &g_array_index (links, SlotLinks, i);
        slot->over = find_link (loader, listing->board, i, link->over, "over");
        slot->served_by = find_link (loader, listing->board, i, link->served_by, "served-by");
    }
    check_serving_circles (loader, listing->board, links);
}

/* ---- Steppings that may be mixed ---- */

static SteppingSet *
read_stepping_set (Loader *loader, const Node *node)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this set of steppings"))
        return NULL;
    const Node *generation_node = map_take (&reader, "generation", KEY_REQUIRED);
    const Node *steppings_node = map_take (&reader, "steppings", KEY_REQUIRED);
    const char *generation = value_name (loader, generation_node, "generation");
    GPtrArray *steppings = value_names (loader, steppings_node, "steppings");
    map_end (&reader);
    if (generation && steppings) {
        loader_use_generation (loader, generation_node, steppings_node);
        return stepping_set_new (generation, steppings, node->at);
    }
    if (steppings)
        g_ptr_array_unref (steppings);
    return NULL;
}

static GPtrArray *
read_mixed_steppings (Loader *loader, const Node *node)
{
    const GPtrArray *items = value_list (loader, node, "mixed-steppings");
    if (!items)
        return NULL;
    GPtrArray *sets = g_ptr_array_new_with_free_func (stepping_set_free);
    for (guint i = 0; i < items->len; i++) {
        SteppingSet *set = read_stepping_set (loader, g_ptr_array_index (items, i));
        if (set)
            g_ptr_array_add (sets, set);
    }
    return sets;
}

/* ---- Boards ---- */

static void
read_board_keys (Loader *loader, BoardListing *listing, MapReader *reader)
{
    Board *board = listing->board;
    GPtrArray *revisions = value_names (loader, map_take (reader, "revisions", KEY_REQUIRED), "revisions");
    if (revisions) {
        g_ptr_array_unref (board->revisions);
        board->revisions = revisions;
    } else /* never empty; "unknown" is no name that a file could use */
        g_ptr_array_add (board->revisions, (gpointer) g_intern_static_string ("unknown"));
    value_minutes (loader, map_take (reader, "dark-after", KEY_OPTIONAL), "dark-after", &board->dark_after_minutes);
    value_yes (loader, map_take (reader, "verified-boot", KEY_OPTIONAL), "verified-boot", &board->verified_boot);
    board->binds = value_name (loader, map_take (reader, "binds", KEY_OPTIONAL), "binds");
    value_provides (loader, map_take (reader, "provides", KEY_OPTIONAL), "provides", board->provides);
    read_slots (loader, listing, map_take (reader, "slots", KEY_OPTIONAL));
    listing->listed = value_list (loader, map_take (reader, "components", KEY_OPTIONAL), "components");
    board->mixed_steppings = read_mixed_steppings (loader, map_take (reader, "mixed-steppings", KEY_OPTIONAL));
    map_take_source (reader, &board->source);
    attributes_read (reader, board->attributes);
}

static void
read_board (Loader *loader, const Node *node)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this board"))
        return;
    guint before = complaints_count (loader->complaints);
    const Node *name_node = map_take (&reader, "board", KEY_REQUIRED);
    const char *name = value_name (loader, name_node, "board");
    BoardListing *listing = g_new0 (BoardListing, 1);
    listing->board = board_new (name, name_node ? name_node->at : node->at);
    listing->slot_nodes = g_ptr_array_new ();
    read_board_keys (loader, listing, &reader);
    map_end (&reader);
    /* A board of which something could not be read stays, so that what refers to it is still looked at. */
    if (complaints_count (loader->complaints) > before)
        g_hash_table_add (loader->damaged, listing->board);
    if (name && loader_define (loader, "board", name, name_node->at)) {
        g_ptr_array_add (loader->library->book.boards, listing->board);
        g_ptr_array_add (loader->listings, listing);
        return;
    }
    if (!name)
        loader_lose_node (loader, node);
    board_free (listing->board);
    g_ptr_array_unref (listing->slot_nodes);
    g_free (listing);
}

void
read_boards (Loader *loader, const Node *list)
{
    const GPtrArray *items = value_list (loader, list, "boards");
    for (guint i = 0; items && i < items->len; i++)
        read_board (loader, g_ptr_array_index (items, i));
}
