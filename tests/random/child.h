/* SPDX-License-Identifier: MIT */
/* Work in a child process, so that a crash, a leak or an endless search of it is told from here. */
#ifndef RANDOM_CHILD_H
#define RANDOM_CHILD_H

#include <glib.h>

/* Writes what it has to say to the file descriptor `out`. */
typedef void (*ChildWork) (gconstpointer data, int out);

/* Runs `work` in a child process and takes what it writes, up to `size` bytes. The status it ended with; `*got`: bytes. */
int in_child (ChildWork work, gconstpointer data, gpointer into, gsize size, gsize *got);

#endif
