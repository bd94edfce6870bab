/* SPDX-License-Identifier: MIT */
/* What libsolv is given, replayed from the file alone: by this program, and by libsolv's own testsolv.
 *
 * source: the lengths are those worked out by hand at the head of each story in data/larkfield/units; that a case is
 * solved or refuted is asked of testsolv (libsolv-tools), which knows nothing of this program. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "packages/packages.h"
#include "route/route.h"

#include <glib/gstdio.h>
#include <string.h>

typedef struct {
    const char *story;
    guint steps;
} Story;

static const Story STORIES[] = {
    { "data/larkfield/units/01-dark-needs-a-loaner.yaml", 5 },
    { "data/larkfield/units/04-controller-writes-it.yaml", 1 },
    { "data/larkfield/units/06-larger-heat-sink.yaml", 4 },
};

static char *
case_of (const char *story, guint layers, guint steps)
{
    const char *paths[] = { "rules", "data/larkfield/book", "data/larkfield/shop.yaml", story, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    g_autofree char *reason = NULL;
    assert_int_equal (complaints_count (complaints), 0);
    char *text = route_packages (library, library->shops->pdata[0], library->units->pdata[0], library->wants->pdata[0],
                                 layers, steps, &reason);
    assert_non_null (text);
    return text;
}

/* What testsolv makes of the case: solved, or some problem found. */
static gboolean
testsolv_solves (const char *path)
{
    const char *arguments[] = { "testsolv", path, NULL };
    g_autofree char *output = NULL;
    assert_true (
        g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &output, NULL, NULL, NULL));
    gboolean solved = strstr (output, "Transaction summary") != NULL;
    assert_true (solved || strstr (output, "Found problems") != NULL || strstr (output, "Problem 1") != NULL);
    return solved;
}

static void
assert_replays (const char *text, gboolean expected)
{
    g_autofree char *folder = g_dir_make_tmp ("pool-XXXXXX", NULL);
    g_autofree char *path = g_build_filename (folder, "pool.t", NULL);
    g_autoptr (GPtrArray) installed = NULL;
    gboolean solved = !expected;
    assert_true (g_file_set_contents (path, text, -1, NULL));
    assert_true (packages_replay (path, &solved, &installed, NULL));
    assert_int_equal (solved, expected);
    assert_int_equal (installed->len > 0, expected);
    assert_int_equal (testsolv_solves (path), expected);
    g_remove (path);
    g_rmdir (folder);
}

static void
test_solved_at_the_shortest_length (void **state)
{
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (STORIES); i++) {
        g_autofree char *text = case_of (STORIES[i].story, STORIES[i].steps, STORIES[i].steps);
        assert_replays (text, TRUE);
    }
}

static void
test_refuted_one_step_below (void **state)
{
    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (STORIES); i++) {
        if (STORIES[i].steps < 2)
            continue;
        g_autofree char *text = case_of (STORIES[i].story, STORIES[i].steps - 1, STORIES[i].steps - 1);
        assert_replays (text, FALSE);
    }
}

static void
test_same_question_same_case (void **state)
{
    (void) state;
    g_autofree char *once = case_of (STORIES[0].story, 0, 0);
    g_autofree char *again = case_of (STORIES[0].story, 0, 0);
    assert_string_equal (once, again);
}

static void
test_a_missing_file_says_so (void **state)
{
    (void) state;
    g_autoptr (GError) error = NULL;
    g_autoptr (GPtrArray) installed = NULL;
    gboolean solved = FALSE;
    assert_false (packages_replay ("no-such-file", &solved, &installed, &error));
    assert_true (g_str_has_prefix (error->message, "no-such-file: "));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_solved_at_the_shortest_length),
        cmocka_unit_test (test_refuted_one_step_below),
        cmocka_unit_test (test_same_question_same_case),
        cmocka_unit_test (test_a_missing_file_says_so),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
