/* SPDX-License-Identifier: MIT */
/* The JSON of plan: it fits its schema, says the same each time, and is a route that can be read back. */
#include "reports_fixture.h"

#include "json_schema.h"

#include <unistd.h>

#include <glib/gstdio.h>

static char *
json_of (const Library *library)
{
    g_autoptr (RouteAnswer) answer = fixture_answer (library);
    RouteReport report = { library, fixture_shop (library), fixture_unit (library), fixture_want (library), answer };

    return report_route_json (&report);
}

#define SCHEMA "printed-route.schema.json"

static const char *const route_names[] = { "reports-loaner", "reports-unknown" };

static void
test_fits_schema (void **state)
{
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (route_names); i++) {
        g_autoptr (Library) library = fixture_library (route_names[i]);
        g_autofree char *text = json_of (library);

        assert_fits_schema (SCHEMA, text);
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
    assert_fits_schema (SCHEMA, no_route);
    assert_non_null (strstr (no_route, "\"reason\": \"nothing serves\""));
    assert_null (strstr (no_route, "\"steps\": "));
    answer.claim = CLAIM_READ_FIRST;
    answer.cases = g_ptr_array_new ();
    g_ptr_array_add (answer.cases, &one);
    read_first = report_route_json (&report);
    assert_fits_schema (SCHEMA, read_first);
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
