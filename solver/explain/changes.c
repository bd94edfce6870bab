/* SPDX-License-Identifier: MIT */
#include "explain/changes.h"

#include <string.h>

#define SAVED_MOST 16

typedef struct {
    gpointer where; /* borrowed */
    gsize size;
    guint8 bytes[SAVED_MOST];
} Saved;

typedef struct {
    gpointer data; /* owned */
    GDestroyNotify destroy;
} Made;

static void
made_free (gpointer data)
{
    Made *made = data;

    made->destroy (made->data);
    g_free (made);
}

Changes *
changes_new (void)
{
    Changes *changes = g_new0 (Changes, 1);

    changes->saved = g_array_new (FALSE, FALSE, sizeof (Saved));
    changes->made = g_ptr_array_new_with_free_func (made_free);
    return changes;
}

void
changes_save (Changes *changes, gpointer where, gsize size)
{
    Saved saved = { .where = where, .size = size };

    g_assert (size <= SAVED_MOST);
    memcpy (saved.bytes, where, size);
    g_array_append_val (changes->saved, saved);
}

void
changes_own (Changes *changes, gpointer data, GDestroyNotify destroy)
{
    Made *made = g_new (Made, 1);

    *made = (Made){ data, destroy };
    g_ptr_array_add (changes->made, made);
}

void
changes_undo (Changes *changes)
{
    for (guint i = changes->saved->len; i > 0; i--) {
        const Saved *saved = &g_array_index (changes->saved, Saved, i - 1);

        memcpy (saved->where, saved->bytes, saved->size);
    }
    g_array_set_size (changes->saved, 0);
    g_ptr_array_set_size (changes->made, 0);
}

void
changes_free (Changes *changes)
{
    changes_undo (changes);
    g_array_unref (changes->saved);
    g_ptr_array_unref (changes->made);
    g_free (changes);
}
