/* SPDX-License-Identifier: MIT */
/* Whether a unit starts in each of its cases, cases with the same answer put together. */
#include "reports/reports.h"

static void
starts_group_free (gpointer data)
{
    StartsGroup *group = data;

    g_ptr_array_unref (group->broken);
    g_ptr_array_unref (group->cases);
    g_free (group);
}

void
starts_answer_free (StartsAnswer *answer)
{
    if (answer == NULL)
        return;
    g_ptr_array_unref (answer->groups);
    g_free (answer);
}

/* Two cases are told apart by which rules they break and how surely; the releases named in the facts may differ. */
static gboolean
same_rules (const GPtrArray *left, const GPtrArray *right)
{
    if (left->len != right->len)
        return FALSE;
    for (guint i = 0; i < left->len; i++) {
        const Broken *a = g_ptr_array_index (left, i);
        const Broken *b = g_ptr_array_index (right, i);

        if (!g_str_equal (a->rule, b->rule) || a->sureness != b->sureness)
            return FALSE;
    }
    return TRUE;
}

static StartsGroup *
group_for (StartsAnswer *answer, GPtrArray *broken)
{
    StartsGroup *group = NULL;

    for (guint i = 0; i < answer->groups->len; i++) {
        group = g_ptr_array_index (answer->groups, i);
        if (same_rules (group->broken, broken))
            return group;
    }
    group = g_new0 (StartsGroup, 1);
    group->starts = broken_verdict (broken);
    group->broken = g_ptr_array_ref (broken);
    group->cases = g_ptr_array_new_with_free_func (g_free);
    g_ptr_array_add (answer->groups, group);
    return group;
}

static Outcome
outcome_of_groups (const StartsAnswer *answer)
{
    guint yes = 0, no = 0;

    if (answer->groups->len == 0)
        return OUTCOME_READ_FIRST;
    for (guint i = 0; i < answer->groups->len; i++) {
        const StartsGroup *group = g_ptr_array_index (answer->groups, i);

        yes += group->starts == STARTS_YES ? 1 : 0;
        no += group->starts == STARTS_NO ? 1 : 0;
    }
    if (yes == answer->groups->len)
        return OUTCOME_ANSWERED;
    if (yes > 0)
        return OUTCOME_SOME_START;
    return no == answer->groups->len ? OUTCOME_DOES_NOT_START : OUTCOME_NOT_KNOWN;
}

StartsAnswer *
starts_find (const Library *library, const Shop *shop, const Unit *unit)
{
    StartsAnswer *answer = g_new0 (StartsAnswer, 1);
    g_autoptr (GPtrArray) cases = unit_cases (unit, STARTS_MOST_CASES);

    answer->unit = unit;
    answer->groups = g_ptr_array_new_with_free_func (starts_group_free);
    answer->cases = cases == NULL ? 0 : cases->len;
    for (guint i = 0; i < answer->cases; i++) {
        const guint *releases = g_ptr_array_index (cases, i);
        g_autoptr (State) state = state_from_unit (unit, releases);
        g_autoptr (GPtrArray) broken = check_state (library, shop, state);
        StartsGroup *group = group_for (answer, broken);

        g_ptr_array_add (group->cases, g_memdup2 (releases, unit->board->components->len * sizeof (guint)));
    }
    answer->outcome = outcome_of_groups (answer);
    return answer;
}
