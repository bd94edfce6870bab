/* SPDX-License-Identifier: MIT */
/* A page after the other, so that only one of them is in memory. */
#include "commands/batch_files.h"
#include "commands/output.h"

#define PAGE  "batch.html"
#define TABLE "timetable.csv"
#define JSON  "batch.json"

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
    return write_one (options, JSON, json, outcome);
}
