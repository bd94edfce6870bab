/* SPDX-License-Identifier: MIT */
/* What is pulled from the units of a batch. */
#include "reports/batch_sheet.h"

GArray *
batch_pulled (const BatchView *view)
{
    GArray *all = g_array_new (FALSE, FALSE, sizeof (PulledPart));

    for (guint i = 0; i < view->order->len; i++) {
        guint index = g_array_index (view->order, guint, i);
        const BatchUnit *unit = view_unit (view, index);
        const GArray *pulled = view_way (view, unit)->mode->pulled;

        for (guint k = 0; k < pulled->len; k++) {
            guint step = g_array_index (pulled, guint, k);
            PulledPart one = { index, step, view_lent_by_step (view, unit, step) };

            g_array_append_val (all, one);
        }
    }
    return all;
}
