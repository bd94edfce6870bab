/* SPDX-License-Identifier: MIT */
/* Known pulled parts, found by lot and number, or by the unit whose they are: there may be as many of them as units. */
#include "batch/plan.h"

struct GiftIndex {
    GHashTable *by_number; /* Key, owned -> 1 + index of the first such gift; owned */
    GHashTable *by_unit;   /* unit -> GArray of guint: its gifts, in their order; owned */
};

typedef struct {
    Lot lot;
    guint number;
} Key;

static guint
key_hash (gconstpointer data)
{
    const Key *key = data;

    return g_direct_hash (key->lot.part) * 31 + key->number;
}

static gboolean
key_equal (gconstpointer a, gconstpointer b)
{
    const Key *left = a, *right = b;

    return left->number == right->number && lot_is_like (&left->lot, &right->lot);
}

GiftIndex *
gift_index_new (void)
{
    GiftIndex *index = g_new0 (GiftIndex, 1);

    index->by_number = g_hash_table_new_full (key_hash, key_equal, g_free, NULL);
    index->by_unit = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_array_unref);
    return index;
}

void
gift_index_free (GiftIndex *index)
{
    g_hash_table_unref (index->by_number);
    g_hash_table_unref (index->by_unit);
    g_free (index);
}

void
gift_add (Planning *planning, const KnownGift *gift)
{
    GiftIndex *index = planning->gift_index;
    const Key key = { gift->lot, gift->number };
    guint at = planning->gifts->len;
    GArray *of_unit = g_hash_table_lookup (index->by_unit, GUINT_TO_POINTER (gift->unit));

    if (!g_hash_table_contains (index->by_number, &key))
        g_hash_table_insert (index->by_number, g_memdup2 (&key, sizeof key), GUINT_TO_POINTER (at + 1));
    if (of_unit == NULL) {
        of_unit = g_array_new (FALSE, FALSE, sizeof (guint));
        g_hash_table_insert (index->by_unit, GUINT_TO_POINTER (gift->unit), of_unit);
    }
    g_array_append_val (of_unit, at);
    g_array_append_vals (planning->gifts, gift, 1);
}

KnownGift *
gift_find (const Planning *planning, const Lot *lot, guint number)
{
    const Key key = { *lot, number };
    guint at = GPOINTER_TO_UINT (g_hash_table_lookup (planning->gift_index->by_number, &key));

    return at > 0 ? &g_array_index (planning->gifts, KnownGift, at - 1) : NULL;
}

KnownGift *
gift_of_step (const Planning *planning, const Lot *lot, guint unit, guint step)
{
    const GArray *of_unit = g_hash_table_lookup (planning->gift_index->by_unit, GUINT_TO_POINTER (unit));

    for (guint i = 0; of_unit != NULL && i < of_unit->len; i++) {
        KnownGift *gift = &g_array_index (planning->gifts, KnownGift, g_array_index (of_unit, guint, i));

        if (gift->step == step && lot_is_like (&gift->lot, lot))
            return gift;
    }
    return NULL;
}
