/* SPDX-License-Identifier: MIT */
/* One release: what it starts, what it may be written over, what it needs. */
#include "book/read_release.h"

#include "book/library.h"
#include "book/reader.h"

#include <string.h>

#define SHA256_DIGITS 64

static const char *const effect_words[] = { "at-once", "controller-restart", "host-restart", "mains-off", NULL };

/* ---- Support ---- */

/* A generation, or {generation, steppings}. */
static Support *
read_support (Loader *loader, const Node *node, const char *key)
{
    if (node->kind != NODE_MAP) {
        const char *name = value_name (loader, node, key);
        if (name)
            loader_use_generation (loader, node, NULL);
        return name ? support_new (name, NULL, node->at) : NULL;
    }
    MapReader reader;
    if (!map_begin (&reader, loader, node, key))
        return NULL;
    const Node *generation = map_take (&reader, "generation", KEY_REQUIRED);
    const Node *steppings = map_take (&reader, "steppings", KEY_OPTIONAL);
    const char *name = value_name (loader, generation, "generation");
    GPtrArray *names = value_names (loader, steppings, "steppings");
    map_end (&reader);
    if (name && (names || !steppings)) {
        loader_use_generation (loader, generation, steppings);
        return support_new (name, names, node->at);
    }
    if (names)
        g_ptr_array_unref (names);
    return NULL;
}

static GPtrArray *
read_supports (Loader *loader, const Node *node, const char *key)
{
    const GPtrArray *items = value_list (loader, node, key);
    if (!items)
        return NULL;
    GPtrArray *supports = g_ptr_array_new_with_free_func (support_free);
    for (guint i = 0; i < items->len; i++) {
        Support *support = read_support (loader, g_ptr_array_index (items, i), key);
        if (support)
            g_ptr_array_add (supports, support);
    }
    return supports;
}

static gboolean
supports_overlap (const Support *one, const Support *other)
{
    if (one->generation != other->generation)
        return FALSE;
    if (!one->steppings || !other->steppings)
        return TRUE;
    for (guint i = 0; i < one->steppings->len; i++)
        if (names_have (other->steppings, g_ptr_array_index (one->steppings, i)))
            return TRUE;
    return FALSE;
}

/* What both lists name is a mistake; it is told at the never-starts. */
static void
check_supports (Loader *loader, const Release *release)
{
    for (guint i = 0; release->starts && release->never_starts && i < release->never_starts->len; i++)
        for (guint j = 0; j < release->starts->len; j++) {
            const Support *no = g_ptr_array_index (release->never_starts, i);
            const Support *yes = g_ptr_array_index (release->starts, j);
            if (supports_overlap (no, yes))
                complaints_add (loader->complaints, no->at, "expected it in one of the two",
                                "release %s both starts and never starts %s", release->name, no->generation);
        }
}

/* ---- Expressions and the file ---- */

static void
read_requires_and_conflicts (Loader *loader, const Node *node, const char *key, Expr **requires, Expr **conflicts)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, key))
        return;
    *requires = value_expression (loader, map_take (&reader, "requires", KEY_OPTIONAL), "requires", NULL);
    *conflicts = value_expression (loader, map_take (&reader, "conflicts", KEY_OPTIONAL), "conflicts", NULL);
    map_end (&reader);
}

static void
read_file (Loader *loader, const Node *node, Release *release)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "file"))
        return;
    release->file_name = value_text (loader, map_take (&reader, "name", KEY_OPTIONAL), "name");
    const Node *sum = map_take (&reader, "sha256", KEY_OPTIONAL);
    const char *text = value_scalar (loader, sum, "sha256", "expected 64 hexadecimal digits");
    if (text && (strlen (text) != SHA256_DIGITS || strspn (text, "0123456789abcdefABCDEF") != SHA256_DIGITS))
        loader_complain (loader, sum, "expected 64 hexadecimal digits",
                         strlen (text) == SHA256_DIGITS ? "sha256 has %u characters, some no hexadecimal digits"
                                                        : "sha256 has %u characters",
                         (guint) strlen (text));
    else
        release->sha256 = g_intern_string (text);
    value_whole (loader, map_take (&reader, "bytes", KEY_OPTIONAL), "bytes", 0, G_MAXINT64, &release->bytes);
    map_end (&reader);
}

static void
read_release_methods (Loader *loader, const Node *node, const Component *component, Release *release)
{
    guint there = 0;
    for (int method = 0; method < METHOD_COUNT; method++)
        there |= component->methods[method].there ? METHOD_BIT (method) : 0;
    release->methods = there;
    g_autoptr (GPtrArray) nodes = value_list_or_one (loader, node, "methods");
    if (!nodes)
        return;
    release->methods = 0;
    for (guint i = 0; i < nodes->len; i++) {
        const Node *item = g_ptr_array_index (nodes, i);
        int method = value_word (loader, item, "methods", method_words ());
        if (method < 0)
            continue;
        if (there && !(there & METHOD_BIT (method)))
            loader_complain (loader, item, "expected one of the component's methods", "%s has no method %s",
                             component->name ? component->name : "the component", item->text);
        release->methods |= METHOD_BIT (method) & there;
    }
}

/* The reason; a bare yes or no is none. */
static const char *
read_withdrawn (Loader *loader, const Node *node)
{
    static const char *const answers[] = { "yes", "no", "true", "false", NULL };
    const char *text = value_text (loader, node, "withdrawn");
    if (!text || !g_strv_contains (answers, text))
        return text;
    loader_complain (loader, node, "expected why it is withdrawn, or no such key", "withdrawn cannot be \"%s\"", text);
    return NULL;
}

static gboolean
release_name_is_right (Loader *loader, const Component *component, const Node *node, const char *name)
{
    const char *problem = version_problem (component->scheme, name);
    if (!problem)
        return TRUE;
    g_autofree char *expected = g_strdup_printf ("expected %s", problem);
    loader_complain (loader, node, expected, "\"%s\" is no version under the scheme of %s", name,
                     component->name ? component->name : "this component");
    return FALSE;
}

static void
read_release_keys (Loader *loader, const Component *component, MapReader *reader, Release *release)
{
    release->date = value_date (loader, map_take (reader, "date", KEY_OPTIONAL), "date");
    release->starts = read_supports (loader, map_take (reader, "starts", KEY_OPTIONAL), "starts");
    release->never_starts = read_supports (loader, map_take (reader, "never-starts", KEY_OPTIONAL), "never-starts");
    release->from = value_expression (loader, map_take (reader, "from", KEY_OPTIONAL), "from", component->name);
    read_requires_and_conflicts (loader, map_take (reader, "to-write", KEY_OPTIONAL), "to-write",
                                 &release->to_write_requires, &release->to_write_conflicts);
    read_requires_and_conflicts (loader, map_take (reader, "while-running", KEY_OPTIONAL), "while-running",
                                 &release->running_requires, &release->running_conflicts);
    read_release_methods (loader, map_take (reader, "methods", KEY_OPTIONAL), component, release);
    int effect = value_word (loader, map_take (reader, "takes-effect", KEY_OPTIONAL), "takes-effect", effect_words);
    release->takes_effect = (TakesEffect) MAX (effect, 0);
    value_yes (loader, map_take (reader, "clears-settings", KEY_OPTIONAL), "clears-settings",
               &release->clears_settings);
    value_yes (loader, map_take (reader, "asks-clear-settings", KEY_OPTIONAL), "asks-clear-settings",
               &release->asks_clear_settings);
    read_file (loader, map_take (reader, "file", KEY_OPTIONAL), release);
    value_provides (loader, map_take (reader, "provides", KEY_OPTIONAL), "provides", release->provides);
    release->withdrawn = read_withdrawn (loader, map_take (reader, "withdrawn", KEY_OPTIONAL));
    map_take_source (reader, &release->source);
}

Release *
read_release (Loader *loader, const Component *component, const Node *node)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this release"))
        return NULL;
    const Node *name_node = map_take (&reader, "release", KEY_REQUIRED);
    const char *name = value_name (loader, name_node, "release");
    if (name && !release_name_is_right (loader, component, name_node, name))
        name = NULL;
    Release *release = release_new (name, name_node ? name_node->at : node->at);
    ReleaseLinks *links = g_new0 (ReleaseLinks, 1);
    links->lowest = map_take (&reader, "lowest", KEY_OPTIONAL);
    links->also_writes = map_take (&reader, "also-writes", KEY_OPTIONAL);
    g_hash_table_replace (loader->release_links, release, links);
    read_release_keys (loader, component, &reader, release);
    map_end (&reader);
    if (name) {
        check_supports (loader, release);
        return release;
    }
    loader_lose_node (loader, node);
    release_free (release);
    return NULL;
}
