/* SPDX-License-Identifier: MIT */
/* A binary heap of (key, number): least key first, then least `then`; of equals the one
 * pushed last, so that a search goes deep. */
#ifndef RUNGWISE_ROUTE_HEAP_H
#define RUNGWISE_ROUTE_HEAP_H

#include <glib.h>

typedef struct {
    guint64 key, then; /* `then` among equal keys */
    guint64 order;     /* counts pushes */
    guint32 node;
} HeapEntry;

typedef struct {
    GArray *entries; /* HeapEntry; owned */
    guint64 pushes;
} Heap;

void heap_init (Heap *heap);
void heap_clear (Heap *heap);
void heap_push (Heap *heap, guint64 key, guint32 node);
void heap_push_pair (Heap *heap, guint64 key, guint64 then, guint32 node);
/* The least entry, taken out. The heap must not be empty. */
HeapEntry heap_pop (Heap *heap);

static inline gboolean
heap_is_empty (const Heap *heap)
{
    return heap->entries->len == 0;
}

#endif
