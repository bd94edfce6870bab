/* SPDX-License-Identifier: MIT */
/* Attributes: the usual ones, those that rules and books add, and reading them. */
#include "book/attributes.h"

#include "book/library.h"

#include <string.h>

static const struct {
    const char *name;
    AttributeType type;
} usual[] = {
    { "generation", ATTRIBUTE_TEXT },  { "stepping", ATTRIBUTE_TEXT },
    { "steppings", ATTRIBUTE_TEXT },   { "signature", ATTRIBUTE_NUMBER },
    { "socket", ATTRIBUTE_TEXT },      { "watts", ATTRIBUTE_NUMBER },
    { "cores", ATTRIBUTE_NUMBER },     { "threads", ATTRIBUTE_NUMBER },
    { "base-mhz", ATTRIBUTE_NUMBER },  { "turbo-mhz", ATTRIBUTE_NUMBER },
    { "rating", ATTRIBUTE_NUMBER },    { "output", ATTRIBUTE_NUMBER },
    { "memory-type", ATTRIBUTE_TEXT }, { "gib", ATTRIBUTE_NUMBER },
    { "speed-mts", ATTRIBUTE_NUMBER }, { "rated-insertions", ATTRIBUTE_NUMBER },
    { "mounting", ATTRIBUTE_TEXT },    { "grade", ATTRIBUTE_TEXT },
};

void
attributes_know_usual (Loader *loader)
{
    for (guint i = 0; i < G_N_ELEMENTS (usual); i++)
        attributes_know (loader, g_intern_string (usual[i].name), usual[i].type);
}

AttributeType
attributes_type (const Loader *loader, const char *name)
{
    return GPOINTER_TO_UINT (g_hash_table_lookup (loader->attributes, name));
}

gboolean
attributes_know (Loader *loader, const char *name, AttributeType type)
{
    AttributeType known = attributes_type (loader, name);
    if (known && known != ATTRIBUTE_EITHER && type != ATTRIBUTE_EITHER)
        return known == type;
    if (!known || type != ATTRIBUTE_EITHER)
        g_hash_table_insert (loader->attributes, (gpointer) name, GUINT_TO_POINTER (type));
    return TRUE;
}

/* 0x and up to eight hexadecimal digits. */
static gboolean
read_signature (Loader *loader, const Node *node, double *out)
{
    static const char expected[] = "expected 0x and up to eight hexadecimal digits, such as 0x0EF30F31";
    const char *text = value_scalar (loader, node, "signature", expected);
    if (!text)
        return FALSE;
    gsize digits = g_str_has_prefix (text, "0x") ? strspn (text + 2, "0123456789abcdefABCDEF") : 0;
    if (digits == 0 || digits > 8 || text[2 + digits] != '\0') {
        loader_complain (loader, node, expected, "signature \"%s\" is not a 32-bit identification value", text);
        return FALSE;
    }
    *out = (double) g_ascii_strtoull (text + 2, NULL, 16);
    return TRUE;
}

static gboolean
looks_like_number (const Node *node)
{
    if (node->kind != NODE_SCALAR || !g_ascii_isdigit (*node->text))
        return FALSE;
    gsize length = strspn (node->text, "0123456789");
    if (node->text[length] == '.')
        length += 1 + strspn (node->text + length + 1, "0123456789");
    return node->text[length] == '\0' && node->text[length - 1] != '.';
}

/* NULL after a complaint. */
static Attribute *
read_attribute (Loader *loader, const char *name, AttributeType type, const Node *node)
{
    Attribute *attribute = attribute_new (name, node->at);
    if (type == ATTRIBUTE_NUMBER || (type == ATTRIBUTE_EITHER && looks_like_number (node))) {
        attribute->is_number = TRUE;
        gboolean is_right = strcmp (name, "signature") == 0 ? read_signature (loader, node, &attribute->number)
                                                            : value_number (loader, node, name, &attribute->number);
        if (is_right) {
            g_ptr_array_add (attribute->values, (gpointer) g_intern_string (node->text));
            return attribute;
        }
    } else {
        g_autoptr (GPtrArray) values = value_names (loader, node, name);
        if (values) {
            g_ptr_array_unref (attribute->values);
            attribute->values = g_steal_pointer (&values);
            return attribute;
        }
    }
    attribute_free (attribute);
    return NULL;
}

void
attributes_read (MapReader *reader, GPtrArray *out)
{
    const GPtrArray *keys = reader->map->keys;
    for (guint i = 0; i < keys->len; i++) {
        const Node *key = g_ptr_array_index (keys, i);
        const char *name = g_intern_string (key->text);
        AttributeType type = attributes_type (reader->loader, name);
        if (reader->taken[i] || !type)
            continue;
        reader->taken[i] = TRUE;
        Attribute *attribute = read_attribute (reader->loader, name, type, g_ptr_array_index (reader->map->items, i));
        if (attribute)
            g_ptr_array_add (out, attribute);
    }
    g_autofree const char **known = sorted_keys (reader->loader->attributes);
    for (guint i = 0; known[i]; i++)
        map_also_knows (reader, known[i]);
}
