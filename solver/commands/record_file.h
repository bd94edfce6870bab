/* SPDX-License-Identifier: MIT */
/* Record file: a file that is only ever replaced whole, by one program at a time.
 *
 * Owns:   the lock (flock(2) on the folder, so that no lock file is left lying about), the draft beside the file.
 * Promise: whatever goes wrong, the file is what it was before or what it was to become, and never anything between. */
#ifndef RUNGWISE_RECORD_FILE_H
#define RUNGWISE_RECORD_FILE_H

#include <glib.h>
#include <sys/stat.h>

typedef struct {
    char *target; /* owned; the file itself, links followed */
    int folder;   /* open and locked; -1: not */
    gboolean is_there;
    struct stat there; /* with is_there */
    char *text;        /* owned; NULL without is_there */
    gsize length;      /* bytes */
    char *draft;       /* owned; path of the text that is to take its place; NULL: none */
} RecordFile;

#define RECORD_FILE_INIT                                                                                               \
    {                                                                                                                  \
        .folder = -1                                                                                                   \
    }

/* Locks the folder, waiting for others, and reads the file if it is there. FALSE with an error. */
gboolean record_file_open (RecordFile *file, const char *path, GError **error);
/* Writes what is to take its place beside it, under a name that no folder is read for, all the way to the disk. */
gboolean record_file_draft (RecordFile *file, const char *text, gsize length, GError **error);
/* The draft takes the place of the file. FALSE with an error, also when the file has changed since it was read. */
gboolean record_file_replace (RecordFile *file, GError **error);
/* Removes a draft that is left, and unlocks. */
void record_file_clear (RecordFile *file);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (RecordFile, record_file_clear)

#endif
