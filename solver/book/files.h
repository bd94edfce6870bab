/* SPDX-License-Identifier: MIT */
/* Files: which files the paths of a run stand for, and their text. */
#ifndef RUNGWISE_FILES_H
#define RUNGWISE_FILES_H

#include "text/text.h"

/* Every file that `paths` (NULL-terminated) stand for, folders opened, each once, in order (GPtrArray of char*).
 * `unread` is set when something could not be looked at, which is then complained about. Transfer full. */
GPtrArray *files_list (const char *const *paths, gboolean *unread, Complaints *complaints);

/* Whether a file's name is that of a table (.csv, in any case). */
gboolean files_is_table (const char *path);

/* The text of a file. NULL after a complaint. Transfer full. */
char *files_read (const char *path, gsize *length, Complaints *complaints);

#endif
