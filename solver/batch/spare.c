/* SPDX-License-Identifier: MIT */
/* Which classes need more modes than their best: those that want what is scarce in this batch, or whose work hardly fits a shift. */
#include "batch/plan.h"

/* What the shop has of each pool, against what all units of all classes would take by those of their modes that take the most. */
typedef struct {
    Planning *planning;
    guint64 *wanted; /* owned; per pool */
    gint64
        stretch; /* the shortest time between two of the shop's breaks, in tenths of a minute; G_MAXINT64: it works at any time */
} Scarcity;

static guint
amount_of (const GArray *draws, guint pool)
{
    for (guint i = 0; i < draws->len; i++)
        if (g_array_index (draws, Draw, i).pool == pool)
            return g_array_index (draws, Draw, i).amount;
    return 0;
}

static void
count_wanted (Scarcity *scarcity)
{
    const Planning *planning = scarcity->planning;

    g_free (scarcity->wanted);
    scarcity->wanted = g_new0 (guint64, planning->pools->len + 1);
    for (guint p = 0; p < planning->pools->len; p++)
        for (guint c = 0; c < planning->batch->classes->len; c++) {
            const BatchClass *class = planning_class (planning, c);
            guint most = 0;

            for (guint m = 0; m < class->modes->len; m++) {
                const ModeDraws *draws = planning_draws (planning, c, m);
                most = MAX (most, MAX (amount_of (draws->stock, p), amount_of (draws->lent, p)));
            }
            scarcity->wanted[p] += (guint64) most * class->units;
        }
}

/* A loaner that two units want is scarce too, however often it is given back: one of them waits. */
static gboolean
wants_what_is_scarce (const Scarcity *scarcity, guint class)
{
    const ModeDraws *draws = planning_draws (scarcity->planning, class, 0);

    for (guint p = 0; p < scarcity->planning->pools->len; p++)
        if ((amount_of (draws->stock, p) > 0 || amount_of (draws->lent, p) > 0) &&
            scarcity->wanted[p] > g_array_index (scarcity->planning->pools, Pool, p).lot.count)
            return TRUE;
    return FALSE;
}

static gboolean
hardly_fits (const Scarcity *scarcity, const BatchMode *mode)
{
    g_autoptr (GArray) times = mode_times (mode, scarcity->planning->shop);

    for (guint i = 0; i < times->len; i++)
        if (g_array_index (times, StepTime, i).duration > scarcity->stretch)
            return TRUE;
    return FALSE;
}

/* More modes may want what was not scarce before, so it goes on until no class is added. */
void
classes_spare (Planning *planning)
{
    Scarcity scarcity = { planning, NULL, 0 };
    gint64 longest = 0;
    guint n_classes = planning->batch->classes->len;
    g_autofree gboolean *asked = g_new0 (gboolean, n_classes + 1);
    gboolean added = TRUE;

    calendar_stretches (planning->question->shop, &planning->question->clock, &scarcity.stretch, &longest);
    while (added) {
        added = FALSE;
        shelf_count (planning);
        count_wanted (&scarcity);
        for (guint c = 0; c < n_classes; c++) {
            const BatchClass *class = planning_class (planning, c);

            if (asked[c] || class->modes->len == 0 ||
                !(wants_what_is_scarce (&scarcity, c) || hardly_fits (&scarcity, class_mode (class, 0))))
                continue;
            asked[c] = added = TRUE;
            class_find_alternatives (planning, c);
        }
    }
    g_free (scarcity.wanted);
}
