/* SPDX-License-Identifier: MIT */
/* The parts of a unit: fitted, pulled, what slots began with, and what sockets have borne. */
#include "book/read.h"
#include "book/read_unit.h"

#include <string.h>

#define MOST_INSERTIONS 100000 /* far beyond what any socket is rated for */

/* ---- One part ---- */

/* A name, or a map with at least the part. `kind` as in read_part_name(). FALSE after a complaint; `out` then has no part. */
static gboolean
read_one_part (Loader *loader, PartKind kind, const char *what, gboolean may_be_lent, const Node *node, Fitted *out)
{
    MapReader reader;
    const Node *part_node = node, *stepping_node = NULL;
    *out = (Fitted){ .at = node->at };
    if (node->kind == NODE_MAP) {
        if (!map_begin (&reader, loader, node, what))
            return FALSE;
        part_node = map_take (&reader, "part", KEY_REQUIRED);
        stepping_node = map_take (&reader, "stepping", KEY_OPTIONAL);
        out->serial = value_text (loader, map_take (&reader, "serial", KEY_OPTIONAL), "serial");
        const Node *from = may_be_lent ? map_take (&reader, "from", KEY_OPTIONAL) : NULL;
        out->owner = (Owner) MAX (value_word (loader, from, "from", owner_words ()), OWNER_UNIT);
        out->bound = value_name (loader, map_take (&reader, "bound", KEY_OPTIONAL), "bound");
        map_end (&reader);
    }
    const Part *part = part_node ? read_part_name (loader, part_node, kind) : NULL;
    if (!part || !read_stepping (loader, part, stepping_node, part_node, &out->stepping))
        return FALSE;
    out->part = part;
    return TRUE;
}

/* ---- Slots ---- */

static void
read_fitted_slot (Loader *loader, const Slot *slot, const Node *node, Fitted *out)
{
    if (node->kind == NODE_SCALAR && strcmp (node->text, "empty") == 0)
        *out = (Fitted){ .at = node->at };
    else
        read_one_part (loader, slot->takes, "this slot", TRUE, node, out);
}

void
read_fitted (Loader *loader, const Node *node, const char *key, const Board *board, Fitted *out, gboolean *named)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, key, "expected a slot with a part");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        int index = read_slot_name (loader, board, g_ptr_array_index (node->keys, i));
        if (index < 0)
            continue;
        read_fitted_slot (loader, board_slot (board, (guint) index), g_ptr_array_index (node->items, i), &out[index]);
        if (named)
            named[index] = TRUE;
    }
}

void
read_began (Loader *loader, const Node *node, Unit *unit)
{
    if (!node)
        return;
    unit->began = g_memdup2 (unit->fitted, (unit->board->slots->len + 1) * sizeof *unit->fitted);
    read_fitted (loader, node, "began", unit->board, unit->began, NULL);
}

void
read_insertions (Loader *loader, const Node *node, Unit *unit)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "insertions", "expected a slot with how often something was fitted in it");
        return;
    }
    unit->insertions = g_new0 (guint, unit->board->slots->len + 1);
    unit->counted = g_new0 (gboolean, unit->board->slots->len + 1);
    for (guint i = 0; i < node->keys->len; i++) {
        gint64 count = 0;
        int index = read_slot_name (loader, unit->board, g_ptr_array_index (node->keys, i));
        gboolean right =
            value_whole (loader, g_ptr_array_index (node->items, i), "insertions", 0, MOST_INSERTIONS, &count);
        if (index < 0 || !right)
            continue;
        unit->insertions[index] = (guint) count;
        unit->counted[index] = TRUE;
    }
}

/* ---- Parts beside the unit, and parts that are not its own ---- */

void
read_pulled (Loader *loader, const Node *node, Unit *unit)
{
    const GPtrArray *items = value_list (loader, node, "pulled");
    if (!items)
        return;
    unit->pulled = g_array_new (FALSE, TRUE, sizeof (Fitted));
    for (guint i = 0; i < items->len; i++) {
        Fitted part;
        if (read_one_part (loader, KIND_COUNT, "this part", FALSE, g_ptr_array_index (items, i), &part))
            g_array_append_val (unit->pulled, part);
    }
}

/* Those alike: to whom they are bound is left out, since one from stock may have been bound here. */
static guint
count_in_shop (const Shop *shop, const Fitted *fitted)
{
    guint count = 0;
    for (guint i = 0; i < shop->lots->len; i++) {
        const Lot *lot = &g_array_index (shop->lots, Lot, i);
        if (lot->owner == fitted->owner && lot->part == fitted->part && lot->stepping == fitted->stepping)
            count += lot->count;
    }
    return count;
}

/* How many of the slots up to this one, itself included, hold such a part. */
static guint
count_fitted (const Unit *unit, guint slot)
{
    const Fitted *fitted = &unit->fitted[slot];
    guint count = 0;
    for (guint i = 0; i <= slot; i++)
        count += unit->fitted[i].part == fitted->part && unit->fitted[i].stepping == fitted->stepping &&
                 unit->fitted[i].owner == fitted->owner;
    return count;
}

void
check_lent_parts (Loader *loader, const Unit *unit)
{
    const GPtrArray *shops = loader->library->shops;
    const Shop *shop = shops->len == 1 ? g_ptr_array_index (shops, 0) : NULL;
    if (!shop || g_hash_table_contains (loader->damaged, shop))
        return;
    for (guint i = 0; i < unit->board->slots->len; i++) {
        const Fitted *fitted = &unit->fitted[i];
        if (!fitted->part || fitted->owner == OWNER_UNIT)
            continue;
        guint count = count_in_shop (shop, fitted);
        g_autofree char *expected = g_strdup_printf ("expected at most %u, as \"%s:\" of the shop says", count,
                                                     fitted->owner == OWNER_LOAN ? "loaners" : "stock");
        if (count_fitted (unit, i) == count + 1) /* told once, at the first that is too many */
            complaints_add (loader->complaints, fitted->at, expected,
                            "the unit holds more %s%s%s from %s than there are", fitted->part->name,
                            fitted->stepping ? " " : "", fitted->stepping ? fitted->stepping : "",
                            owner_name (fitted->owner));
    }
}
