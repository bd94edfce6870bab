/* SPDX-License-Identifier: MIT */
/* Pages of docs/ that repeat what tables in the code say, held against them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <string.h>

#include <glib.h>
#include <jansson.h>

#define NO_ROUTE   11 /* docs/commands.md, "Exit statuses" */
#define SOME_ASIDE 15

static char *
output_of (const char *arguments)
{
    g_autofree char *line = g_strdup_printf ("%s %s", RUNGWISE_BINARY, arguments);
    char *output = NULL;
    int status = 0;

    assert_true (g_spawn_command_line_sync (line, &output, NULL, &status, NULL));
    assert_int_equal (status, 0);
    return output;
}

static char *
page (const char *path)
{
    char *text = NULL;

    if (!g_file_get_contents (path, &text, NULL, NULL))
        fail_msg ("%s cannot be read", path);
    return text;
}

static void
test_commands_page_is_what_help_prints (void **state)
{
    g_autofree char *printed = output_of ("help markdown");
    g_autofree char *written = page ("docs/commands.md");

    (void) state;
    if (!g_str_equal (printed, written))
        fail_msg ("docs/commands.md is not what `rungwise help markdown` prints; make it anew");
}

/* Each key of the schema is explained, as `key` in a table or a sentence. `path`: of the page. */
static void
assert_keys_are_explained (const json_t *node, const char *path, const char *explained)
{
    const char *key = NULL;
    json_t *value = NULL;
    json_t *properties = json_object_get (node, "properties");

    json_object_foreach (properties, key, value)
    {
        g_autofree char *quoted = g_strdup_printf ("`%s`", key);

        if (strstr (explained, quoted) == NULL)
            fail_msg ("%s does not explain %s", path, quoted);
    }
}

static void
assert_schema_is_explained (const char *file, const char *path)
{
    g_autofree char *explained = page (path);
    json_t *schema = json_load_file (file, JSON_REJECT_DUPLICATES, NULL);
    const char *name = NULL;
    json_t *definition = NULL;

    assert_non_null (schema);
    assert_keys_are_explained (schema, path, explained);
    json_object_foreach (json_object_get (schema, "$defs"), name, definition)
        assert_keys_are_explained (definition, path, explained);
    json_decref (schema);
}

static void
test_schema_keys_are_explained (void **state)
{
    (void) state;
    assert_schema_is_explained ("docs/schemas/printed-route.schema.json", "docs/route-json.md");
    assert_schema_is_explained ("docs/schemas/printed-explain.schema.json", "docs/explain-json.md");
    assert_schema_is_explained ("docs/schemas/printed-batch.schema.json", "docs/batch-json.md");
}

/* The examples of the page run as they stand, and answer. */
static void
test_examples_run (void **state)
{
    g_autofree char *written = page ("docs/commands.md");
    g_auto (GStrv) pieces = g_strsplit (written, "```sh\nrungwise ", -1);
    guint run = 0;

    (void) state;
    for (char **piece = pieces + 1; *piece != NULL; piece++, run++) {
        g_autofree char *arguments = g_strndup (*piece, (gsize) (strstr (*piece, "```") - *piece));
        g_autofree char *line = g_strdup_printf ("%s %s", RUNGWISE_BINARY, arguments);
        g_autofree char *answer = NULL;
        g_autofree char *complaint = NULL;
        g_autoptr (GError) error = NULL;
        const char *shell[] = { "sh", "-c", line, NULL };
        int status = 0;

        assert_true (g_spawn_sync (NULL, (char **) shell, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &answer, &complaint,
                                   &status, NULL));
        /* The pallet has units that cannot be done: it is answered all the same. */
        if (!g_spawn_check_wait_status (status, &error) && error->code != SOME_ASIDE)
            fail_msg ("%s\n%s%s", line, answer, complaint);
        assert_true (*answer != '\0');
    }
    assert_int_equal (run, 8); /* one a command */
}

/* What README.md shows is how the answer to the command before it begins, line by line. */
static void
test_readme_shows_what_is_printed (void **state)
{
    g_autofree char *written = page ("README.md");
    g_auto (GStrv) pieces = g_strsplit (written, "```sh\n.build/rungwise ", -1);
    guint shown = 0;
    /* A reader has none set; with it, places in the rules read otherwise. */
    g_auto (GStrv) environment = g_environ_unsetenv (g_get_environ (), "RUNGWISE_RULES");

    (void) state;
    for (char **piece = pieces + 1; *piece != NULL; piece++, shown++) {
        g_autofree char *arguments = g_strndup (*piece, strcspn (*piece, "\n"));
        g_autofree char *line = g_strdup_printf ("%s %s", RUNGWISE_BINARY, arguments);
        const char *sample = strstr (*piece, "```text\n");
        g_autofree char *expected = NULL;
        g_autofree char *printed = NULL;
        g_auto (GStrv) words = NULL;

        assert_non_null (sample);
        sample += strlen ("```text\n");
        expected = g_strndup (sample, (gsize) (strstr (sample, "```") - sample));
        assert_true (g_shell_parse_argv (line, NULL, &words, NULL));
        assert_true (g_spawn_sync (NULL, words, environment, G_SPAWN_DEFAULT, NULL, NULL, &printed, NULL, NULL, NULL));
        if (!g_str_has_prefix (printed, expected))
            fail_msg ("README.md shows\n%s\nbut this is printed:\n%s", expected, printed);
    }
    assert_int_equal (shown, 4);
}

/* A folder in which README.md's commands can be typed as they stand: the project's own folders, and the program. Transfer full. */
static char *
reader_folder (void)
{
    static const char script[] = "mkdir .build && ln -s \"$1/data\" data && ln -s \"$1/rules\" rules && ln -s \"$2\" .build/rungwise";
    g_autofree char *here = g_get_current_dir ();
    const char *arguments[] = { "sh", "-c", script, "sh", here, RUNGWISE_BINARY, NULL };
    char *folder = g_dir_make_tmp ("readme-XXXXXX", NULL);
    int status = 1;

    assert_true (g_spawn_sync (folder, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, NULL));
    assert_int_equal (status, 0);
    return folder;
}

/* Runs README.md's block that begins with this remark, and its last command ends so; nothing is complained about. Transfer full: what it printed. */
static char *
run_block (const char *readme, const char *folder, const char *remark, int ends)
{
    const char *begin = strstr (readme, remark);
    g_autofree char *block = begin == NULL ? NULL : g_strndup (begin, (gsize) (strstr (begin, "```") - begin));
    const char *arguments[] = { "sh", "-c", block, NULL };
    g_auto (GStrv) environment = g_environ_unsetenv (g_get_environ (), "RUNGWISE_RULES");
    g_autofree char *complaints = NULL;
    g_autoptr (GError) error = NULL;
    char *printed = NULL;
    int status = 0;

    assert_non_null (block);
    assert_true (g_spawn_sync (folder, (char **) arguments, environment, G_SPAWN_SEARCH_PATH, NULL, NULL, &printed, &complaints,
                               &status, NULL));
    assert_false (g_spawn_check_wait_status (status, &error));
    if (error->code != ends)
        fail_msg ("%s: %s\n%s", remark, error->message, complaints);
    assert_string_equal (complaints, "");
    return printed;
}

/* Its longer commands run one after the other, as a reader types them. */
static void
test_readme_commands_run (void **state)
{
    g_autofree char *readme = page ("README.md");
    g_autofree char *folder = reader_folder ();
    g_autofree char *one = run_block (readme, folder, "# the route that is worked from", NO_ROUTE); /* its loaner is gone */
    g_autofree char *pallet = run_block (readme, folder, "# the overview on standard output", SOME_ASIDE);
    g_autofree char *anew = run_block (readme, folder, "# a step that is done", SOME_ASIDE);
    const char *clear[] = { "rm", "-r", folder, NULL };

    (void) state;
    assert_non_null (strstr (one, "planned on from the record"));
    assert_non_null (strstr (pallet, "40 units in 11 situations"));
    assert_non_null (strstr (anew, "records/LK-2003.yaml: entry 1: step 1 of timetable "));
    assert_non_null (strstr (anew, "records/LK-2003.yaml: entry 2: step 2 of timetable "));
    assert_non_null (strstr (anew, "records/LK-2002.yaml: entry 1: step 1 of timetable "));
    assert_non_null (strstr (anew, "Planned anew at 2034-03-06T07:30"));
    /* Its write has failed: the board is read as it is, and no record was beyond reading. */
    assert_non_null (strstr (anew, "wren-2s r2, system failed"));
    assert_null (strstr (anew, "its record can't be gone by"));
    assert_true (g_spawn_sync (NULL, (char **) clear, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
}

/* Standard output on a full device: nothing is lost without a word. */
static void
test_full_device_is_complained_about (void **state)
{
    g_autofree char *line = g_strdup_printf ("sh -c '%s help >/dev/full'", RUNGWISE_BINARY);
    g_autofree char *complaint = NULL;
    g_autoptr (GError) error = NULL;
    int status = 0;

    (void) state;
    assert_true (g_spawn_command_line_sync (line, NULL, &complaint, &status, NULL));
    assert_false (g_spawn_check_wait_status (status, &error));
    assert_int_equal (error->code, 41);
    assert_non_null (strstr (complaint, "could not be written"));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_commands_page_is_what_help_prints),
        cmocka_unit_test (test_schema_keys_are_explained),
        cmocka_unit_test (test_examples_run),
        cmocka_unit_test (test_readme_shows_what_is_printed),
        cmocka_unit_test (test_readme_commands_run),
        cmocka_unit_test (test_full_device_is_complained_about),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
