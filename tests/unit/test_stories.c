/* SPDX-License-Identifier: MIT */
/* The demo shop's stories against what stands at the head of each file.
 *
 * source: every `# expect:` line of data/larkfield/units was worked out by hand; docs/story.md tells the long one step
 * by step. The routes of data/larkfield/routes are that story's, and one that leaves a step out. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "route/branched.h"

#include <stdio.h>
#include <string.h>

#define SHOP "data/larkfield"

/* The text after `# WORD: ` in the file; NULL when there is none. Transfer full. */
static char *
head_line (const char *path, const char *word)
{
    g_autofree char *text = NULL;
    g_autofree char *begin = g_strconcat ("# ", word, ": ", NULL);
    assert_true (g_file_get_contents (path, &text, NULL, NULL));
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
    for (guint i = 0; lines[i] != NULL; i++)
        if (g_str_has_prefix (lines[i], begin))
            return g_strdup (lines[i] + strlen (begin));
    return NULL;
}

static Library *
load (const char *const *files)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (GPtrArray) paths = g_ptr_array_new ();
    g_ptr_array_add (paths, (gpointer) "rules");
    g_ptr_array_add (paths, (gpointer) SHOP "/book");
    g_ptr_array_add (paths, (gpointer) SHOP "/shop.yaml");
    for (; *files != NULL; files++)
        g_ptr_array_add (paths, (gpointer) *files);
    g_ptr_array_add (paths, NULL);
    Library *library = library_load ((const char *const *) paths->pdata, NULL, complaints);
    g_autofree char *said = complaints_to_string (complaints, 10);
    assert_string_equal (said, "");
    return library;
}

static char *
outcome_of (const RouteAnswer *answer)
{
    if (answer->claim == CLAIM_NO_ROUTE)
        return g_strdup ("claim no-route");
    if (answer->claim == CLAIM_READ_FIRST)
        return g_strdup ("claim read-first");
    if (answer->claim == CLAIM_BRANCHES) {
        assert_int_equal (answer->branches->claim, CLAIM_PROVED_SHORTEST);
        return g_strdup_printf ("claim branches, worst %u", answer->branches->check->worst_steps);
    }
    assert_int_equal (answer->claim, CLAIM_PROVED_SHORTEST);
    return g_strdup_printf ("claim proved-shortest, steps %u, insertions %u, openings %u", answer->walk->steps,
                            answer->walk->insertions, answer->walk->openings);
}

/* The sorted paths of a folder's YAML files. Transfer full. */
static GPtrArray *
files_of (const char *folder)
{
    GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
    assert_non_null (dir);
    for (const char *name; (name = g_dir_read_name (dir)) != NULL;)
        if (g_str_has_suffix (name, ".yaml"))
            g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
    g_ptr_array_sort (paths, (GCompareFunc) g_strcmp0);
    return paths;
}

static void
test_every_story_ends_as_worked_by_hand (void **state)
{
    (void) state;
    g_autoptr (GPtrArray) stories = files_of (SHOP "/units");
    assert_true (stories->len >= 9);
    for (guint i = 0; i < stories->len; i++) {
        const char *path = stories->pdata[i];
        const char *files[] = { path, NULL };
        g_autofree char *expected = head_line (path, "expect");
        g_autoptr (Library) library = load (files);
        assert_non_null (expected);
        g_autoptr (RouteAnswer) answer =
            route_find (library, library->shops->pdata[0], library->units->pdata[0], library->wants->pdata[0], NULL);
        g_autofree char *found = outcome_of (answer);
        if (strcmp (found, expected) != 0)
            print_error ("%s\n", path);
        assert_string_equal (found, expected);
    }
}

static void
test_minutes_of_the_long_story (void **state)
{
    (void) state;
    const char *files[] = { SHOP "/units/20-long-story.yaml", NULL };
    g_autoptr (Library) library = load (files);
    g_autoptr (RouteAnswer) answer =
        route_find (library, library->shops->pdata[0], library->units->pdata[0], library->wants->pdata[0], NULL);
    /* docs/story.md, "The numbers". */
    assert_int_equal (answer->walk->starts, 2);
    assert_true (answer->walk->minutes == 98);
}

static void
test_routes_written_by_hand (void **state)
{
    (void) state;
    g_autoptr (GPtrArray) routes = files_of (SHOP "/routes");
    assert_true (routes->len >= 2);
    for (guint i = 0; i < routes->len; i++) {
        const char *files[] = { SHOP "/units/20-long-story.yaml", routes->pdata[i], NULL };
        g_autofree char *expected = head_line (routes->pdata[i], "expect");
        g_autoptr (Library) library = load (files);
        g_autoptr (State) start = state_from_unit (library->units->pdata[0], NULL);
        const WrittenRoute *route = library->routes->pdata[0];
        g_autoptr (Walk) walk =
            check_walk (library, library->shops->pdata[0], library->wants->pdata[0], start, route->steps);
        g_autofree char *found = walk->sound ? g_strdup_printf ("sound, steps %u, insertions %u, openings %u",
                                                                walk->steps, walk->insertions, walk->openings)
                                             : g_strdup_printf ("unsafe at step %u", walk->first_bad + 1);
        assert_non_null (expected);
        assert_true (g_str_has_prefix (expected, found));
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_every_story_ends_as_worked_by_hand),
        cmocka_unit_test (test_minutes_of_the_long_story),
        cmocka_unit_test (test_routes_written_by_hand),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
