/* SPDX-License-Identifier: MIT */
/* The releases that a unit may have, and which of them cannot have started as it was seen to start. */
#include "explain/diagnosis_parts.h"

/* Seen to start so, where a rule that stops says for certain that it cannot. What merely harms, or is not stated, may
 * have started all the same; and redundancy is a wish of the shop's. */
static gboolean
cannot_start_so (const DiagnosisQuestion *question, const Shop *shop, const guint *releases,
                 const Observation *observation)
{
    g_autoptr (State) state = state_seen_with (question->unit, releases, observation);
    g_autoptr (GPtrArray) broken = check_state (question->library, shop, state);

    for (guint i = 0; i < broken->len; i++) {
        const Broken *one = broken->pdata[i];

        if (one->breaking == BREAKING_STOPS && one->sureness == SURE_STATED)
            return TRUE;
    }
    return FALSE;
}

static void
combination_clear (gpointer data)
{
    g_free (((Combination *) data)->excluded_by);
    g_free (((Combination *) data)->clears);
}

/* With these releases no rule keeps it dark with these parts in, redundancy apart: that it stayed dark has another
 * reason. */
static gboolean
starts_so (const DiagnosisQuestion *question, const Shop *shop, const guint *releases, const Observation *observation)
{
    g_autoptr (State) state = state_seen_with (question->unit, releases, observation);
    g_autoptr (GPtrArray) broken = check_state (question->library, shop, state);

    return broken_verdict (broken) == STARTS_YES;
}

static void
add_combination (const DiagnosisQuestion *question, const Shop *shop, const Evidence *evidence, guint case_index,
                 const guint *releases, Combinations *combinations)
{
    guint n_given = evidence->given->len;
    Combination one = { case_index, releases, g_new0 (gboolean, n_given + 1), g_new0 (gboolean, n_given + 1) };

    for (guint g = 0; releases != NULL && g < n_given; g++) {
        const SignGiven *given = evidence_given (evidence, g);

        one.excluded_by[g] = given_is_start (given) && cannot_start_so (question, shop, releases, given->observation);
        one.clears[g] = given_is_dark_start (given) && starts_so (question, shop, releases, given->observation);
    }
    g_array_append_val (combinations->each, one);
}

static gboolean
a_start_was_tried (const Evidence *evidence)
{
    for (guint g = 0; g < evidence->given->len; g++)
        if (given_is_start (evidence_given (evidence, g)) || given_is_dark_start (evidence_given (evidence, g)))
            return TRUE;
    return FALSE;
}

void
combinations_free (Combinations *combinations)
{
    g_array_unref (combinations->each);
    g_ptr_array_unref (combinations->owned);
    g_free (combinations);
}

Combinations *
combinations_list (const DiagnosisQuestion *question, const DarkAnswer *dark, const Evidence *evidence)
{
    Combinations *combinations = g_new0 (Combinations, 1);
    g_autoptr (Shop) shop = shop_copy (question->shop);
    guint left = a_start_was_tried (evidence) ? DIAGNOSIS_MOST_COMBINATIONS : 0;

    combinations->each = g_array_new (FALSE, FALSE, sizeof (Combination));
    combinations->owned = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
    g_array_set_clear_func (combinations->each, combination_clear);
    shop->redundant_supplies = FALSE;
    for (guint i = 0; i < dark->cases->len; i++) {
        GPtrArray *all = case_combinations (question->unit, dark_case (dark, i), left);

        if (all == NULL) {
            add_combination (question, shop, evidence, i, NULL, combinations);
            continue;
        }
        g_ptr_array_add (combinations->owned, all);
        left -= all->len;
        for (guint r = 0; r < all->len; r++)
            add_combination (question, shop, evidence, i, all->pdata[r], combinations);
    }
    return combinations;
}
