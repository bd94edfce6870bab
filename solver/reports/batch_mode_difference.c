/* SPDX-License-Identifier: MIT */
/* In what a further route of a situation differs from its best one: whether it spares what is scarce, what it takes instead. */
#include "reports/batch_sheet.h"

static gboolean
same_lot (const Lot *left, const Lot *right)
{
    return left->owner == right->owner && left->part == right->part && left->stepping == right->stepping &&
           left->bound == right->bound;
}

static guint
count_in (const GArray *lots, const Lot *wanted)
{
    guint count = 0;

    for (guint i = 0; i < lots->len; i++)
        if (same_lot (&g_array_index (lots, Lot, i), wanted))
            count += g_array_index (lots, Lot, i).count;
    return count;
}

static guint
taken_by (const BatchMode *mode, const Lot *lot)
{
    return count_in (lot->owner == OWNER_LOAN ? mode->lent : mode->stock, lot);
}

/* As docs/batch.md, "Classes and modes", has it: all units, each by that of its modes which takes the most, want more than
 * there is. */
static gboolean
is_scarce (const BatchView *view, const Lot *lot)
{
    guint64 wanted = 0;

    for (guint c = 0; c < view->batch->classes->len; c++) {
        const BatchClass *class = view->batch->classes->pdata[c];
        guint most = 0;

        for (guint m = 0; m < class->modes->len; m++)
            most = MAX (most, taken_by (class->modes->pdata[m], lot));
        wanted += (guint64) most * class->units;
    }
    return wanted > count_in (view->report->question->shop->lots, lot);
}

/* Names of those lots of which `more` takes more than `less`; with `scarce` only of those that are. */
static char *
lots_that_differ (const BatchView *view, const BatchMode *more, const BatchMode *less, gboolean scarce)
{
    const GArray *lists[] = { more->stock, more->lent };
    g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

    for (guint l = 0; l < G_N_ELEMENTS (lists); l++)
        for (guint i = 0; i < lists[l]->len; i++) {
            const Lot *lot = &g_array_index (lists[l], Lot, i);

            if (taken_by (more, lot) > taken_by (less, lot) && (!scarce || is_scarce (view, lot)))
                g_ptr_array_add (names, batch_short_part (lot->part, lot->stepping));
        }
    return names->len == 0 ? NULL : text_join (names, "and");
}

/* Both may be scarce: then nothing is spared, one is taken for the other. */
char *
batch_mode_difference (const BatchView *view, const BatchWay *way)
{
    const BatchMode *best = way->of->modes->pdata[0];
    g_autofree char *spared = NULL, *strained = NULL, *more = NULL, *less = NULL;

    if (way->number == 0)
        return NULL;
    spared = lots_that_differ (view, best, way->mode, TRUE);
    strained = lots_that_differ (view, way->mode, best, TRUE);
    more = lots_that_differ (view, way->mode, best, FALSE);
    less = lots_that_differ (view, best, way->mode, FALSE);
    if (spared != NULL && strained == NULL)
        return g_strdup_printf (", one that spares %s%s%s", spared, more == NULL ? "" : ", with ",
                                more == NULL ? "" : more);
    if (more == NULL)
        return g_strdup_printf ("%s%s", less == NULL ? ", by another way" : ", without ", less == NULL ? "" : less);
    return g_strdup_printf (", with %s%s%s", more, less == NULL ? "" : " instead of ", less == NULL ? "" : less);
}
