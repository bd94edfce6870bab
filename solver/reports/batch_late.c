/* SPDX-License-Identifier: MIT */
#include "reports/batch_late.h"

#include "reports/batch_aside.h"

#define MOST_LATE 12 /* that are named */

/* ---- The cost ---- */

TimetableCost
batch_true_cost (const BatchView *view, const TimetableCost *cost)
{
    TimetableCost by_date = *cost;

    for (guint i = 0; i < view->batch->units->len; i++) {
        const BatchUnit *unit = view_unit (view, i);

        if (unit->aside == ASIDE_NOT && batch_unit_is_due (unit) && unit->due < 0)
            by_date.lateness -= unit->due * MAX (unit->unit->priority, 1);
    }
    return by_date;
}

/* ---- Words ---- */

/* The later first, then as given. */
static int
compare_late (gconstpointer left, gconstpointer right)
{
    const BatchUnit *one = *(BatchUnit *const *) left, *other = *(BatchUnit *const *) right;
    gint64 by_one = view_late (one), by_other = view_late (other);

    if (by_one != by_other)
        return by_one > by_other ? -1 : 1;
    return 0;
}

/* Transfer full (GPtrArray of BatchUnit*); `due` counts those that are due and planned. */
static GPtrArray *
late_units (const BatchView *view, guint *due)
{
    GPtrArray *late = g_ptr_array_new ();

    *due = 0;
    for (guint i = 0; i < view->batch->units->len; i++) {
        const BatchUnit *unit = view_unit (view, i);

        *due += batch_unit_is_due (unit) && unit->aside == ASIDE_NOT;
        if (view_late (unit) > 0)
            g_ptr_array_add (late, (gpointer) unit);
    }
    g_ptr_array_sort (late, compare_late); /* keeps the order of equals */
    return late;
}

/* "LK-0107 (due 2034-03-06T07:10, 9 min late)". Transfer full. */
static char *
name_late (const BatchView *view, const BatchUnit *unit)
{
    g_autofree char *when = batch_time_words (view->clock, unit->due);
    g_autofree char *by = batch_span_words (view_late (unit));

    return g_strdup_printf ("%s (due\u00a0%s, %s late)", unit->unit->id, when, by);
}

void
batch_say_late (Paper *paper, const BatchView *view)
{
    const TimetableCost bound = batch_true_cost (view, &view->batch->schedule->bound);
    guint due = 0;
    g_autoptr (GPtrArray) late = late_units (view, &due);
    g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

    if (due == 0)
        return;
    if (late->len == 0) {
        paper_say (paper, 0, 2, "Every unit that is due is done in time (%u %s).", due, due == 1 ? "is" : "are");
        return;
    }
    g_autofree char *most = batch_span_words (view_late (late->pdata[0]));
    g_autofree char *count =
        due == 1 ? g_strdup ("The one unit that is due is late")
                 : g_strdup_printf ("%u of %u due units %s late", late->len, due, late->len == 1 ? "is" : "are");
    paper_say (paper, 0, 2, MARK_BAD "%s" MARK_PLAIN ", %sby %s; %s.", count, late->len == 1 ? "" : "the latest ", most,
               bound.lateness > 0 ? "proved that some lateness can't be avoided" : "not proved that any has to be");
    for (guint i = 0; i < late->len; i++)
        g_ptr_array_add (names, name_late (view, late->pdata[i]));
    g_autofree char *all = batch_some_ids (names, MOST_LATE);
    paper_say (paper, 2, 4, "%s", all);
}
