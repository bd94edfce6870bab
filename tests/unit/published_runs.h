/* SPDX-License-Identifier: MIT */
/* The program run from outside, in a folder of one test: a batch that is published, records by its sheets, and what comes next. The
 * units are those of tests/cases/batch-small.case, worked by hand there. */
#ifndef RUNGWISE_PUBLISHED_RUNS_H
#define RUNGWISE_PUBLISHED_RUNS_H

#include "batch_units.h"

#include <glib/gstdio.h>
#include <jansson.h>

#define BOOK       "data/larkfield/book"
#define SHOP       "data/larkfield/batch/shop-batch.yaml"
#define ORDER      "data/larkfield/batch/order.yaml"
#define TABLE      "tests/cases/files/batch-units.csv"
#define BAD_INPUT  30
#define BAD_USAGE  31
#define SOME_ASIDE 15

static char *folder; /* of one test */

static inline int
set_up (void **state)
{
    (void) state;
    folder = g_dir_make_tmp ("published-XXXXXX", NULL);
    return folder == NULL;
}

static inline int
tear_down (void **state)
{
    const char *clear[] = { "rm", "-r", folder, NULL };

    (void) state;
    assert_true (g_spawn_sync (NULL, (char **) clear, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
    g_free (folder);
    return 0;
}

/* Arguments, parted by blanks; %s stands for the test's folder, + for a blank in an argument. Returns the exit status; `said`: what
 * was printed, complaints behind. */
static inline int
run (const char *arguments, char **said)
{
    g_auto (GStrv) pieces = g_strsplit (arguments, "%s", -1);
    g_autofree char *whole = g_strjoinv (folder, pieces);
    g_autofree char *line = g_strdup_printf ("%s %s", RUNGWISE_BINARY, whole);
    g_auto (GStrv) words = g_strsplit (line, " ", -1);
    g_autofree char *output = NULL, *complaints = NULL;
    g_autoptr (GError) error = NULL;
    int status = 0;

    for (char **word = words; *word != NULL; word++)
        g_strdelimit (*word, "+", ' ');
    assert_true (g_spawn_sync (NULL, words, NULL, G_SPAWN_DEFAULT, NULL, NULL, &output, &complaints, &status, NULL));
    *said = g_strconcat (output, complaints, NULL);
    return g_spawn_check_wait_status (status, &error) ? 0 : error->code;
}

static inline void
expect (const char *arguments, int status, const char *text)
{
    g_autofree char *said = NULL;
    int ended = run (arguments, &said);

    if (ended != status || strstr (said, text) == NULL)
        fail_msg ("%s\nexit status %d, expected %d and: %s\n%s", arguments, ended, status, text, said);
    if (strstr (said, "/.") != NULL && strstr (said, "/../") == NULL)
        fail_msg ("%s tells of the draft:\n%s", arguments, said);
}

static inline char *
path_of (const char *name)
{
    return g_build_filename (folder, name, NULL);
}

static inline void
put (const char *name, const char *text)
{
    g_autofree char *path = path_of (name);

    assert_true (g_file_set_contents (path, text, -1, NULL));
}

static inline char *
contents (const char *path)
{
    char *text = NULL;

    return g_file_get_contents (path, &text, NULL, NULL) ? text : g_strdup ("(none)");
}

/* A file of the folder, with one thing in place of another. */
static inline void
put_altered (const char *name, const char *from, const char *what, const char *instead)
{
    g_autofree char *text = contents (from);
    g_autoptr (GString) altered = g_string_new (text);

    assert_true (g_string_replace (altered, what, instead, 1) == 1);
    put (name, altered->str);
}

/* ---- What a batch that is planned on says ---- */

static inline json_t *
read_json (const char *name)
{
    g_autofree char *path = path_of (name);
    json_t *document = json_load_file (path, 0, NULL);

    assert_non_null (document);
    return document;
}

static inline const json_t *
unit_in (const json_t *document, const char *id)
{
    const json_t *units = json_object_get (document, "units");

    for (size_t i = 0; i < json_array_size (units); i++)
        if (g_str_equal (json_string_value (json_object_get (json_array_get (units, i), "unit")), id))
            return json_array_get (units, i);
    fail_msg ("%s is not in it", id);
    return NULL;
}

static inline guint
tasks_done (const json_t *unit)
{
    const json_t *tasks = json_object_get (unit, "tasks");
    guint done = 0;

    for (size_t i = 0; i < json_array_size (tasks); i++)
        done += json_is_true (json_object_get (json_array_get (tasks, i), "done")) ? 1 : 0;
    return done;
}

#define SMALL   BOOK " " SHOP " " ORDER " " TABLE
#define SHEET   " --initials mk --published %s/wall/batch.json " SMALL
#define PUBLISH "batch --folder %s/wall " SMALL

#endif
