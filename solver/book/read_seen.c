/* SPDX-License-Identifier: MIT */
/* What was seen of a dark unit. On a command line: seen_items.c. */
#include "book/library.h"
#include "book/read.h"
#include "book/read_event.h"
#include "book/read_observation.h"
#include "book/read_unit.h"

#include <string.h>

static void
add_or_free (Seen *seen, Observation *observation, gboolean right)
{
    if (right && seen)
        g_ptr_array_add (seen->observations, observation);
    else
        observation_free (observation);
}

/* ---- What each key holds. `seen` is NULL where no board is known: then it is only looked at for mistakes ---- */

typedef void (*ReadKey) (Loader *loader, SeenKind kind, const Node *node, Seen *seen);

static void
read_one_value (Loader *loader, SeenKind kind, const Node *node, Seen *seen)
{
    Observation *observation = observation_new (kind, node->at);
    add_or_free (seen, observation, read_single (loader, kind, node, observation));
}

static void
read_events (Loader *loader, SeenKind kind, const Node *node, Seen *seen)
{
    const GPtrArray *items = value_list (loader, node, "events");
    for (guint i = 0; items && i < items->len; i++) {
        const Node *item = g_ptr_array_index (items, i);
        Observation *observation = observation_new (kind, item->at);
        add_or_free (seen, observation, read_event (loader, item, &observation->event));
    }
}

/* A start that was made with other parts in. */
static void
read_start (Loader *loader, const Node *node, Seen *seen)
{
    MapReader reader;
    guint before = complaints_count (loader->complaints);
    if (!map_begin (&reader, loader, node, "this start"))
        return;
    Observation *observation = observation_new (SEEN_WITH, node->at);
    const Node *fitted = map_take (&reader, "fitted", KEY_REQUIRED);
    value_yes (loader, map_take (&reader, "started", KEY_REQUIRED), "started", &observation->started);
    map_end (&reader);
    if (seen) {
        observation->fitted = g_new0 (Fitted, seen->board->slots->len + 1);
        observation->changed = g_new0 (gboolean, seen->board->slots->len + 1);
        read_fitted (loader, fitted, "fitted", seen->board, observation->fitted, observation->changed);
    }
    if (fitted && fitted->kind == NODE_MAP && fitted->keys->len == 0)
        loader_complain (loader, fitted, "expected a slot with the part that was tried in it", "fitted is empty");
    add_or_free (seen, observation, complaints_count (loader->complaints) == before);
}

static void
read_starts (Loader *loader, SeenKind kind, const Node *node, Seen *seen)
{
    (void) kind;
    const GPtrArray *items = value_list (loader, node, "with");
    for (guint i = 0; items && i < items->len; i++)
        read_start (loader, g_ptr_array_index (items, i), seen);
}

static void
read_looks_done (Loader *loader, SeenKind kind, const Node *node, Seen *seen)
{
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "looked", "expected a look with nothing, or with the cause that it found");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        const Node *look = g_ptr_array_index (node->keys, i);
        Observation *observation = observation_new (kind, look->at);
        add_or_free (seen, observation, read_looked (loader, look, g_ptr_array_index (node->items, i), observation));
    }
}

static const struct {
    const char *key;
    SeenKind kind;
    ReadKey read;
} seen_keys[] = {
    { "dark-minutes", SEEN_DARK_MINUTES, read_one_value },
    { "other-image", SEEN_OTHER_IMAGE, read_one_value },
    { "power-light", SEEN_POWER_LIGHT, read_one_value },
    { "fans", SEEN_FANS, read_one_value },
    { "beeps", SEEN_BEEPS, read_one_value },
    { "post-code", SEEN_POST_CODE, read_one_value },
    { "events", SEEN_EVENT, read_events },
    { "with", SEEN_WITH, read_starts },
    { "looked", SEEN_LOOKED, read_looks_done },
};

G_STATIC_ASSERT (G_N_ELEMENTS (seen_keys) == SEEN_COUNT);

/* In the order of the file. */
static void
read_keys (MapReader *reader, Seen *seen)
{
    const Node *map = reader->map;
    for (guint k = 0; k < G_N_ELEMENTS (seen_keys); k++)
        map_take (reader, seen_keys[k].key, KEY_OPTIONAL);
    for (guint i = 0; i < map->keys->len; i++)
        for (guint k = 0; k < G_N_ELEMENTS (seen_keys); k++)
            if (strcmp (((const Node *) g_ptr_array_index (map->keys, i))->text, seen_keys[k].key) == 0)
                seen_keys[k].read (reader->loader, seen_keys[k].kind, g_ptr_array_index (map->items, i), seen);
}

/* ---- The document ---- */

/* Of several documents each says which unit it is of, and no two the same. FALSE after a complaint. */
static gboolean
is_only_one_of_unit (Loader *loader, const char *unit, Mark at)
{
    const GPtrArray *seens = loader->library->seens;
    for (guint i = 0; i < seens->len; i++) {
        const Seen *earlier = g_ptr_array_index (seens, i);
        if (earlier->unit && unit && earlier->unit != unit)
            continue;
        g_autofree char *expected = g_strdup_printf (
            "expected one of each unit, with \"unit:\" where there are several; the first is at %s:%u:%u",
            earlier->at.file, earlier->at.line, earlier->at.column);
        complaints_add (loader->complaints, at, expected, "a second account of what was seen%s%s", unit ? " of " : "",
                        unit ? unit : "");
        return FALSE;
    }
    return TRUE;
}

static void
read_seen_for (Loader *loader, const Node *root, const Board *board)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this account"))
        return;
    const char *name = value_text (loader, map_take (&reader, "seen", KEY_REQUIRED), "seen");
    const char *unit = value_text (loader, map_take (&reader, "unit", KEY_OPTIONAL), "unit");
    Seen *seen = board ? seen_new (name, board, root->at) : NULL;
    if (seen)
        seen->unit = unit;
    read_keys (&reader, seen);
    map_end (&reader);
    if (seen && is_only_one_of_unit (loader, unit, root->at))
        g_ptr_array_add (loader->library->seens, seen);
    else if (seen)
        seen_free (seen);
}

/* The value of `unit`, where it is there and a word. */
static const Node *
unit_node (const Node *root)
{
    for (guint i = 0; i < root->keys->len; i++)
        if (strcmp (((const Node *) g_ptr_array_index (root->keys, i))->text, "unit") == 0)
            return g_ptr_array_index (root->items, i);
    return NULL;
}

void
read_seen (Loader *loader, const Node *root)
{
    const Node *node = unit_node (root);
    if (!node) {
        read_for_board (loader, root, "account of what was seen", read_seen_for);
        return;
    }
    const char *id = node->kind == NODE_SCALAR && !node_is_blank (node) ? g_intern_string (node->text) : NULL;
    const Unit *unit = read_unit_name (loader, node, id);
    read_seen_for (loader, root, unit ? unit->board : NULL);
}
