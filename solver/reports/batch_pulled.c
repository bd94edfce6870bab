/* SPDX-License-Identifier: MIT */
/* What is pulled from the units of a batch. */
#include "reports/batch_sheet.h"

/* Parts by the unit that they were pulled from. Transfer container (key: index of the unit; value: GPtrArray of BatchPart*). */
static GHashTable *
parts_by_unit (const BatchView *view)
{
    GHashTable *by_unit = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_ptr_array_unref);

    for (guint i = 0; i < view->batch->parts->len; i++) {
        const BatchPart *part = view->batch->parts->pdata[i];
        GPtrArray *list = part->from_unit < 0 ? NULL : g_hash_table_lookup (by_unit, GINT_TO_POINTER (part->from_unit));

        if (part->from_unit < 0)
            continue;
        if (list == NULL) {
            list = g_ptr_array_new ();
            g_hash_table_insert (by_unit, GINT_TO_POINTER (part->from_unit), list);
        }
        g_ptr_array_add (list, (gpointer) part);
    }
    return by_unit;
}

/* The first that is like it, which is then used up. */
static const BatchPart *
take_like (GPtrArray *list, const Held *held)
{
    for (guint i = 0; list != NULL && i < list->len; i++) {
        const BatchPart *part = list->pdata[i];

        if (part->part == held->part && part->stepping == held->stepping) {
            g_ptr_array_remove_index (list, i);
            return part;
        }
    }
    return NULL;
}

static void
add_pulled (const BatchView *view, guint index, GHashTable *by_unit, GArray *all)
{
    const BatchUnit *unit = view_unit (view, index);
    const BatchWay *way = view_way (view, unit);
    GPtrArray *lent = g_hash_table_lookup (by_unit, GUINT_TO_POINTER (index));

    for (guint i = 0; i < way->mode->pulled->len; i++) {
        guint step = g_array_index (way->mode->pulled, guint, i);
        PulledPart one = { index, step, take_like (lent, &g_array_index (way->moved, Held, step)) };

        g_array_append_val (all, one);
    }
}

GArray *
batch_pulled (const BatchView *view)
{
    g_autoptr (GHashTable) by_unit = parts_by_unit (view);
    GArray *all = g_array_new (FALSE, FALSE, sizeof (PulledPart));

    for (guint i = 0; i < view->order->len; i++)
        add_pulled (view, g_array_index (view->order, guint, i), by_unit, all);
    return all;
}
