/* SPDX-License-Identifier: MIT */
/* Loader: names seen, names lost, and complaints that depend on them. */
#include "book/loader.h"

#include "book/library.h"

#include <string.h>

#define MOST_NAMES_LISTED 8

typedef struct {
    const char *what; /* "board" */
    Mark at;
} Definition;

static void
free_document (gpointer data)
{
    Document *document = data;
    node_free (document->root);
    g_free (document);
}

static void
free_table (gpointer data)
{
    Table *table = data;
    g_ptr_array_unref (table->rows);
    g_free (table);
}

static void
free_generation (gpointer data)
{
    Generation *generation = data;
    g_ptr_array_unref (generation->steppings);
    g_free (generation);
}

static void
free_listing (gpointer data)
{
    BoardListing *listing = data;
    g_ptr_array_unref (listing->slot_nodes);
    g_free (listing);
}

void
firmware_free (gpointer data)
{
    Firmware *firmware = data;
    g_ptr_array_unref (firmware->boards);
    g_free (firmware);
}

Loader *
loader_new (Complaints *complaints)
{
    Loader *loader = g_new0 (Loader, 1);
    loader->library = library_new ();
    loader->complaints = complaints;
    loader->documents = g_ptr_array_new_with_free_func (free_document);
    loader->tables = g_ptr_array_new_with_free_func (free_table);
    loader->unit_marks = g_hash_table_new_full (NULL, NULL, NULL, g_free);
    loader->lost_words = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    loader->damaged = g_hash_table_new (NULL, NULL);
    loader->attributes = g_hash_table_new (NULL, NULL);
    loader->definitions = g_hash_table_new_full (NULL, NULL, NULL, g_free);
    loader->generations = g_hash_table_new_full (NULL, NULL, NULL, free_generation);
    loader->generation_uses = g_ptr_array_new_with_free_func (g_free);
    loader->listings = g_ptr_array_new_with_free_func (free_listing);
    loader->firmware = g_ptr_array_new_with_free_func (firmware_free);
    loader->release_links = g_hash_table_new_full (NULL, NULL, NULL, g_free);
    return loader;
}

void
loader_free (Loader *loader)
{
    if (!loader)
        return;
    g_ptr_array_unref (loader->documents);
    g_ptr_array_unref (loader->tables);
    g_hash_table_unref (loader->unit_marks);
    g_hash_table_unref (loader->lost_words);
    g_hash_table_unref (loader->damaged);
    g_hash_table_unref (loader->attributes);
    g_hash_table_unref (loader->definitions);
    g_hash_table_unref (loader->generations);
    g_ptr_array_unref (loader->generation_uses);
    g_ptr_array_unref (loader->listings);
    g_ptr_array_unref (loader->firmware);
    g_hash_table_unref (loader->release_links);
    g_free (loader);
}

/* ---- What was lost ---- */

void
loader_lose_text (Loader *loader, const char *text, const char *end)
{
    GHashTable *lost = loader->row_words ? loader->row_words : loader->lost_words;
    while (text < end) {
        const char *start = text;
        while (text < end && text_is_name_character (*text))
            text++;
        gsize length = (gsize) (text - start);
        if (length == 0) {
            text++;
            continue;
        }
        /* In YAML text a colon may end a key; as a name it is lost either way. */
        if (start[length - 1] == ':')
            g_hash_table_add (lost, g_strndup (start, length - 1));
        g_hash_table_add (lost, g_strndup (start, length));
    }
}

void
loader_lose_node (Loader *loader, const Node *node)
{
    if (node->text)
        loader_lose_text (loader, node->text, node->text + strlen (node->text));
    for (guint i = 0; node->keys && i < node->keys->len; i++)
        loader_lose_node (loader, g_ptr_array_index (node->keys, i));
    for (guint i = 0; node->items && i < node->items->len; i++)
        loader_lose_node (loader, g_ptr_array_index (node->items, i));
}

gboolean
loader_has_lost (const Loader *loader, const char *word)
{
    return loader->unread_files || g_hash_table_contains (loader->lost_words, word) ||
           (loader->row_words && g_hash_table_contains (loader->row_words, word));
}

void
loader_complain (Loader *loader, const Node *node, const char *expected, const char *format, ...)
{
    va_list arguments;
    va_start (arguments, format);
    g_autofree char *what = g_strdup_vprintf (format, arguments);
    va_end (arguments);
    complaints_add (loader->complaints, node->at, expected, "%s", what);
    loader_lose_node (loader, node);
}

/* ---- Names ---- */

/* What would be right: the nearest name, and all of them when they are few enough to read. Transfer full, nullable. */
static char *
expected_name (const char *word, const char *const *known)
{
    const char *nearest = text_nearest (word, known);
    guint count = g_strv_length ((char **) known);
    if (nearest && (count == 1 || count > MOST_NAMES_LISTED))
        return g_strdup_printf ("did you mean %s?", nearest);
    if (count == 0 || count > MOST_NAMES_LISTED)
        return NULL;
    g_autofree char *joined = g_strjoinv (", ", (char **) known);
    if (nearest)
        return g_strdup_printf ("did you mean %s? expected one of %s", nearest, joined);
    return g_strdup_printf (count == 1 ? "expected %s" : "expected one of %s", joined);
}

void
loader_unknown (Loader *loader, Mark at, const char *what, const char *word, const char *whole,
                const char *const *known)
{
    if (loader_has_lost (loader, word))
        return;
    g_autofree char *expected = expected_name (word, known);
    complaints_add (loader->complaints, at, expected, "unknown %s \"%s\"%s%s", what, word, whole ? " of " : "",
                    whole ? whole : "");
}

void
loader_twice (Loader *loader, Mark at, const char *what, const char *name, Mark first)
{
    g_autofree char *expected =
        g_strdup_printf ("expected it once; the first is at %s:%u:%u", first.file, first.line, first.column);
    complaints_add (loader->complaints, at, expected, "%s %s is defined twice", what, name);
}

gboolean
loader_is_first (Loader *loader, const char *what, const char *name, Mark at, const Mark *first)
{
    if (first)
        loader_twice (loader, at, what, name, *first);
    return !first;
}

gboolean
loader_define (Loader *loader, const char *what, const char *name, Mark at)
{
    const Definition *first = g_hash_table_lookup (loader->definitions, name);
    if (first && strcmp (first->what, what) == 0) {
        loader_twice (loader, at, what, name, first->at);
        return FALSE;
    }
    if (first) {
        g_autofree char *earlier = loader_definition_text (loader, name);
        g_autofree char *expected = g_strdup_printf ("expected a name that is not taken; there is %s", earlier);
        complaints_add (loader->complaints, at, expected, "the name of %s %s is taken", what, name);
        return FALSE;
    }
    Definition *definition = g_new0 (Definition, 1);
    definition->what = what;
    definition->at = at;
    g_hash_table_insert (loader->definitions, (gpointer) name, definition);
    return TRUE;
}

char *
loader_definition_text (const Loader *loader, const char *name)
{
    const Definition *definition = g_hash_table_lookup (loader->definitions, name);
    if (!definition)
        return NULL;
    return g_strdup_printf ("%s %s at %s:%u:%u", definition->what, name, definition->at.file, definition->at.line,
                            definition->at.column);
}

Generation *
loader_generation (Loader *loader, const char *name)
{
    Generation *generation = g_hash_table_lookup (loader->generations, name);
    if (!generation) {
        generation = g_new0 (Generation, 1);
        generation->name = name;
        generation->steppings = g_ptr_array_new ();
        g_hash_table_insert (loader->generations, (gpointer) name, generation);
    }
    return generation;
}

const Generation *
loader_find_generation (const Loader *loader, const char *name)
{
    return g_hash_table_lookup (loader->generations, name);
}

void
loader_use_generation (Loader *loader, const Node *generation, const Node *steppings)
{
    GenerationUse *use = g_new0 (GenerationUse, 1);
    use->generation = generation;
    use->steppings = steppings;
    g_ptr_array_add (loader->generation_uses, use);
}

const char **
names_of (const GPtrArray *things)
{
    const char **names = g_new0 (const char *, things->len + 1);
    for (guint i = 0; i < things->len; i++)
        names[i] = *(const char *const *) g_ptr_array_index (things, i);
    return names;
}

static int
compare_texts (gconstpointer a, gconstpointer b)
{
    return strcmp (*(const char *const *) a, *(const char *const *) b);
}

const char **
sorted_keys (GHashTable *table)
{
    guint count;
    const char **keys = (const char **) g_hash_table_get_keys_as_array (table, &count);
    qsort (keys, count, sizeof *keys, compare_texts);
    return keys;
}

gboolean
names_have (const GPtrArray *names, const char *name)
{
    return g_ptr_array_find ((GPtrArray *) names, name, NULL);
}
