/* SPDX-License-Identifier: MIT */
/* As much of JSON Schema, draft 2020-12, as the schemas of what the program prints use. */
#ifndef RUNGWISE_JSON_SCHEMA_H
#define RUNGWISE_JSON_SCHEMA_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <string.h>

#include <glib.h>
#include <jansson.h>

#define SCHEMAS "docs/schemas/"

static inline void check_value (const json_t *root, const json_t *schema, json_t *value, const char *path);

static inline gboolean
has_type (const char *type, const json_t *value)
{
    if (g_str_equal (type, "object"))
        return json_is_object (value);
    if (g_str_equal (type, "array"))
        return json_is_array (value);
    if (g_str_equal (type, "string"))
        return json_is_string (value);
    if (g_str_equal (type, "boolean"))
        return json_is_boolean (value);
    if (g_str_equal (type, "integer"))
        return json_is_integer (value);
    assert_string_equal (type, "number");
    return json_is_number (value);
}

static inline void
check_required (const json_t *schema, const json_t *value, const char *path)
{
    size_t i = 0;
    json_t *name = NULL;

    json_array_foreach (json_object_get (schema, "required"), i,
                        name) if (json_object_get (value, json_string_value (name)) == NULL)
        fail_msg ("%s lacks %s", path, json_string_value (name));
}

/* Stricter than the schema, which lets keys be added: here none may be there that it does not list. */
static inline void
check_object (const json_t *root, const json_t *schema, json_t *value, const char *path)
{
    const json_t *properties = json_object_get (schema, "properties");
    const json_t *others = json_object_get (schema, "additionalProperties");
    const char *key = NULL;
    json_t *member = NULL;

    check_required (schema, value, path);
    json_object_foreach (value, key, member)
    {
        g_autofree char *below = g_strdup_printf ("%s/%s", path, key);
        const json_t *of_key = json_object_get (properties, key);

        if (of_key == NULL && others == NULL)
            fail_msg ("%s is not in the schema", below);
        check_value (root, of_key == NULL ? others : of_key, member, below);
    }
}

static inline void
check_conditions (const json_t *schema, const json_t *value, const char *path)
{
    size_t i = 0;
    json_t *entry = NULL;

    json_array_foreach (json_object_get (schema, "allOf"), i, entry)
    {
        const json_t *constant = json_object_get (
            json_object_get (json_object_get (json_object_get (entry, "if"), "properties"), "do"), "const");
        gboolean holds = json_equal (constant, json_object_get (value, "do"));

        check_required (json_object_get (entry, holds ? "then" : "else"), value, path);
    }
}

static inline gboolean
is_listed (const json_t *list, const json_t *value)
{
    size_t i = 0;
    json_t *entry = NULL;

    json_array_foreach (list, i, entry) if (json_equal (entry, value)) return TRUE;
    return FALSE;
}

/* "#/$defs/NAME", of this schema, or of another file after its name. */
static inline void
check_reference (const json_t *root, const char *reference, json_t *value, const char *path)
{
    const char *pointer = strstr (reference, "#/$defs/");
    json_t *other = NULL;

    assert_non_null (pointer);
    if (pointer > reference) {
        g_autofree char *name = g_strndup (reference, (gsize) (pointer - reference));
        g_autofree char *file = g_strconcat (SCHEMAS, name, NULL);

        other = json_load_file (file, JSON_REJECT_DUPLICATES, NULL);
        assert_non_null (other);
        root = other;
    }
    const json_t *schema = json_object_get (json_object_get (root, "$defs"), pointer + strlen ("#/$defs/"));
    assert_non_null (schema);
    check_value (root, schema, value, path);
    json_decref (other);
}

static inline void
check_value (const json_t *root, const json_t *schema, json_t *value, const char *path)
{
    const char *reference = json_string_value (json_object_get (schema, "$ref"));
    const char *type = json_string_value (json_object_get (schema, "type"));
    const json_t *constant = json_object_get (schema, "const");
    const json_t *choices = json_object_get (schema, "enum");
    const json_t *minimum = json_object_get (schema, "minimum");
    const json_t *items = json_object_get (schema, "items");
    size_t i = 0;
    json_t *item = NULL;

    if (reference != NULL) {
        check_reference (root, reference, value, path);
        return;
    }
    if (type != NULL && !has_type (type, value))
        fail_msg ("%s is no %s", path, type);
    if (constant != NULL && !json_equal (constant, value))
        fail_msg ("%s is another constant", path);
    if (choices != NULL && !is_listed (choices, value))
        fail_msg ("%s is none of those allowed", path);
    if (minimum != NULL && json_number_value (value) < json_number_value (minimum))
        fail_msg ("%s is below the minimum", path);
    if (json_is_object (value)) {
        check_object (root, schema, value, path);
        check_conditions (schema, value, path);
    }
    json_array_foreach (value, i, item)
    {
        g_autofree char *below = g_strdup_printf ("%s/%zu", path, i);

        check_value (root, items, item, below);
    }
}

/* Fails unless `text` is a document that the schema `docs/schemas/NAME` allows, without a key that it does not list. */
static inline void
assert_fits_schema (const char *name, const char *text)
{
    g_autofree char *file = g_strconcat (SCHEMAS, name, NULL);
    json_t *schema = json_load_file (file, JSON_REJECT_DUPLICATES, NULL);
    json_t *document = json_loads (text, JSON_REJECT_DUPLICATES, NULL);

    assert_non_null (schema);
    assert_non_null (document);
    check_value (schema, schema, document, "");
    json_decref (schema);
    json_decref (document);
}

#endif
