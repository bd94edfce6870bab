/* SPDX-License-Identifier: MIT */
/* Observations of a command line: "fans=turning", "event=07/04", "dark-with=cpu1=dorvan-8:a1", "found=contact-bent". */
#include "book/causes.h"
#include "book/items.h"
#include "book/library.h"
#include "book/read.h"
#include "book/read_event.h"
#include "book/read_observation.h"

#include <string.h>

#define EXAMPLES "expected such as fans=turning, dark-minutes=15, event=07/04, looked=contacts"

/* ---- Keys that stand alone ---- */

/* Of the file's, the same kind goes; a second item of the kind is a mistake. FALSE after a complaint. */
static gboolean
take_place (Loader *loader, Seen *seen, SeenKind kind, Mark at)
{
    for (guint i = 0; i < seen->observations->len; i++) {
        const Observation *earlier = g_ptr_array_index (seen->observations, i);
        if (earlier->kind != kind)
            continue;
        if (earlier->at.file != at.file) {
            g_ptr_array_remove_index (seen->observations, i);
            return TRUE;
        }
        g_autofree char *expected = g_strdup_printf ("expected it once; the other is at %s:%u:%u", earlier->at.file,
                                                     earlier->at.line, earlier->at.column);
        complaints_add (loader->complaints, at, expected, "%s is said twice", seen_kind_name (kind));
        return FALSE;
    }
    return TRUE;
}

static gboolean
read_single_item (Loader *loader, Seen *seen, const Node *value, Observation *out)
{
    return read_single (loader, out->kind, value, out) && take_place (loader, seen, out->kind, out->at);
}

/* ---- Starts with other parts in ---- */

/* Where the stepping begins in "dorvan-8:a1"; NULL without one. A name may hold a colon itself. */
static const char *
find_stepping (const Loader *loader, const char *text)
{
    const char *colon = strrchr (text, ':');
    return !colon || book_find_part (&loader->library->book, g_intern_string (text)) ? NULL : colon;
}

static gboolean
read_tried_part (Loader *loader, const Slot *slot, const Node *node, Fitted *out)
{
    *out = (Fitted){ .at = node->at };
    if (strcmp (node->text, "empty") == 0)
        return TRUE;
    const char *colon = find_stepping (loader, node->text);
    gsize length = colon ? (gsize) (colon - node->text) : strlen (node->text);
    Node *part = item_node (node->text, length, node->at);
    Node *stepping = colon
                         ? item_node (colon + 1, strlen (colon + 1),
                                      mark_right_of (node->at, (guint) g_utf8_strlen (node->text, (gssize) length) + 1))
                         : NULL;
    out->part = read_part_name (loader, part, slot->takes);
    gboolean right = out->part && read_stepping (loader, out->part, stepping, part, &out->stepping);
    node_free (part);
    node_free (stepping);
    return right;
}

/* "cpu1=dorvan-8:a1" */
static gboolean
read_tried_slot (Loader *loader, const Seen *seen, const char *text, Mark at, Observation *out)
{
    const char *equal = strchr (text, '=');
    if (!equal) {
        complaints_add (loader->complaints, at,
                        "expected a slot with what was tried in it, such as cpu1=dorvan-8 or "
                        "cpu2=empty",
                        "\"%s\" says no slot and part", text);
        return FALSE;
    }
    gsize length = (gsize) (equal - text);
    Node *name = item_node (text, length, at);
    Node *part = item_node (equal + 1, strlen (equal + 1),
                            mark_right_of (at, (guint) g_utf8_strlen (text, (gssize) length) + 1));
    int slot = read_slot_name (loader, seen->board, name);
    gboolean again = slot >= 0 && out->changed[slot];
    if (again)
        complaints_add (loader->complaints, name->at, "expected each slot once", "slot %s is said twice", name->text);
    gboolean right = slot >= 0 && !again &&
                     read_tried_part (loader, board_slot (seen->board, (guint) slot), part, &out->fitted[slot]);
    if (right)
        out->changed[slot] = TRUE;
    node_free (name);
    node_free (part);
    return right;
}

static gboolean
read_start_item (Loader *loader, const Seen *seen, const Node *value, Observation *out)
{
    g_auto (GStrv) parts = g_strsplit (value->text, ",", -1);
    gboolean right = TRUE;
    guint column = 0;
    out->fitted = g_new0 (Fitted, seen->board->slots->len + 1);
    out->changed = g_new0 (gboolean, seen->board->slots->len + 1);
    for (guint i = 0; parts[i]; i++) {
        right = read_tried_slot (loader, seen, parts[i], mark_right_of (value->at, column), out) && right;
        column += (guint) g_utf8_strlen (parts[i], -1) + 1;
    }
    return right && parts[0];
}

/* ---- Looks ---- */

/* `looked=LOOK`: nothing was found. */
static gboolean
read_looked_item (Loader *loader, const Node *value, Observation *out)
{
    Node *nothing = item_node (NOTHING, strlen (NOTHING), value->at);
    gboolean right = read_looked (loader, value, nothing, out);
    node_free (nothing);
    return right;
}

/* `found=CAUSE`: the look is the one that finds it. */
static gboolean
read_found_item (Loader *loader, const Node *value, Observation *out)
{
    out->cause = read_cause_name (loader, value, "found");
    out->look = out->cause ? out->cause->look : NULL;
    return out->cause != NULL;
}

/* ---- One item ---- */

static const struct {
    const char *key;
    SeenKind kind;
} item_keys[] = {
    { "dark-minutes", SEEN_DARK_MINUTES },
    { "other-image", SEEN_OTHER_IMAGE },
    { "power-light", SEEN_POWER_LIGHT },
    { "fans", SEEN_FANS },
    { "beeps", SEEN_BEEPS },
    { "post-code", SEEN_POST_CODE },
    { "event", SEEN_EVENT },
    { "started-with", SEEN_WITH },
    { "dark-with", SEEN_WITH },
    { "looked", SEEN_LOOKED },
    { "found", SEEN_LOOKED },
};

static gboolean
read_value (Loader *loader, Seen *seen, const char *key, const Node *value, Observation *out)
{
    switch (out->kind) {
    case SEEN_EVENT:
        return read_event_item (loader, value, &out->event);
    case SEEN_WITH:
        out->started = strcmp (key, "started-with") == 0;
        return read_start_item (loader, seen, value, out);
    case SEEN_LOOKED:
        return strcmp (key, "found") == 0 ? read_found_item (loader, value, out)
                                          : read_looked_item (loader, value, out);
    default:
        return read_single_item (loader, seen, value, out);
    }
}

static void
complain_of_key (Loader *loader, const Node *key)
{
    const char *known[G_N_ELEMENTS (item_keys) + 1] = { NULL };
    for (guint i = 0; i < G_N_ELEMENTS (item_keys); i++)
        known[i] = item_keys[i].key;
    const char *nearest = text_nearest (key->text, known);
    g_autofree char *joined = g_strjoinv (", ", (char **) known);
    g_autofree char *expected =
        nearest ? g_strdup_printf ("did you mean %s?", nearest) : g_strdup_printf ("expected one of %s", joined);
    complaints_add (loader->complaints, key->at, expected, "nothing that is seen is called \"%s\"", key->text);
}

static void
read_item (Loader *loader, Seen *seen, const char *text, Mark at)
{
    const char *equal = strchr (text, '=');
    if (!equal || equal == text || equal[1] == '\0') {
        complaints_add (loader->complaints, at, EXAMPLES, "\"%s\" says nothing that was seen", text);
        return;
    }
    gsize length = (gsize) (equal - text);
    Node *key = item_node (text, length, at);
    Node *value = item_node (equal + 1, strlen (equal + 1),
                             mark_right_of (at, (guint) g_utf8_strlen (text, (gssize) length) + 1));
    guint found = 0;
    while (found < G_N_ELEMENTS (item_keys) && strcmp (item_keys[found].key, key->text) != 0)
        found++;
    if (found == G_N_ELEMENTS (item_keys))
        complain_of_key (loader, key);
    else {
        Observation *observation = observation_new (item_keys[found].kind, at);
        if (read_value (loader, seen, key->text, value, observation))
            g_ptr_array_add (seen->observations, observation);
        else
            observation_free (observation);
    }
    node_free (key);
    node_free (value);
}

/* What was seen by the files, or a new account. NULL after a complaint. */
static Seen *
seen_to_add_to (Loader *loader, Mark at)
{
    GPtrArray *seens = loader->library->seens;
    if (seens->len == 1)
        return g_ptr_array_index (seens, 0);
    if (seens->len > 1) {
        complaints_add (loader->complaints, at, "expected at most one document \"seen\" in the files",
                        "the files have several accounts of what was seen: which one is this added to?");
        return NULL;
    }
    g_autoptr (GPtrArray) boards = boards_for_file (loader, at.file);
    const Board *board = boards->len == 1 || (boards->len && loader->asked) ? g_ptr_array_index (boards, 0) : NULL;
    if (!board) {
        complain_of_boards (loader, boards, at, "account of what was seen");
        return NULL;
    }
    Seen *seen = seen_new (g_intern_static_string ("command line"), board, at);
    g_ptr_array_add (seens, seen);
    return seen;
}

void
read_seen_items (Loader *loader, const char *const *items)
{
    if (!items || !items[0])
        return;
    Mark at = items_begin (loader, "--seen", items);
    Seen *seen = seen_to_add_to (loader, at);
    for (guint i = 0; seen && items[i]; i++) {
        at.line = i + 1;
        read_item (loader, seen, items[i], at);
    }
}
