/* SPDX-License-Identifier: MIT */
/* Parts, generations, and the head of a book. */
#include "book/attributes.h"
#include "book/library.h"
#include "book/read.h"

#include <string.h>

/* ---- The head of a book: title, attributes, generations ---- */

static void
read_generation (Loader *loader, const Node *node)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this generation"))
        return;
    const Node *name_node = map_take (&reader, "generation", KEY_REQUIRED);
    const char *name = value_name (loader, name_node, "generation");
    g_autoptr (GPtrArray) steppings = value_names (loader, map_take (&reader, "steppings", KEY_OPTIONAL), "steppings");
    map_end (&reader);
    if (!name)
        return;
    const Generation *first = loader_find_generation (loader, name);
    if (first) {
        loader_twice (loader, name_node->at, "generation", name, first->at);
        return;
    }
    Generation *generation = loader_generation (loader, name);
    generation->at = name_node->at;
    generation->lists_steppings = steppings != NULL;
    for (guint i = 0; steppings && i < steppings->len; i++)
        g_ptr_array_add (generation->steppings, g_ptr_array_index (steppings, i));
}

void
read_book_head (Loader *loader, const Node *root)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this book"))
        return;
    const char *title = value_text (loader, map_take (&reader, "book", KEY_REQUIRED), "book");
    if (title)
        g_ptr_array_add (loader->library->book.titles, (gpointer) title);
    const Node *attributes = map_take (&reader, "attributes", KEY_OPTIONAL);
    g_autoptr (GPtrArray) names = value_names (loader, attributes, "attributes");
    for (guint i = 0; names && i < names->len; i++)
        attributes_know (loader, g_ptr_array_index (names, i), ATTRIBUTE_EITHER);
    const GPtrArray *generations = value_list (loader, map_take (&reader, "generations", KEY_OPTIONAL), "generations");
    for (guint i = 0; generations && i < generations->len; i++)
        read_generation (loader, g_ptr_array_index (generations, i));
    map_take (&reader, "boards", KEY_OPTIONAL);
    map_take (&reader, "firmware", KEY_OPTIONAL);
    map_take (&reader, "parts", KEY_OPTIONAL);
    map_end (&reader);
}

/* ---- Parts ---- */

/* Kind and name of a part: its first key and its value. -1 after a complaint. */
static int
read_kind (Loader *loader, const Node *node)
{
    const char *const *kinds = part_kind_words ();
    const Node *key = node->keys->len ? g_ptr_array_index (node->keys, 0) : node;
    for (int i = 0; key->text && kinds[i]; i++)
        if (strcmp (key->text, kinds[i]) == 0)
            return i;
    g_autofree char *joined = g_strjoinv (", ", (char **) kinds);
    const char *nearest = key->text ? text_nearest (key->text, kinds) : NULL;
    g_autofree char *expected = nearest ? g_strdup_printf ("did you mean %s?", nearest)
                                        : g_strdup_printf ("expected its kind as the first key, one of %s", joined);
    loader_complain (loader, key, expected, key->text ? "a part cannot start with \"%s\"" : "a part without keys%s",
                     key->text ? key->text : "");
    loader_lose_node (loader, node);
    return -1;
}

/* `stepping: b1` or `steppings: [b0, b1]`, kept as one attribute `stepping`. */
static void
read_steppings (Loader *loader, MapReader *reader, Part *part)
{
    const Node *one = map_take (reader, "stepping", KEY_OPTIONAL),
               *several = map_take (reader, "steppings", KEY_OPTIONAL);
    const Node *node = one ? one : several;
    if (one && several)
        loader_complain (loader, several, "expected one of the two", "both stepping and steppings are given");
    g_autoptr (GPtrArray) names = value_names (loader, node, one ? "stepping" : "steppings");
    if (names) {
        Attribute *attribute = attribute_new (g_intern_static_string ("stepping"), node->at);
        for (guint i = 0; i < names->len; i++) {
            g_ptr_array_add (attribute->values, g_ptr_array_index (names, i));
            g_ptr_array_add (part->steppings, g_ptr_array_index (names, i));
        }
        g_ptr_array_add (part->attributes, attribute);
    } else if (!node && part->kind == KIND_PROCESSOR)
        g_ptr_array_add (reader->missing, (gpointer) "stepping");
}

/* A processor's generation gains its steppings, unless the book has listed which there are. */
static void
note_generation (Loader *loader, const Part *part, const Node *node)
{
    Generation *generation = loader_generation (loader, part->generation);
    const Attribute *stepping = attribute_find (part->attributes, "stepping");
    for (guint i = 0; i < part->steppings->len; i++) {
        gpointer name = g_ptr_array_index (part->steppings, i);
        if (names_have (generation->steppings, name))
            continue;
        if (!generation->lists_steppings) {
            g_ptr_array_add (generation->steppings, name);
            continue;
        }
        g_ptr_array_add (generation->steppings, NULL);
        g_autofree char *joined = g_strjoinv (", ", (char **) generation->steppings->pdata);
        g_ptr_array_set_size (generation->steppings, (int) generation->steppings->len - 1);
        g_autofree char *expected = g_strdup_printf ("expected one of %s", joined);
        if (!loader_has_lost (loader, name))
            complaints_add (loader->complaints, stepping ? stepping->at : node->at, expected,
                            "generation %s has no stepping %s", generation->name, (const char *) name);
    }
}

static void
read_part_keys (Loader *loader, MapReader *reader, Part *part)
{
    part->requires = value_expression (loader, map_take (reader, "requires", KEY_OPTIONAL), "requires", NULL);
    part->conflicts = value_expression (loader, map_take (reader, "conflicts", KEY_OPTIONAL), "conflicts", NULL);
    value_provides (loader, map_take (reader, "provides", KEY_OPTIONAL), "provides", part->provides);
    value_yes (loader, map_take (reader, "binds", KEY_OPTIONAL), "binds", &part->binds);
    map_take_source (reader, &part->source);
    if (part->kind == KIND_PROCESSOR) {
        const Node *node = map_take (reader, "generation", KEY_REQUIRED);
        part->generation = value_name (loader, node, "generation");
        if (part->generation) {
            Attribute *attribute = attribute_new (g_intern_static_string ("generation"), node->at);
            g_ptr_array_add (attribute->values, (gpointer) part->generation);
            g_ptr_array_add (part->attributes, attribute);
        }
    }
    read_steppings (loader, reader, part);
    attributes_read (reader, part->attributes);
}

static void
read_part (Loader *loader, const Node *node)
{
    MapReader reader;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "this part", "expected keys with values");
        return;
    }
    int kind = read_kind (loader, node);
    g_autofree char *what = kind < 0 ? NULL : g_strdup_printf ("this %s", part_kind_name ((PartKind) kind));
    if (kind < 0 || !map_begin (&reader, loader, node, what))
        return;
    guint before = complaints_count (loader->complaints);
    const Node *name_node = map_take (&reader, part_kind_name ((PartKind) kind), KEY_REQUIRED);
    const char *name = value_name (loader, name_node, part_kind_name ((PartKind) kind));
    Part *part = part_new (name, name_node->at);
    part->kind = (PartKind) kind;
    read_part_keys (loader, &reader, part);
    map_end (&reader);
    if (part->generation)
        note_generation (loader, part, node);
    if (complaints_count (loader->complaints) > before)
        g_hash_table_add (loader->damaged, part);
    if (name && loader_define (loader, part_kind_name (part->kind), name, name_node->at)) {
        g_ptr_array_add (loader->library->book.parts, part);
        return;
    }
    if (!name)
        loader_lose_node (loader, node);
    part_free (part);
}

void
read_parts (Loader *loader, const Node *list)
{
    const GPtrArray *items = value_list (loader, list, "parts");
    for (guint i = 0; items && i < items->len; i++)
        read_part (loader, g_ptr_array_index (items, i));
}
