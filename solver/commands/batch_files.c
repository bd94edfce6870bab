/* SPDX-License-Identifier: MIT */
/* A page after the other, so that only one of them is in memory. */
#include "commands/batch_files.h"
#include "commands/output.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include <glib/gstdio.h>

#define PAGE  "batch.html"
#define TABLE "timetable.csv"
#define JSON  "batch.json"

#define PAGE_BEGINS 512 /* bytes that tell a page of ours */

static Outcome
path_is_safe (const char *option, const char *path, const char *const *read)
{
    if (!output_is_input (path, read))
        return OUTCOME_ANSWERED;
    return usage_error (command_batch.name, "another folder or file, which may be a new one",
                        "%s would write over %s, which is read", option, path);
}

Outcome
batch_files_are_safe (const Options *options, const char *const *read)
{
    static const char *const names[] = { PAGE, TABLE, JSON };
    Outcome outcome = OUTCOME_ANSWERED;

    if (options->output != NULL)
        outcome = path_is_safe ("--output", options->output, read);
    for (guint i = 0; options->folder != NULL && i < G_N_ELEMENTS (names) && outcome == OUTCOME_ANSWERED; i++) {
        g_autofree char *path = g_build_filename (options->folder, names[i], NULL);

        outcome = path_is_safe ("--folder", path, read);
    }
    return outcome;
}

static Outcome
write_one (const Options *options, const char *name, const char *text, Outcome outcome)
{
    g_autofree char *path = g_build_filename (options->folder, name, NULL);

    return output_write_file (path, text, outcome);
}

static Outcome
write_pages (const Options *options, BatchView *view)
{
    Outcome outcome = OUTCOME_ANSWERED;

    for (guint page = 0; page < batch_pages (view) && outcome == OUTCOME_ANSWERED; page++) {
        g_autofree char *text = report_batch_html (view, page);
        g_autofree char *name = page == 0 ? g_strdup (PAGE) : g_strdup_printf (BATCH_LATER_PAGES, page + 1);

        outcome = write_one (options, name, text, OUTCOME_ANSWERED);
    }
    return outcome;
}

/* ---- Pages of a bigger batch that was written here before ---- */

/* The N of "batch-N.html" as this program writes it, from 2; 0: it is called otherwise. */
static guint
page_number (const char *name)
{
    guint64 number = 0;
    g_autofree char *same = NULL;

    if (!g_str_has_prefix (name, "batch-"))
        return 0;
    number = g_ascii_strtoull (name + strlen ("batch-"), NULL, 10);
    if (number < 2 || number > G_MAXUINT)
        return 0;
    same = g_strdup_printf (BATCH_LATER_PAGES, (guint) number);
    return g_str_equal (same, name) ? (guint) number : 0;
}

/* A plain file, no link, that this program wrote as a page: what only happens to be called so is somebody else's. */
static gboolean
is_a_page_of_ours (const char *path)
{
    char begins[PAGE_BEGINS + 1] = { 0 };
    struct stat there;
    FILE *file = g_lstat (path, &there) == 0 && S_ISREG (there.st_mode) ? g_fopen (path, "re") : NULL;

    if (file == NULL)
        return FALSE;
    begins[fread (begins, 1, PAGE_BEGINS, file)] = '\0';
    fclose (file);
    return batch_page_begins_so (begins);
}

static Outcome
remove_page (const char *path, Outcome outcome)
{
    if (!is_a_page_of_ours (path) || g_unlink (path) == 0)
        return outcome;
    fprintf (stderr, "rungwise: %s is of an earlier batch and could not be removed: %s\n", path, g_strerror (errno));
    return OUTCOME_CANNOT_WRITE;
}

/* Sheets of units that this batch does not have must not be worked by. Last of all, so that a run which is killed has lost
 * nothing. */
static Outcome
remove_left_pages (const Options *options, guint pages, Outcome outcome)
{
    g_autoptr (GDir) folder = g_dir_open (options->folder, 0, NULL);
    g_autoptr (GPtrArray) left = g_ptr_array_new_with_free_func (g_free);

    for (const char *name = folder == NULL ? NULL : g_dir_read_name (folder); name != NULL; name = g_dir_read_name (folder))
        if (page_number (name) > pages)
            g_ptr_array_add (left, g_build_filename (options->folder, name, NULL));
    for (guint i = 0; i < left->len; i++)
        outcome = remove_page (left->pdata[i], outcome);
    return outcome;
}

Outcome
batch_files_write (const Options *options, BatchView *view, Outcome outcome)
{
    Outcome written = output_make_folder (options->folder);
    g_autofree char *json = NULL;

    if (written == OUTCOME_ANSWERED)
        written = write_pages (options, view);
    if (written == OUTCOME_ANSWERED)
        written = write_one (options, TABLE, report_batch_csv (view), OUTCOME_ANSWERED);
    if (written != OUTCOME_ANSWERED)
        return written;
    json = report_batch_json (view);
    written = write_one (options, JSON, json, outcome);
    return written == OUTCOME_CANNOT_WRITE ? written : remove_left_pages (options, batch_pages (view), written);
}
