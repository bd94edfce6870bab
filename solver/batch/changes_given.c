/* SPDX-License-Identifier: MIT */
/* What units give to each pool, in order of time, so that each moment that is asked about costs no pass over all units. */
#include "batch/changes_given.h"

typedef struct {
    guint before; /* at any moment */
    GArray *ends; /* gint64: when each of the others becomes free, in order; owned */
} OfPool;

struct PoolsGiven {
    OfPool *pools; /* owned */
    guint n_pools;
};

static int
compare_ends (gconstpointer a, gconstpointer b)
{
    const gint64 *left = a, *right = b;

    return (*left > *right) - (*left < *right);
}

static void
add_unit (PoolsGiven *given, const Planning *planning, guint index)
{
    const BatchUnit *unit = planning_unit (planning, index);
    const ModeDraws *draws = unit->aside == ASIDE_NOT ? planning_draws (planning, unit->class, unit->mode) : NULL;

    for (guint k = 0; draws != NULL && k < draws->gives->len; k++) {
        const Give *give = &g_array_index (draws->gives, Give, k);

        if (g_array_index (planning->pools, Pool, give->pool).give > 0)
            g_array_append_val (given->pools[give->pool].ends,
                                g_array_index (unit->tasks, BatchTask, give->step).ends);
    }
}

PoolsGiven *
pools_given_new (const Planning *planning)
{
    PoolsGiven *given = g_new0 (PoolsGiven, 1);

    given->n_pools = planning->pools->len;
    given->pools = g_new0 (OfPool, given->n_pools + 1);
    for (guint p = 0; p < given->n_pools; p++) {
        int own = (int) g_array_index (planning->pools, Pool, p).lot.count;

        given->pools[p].before = (guint) MAX (own + gifts_beyond_modes (planning, p), 0);
        given->pools[p].ends = g_array_new (FALSE, FALSE, sizeof (gint64));
    }
    for (guint i = 0; i < planning_units (planning); i++)
        add_unit (given, planning, i);
    for (guint p = 0; p < given->n_pools; p++)
        g_array_sort (given->pools[p].ends, compare_ends);
    return given;
}

void
pools_given_free (PoolsGiven *given)
{
    for (guint p = 0; p < given->n_pools; p++)
        g_array_unref (given->pools[p].ends);
    g_free (given->pools);
    g_free (given);
}

guint
pools_given_at (const PoolsGiven *given, guint pool, gint64 moment)
{
    const GArray *ends = given->pools[pool].ends;
    guint low = 0, high = ends->len;

    while (low < high) {
        guint middle = (low + high) / 2;

        if (g_array_index (ends, gint64, middle) <= moment)
            low = middle + 1;
        else
            high = middle;
    }
    return given->pools[pool].before + low;
}
