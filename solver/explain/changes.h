/* SPDX-License-Identifier: MIT */
/* Changes: places that were written over for a while, to be put back as they were. */
#ifndef RUNGWISE_EXPLAIN_CHANGES_H
#define RUNGWISE_EXPLAIN_CHANGES_H

#include <glib.h>

typedef struct {
    GArray *saved;   /* Saved; owned */
    GPtrArray *made; /* Made*; owned: what is needed only while the changes last */
} Changes;

Changes *changes_new (void);
/* Before `size` bytes (at most 16) at `where` are written over. */
void changes_save (Changes *changes, gpointer where, gsize size);
/* `data` is freed when the changes are undone. */
void changes_own (Changes *changes, gpointer data, GDestroyNotify destroy);
/* Puts everything back, last change first. */
void changes_undo (Changes *changes);
/* Undoes what was not undone. */
void changes_free (Changes *changes);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Changes, changes_free)

#endif
