/* SPDX-License-Identifier: MIT */
/* Shops: methods, what can be lent or used up, habits and times, and what past units had. When work is done: read_shifts.c. */
#include "book/causes.h"
#include "book/read.h"

#include <string.h>

#define MOST_PARTS    100000 /* of one kind on a shelf */
#define MOST_UNITS    100000 /* that one cause kept dark */
#define MOST_STATIONS 10000  /* more than any shop has, few enough to multiply safely */

/* ---- Loaners and stock ---- */

static gboolean
lot_is_new (Loader *loader, const GArray *lots, const Lot *lot, const char *key)
{
    for (guint i = 0; i < lots->len; i++) {
        const Lot *earlier = &g_array_index (lots, Lot, i);
        if (earlier->owner != lot->owner || earlier->part != lot->part || earlier->stepping != lot->stepping ||
            earlier->bound != lot->bound)
            continue;
        g_autofree char *expected =
            g_strdup_printf ("expected it once, with a count; the first is in line %u", earlier->at.line);
        complaints_add (loader->complaints, lot->at, expected, "%s lists %s twice", key, lot->part->name);
        return FALSE;
    }
    return TRUE;
}

static void
read_lot (Loader *loader, const Node *node, Owner owner, const char *key, GArray *lots)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, key))
        return;
    const Node *part_node = map_take (&reader, "part", KEY_REQUIRED);
    const Node *stepping_node = map_take (&reader, "stepping", KEY_OPTIONAL);
    gint64 count = 1;
    const char *bound = value_name (loader, map_take (&reader, "bound", KEY_OPTIONAL), "bound");
    value_whole (loader, map_take (&reader, "count", KEY_OPTIONAL), "count", 0, MOST_PARTS, &count);
    map_end (&reader);
    Lot lot = { .owner = owner, .count = (guint) count, .bound = bound };
    lot.part = read_part_name (loader, part_node, KIND_COUNT);
    if (!lot.part || !read_stepping (loader, lot.part, stepping_node, part_node, &lot.stepping))
        return;
    lot.at = part_node->at;
    if (lot_is_new (loader, lots, &lot, key))
        g_array_append_val (lots, lot);
}

static void
read_lots (Loader *loader, const Node *node, Owner owner, const char *key, GArray *lots)
{
    const GPtrArray *items = value_list (loader, node, key);
    for (guint i = 0; items && i < items->len; i++)
        read_lot (loader, g_ptr_array_index (items, i), owner, key, lots);
}

/* ---- Times ---- */

/* One number for all kinds, or one per kind with `other` for the rest. */
static void
read_kind_minutes (Loader *loader, const Node *node, const char *key, double *out)
{
    MapReader reader;
    double all;
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        if (value_minutes (loader, node, key, &all))
            for (int kind = 0; kind < KIND_COUNT; kind++)
                out[kind] = all;
        return;
    }
    if (!map_begin (&reader, loader, node, key))
        return;
    if (value_minutes (loader, map_take (&reader, "other", KEY_OPTIONAL), "other", &all))
        for (int kind = 0; kind < KIND_COUNT; kind++)
            out[kind] = all;
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        const char *name = part_kind_name ((PartKind) kind);
        value_minutes (loader, map_take (&reader, name, KEY_OPTIONAL), name, &out[kind]);
    }
    map_end (&reader);
}

static void
read_minutes (Loader *loader, const Node *node, Shop *shop)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "minutes"))
        return;
    value_minutes (loader, map_take (&reader, "opening", KEY_OPTIONAL), "opening", &shop->opening_minutes);
    value_minutes (loader, map_take (&reader, "start", KEY_OPTIONAL), "start", &shop->start_minutes);
    read_kind_minutes (loader, map_take (&reader, "remove", KEY_OPTIONAL), "remove", shop->remove_minutes);
    read_kind_minutes (loader, map_take (&reader, "fit", KEY_OPTIONAL), "fit", shop->fit_minutes);
    map_end (&reader);
}

/* ---- What past units had ---- */

static void
read_found (Loader *loader, const Node *node, Shop *shop)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "found", "expected a cause with how often it was found");
        return;
    }
    shop->found = g_array_new (FALSE, TRUE, sizeof (FoundCount));
    for (guint i = 0; i < node->keys->len; i++) {
        const Node *key = g_ptr_array_index (node->keys, i);
        gint64 count = 0;
        FoundCount found = { .at = key->at };
        if (causes_are_known (loader))
            found.cause = read_cause_name (loader, key, "found");
        if (!value_whole (loader, g_ptr_array_index (node->items, i), key->text, 0, MOST_UNITS, &count) ||
            !found.cause)
            continue;
        found.count = (guint) count;
        g_array_append_val (shop->found, found);
    }
}

/* ---- The shop ---- */

static void
take_yes (MapReader *reader, const char *key, gboolean *out)
{
    value_yes (reader->loader, map_take (reader, key, KEY_OPTIONAL), key, out);
}

static void
take_crew (MapReader *reader, const char *key, guint *out)
{
    gint64 number = *out;
    value_whole (reader->loader, map_take (reader, key, KEY_OPTIONAL), key, 1, MOST_STATIONS, &number);
    *out = (guint) number;
}

static gboolean
is_only_shop (Loader *loader, Mark at)
{
    if (loader->library->shops->len == 0)
        return TRUE;
    Mark first = ((const Shop *) g_ptr_array_index (loader->library->shops, 0))->at;
    g_autofree char *expected =
        g_strdup_printf ("expected one shop in a run; the first is at %s:%u:%u", first.file, first.line, first.column);
    complaints_add (loader->complaints, at, expected, "a second shop");
    return FALSE;
}

void
read_shop (Loader *loader, const Node *root)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this shop"))
        return;
    guint before = complaints_count (loader->complaints);
    Shop *shop = shop_new_default ();
    shop->at = root->at;
    shop->name = value_text (loader, map_take (&reader, "shop", KEY_REQUIRED), "shop");
    value_words (loader, map_take (&reader, "methods", KEY_OPTIONAL), "methods", method_words (), &shop->methods);
    read_lots (loader, map_take (&reader, "loaners", KEY_OPTIONAL), OWNER_LOAN, "loaners", shop->lots);
    read_lots (loader, map_take (&reader, "stock", KEY_OPTIONAL), OWNER_STOCK, "stock", shop->lots);
    take_yes (&reader, "allow-unverified-writes", &shop->unverified_writes);
    take_yes (&reader, "require-recovery", &shop->require_recovery);
    take_yes (&reader, "redundant-supplies", &shop->redundant_supplies);
    take_yes (&reader, "lend-pulled-parts", &shop->lend_pulled_parts);
    value_minutes (loader, map_take (&reader, "dark-after", KEY_OPTIONAL), "dark-after", &shop->dark_after_minutes);
    take_crew (&reader, "technicians", &shop->technicians);
    take_crew (&reader, "stations", &shop->stations);
    shop->shifts = read_shifts (loader, map_take (&reader, "shifts", KEY_OPTIONAL));
    read_found (loader, map_take (&reader, "found", KEY_OPTIONAL), shop);
    read_minutes (loader, map_take (&reader, "minutes", KEY_OPTIONAL), shop);
    map_end (&reader);
    if (complaints_count (loader->complaints) > before)
        g_hash_table_add (loader->damaged, shop);
    if (is_only_shop (loader, shop->at))
        g_ptr_array_add (loader->library->shops, shop);
    else
        shop_free (shop);
}
