/* SPDX-License-Identifier: MIT */
/* Cautions: what is said to the person at the bench, and when. */
#include "book/read.h"

#include "book/library.h"

static const char *const caution_words[] = {
    "route",
    "opening",
    "processor",
    "heat-sink",
    "memory",
    "supply",
    "riser",
    "fan",
    "baffle",
    "blank",
    "medium",
    "write",
    "host-write",
    "controller-write",
    "clip-write",
    "jumper-write",
    "spare-write",
    "clears-settings",
    "asks-clear-settings",
    "binds",
    "mains-off",
    "after-controller-write",
    "start",
    "power-up",
    "no-recovery",
    NULL,
};

const char *const *
caution_when_words (void)
{
    return caution_words;
}

static GPtrArray *
read_caution_words (Loader *loader, const Node *node)
{
    GPtrArray *words = g_ptr_array_new ();
    g_autoptr (GPtrArray) nodes = value_list_or_one (loader, node, "when");
    for (guint i = 0; nodes && i < nodes->len; i++) {
        const Node *item = g_ptr_array_index (nodes, i);
        const char *text = value_scalar (loader, item, "when", "expected a word");
        if (text && !g_strv_contains (caution_words, text)) {
            const char *nearest = text_nearest (text, caution_words);
            g_autofree char *joined = g_strjoinv (", ", (char **) caution_words);
            g_autofree char *expected = nearest ? g_strdup_printf ("did you mean %s?", nearest)
                                                : g_strdup_printf ("expected one of %s", joined);
            loader_complain (loader, item, expected, "no step is called \"%s\"", text);
        } else if (text)
            g_ptr_array_add (words, (gpointer) g_intern_string (text));
    }
    if (nodes && nodes->len == 0)
        loader_complain (loader, node, "expected at least one word", "when is empty");
    return words;
}

static void
read_caution (Loader *loader, const Node *node)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this caution"))
        return;
    const Node *id_node = map_take (&reader, "caution", KEY_REQUIRED);
    Caution *caution = g_new0 (Caution, 1);
    caution->id = value_name (loader, id_node, "caution");
    caution->at = id_node ? id_node->at : node->at;
    caution->when = read_caution_words (loader, map_take (&reader, "when", KEY_REQUIRED));
    caution->says = value_text (loader, map_take (&reader, "says", KEY_REQUIRED), "says");
    value_yes (loader, map_take (&reader, "every-time", KEY_OPTIONAL), "every-time", &caution->every_time);
    map_take_source (&reader, &caution->source);
    map_end (&reader);
    const GPtrArray *cautions = loader->library->cautions;
    const Mark *first = NULL;
    for (guint i = 0; caution->id && i < cautions->len && !first; i++) {
        const Caution *earlier = g_ptr_array_index (cautions, i);
        first = earlier->id == caution->id ? &earlier->at : NULL;
    }
    if (caution->id && loader_is_first (loader, "caution", caution->id, caution->at, first))
        g_ptr_array_add (loader->library->cautions, caution);
    else
        caution_free (caution);
}

void
read_cautions (Loader *loader, const Node *root)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this document"))
        return;
    const GPtrArray *items = value_list (loader, map_take (&reader, "cautions", KEY_REQUIRED), "cautions");
    for (guint i = 0; items && i < items->len; i++)
        read_caution (loader, g_ptr_array_index (items, i));
    map_end (&reader);
}
