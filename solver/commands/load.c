/* SPDX-License-Identifier: MIT */
/* Reading the files of a command line. */
#include "commands/load.h"
#include "commands/output.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_COMPLAINTS 50

void
loaded_clear (Loaded *loaded)
{
    library_free (loaded->library);
    shop_free (loaded->stand_in);
    complaints_free (loaded->in_rows);
    published_clear (&loaded->published);
    *loaded = (Loaded){ 0 };
}

/* Where the rules lie beside an installed program, so that an installation can be moved; else where the source has
 * them. Transfer full. */
static char *
rules_beside_program (void)
{
    g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
    g_autofree char *folder = program == NULL ? NULL : g_path_get_dirname (program);
    g_autofree char *beside =
        folder == NULL ? NULL : g_build_filename (folder, "..", "share", "rungwise", "rules", NULL);

    if (beside != NULL && g_file_test (beside, G_FILE_TEST_IS_DIR))
        return g_canonicalize_filename (beside, NULL);
    return g_strdup (RUNGWISE_RULES_DIR);
}

/* As a person in this folder would name it: what is below it without the way to it, so that a sheet reads the same on
 * every machine. Transfer full. */
static char *
seen_from_here (const char *path)
{
    g_autofree char *here = g_get_current_dir ();
    g_autofree char *below = g_str_has_suffix (here, "/") ? g_strdup (here) : g_strconcat (here, "/", NULL);

    return g_strdup (g_str_has_prefix (path, below) ? path + strlen (below) : path);
}

static gboolean
is_same_place (const char *left, const char *right)
{
    g_autofree char *left_whole = realpath (left, NULL);
    g_autofree char *right_whole = realpath (right, NULL);

    return left_whole != NULL && g_strcmp0 (left_whole, right_whole) == 0;
}

/* Transfer full. */
static char *
rules_path (const Options *options)
{
    const char *from_environment = g_getenv ("RUNGWISE_RULES");

    g_autofree char *beside = rules_beside_program ();
    const char *instead = options->rules_only;

    if (instead == NULL && from_environment != NULL && *from_environment != '\0')
        instead = from_environment;
    if (instead == NULL)
        return seen_from_here (beside);
    /* Cautions may be gone with them: that must not go by unseen. Once is enough where files are read twice. */
    static gboolean said = FALSE;
    if (!said && !is_same_place (instead, beside))
        fputs ("Not in use: the rules and cautions that come with the program.\n", stderr);
    said = TRUE;
    return g_strdup (instead);
}

Outcome
load_output_is_safe (const char *command, const Options *options, const char *const *paths)
{
    if (!output_would_replace_input (options, paths))
        return OUTCOME_ANSWERED;
    return usage_error (command, "--output with another file, which may be a new one",
                        "--output %s is one of the files that are read; the answer would take its place",
                        options->output);
}

static Outcome
load_shop (const char *command, Loaded *loaded)
{
    const GPtrArray *shops = loaded->library->shops;

    if (shops->len > 1)
        return usage_error (command, "name one shop's file", "the files hold %u shops; at most one can be used",
                            shops->len);
    if (shops->len == 0)
        loaded->stand_in = shop_new_default ();
    loaded->shop = shops->len == 0 ? loaded->stand_in : g_ptr_array_index (shops, 0);
    return OUTCOME_ANSWERED;
}

Outcome
load_complain (Complaints *complaints)
{
    g_autofree char *text = complaints_to_string (complaints, MOST_COMPLAINTS);

    fprintf (stderr, "%s%s", text, g_str_has_suffix (text, "\n") ? "" : "\n");
    return OUTCOME_BAD_INPUT;
}

/* The rules, then these. Transfer container; the rules' own path is kept in `rules`. */
static GPtrArray *
with_rules (const Options *options, const char *const *paths, char **rules)
{
    GPtrArray *all = g_ptr_array_new ();

    *rules = rules_path (options);
    g_ptr_array_add (all, *rules);
    for (; *paths != NULL; paths++)
        g_ptr_array_add (all, (gpointer) *paths);
    g_ptr_array_add (all, NULL);
    return all;
}

typedef Library *(*ReadLibrary) (const Options *options, const char *const *named, Complaints *complaints,
                                 Complaints *row_complaints);

static Library *
read_any (const Options *options, const char *const *named, Complaints *complaints, Complaints *row_complaints)
{
    (void) row_complaints;
    return library_load_seen (named, (const char *const *) options->wants, (const char *const *) options->seens,
                              complaints);
}

static Library *
read_batch (const Options *options, const char *const *named, Complaints *complaints, Complaints *row_complaints)
{
    return library_load_rows (named, (const char *const *) options->wants, (const char *const *) options->seens,
                              complaints, row_complaints);
}

static Library *
read_one_of_rows (const Options *options, const char *const *named, Complaints *complaints, Complaints *row_complaints)
{
    return library_load_one_of_rows (named, (const char *const *) options->wants, (const char *const *) options->seens,
                                     options->unit, complaints, row_complaints);
}

static Outcome
read_paths (const char *command, const Options *options, const char *const *paths, ReadLibrary read_library,
            Complaints *complaints, Complaints *row_complaints, Loaded *loaded)
{
    g_autofree char *rules = NULL;
    g_autoptr (GPtrArray) all = with_rules (options, paths, &rules);
    const char *const *named = (const char *const *) all->pdata;

    if (load_output_is_safe (command, options, named) != OUTCOME_ANSWERED)
        return OUTCOME_BAD_USAGE;
    loaded->library = read_library (options, named, complaints, row_complaints);
    return complaints_count (complaints) > 0 ? OUTCOME_BAD_INPUT : load_shop (command, loaded);
}

Outcome
load_rows (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
           Complaints *row_complaints, Loaded *loaded)
{
    return read_paths (command, options, paths, read_batch, complaints, row_complaints, loaded);
}

Outcome
load_one_of_rows (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
                  Loaded *loaded)
{
    Outcome outcome = OUTCOME_ANSWERED;

    const char *const published[] = { options->published, NULL };

    loaded->in_rows = complaints_new ();
    outcome = read_paths (command, options, paths, read_one_of_rows, complaints, loaded->in_rows, loaded);
    if (outcome != OUTCOME_ANSWERED || options->published == NULL)
        return outcome;
    outcome = load_output_is_safe (command, options, published);
    return outcome == OUTCOME_ANSWERED ? load_published (options->published, complaints, loaded) : outcome;
}

Outcome
load_all (const char *command, const Options *options, Loaded *loaded)
{
    const char *const *paths = (const char *const *) options->paths;
    g_autoptr (Complaints) complaints = complaints_new ();
    Outcome outcome = OUTCOME_ANSWERED;

    if (paths == NULL || paths[0] == NULL)
        return usage_error (command, "PATH...: files or folders of the book, the shop, the unit",
                            "no file or folder is named");
    if (options->unit != NULL || options->published != NULL)
        outcome = load_one_of_rows (command, options, paths, complaints, loaded);
    else
        outcome = read_paths (command, options, paths, read_any, complaints, NULL, loaded);
    return outcome == OUTCOME_BAD_INPUT ? load_complain (complaints) : outcome;
}
