/* SPDX-License-Identifier: MIT */
/* How a batch ends. */
#include "reports/reports.h"

Outcome
batch_outcome (const Batch *batch, guint rows_left_out, gboolean by_hand)
{
    gboolean none_has_a_route = TRUE;

    if (batch->wrong != NULL)
        return OUTCOME_OWN_FAULT;
    if (by_hand)
        return OUTCOME_STOPPED;
    if (batch->aside == 0 && rows_left_out == 0 && batch->unsure == 0)
        return OUTCOME_ANSWERED;
    if (batch->aside < batch->units->len)
        return OUTCOME_SOME_ASIDE;
    for (guint i = 0; i < batch->units->len; i++)
        none_has_a_route &= ((const BatchUnit *) batch->units->pdata[i])->aside == ASIDE_NO_ROUTE;
    return none_has_a_route ? OUTCOME_NO_ROUTE : OUTCOME_NOT_FOUND;
}
