/* SPDX-License-Identifier: MIT */
/* Which cautions are due where in a route. */
#include "reports/account_parts.h"

/* What stands above the step: the words for the opening it begins, for the first power after an opening, and for the start
 * before it. `unpowered` keeps whether the unit was opened since there was power. */
static CautionWords
words_above (const RouteAccount *account, guint index, gboolean *unpowered)
{
    const StepAccount *step = g_ptr_array_index (account->steps, index);
    const StepAccount *previous = index == 0 ? NULL : g_ptr_array_index (account->steps, index - 1);
    CautionWords words = 0;

    if (step->opening > 0)
        words |= caution_words_of_opening (previous != NULL && previous->power == STEP_POWER_STANDBY);
    if (step->power != STEP_POWER_OFF && *unpowered)
        words |= caution_words_of_power_up ();
    if (step->start_after_parts)
        words |= caution_words_of_start ();
    *unpowered = step->power == STEP_POWER_OFF;
    return words;
}

void
account_place_cautions (const Making *making)
{
    g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
    RouteAccount *account = making->account;
    const GPtrArray *cautions = making->library->cautions;
    gboolean unpowered = FALSE;

    if (account->steps->len == 0)
        return;
    cautions_choose (cautions, caution_words_of_route (), said, NULL, account->top_cautions);
    for (guint i = 0; i < account->steps->len; i++) {
        StepAccount *step = g_ptr_array_index (account->steps, i);
        CautionMoment moment = {
            .board = making->unit->board,
            .step = step->step,
            .held = ((const State *) g_ptr_array_index (making->states, i))->held,
            .recovery = step->recovery,
            .binds_part = step->binds_part,
        };

        cautions_choose (cautions, words_above (account, i, &unpowered), said, NULL, step->power_cautions);
        cautions_choose (cautions, caution_words_of_moment (&moment), said, step->power_cautions, step->cautions);
    }
    cautions_choose (cautions,
                     (unpowered ? caution_words_of_power_up () : 0) |
                         (account->end_after_parts ? caution_words_of_start () : 0),
                     said, NULL, account->end_cautions);
}
