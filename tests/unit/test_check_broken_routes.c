/* SPDX-License-Identifier: MIT */
/* Walks every route of tests/broken-routes/ and holds the outcome against the file's own `# expect:` line.
 * What the lines mean is in that folder's README.md. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <string.h>

#include "check/check.h"

#define FOLDER "tests/broken-routes"

/* What one file says of itself. */
typedef struct {
    char *path;
    char *shop;   /* owned; file name */
    char *expect; /* owned; NULL: no case, but a file that cases share */
    char *why;    /* owned, nullable */
    char *counts; /* owned, nullable */
} Case;

static void
case_free (Case *one)
{
    g_free (one->path);
    g_free (one->shop);
    g_free (one->expect);
    g_free (one->why);
    g_free (one->counts);
    g_free (one);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Case, case_free)

static void
take_header (char **place, const char *line, const char *key)
{
    if (!g_str_has_prefix (line, key))
        return;
    g_free (*place);
    *place = g_strstrip (g_strdup (line + strlen (key)));
}

static Case *
case_read (const char *name)
{
    Case *one = g_new0 (Case, 1);
    g_autofree char *text = NULL;

    one->path = g_build_filename (FOLDER, name, NULL);
    one->shop = g_strdup ("shop.yaml");
    assert_true (g_file_get_contents (one->path, &text, NULL, NULL));
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
    for (guint i = 0; lines[i] != NULL && lines[i][0] == '#'; i++) {
        take_header (&one->expect, lines[i], "# expect:");
        take_header (&one->shop, lines[i], "# shop:");
        take_header (&one->why, lines[i], "# why:");
        take_header (&one->counts, lines[i], "# counts:");
    }
    return one;
}

static int
compare_names (gconstpointer left, gconstpointer right)
{
    return strcmp (*(const char *const *) left, *(const char *const *) right);
}

static GPtrArray *
file_names (void)
{
    GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (GDir) folder = g_dir_open (FOLDER, 0, NULL);
    const char *name;

    assert_non_null (folder);
    while ((name = g_dir_read_name (folder)) != NULL)
        if (g_str_has_suffix (name, ".yaml"))
            g_ptr_array_add (names, g_strdup (name));
    g_ptr_array_sort (names, compare_names);
    return names;
}

static Library *
load (const Case *one)
{
    g_autofree char *book = g_build_filename (FOLDER, "book.yaml", NULL);
    g_autofree char *shop = g_build_filename (FOLDER, one->shop, NULL);
    const char *paths[] = { book, shop, one->path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load (paths, NULL, complaints);

    if (complaints_count (complaints) > 0) {
        g_autofree char *text = complaints_to_string (complaints, 50);

        fail_msg ("%s does not load:\n%s", one->path, text);
    }
    assert_int_equal (library->units->len, 1);
    assert_int_equal (library->wants->len, 1);
    assert_int_equal (library->shops->len, 1);
    assert_int_equal (library->routes->len, 1);
    return library;
}

/* "sound", "step 3, rule from" or "end, rule end-loaner", as the file has it. */
static char *
outcome_in_words (const Walk *walk, const GArray *steps)
{
    if (walk->sound)
        return g_strdup ("sound");
    if (walk->first_bad == steps->len)
        return g_strdup_printf ("end, rule %s", walk->rule);
    return g_strdup_printf ("step %u, rule %s", walk->first_bad + 1, walk->rule);
}

static char *
counts_in_words (const Walk *walk)
{
    return g_strdup_printf ("steps %u, insertions %u, openings %u, starts %u, minutes %.10g, attended %.10g",
                            walk->steps, walk->insertions, walk->openings, walk->starts, walk->minutes, walk->attended);
}

static void
check_outcome (const Case *one, const Walk *walk, const GArray *steps)
{
    g_autofree char *outcome = outcome_in_words (walk, steps);
    g_autofree char *counts = counts_in_words (walk);

    if (g_strcmp0 (outcome, one->expect) != 0)
        fail_msg ("%s: expected %s, walked: %s (%s)", one->path, one->expect, outcome,
                  walk->why != NULL ? walk->why : "");
    assert_int_equal (walk->walked->len, walk->sound ? steps->len : walk->first_bad);
    if (one->why != NULL && (walk->why == NULL || strstr (walk->why, one->why) == NULL))
        fail_msg ("%s: expected \"%s\" in: %s", one->path, one->why, walk->why != NULL ? walk->why : "nothing");
    if (one->counts != NULL && g_strcmp0 (counts, one->counts) != 0)
        fail_msg ("%s: expected %s, counted: %s", one->path, one->counts, counts);
}

/* Walks the case's route; adds the rule that it breaks to `seen`. */
static void
walk_case (const Case *one, GHashTable *seen)
{
    g_autoptr (Library) library = load (one);
    const WrittenRoute *route = library->routes->pdata[0];
    g_autoptr (State) start = state_from_unit (library->units->pdata[0], NULL);
    g_autoptr (Walk) walk =
        check_walk (library, library->shops->pdata[0], library->wants->pdata[0], start, route->steps);

    check_outcome (one, walk, route->steps);
    if (!walk->sound)
        g_hash_table_add (seen, (gpointer) walk->rule);
}

static void
every_route_ends_as_its_file_says (void **fixture)
{
    (void) fixture;
    g_autoptr (GPtrArray) names = file_names ();
    g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
    guint n_broken = 0, n_sound = 0;

    for (guint i = 0; i < names->len; i++) {
        g_autoptr (Case) one = case_read (names->pdata[i]);

        if (one->expect == NULL)
            continue;
        walk_case (one, seen);
        if (g_str_equal (one->expect, "sound"))
            n_sound++;
        else
            n_broken++;
    }
    /* A folder that has gone missing, or headers that are no longer read, must not look like success. */
    assert_true (n_broken >= 70);
    assert_true (n_sound >= 35);
}

/* A step in a file has its names looked up and its part held against the slot when it is read, so these can't come from
 * one; test_check.c has them. */
static gboolean
is_refused_when_read (const char *line)
{
    return g_str_has_prefix (line, "| `no-such-") || g_str_has_prefix (line, "| `slot-takes`");
}

/* Every id of docs/walk-rules.md that a file can bring about has a file here. */
static void
every_rule_has_a_route (void **fixture)
{
    (void) fixture;
    g_autoptr (GPtrArray) names = file_names ();
    g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
    g_autofree char *table = NULL;
    guint n_ids = 0;

    for (guint i = 0; i < names->len; i++) {
        g_autoptr (Case) one = case_read (names->pdata[i]);

        if (one->expect != NULL)
            walk_case (one, seen);
    }
    assert_true (g_file_get_contents ("docs/walk-rules.md", &table, NULL, NULL));
    g_auto (GStrv) lines = g_strsplit (table, "\n", -1);
    for (guint i = 0; lines[i] != NULL; i++) {
        if (!g_str_has_prefix (lines[i], "| `") || is_refused_when_read (lines[i]))
            continue;
        g_auto (GStrv) pieces = g_strsplit (lines[i], "`", 3);
        n_ids++;
        if (!g_hash_table_contains (seen, pieces[1]))
            fail_msg ("no route in " FOLDER " breaks %s", pieces[1]);
    }
    assert_true (n_ids >= 28);
    assert_int_equal (n_ids, g_hash_table_size (seen));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (every_route_ends_as_its_file_says),
        cmocka_unit_test (every_rule_has_a_route),
    };

    g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
    return cmocka_run_group_tests (tests, NULL, NULL);
}
