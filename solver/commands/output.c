/* SPDX-License-Identifier: MIT */
/* Writing answers. A sheet must never be lost, and nothing else be lost to one: what lies there is replaced only whole,
 * by a rename; through a link its target is; what is not a plain file (a device, a FIFO) is written into. */
#include "commands/output.h"
#include "reports/paper.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

/* What a new file may be read and written by, before the umask. */
#define FILE_MODE       0666
#define FOLDER_MODE     0777
#define PERMISSIONS     0777
#define MOST_LINKS      40 /* of a link that leads to a link, as many as Linux follows (path_resolution(7)) */
#define MOST_FOLDERS_IN 64

gboolean
output_has_colour (const Options *options)
{
    const char *no_color = g_getenv ("NO_COLOR"); /* https://no-color.org: set and not empty */
    const char *terminal = g_getenv ("TERM");

    if (g_strcmp0 (options->colour, "always") == 0)
        return TRUE;
    if (g_strcmp0 (options->colour, "never") == 0 || options->output != NULL || g_strcmp0 (terminal, "dumb") == 0)
        return FALSE;
    return (no_color == NULL || *no_color == '\0') && isatty (STDOUT_FILENO);
}

void
output_fit_terminal (void)
{
    struct winsize size;

    if (isatty (STDOUT_FILENO) && ioctl (STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        paper_set_width (size.ws_col);
}

static Outcome
cannot_write (const char *why)
{
    fprintf (stderr, "rungwise: the answer could not be written: %s\n", why);
    return OUTCOME_CANNOT_WRITE;
}

/* Where a link leads in the end, also one to a file that is not there yet. Transfer full; NULL: links in a circle. */
static char *
follow_links (const char *path)
{
    g_autofree char *at = g_strdup (path);

    for (guint i = 0; i < MOST_LINKS; i++) {
        g_autofree char *target = g_file_read_link (at, NULL);
        g_autofree char *folder = NULL;

        if (target == NULL)
            return g_steal_pointer (&at);
        folder = g_path_get_dirname (at);
        g_free (at);
        at = g_path_is_absolute (target) ? g_strdup (target) : g_build_filename (folder, target, NULL);
    }
    return NULL;
}

static gboolean
same_file (const struct stat *left, const struct stat *right)
{
    return left->st_dev == right->st_dev && left->st_ino == right->st_ino;
}

static Outcome
write_stdout (const char *text, Outcome outcome)
{
    if (fputs (text, stdout) != EOF && fflush (stdout) == 0)
        return outcome;
    fprintf (stderr, "rungwise: the answer could not be written to standard output: %s\n", g_strerror (errno));
    return OUTCOME_CANNOT_WRITE;
}

/* Into what is there already. */
static Outcome
write_into (const char *path, const char *text, Outcome outcome)
{
    FILE *file = fopen (path, "we");
    gboolean written = FALSE;

    if (file != NULL) {
        written = fputs (text, file) != EOF;
        written = fclose (file) == 0 && written;
    }
    if (written)
        return outcome;
    g_autofree char *why = g_strdup_printf ("%s: %s", path, g_strerror (errno));
    return cannot_write (why);
}

/* Under another name beside it, and renamed, so that a half-written sheet never lies there. */
static Outcome
replace_file (const char *path, const char *text, const struct stat *there, Outcome outcome)
{
    g_autoptr (GError) error = NULL;
    mode_t mode = there == NULL ? FILE_MODE : there->st_mode & PERMISSIONS;
    mode_t mask = there == NULL ? 0 : umask (0); /* a mode that is kept has been through the umask */
    gboolean written = g_file_set_contents_full (
        path, text, -1, G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, (int) mode, &error);

    if (there != NULL)
        umask (mask);
    return written ? outcome : cannot_write (error->message);
}

Outcome
output_write_file (const char *path, const char *text, Outcome outcome)
{
    g_autofree char *target = NULL;
    struct stat there, standard_output;

    if (stat (path, &there) != 0) {
        target = follow_links (path);
        return target == NULL ? cannot_write ("its links lead in a circle")
                              : replace_file (target, text, NULL, outcome);
    }
    /* /dev/stdout, where it goes to a file: that file may be one that is added to. */
    if (fstat (STDOUT_FILENO, &standard_output) == 0 && same_file (&there, &standard_output))
        return write_stdout (text, outcome);
    if (!S_ISREG (there.st_mode))
        return write_into (path, text, outcome);
    target = realpath (path, NULL);
    return target == NULL ? cannot_write (g_strerror (errno)) : replace_file (target, text, &there, outcome);
}

Outcome
output_write (const Options *options, const char *text, Outcome outcome)
{
    return options->output == NULL ? write_stdout (text, outcome) : output_write_file (options->output, text, outcome);
}

/* Whether the file is one that is read when `path` is named: the file itself, or one of a folder's (book.h, "Reads every
 * file"). */
static gboolean
is_read_from (const struct stat *file, const char *path, guint folders_in)
{
    struct stat there;
    g_autoptr (GDir) folder = NULL;

    if (stat (path, &there) != 0)
        return FALSE;
    if (!S_ISDIR (there.st_mode))
        return same_file (file, &there);
    folder = folders_in > MOST_FOLDERS_IN ? NULL : g_dir_open (path, 0, NULL);
    for (const char *name = folder == NULL ? NULL : g_dir_read_name (folder); name != NULL;
         name = g_dir_read_name (folder)) {
        g_autofree char *inside = g_build_filename (path, name, NULL);
        gboolean may_be_read = g_str_has_suffix (name, ".yaml") || g_str_has_suffix (name, ".yml") ||
                               g_file_test (inside, G_FILE_TEST_IS_DIR);

        if (*name != '.' && may_be_read && is_read_from (file, inside, folders_in + 1))
            return TRUE;
    }
    return FALSE;
}

gboolean
output_is_input (const char *file, const char *const *paths)
{
    struct stat there;

    if (stat (file, &there) != 0 || !S_ISREG (there.st_mode))
        return FALSE;
    for (const char *const *path = paths; *path != NULL; path++)
        if (is_read_from (&there, *path, 0))
            return TRUE;
    return FALSE;
}

gboolean
output_would_replace_input (const Options *options, const char *const *paths)
{
    return options->output != NULL && output_is_input (options->output, paths);
}

Outcome
output_make_folder (const char *folder)
{
    g_autofree char *why = NULL;

    if (g_mkdir_with_parents (folder, FOLDER_MODE) == 0)
        return OUTCOME_ANSWERED;
    why = g_strdup_printf ("%s: %s", folder, g_strerror (errno));
    return cannot_write (why);
}
