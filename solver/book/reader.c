/* SPDX-License-Identifier: MIT */
/* Reader: keys of a map, and values that are single words or numbers. Dates and times: times.c. Lists and
 * expressions: values.c. */
#include "book/reader.h"

#include <string.h>

#define LARGEST_NUMBER   1e9
#define MOST_MINUTES     100000
#define MOST_KEYS_LISTED 16

/* ---- Maps ---- */

gboolean
map_begin (MapReader *reader, Loader *loader, const Node *node, const char *what)
{
    if (!node)
        return FALSE;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, what, "expected keys with values");
        return FALSE;
    }
    reader->loader = loader;
    reader->map = node;
    reader->what = what;
    reader->taken = g_new0 (gboolean, node->keys->len + 1);
    reader->known = g_ptr_array_new ();
    reader->missing = g_ptr_array_new ();
    return TRUE;
}

void
map_also_knows (MapReader *reader, const char *key)
{
    if (!g_ptr_array_find_with_equal_func (reader->known, key, g_str_equal, NULL))
        g_ptr_array_add (reader->known, (gpointer) key);
}

const Node *
map_take (MapReader *reader, const char *key, KeyNeed need)
{
    map_also_knows (reader, key);
    for (guint i = 0; i < reader->map->keys->len; i++) {
        const Node *found = g_ptr_array_index (reader->map->keys, i);
        if (strcmp (found->text, key) == 0) {
            reader->taken[i] = TRUE;
            return g_ptr_array_index (reader->map->items, i);
        }
    }
    if (need == KEY_REQUIRED)
        g_ptr_array_add (reader->missing, (gpointer) key);
    return NULL;
}

/* "expected one of a, b", when there are few enough to read. Transfer full. */
static char *
list_keys (char **keys, guint count)
{
    g_autofree char *joined = count <= MOST_KEYS_LISTED ? g_strjoinv (", ", keys) : NULL;
    return joined ? g_strdup_printf ("expected one of %s", joined) : NULL;
}

/* An unknown key near a missing one is that one, misspelt: one mistake, one complaint. */
static void
complain_of_unknown_key (MapReader *reader, guint index)
{
    const Node *key = g_ptr_array_index (reader->map->keys, index);
    const char *nearest = text_nearest (key->text, (const char *const *) reader->known->pdata);
    g_autofree char *expected = nearest ? g_strdup_printf ("did you mean %s?", nearest)
                                        : list_keys ((char **) reader->known->pdata, reader->known->len - 1);
    loader_complain (reader->loader, key, expected, "unknown key \"%s\" in %s", key->text, reader->what);
    loader_lose_node (reader->loader, g_ptr_array_index (reader->map->items, index));
    if (nearest)
        g_ptr_array_remove (reader->missing, (gpointer) nearest);
}

static void
map_clear (MapReader *reader)
{
    g_free (reader->taken);
    g_ptr_array_unref (reader->known);
    g_ptr_array_unref (reader->missing);
}

static void
complain_of_missing_keys (MapReader *reader)
{
    for (guint i = 0; i < reader->missing->len; i++) {
        const char *key = g_ptr_array_index (reader->missing, i);
        g_autofree char *expected = g_strdup_printf ("expected \"%s:\" with a value among its keys", key);
        complaints_add (reader->loader->complaints, reader->map->at, expected, "%s has no key \"%s\"", reader->what,
                        key);
    }
}

void
map_end (MapReader *reader)
{
    g_ptr_array_add (reader->known, NULL);
    for (guint i = 0; i < reader->map->keys->len; i++)
        if (!reader->taken[i])
            complain_of_unknown_key (reader, i);
    complain_of_missing_keys (reader);
    map_clear (reader);
}

void
map_end_reading_past (MapReader *reader)
{
    complain_of_missing_keys (reader);
    map_clear (reader);
}

void
map_take_source (MapReader *reader, Source *out)
{
    const Node *source = map_take (reader, "source", KEY_OPTIONAL),
               *checked = map_take (reader, "checked", KEY_OPTIONAL);
    out->text = value_text (reader->loader, source, "source");
    out->checked = value_date (reader->loader, checked, "checked");
    out->at = source ? source->at : checked ? checked->at : MARK_NONE;
}

/* ---- Single values ---- */

void
complain_of_kind (Loader *loader, const Node *node, const char *key, const char *expected)
{
    if (node_is_blank (node))
        loader_complain (loader, node, expected, "%s has no value", key);
    else
        loader_complain (loader, node, expected, "%s is %s", key, node_description (node));
}

const char *
value_scalar (Loader *loader, const Node *node, const char *key, const char *expected)
{
    if (!node)
        return NULL;
    if (node->kind == NODE_SCALAR && !node_is_blank (node))
        return node->text;
    complain_of_kind (loader, node, key, expected);
    return NULL;
}

const char *
value_text (Loader *loader, const Node *node, const char *key)
{
    const char *text = value_scalar (loader, node, key, "expected text");
    if (text && *text == '\0') {
        loader_complain (loader, node, "expected some text", "%s is empty", key);
        return NULL;
    }
    return g_intern_string (text);
}

const char *
value_name (Loader *loader, const Node *node, const char *key)
{
    const char *text = value_scalar (loader, node, key, "expected one name");
    const char *problem = text ? text_name_problem (text) : NULL;
    if (problem) {
        g_autofree char *expected = g_strdup_printf ("expected %s", problem);
        loader_complain (loader, node, expected, "\"%s\" cannot be a name", text);
        return NULL;
    }
    return g_intern_string (text);
}

/* TRUE for digits with at most one point between them. */
static gboolean
is_plain_number (const char *text)
{
    gsize whole = strspn (text, "0123456789");
    if (whole == 0 || whole > 15)
        return FALSE;
    if (text[whole] == '\0')
        return TRUE;
    gsize rest = strspn (text + whole + 1, "0123456789");
    return text[whole] == '.' && rest > 0 && rest <= 15 && text[whole + 1 + rest] == '\0';
}

gboolean
value_number (Loader *loader, const Node *node, const char *key, double *out)
{
    static const char expected[] = "expected a number that is not negative, such as 12 or 12.5";
    const char *text = value_scalar (loader, node, key, expected);
    if (!text)
        return FALSE;
    double number = is_plain_number (text) ? g_ascii_strtod (text, NULL) : -1;
    if (number >= 0 && number <= LARGEST_NUMBER) {
        *out = number;
        return TRUE;
    }
    if (*text == '-' && is_plain_number (text + 1))
        loader_complain (loader, node, expected, "%s is negative", key);
    else if (number > LARGEST_NUMBER)
        loader_complain (loader, node, "expected at most 1000000000", "%s is too large", key);
    else
        loader_complain (loader, node, expected, "%s \"%s\" is not a number", key, text);
    return FALSE;
}

gboolean
value_minutes (Loader *loader, const Node *node, const char *key, double *out)
{
    double minutes;
    if (!value_number (loader, node, key, &minutes))
        return FALSE;
    const char *point = strchr (node->text, '.');
    if (point && strlen (point + 1) > 1) {
        loader_complain (loader, node, "expected at most one decimal, such as 2.5", "%s %s has %u decimals", key,
                         node->text, (guint) strlen (point + 1));
        return FALSE;
    }
    if (minutes > MOST_MINUTES) {
        loader_complain (loader, node, "expected at most 100000, some ten weeks", "%s is %s minutes", key, node->text);
        return FALSE;
    }
    *out = minutes;
    return TRUE;
}

gboolean
value_whole (Loader *loader, const Node *node, const char *key, gint64 least, gint64 most, gint64 *out)
{
    g_autofree char *expected =
        g_strdup_printf ("expected a whole number from %" G_GINT64_FORMAT " to %" G_GINT64_FORMAT, least, most);
    const char *text = value_scalar (loader, node, key, expected);
    if (!text)
        return FALSE;
    gint64 number;
    gboolean digits = strspn (text, "0123456789") == strlen (text);
    if (digits && g_ascii_string_to_signed (text, 10, least, most, &number, NULL)) {
        *out = number;
        return TRUE;
    }
    loader_complain (loader, node, expected, digits ? "%s %s is out of range" : "%s \"%s\" is not a whole number", key,
                     text);
    return FALSE;
}

gboolean
value_yes (Loader *loader, const Node *node, const char *key, gboolean *out)
{
    static const char *const words[] = { "no", "yes", "false", "true", NULL };
    int word = value_word (loader, node, key, words);
    if (word < 0)
        return FALSE;
    *out = word % 2 == 1;
    return TRUE;
}

int
value_word (Loader *loader, const Node *node, const char *key, const char *const *words)
{
    g_autofree char *joined = g_strjoinv (", ", (char **) words);
    g_autofree char *expected = g_strdup_printf (words[1] ? "expected one of %s" : "expected %s", joined);
    const char *text = value_scalar (loader, node, key, expected);
    if (!text)
        return -1;
    for (int i = 0; words[i]; i++)
        if (strcmp (text, words[i]) == 0)
            return i;
    loader_complain (loader, node, expected, "%s cannot be \"%s\"", key, text);
    return -1;
}
