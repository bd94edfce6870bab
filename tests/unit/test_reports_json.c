/* SPDX-License-Identifier: MIT */
/* The JSON of plan: it fits its schema, says the same each time, and is a route that can be read back. */
#include "reports_fixture.h"

#include <math.h>
#include <string.h>
#include <unistd.h>

#include <glib/gstdio.h>
#include <jansson.h>

static char *
json_of (const Library *library)
{
    g_autoptr (RouteAnswer) answer = fixture_answer (library);
    RouteReport report = { library, fixture_shop (library), fixture_unit (library), fixture_want (library), answer };

    return report_route_json (&report);
}

/* ---- As much of JSON Schema, draft 2020-12, as docs/schemas/printed-route.schema.json uses ---- */

static void check_value (const json_t *root, const json_t *schema, json_t *value, const char *path);

static gboolean
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

static void
check_required (const json_t *schema, const json_t *value, const char *path)
{
    size_t i = 0;
    json_t *name = NULL;

    json_array_foreach (json_object_get (schema, "required"), i,
                        name) if (json_object_get (value, json_string_value (name)) == NULL)
        fail_msg ("%s lacks %s", path, json_string_value (name));
}

/* Stricter than the schema, which lets keys be added: here none may be there that it does not list. */
static void
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

static void
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

static gboolean
is_listed (const json_t *list, const json_t *value)
{
    size_t i = 0;
    json_t *entry = NULL;

    json_array_foreach (list, i, entry) if (json_equal (entry, value)) return TRUE;
    return FALSE;
}

static void
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
        assert_true (g_str_has_prefix (reference, "#/$defs/"));
        schema = json_object_get (json_object_get (root, "$defs"), reference + strlen ("#/$defs/"));
        assert_non_null (schema);
        check_value (root, schema, value, path);
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

static void
assert_fits_schema (const char *text)
{
    json_t *schema = json_load_file ("docs/schemas/printed-route.schema.json", JSON_REJECT_DUPLICATES, NULL);
    json_t *document = json_loads (text, JSON_REJECT_DUPLICATES, NULL);

    assert_non_null (schema);
    assert_non_null (document);
    check_value (schema, schema, document, "");
    json_decref (schema);
    json_decref (document);
}

static const char *const route_names[] = { "reports-loaner", "reports-unknown" };

static void
test_fits_schema (void **state)
{
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (route_names); i++) {
        g_autoptr (Library) library = fixture_library (route_names[i]);
        g_autofree char *text = json_of (library);

        assert_fits_schema (text);
    }
}

static void
test_no_route_and_read_first_fit_schema (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-unknown");
    const Unit *unit = fixture_unit (library);
    gboolean *may_be = g_new0 (gboolean, board_component (unit->board, 0)->releases->len);
    RouteCase one = { may_be, 2, CLAIM_NO_ROUTE, NULL };
    RouteAnswer answer = { .claim = CLAIM_NO_ROUTE,
                           .reason = g_strdup ("nothing serves"),
                           .proof = "search exhausted" };
    RouteReport report = { library, fixture_shop (library), unit, fixture_want (library), &answer };
    g_autofree char *no_route = report_route_json (&report);
    g_autofree char *read_first = NULL;

    (void) state;
    may_be[0] = TRUE;
    assert_fits_schema (no_route);
    assert_non_null (strstr (no_route, "\"reason\": \"nothing serves\""));
    assert_null (strstr (no_route, "\"steps\": "));
    answer.claim = CLAIM_READ_FIRST;
    answer.cases = g_ptr_array_new ();
    g_ptr_array_add (answer.cases, &one);
    read_first = report_route_json (&report);
    assert_fits_schema (read_first);
    assert_non_null (strstr (read_first, "\"read-first\": \"system\""));
    g_ptr_array_unref (answer.cases);
    g_free (answer.reason);
    g_free (may_be);
}

/* What plan prints can be given to walk: the same steps come back, in order. */
static void
test_reads_back_as_a_route (void **state)
{
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (route_names); i++) {
        g_autoptr (Library) library = fixture_library (route_names[i]);
        g_autofree char *text = json_of (library);
        g_autofree char *unit_path = g_strconcat (DATA, route_names[i], "-unit.yaml", NULL);
        g_autofree char *path = NULL;
        int descriptor = g_file_open_tmp ("rungwise-XXXXXX.json", &path, NULL);
        const char *paths[] = { RULES, BOOK, unit_path, path, NULL };
        g_autoptr (Library) again = NULL;
        const GArray *before = fixture_steps (library);
        const GArray *after = NULL;

        assert_true (descriptor >= 0);
        close (descriptor);
        assert_true (g_file_set_contents (path, text, -1, NULL));
        again = fixture_load (paths);
        g_unlink (path);
        assert_int_equal (again->routes->len, 1);
        after = fixture_steps (again);
        assert_int_equal (before->len, after->len);
        for (guint s = 0; s < before->len; s++) {
            const Step *left = &g_array_index (before, Step, s);
            const Step *right = &g_array_index (after, Step, s);

            assert_int_equal (left->kind, right->kind);
            assert_int_equal (left->slot, right->slot);
            assert_int_equal (left->component, right->component);
            assert_int_equal (left->release, right->release);
            assert_int_equal (left->method, right->method);
            if (left->kind == STEP_FIT) {
                assert_string_equal (left->part->name, right->part->name);
                assert_int_equal (g_strcmp0 (left->stepping, right->stepping), 0);
                assert_int_equal (left->owner, right->owner);
            }
        }
    }
}

static void
test_same_bytes_twice (void **state)
{
    g_autoptr (Library) first = fixture_library ("reports-loaner");
    g_autoptr (Library) second = fixture_library ("reports-loaner");
    g_autofree char *left = json_of (first);
    g_autofree char *right = json_of (second);

    (void) state;
    assert_string_equal (left, right);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_fits_schema),
        cmocka_unit_test (test_no_route_and_read_first_fit_schema),
        cmocka_unit_test (test_reads_back_as_a_route),
        cmocka_unit_test (test_same_bytes_twice),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
