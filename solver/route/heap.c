/* SPDX-License-Identifier: MIT */
#include "route/heap.h"

static gboolean
goes_before (const HeapEntry *left, const HeapEntry *right)
{
    return left->key != right->key     ? left->key < right->key
           : left->then != right->then ? left->then < right->then
                                       : left->order > right->order;
}

void
heap_init (Heap *heap)
{
    heap->entries = g_array_new (FALSE, FALSE, sizeof (HeapEntry));
    heap->pushes = 0;
}

void
heap_clear (Heap *heap)
{
    g_array_unref (heap->entries);
    heap->entries = NULL;
}

void
heap_push (Heap *heap, guint64 key, guint32 node)
{
    heap_push_pair (heap, key, 0, node);
}

void
heap_push_pair (Heap *heap, guint64 key, guint64 then, guint32 node)
{
    HeapEntry entry = { key, then, heap->pushes++, node };
    g_array_append_val (heap->entries, entry);
    HeapEntry *all = (HeapEntry *) (void *) heap->entries->data;
    guint at = heap->entries->len - 1;
    for (; at > 0 && goes_before (&entry, &all[(at - 1) / 2]); at = (at - 1) / 2)
        all[at] = all[(at - 1) / 2];
    all[at] = entry;
}

HeapEntry
heap_pop (Heap *heap)
{
    g_assert (heap->entries->len > 0);
    HeapEntry *all = (HeapEntry *) (void *) heap->entries->data;
    HeapEntry least = all[0], last = all[heap->entries->len - 1];
    g_array_set_size (heap->entries, heap->entries->len - 1);
    guint size = heap->entries->len, at = 0;
    for (guint child = 1; child < size; child = 2 * at + 1) {
        if (child + 1 < size && goes_before (&all[child + 1], &all[child]))
            child++;
        if (!goes_before (&all[child], &last))
            break;
        all[at] = all[child];
        at = child;
    }
    if (size > 0)
        all[at] = last;
    return least;
}
