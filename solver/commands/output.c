/* SPDX-License-Identifier: MIT */
/* Writing answers. */
#include "commands/output.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* What a new file may be read and written by, before the umask. */
#define FILE_MODE 0666

gboolean
output_has_colour (const Options *options)
{
    const char *no_color = g_getenv ("NO_COLOR"); /* https://no-color.org: set and not empty */

    if (g_strcmp0 (options->colour, "always") == 0)
        return TRUE;
    if (g_strcmp0 (options->colour, "never") == 0 || options->output != NULL)
        return FALSE;
    return (no_color == NULL || *no_color == '\0') && isatty (STDOUT_FILENO);
}

static Outcome
write_file (const char *path, const char *text, Outcome outcome)
{
    g_autoptr (GError) error = NULL;

    /* Written under another name beside it and renamed, so that a half-written sheet never lies there. */
    if (g_file_set_contents_full (path, text, -1, G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE,
                                  FILE_MODE, &error))
        return outcome;
    fprintf (stderr, "rungwise: the answer could not be written: %s\n", error->message);
    return OUTCOME_CANNOT_WRITE;
}

Outcome
output_write (const Options *options, const char *text, Outcome outcome)
{
    if (options->output != NULL)
        return write_file (options->output, text, outcome);
    if (fputs (text, stdout) != EOF && fflush (stdout) == 0)
        return outcome;
    fprintf (stderr, "rungwise: the answer could not be written to standard output: %s\n", g_strerror (errno));
    return OUTCOME_CANNOT_WRITE;
}
