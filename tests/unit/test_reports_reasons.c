/* SPDX-License-Identifier: MIT */
/* Why each step is there: every step of every route of the demo shop has a reason, and a step too many is told. */
#include "reports_fixture.h"

#include <string.h>

#include "reports/account.h"

#define STORIES "data/larkfield/units"

static Library *
load_story (const char *name)
{
    g_autofree char *path = g_build_filename (STORIES, name, NULL);
    const char *paths[] = { "rules", BOOK, SHOP, path, NULL };

    return fixture_load (paths);
}

static RouteAnswer *
plan (const Library *library, Objective objective)
{
    RouteOptions options = { .objective = objective, .no_ways_back = TRUE, .search_states = 5000 };

    return route_find (library, fixture_shop (library), fixture_unit (library), fixture_want (library), &options);
}

static RouteAccount *
account_of (const Library *library, const GArray *steps)
{
    return route_account_new (library, fixture_shop (library), fixture_unit (library), fixture_want (library), steps);
}

/* source: of a route with the fewest steps (or least time, or handling) every step is needed, or there were a better one. */
static void
assert_all_needed (const char *name, const Library *library, const RouteAnswer *answer)
{
    g_autoptr (RouteAccount) account = account_of (library, answer->steps);

    for (guint i = 0; i < account->steps->len; i++) {
        const StepAccount *step = account->steps->pdata[i];

        if (!step->needed || step->why == NULL || *step->why == '\0')
            fail_msg ("%s, step %u has no reason", name, i + 1);
        assert_non_null (step->needed_rule);
        assert_true (step->needed_by < (int) account->steps->len);
        assert_true (step->needed_by < 0 || step->needed_by > (int) i);
    }
}

static void
test_every_step_of_every_story (void **state)
{
    g_autoptr (GDir) dir = g_dir_open (STORIES, 0, NULL);
    guint routes = 0;

    (void) state;
    assert_non_null (dir);
    for (const char *name; (name = g_dir_read_name (dir)) != NULL;)
        for (int objective = 0; g_str_has_suffix (name, ".yaml") && objective < OBJECTIVE_COUNT; objective++) {
            g_autoptr (Library) library = load_story (name);
            g_autoptr (RouteAnswer) answer = plan (library, (Objective) objective);

            if (answer->claim != CLAIM_PROVED_SHORTEST)
                continue;
            assert_all_needed (name, library, answer);
            routes += answer->steps->len > 0;
        }
    assert_true (routes >= 30);
}

static void
assert_reason (const RouteAccount *account, guint number, const char *expected)
{
    const StepAccount *step = g_ptr_array_index (account->steps, number - 1);

    if (strstr (step->why, expected) == NULL)
        fail_msg ("step %u: expected \"%s\" in \"%s\"", number, expected, step->why);
}

/* source: worked by hand in data/larkfield/units/01-dark-needs-a-loaner.yaml */
static void
test_a_loaner_and_back (void **state)
{
    g_autoptr (Library) library = load_story ("01-dark-needs-a-loaner.yaml");
    g_autoptr (RouteAnswer) answer = plan (library, OBJECTIVE_STEPS);
    g_autoptr (RouteAccount) account = account_of (library, answer->steps);

    (void) state;
    assert_int_equal (account->steps->len, 5);
    assert_reason (account, 1, "taken out so that the unit starts for step 3; left in: ");
    assert_reason (account, 2, "lent so that the unit starts for step 3; with elvane-8c (stepping b1) there: ");
    assert_reason (account, 3, "written so that the unit starts at the end; without it: ");
    assert_reason (account, 4, "goes back: the loaner may not stay");
    assert_reason (account, 5, "wanted in cpu1");
}

/* source: worked by hand in data/larkfield/units/02-intermediate-release.yaml: 1.4.0 leads from 1.0.2 to 2.1.0 */
static void
test_an_intermediate_release (void **state)
{
    g_autoptr (Library) library = load_story ("02-intermediate-release.yaml");
    g_autoptr (RouteAnswer) answer = plan (library, OBJECTIVE_STEPS);
    g_autoptr (RouteAccount) account = account_of (library, answer->steps);
    guint found = 0;

    (void) state;
    for (guint i = 0; i < account->steps->len; i++) {
        const StepAccount *step = account->steps->pdata[i];

        found += strstr (step->why, "can't be written over") != NULL && strstr (step->why, ".yaml:") != NULL;
    }
    assert_int_equal (found, 1);
}

/* source: the route of reports-loaner is sound; a write of what is there already never helps (docs/method.md, "Steps"). */
static void
test_a_step_too_many (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autoptr (GArray) steps = g_array_copy ((GArray *) fixture_steps (library));
    WrittenRoute route = *(const WrittenRoute *) library->routes->pdata[0];
    Step again = { 0 };
    guint write = 0;

    (void) state;
    while (g_array_index (steps, Step, write).kind != STEP_WRITE)
        write++;
    again = g_array_index (steps, Step, write);
    g_array_insert_val (steps, write, again);
    route.steps = steps;
    g_autoptr (WalkAnswer) answer =
        walk_find (library, fixture_shop (library), fixture_unit (library), fixture_want (library), &route);
    g_autofree char *text = report_walk_text (answer, FALSE);
    assert_true (answer->walk->sound);
    assert_int_equal (answer->needless->len, 2); /* one of the two, whichever */
    assert_non_null (strstr (text, "is not needed: the route is sound without step"));
}

/* source: of the unchanged route nothing can be left out. */
static void
test_no_step_too_many (void **state)
{
    g_autoptr (Library) library = fixture_library ("reports-loaner");
    g_autoptr (WalkAnswer) answer = walk_find (library, fixture_shop (library), fixture_unit (library),
                                               fixture_want (library), library->routes->pdata[0]);

    (void) state;
    assert_true (answer->walk->sound);
    assert_int_equal (answer->needless->len, 0);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_every_step_of_every_story), cmocka_unit_test (test_a_loaner_and_back),
        cmocka_unit_test (test_an_intermediate_release),   cmocka_unit_test (test_a_step_too_many),
        cmocka_unit_test (test_no_step_too_many),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
