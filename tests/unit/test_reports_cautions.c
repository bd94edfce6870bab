/* SPDX-License-Identifier: MIT */
/* Which cautions are due where. The expectations are read off docs/files.md, "Cautions". */
#include "reports_fixture.h"

#include <string.h>

#include "reports/account.h"

/* Ids of the due cautions without their "on-", those that were due before in parentheses. Transfer full. */
static char *
due_ids (const GArray *due)
{
    GString *ids = g_string_new (NULL);

    for (guint i = 0; i < due->len; i++) {
        const DueCaution *entry = &g_array_index (due, DueCaution, i);
        const char *id = entry->caution->id + strlen ("on-");

        g_string_append_printf (ids, entry->in_full ? "%s%s" : "%s(%s)", i > 0 ? " " : "", id);
    }
    return g_string_free (ids, FALSE);
}

static void
assert_due (const GArray *due, const char *expected)
{
    g_autofree char *ids = due_ids (due);

    assert_string_equal (ids, expected);
}

static void
assert_step_due (const RouteAccount *account, guint number, const char *expected)
{
    assert_due (((const StepAccount *) g_ptr_array_index (account->steps, number - 1))->cautions, expected);
}

/* What stands above the step. */
static void
assert_above (const RouteAccount *account, guint number, const char *expected)
{
    assert_due (((const StepAccount *) g_ptr_array_index (account->steps, number - 1))->power_cautions, expected);
}

static RouteAccount *
account_of (const Library *library)
{
    return route_account_new (library, fixture_shop (library), fixture_unit (library), fixture_want (library),
                              fixture_steps (library));
}

static void
test_loaner_route (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autoptr (RouteAccount) account = account_of (library);

    (void) state;
    assert_due (account->top_cautions, "route");
    assert_above (account, 1, "opening");
    assert_step_due (account, 1, "processor heat-sink");
    assert_step_due (account, 2, "(processor) (heat-sink)");
    assert_step_due (account, 3, "write host-write clears-settings");
    assert_above (account, 3, "start power-up");
    assert_above (account, 4, "(opening)");
    assert_step_due (account, 4, "(processor) (heat-sink)");
    assert_step_due (account, 5, "(processor) (heat-sink)");
    assert_due (account->end_cautions, "(start) (power-up)");
}

/* 3.0.0 takes effect by mains off and clears settings; the opening right after it follows a controller write. */
static void
test_controller_write_then_parts (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-controller");
    g_autoptr (RouteAccount) account = account_of (library);

    (void) state;
    assert_step_due (account, 1, "write controller-write clears-settings mains-off");
    assert_above (account, 2, "opening after-controller-write");
    assert_step_due (account, 2, "memory");
    assert_step_due (account, 3, "(memory)");
    assert_step_due (account, 6, "supply");
    assert_step_due (account, 7, "heat-sink");
    assert_due (account->end_cautions, "start power-up");
}

/* Without a programmer nothing rewrites a component whose only recovery is the clip. */
static void
test_no_recovery (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    Shop *shop = g_ptr_array_index (library->shops, 0);
    g_autoptr (RouteAccount) account = NULL;

    (void) state;
    shop->methods &= ~METHOD_BIT (METHOD_CLIP);
    account = account_of (library);
    assert_step_due (account, 3, "write host-write clears-settings no-recovery");
}

static void
test_words (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");

    (void) state;
    assert_int_equal (library->cautions->len, 21);
    for (guint i = 0; i < library->cautions->len; i++) {
        const Caution *caution = g_ptr_array_index (library->cautions, i);

        assert_true (caution_word (g_ptr_array_index (caution->when, 0)) != 0);
    }
    assert_int_equal (caution_word ("opened"), 0);
}

/* Equal modules are interchangeable for the planner; the sheet names the pieces. */
static void
test_serials_go_back_where_they_came_from (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-controller");
    g_autoptr (RouteAccount) account = account_of (library);
    const char *const expected[] = { NULL, "M-1", "M-2", "M-2", "M-1", NULL, NULL, NULL, NULL };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (expected); i++)
        assert_int_equal (
            g_strcmp0 (((const StepAccount *) g_ptr_array_index (account->steps, i))->serial, expected[i]), 0);
}

/* With 2.1.0 on it already the unit starts as it came in, with 1.4.0 it does not: neither yes nor no may be said. The
 * loaner starts with both. */
static void
test_unknown_releases_are_merged (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-unknown");

    (void) state;
    /* The clip passes the floor over; without it the floor tells. */
    ((Shop *) g_ptr_array_index (library->shops, 0))->methods &= ~METHOD_BIT (METHOD_CLIP);
    g_autoptr (RouteAccount) account = account_of (library);
    const StepAccount *first = g_ptr_array_index (account->steps, 0);
    const StepAccount *second = g_ptr_array_index (account->steps, 1);
    const StepAccount *third = g_ptr_array_index (account->steps, 2);
    assert_int_equal (account->cases, 2);
    assert_int_equal (first->starts_before, ANSWER_DEPENDS);
    assert_int_equal (first->starts_after, ANSWER_NO);
    assert_int_equal (second->starts_after, ANSWER_YES);
    assert_int_equal (third->replaces, -1);
    /* The write sets the floor to 1.4.0 where it was lower. */
    assert_int_equal (third->floor_rises->len, 1);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_loaner_route),
        cmocka_unit_test (test_controller_write_then_parts),
        cmocka_unit_test (test_no_recovery),
        cmocka_unit_test (test_words),
        cmocka_unit_test (test_serials_go_back_where_they_came_from),
        cmocka_unit_test (test_unknown_releases_are_merged),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
