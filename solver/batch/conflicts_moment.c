/* SPDX-License-Identifier: MIT */
/* The first moment at which more is held than there is, and the ways out of it. */
#include "batch/conflicts.h"

static gint64
begin_of (const HeldUse *use, const gint64 *start)
{
    return start[use->first] + use->lead;
}

static gint64
end_of (const HeldUse *use, const gint64 *start)
{
    return start[use->last] + use->back;
}

static gint64
there_is (const Conflicts *all, guint resource, const gint64 *start, gint64 at)
{
    gint64 there = all->flat->capacity[resource];
    for (guint i = 0; i < all->gains->len; i++) {
        const HeldUse *gain = &g_array_index (all->gains, HeldUse, i);
        there += gain->resource == resource && end_of (gain, start) <= at ? gain->amount : 0;
    }
    return there;
}

/* Fills in which uses of the resource go on at the moment; returns how much they hold. */
static gint64
held_at (const Conflicts *all, guint resource, const gint64 *start, gint64 at, GArray *uses)
{
    gint64 sum = 0;
    g_array_set_size (uses, 0);
    for (guint i = 0; i < all->held->len; i++) {
        const HeldUse *use = &g_array_index (all->held, HeldUse, i);
        if (use->resource != resource || begin_of (use, start) > at || end_of (use, start) <= at)
            continue;
        g_array_append_val (uses, i);
        sum += use->amount;
    }
    return sum;
}

/* As few as are too many: any that the rest is too many without goes. */
static void
drop_needless (const Conflicts *all, GArray *uses, gint64 sum, gint64 there)
{
    for (guint i = uses->len; i-- > 0;) {
        gint64 amount = g_array_index (all->held, HeldUse, g_array_index (uses, guint, i)).amount;
        if (sum - amount <= there)
            continue;
        sum -= amount;
        g_array_remove_index (uses, i);
    }
}

gboolean
conflicts_find (const Conflicts *all, const gint64 *start, GArray *uses, gint64 *moment)
{
    guint resource = G_MAXUINT;
    *moment = NEVER;
    for (guint i = 0; i < all->held->len; i++) {
        const HeldUse *use = &g_array_index (all->held, HeldUse, i);
        gint64 at = begin_of (use, start);
        if (at >= *moment || end_of (use, start) <= at ||
            held_at (all, use->resource, start, at, uses) <= there_is (all, use->resource, start, at))
            continue;
        *moment = at;
        resource = use->resource;
    }
    if (resource == G_MAXUINT)
        return FALSE;
    gint64 sum = held_at (all, resource, start, *moment, uses);
    drop_needless (all, uses, sum, there_is (all, resource, start, *moment));
    return TRUE;
}

/* What is given back (or gained) after the beginning of one task is there when the use begins. */
static void
add_way (GArray *ways, const HeldUse *gives, const HeldUse *takes, const gint64 *start)
{
    gint64 weight = gives->back - takes->lead;
    Way way = { { gives->last, takes->first, weight },
                { takes->first, gives->last, 1 - weight },
                end_of (gives, start) - begin_of (takes, start) };
    g_array_append_val (ways, way);
}

static int
compare_ways (gconstpointer a, gconstpointer b)
{
    const Way *left = a, *right = b;
    return (left->push > right->push) - (left->push < right->push);
}

GArray *
conflicts_ways_out (const Conflicts *all, const gint64 *start, const GArray *uses, gint64 moment)
{
    GArray *ways = g_array_new (FALSE, FALSE, sizeof (Way));
    for (guint k = 0; k < uses->len; k++) {
        const HeldUse *takes = &g_array_index (all->held, HeldUse, g_array_index (uses, guint, k));
        for (guint i = 0; i < uses->len; i++) {
            if (i != k)
                add_way (ways, &g_array_index (all->held, HeldUse, g_array_index (uses, guint, i)), takes, start);
        }
        for (guint i = 0; i < all->gains->len; i++) {
            const HeldUse *gain = &g_array_index (all->gains, HeldUse, i);
            if (gain->resource == takes->resource && end_of (gain, start) > moment)
                add_way (ways, gain, takes, start);
        }
    }
    g_array_sort (ways, compare_ways);
    return ways;
}
