/* SPDX-License-Identifier: MIT */
/* Reading the files of a command line. */
#include "commands/load.h"
#include "commands/output.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_COMPLAINTS 50
#define MOST_NAMES      5 /* of several units, how many an error names */

void
loaded_clear (Loaded *loaded)
{
    library_free (loaded->library);
    shop_free (loaded->stand_in);
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

/* `row_complaints` NULL: as one unit's files are read. */
static Outcome
read_paths (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
            Complaints *row_complaints, Loaded *loaded)
{
    const char *const *wants = (const char *const *) options->wants, *const *seens = (const char *const *) options->seens;
    g_autofree char *rules = NULL;
    g_autoptr (GPtrArray) all = with_rules (options, paths, &rules);
    const char *const *named = (const char *const *) all->pdata;

    if (load_output_is_safe (command, options, named) != OUTCOME_ANSWERED)
        return OUTCOME_BAD_USAGE;
    loaded->library = row_complaints == NULL
                          ? library_load_seen (named, wants, seens, complaints)
                          : library_load_rows (named, wants, seens, complaints, row_complaints);
    return complaints_count (complaints) > 0 ? OUTCOME_BAD_INPUT : load_shop (command, loaded);
}

Outcome
load_paths (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
            Loaded *loaded)
{
    return read_paths (command, options, paths, complaints, NULL, loaded);
}

Outcome
load_rows (const char *command, const Options *options, const char *const *paths, Complaints *complaints,
           Complaints *row_complaints, Loaded *loaded)
{
    return read_paths (command, options, paths, complaints, row_complaints, loaded);
}

Outcome
load_all (const char *command, const Options *options, Loaded *loaded)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    Outcome outcome = OUTCOME_ANSWERED;

    if (options->paths == NULL || options->paths[0] == NULL)
        return usage_error (command, "PATH...: files or folders of the book, the shop, the unit",
                            "no file or folder is named");
    outcome = load_paths (command, options, (const char *const *) options->paths, complaints, loaded);
    return outcome == OUTCOME_BAD_INPUT ? load_complain (complaints) : outcome;
}

Unit *
load_one_unit (const char *command, const Loaded *loaded)
{
    const GPtrArray *units = loaded->library->units;
    g_autoptr (GString) names = g_string_new (NULL);

    if (units->len == 1)
        return g_ptr_array_index (units, 0);
    if (units->len == 0) {
        usage_error (command, "name the file of one unit (docs/files.md, \"Unit\")", "the files hold no unit");
        return NULL;
    }
    for (guint i = 0; i < units->len && i < MOST_NAMES; i++)
        g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", ((const Unit *) g_ptr_array_index (units, i))->id);
    usage_error (command, "name the file of one unit", "the files hold %u units (%s%s); one is needed", units->len,
                 names->str, units->len > MOST_NAMES ? ", ..." : "");
    return NULL;
}
