/* SPDX-License-Identifier: MIT */
/* Groups of units that are set aside. */
#include "reports/batch_aside.h"

static void
group_free (gpointer data)
{
    AsideGroup *group = data;

    g_ptr_array_unref (group->units);
    g_free (group);
}

/* By class too: what a sentence says of one class may be another thing in another. */
static AsideGroup *
group_of (GPtrArray *groups, GHashTable *known, const BatchUnit *unit)
{
    g_autofree char *key = g_strdup_printf ("%u %s", unit->class, unit->why);
    AsideGroup *group = g_hash_table_lookup (known, key);

    if (group != NULL)
        return group;
    group = g_new0 (AsideGroup, 1);
    *group = (AsideGroup){ unit->why, unit->aside, unit->class, g_ptr_array_new () };
    g_ptr_array_add (groups, group);
    g_hash_table_insert (known, g_steal_pointer (&key), group);
    return group;
}

GPtrArray *
batch_aside_groups (const BatchView *view)
{
    GPtrArray *groups = g_ptr_array_new_with_free_func (group_free);
    g_autoptr (GHashTable) known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

    for (guint i = 0; i < view->batch->units->len; i++) {
        const BatchUnit *unit = view_unit (view, i);

        if (unit->aside != ASIDE_NOT)
            g_ptr_array_add (group_of (groups, known, unit)->units, (gpointer) unit->unit->id);
    }
    return groups;
}

GArray *
batch_missing (const BatchView *view)
{
    GArray *all = g_array_new (FALSE, FALSE, sizeof (Missing));

    for (guint c = 0; c < view->batch->classes->len; c++) {
        const BatchClass *class = view->batch->classes->pdata[c];
        Missing fresh = { NULL, class->units };
        guint i = 0;

        if (class->none == NULL || class->none->additions->len == 0)
            continue;
        fresh.says = ((const Addition *) class->none->additions->pdata[0])->says;
        while (i < all->len && !g_str_equal (g_array_index (all, Missing, i).says, fresh.says))
            i++;
        if (i < all->len)
            g_array_index (all, Missing, i).units += class->units;
        else
            g_array_append_val (all, fresh);
    }
    return all;
}

char *
batch_some_ids (const GPtrArray *ids, guint most)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
    guint named = ids->len <= most ? ids->len : most - 1;

    for (guint i = 0; i < named; i++)
        g_ptr_array_add (words, g_strdup (ids->pdata[i]));
    if (named < ids->len)
        g_ptr_array_add (words, g_strdup_printf ("%u more", ids->len - named));
    return text_join (words, "and");
}
