/* SPDX-License-Identifier: MIT */
/* Cases of which the same is to be said become one, where one component alone tells them apart. */
#include "explain/dark_parts.h"

#include <string.h>

static gboolean
same_indices (const GArray *one, const GArray *other)
{
    return one->len == other->len && (one->len == 0 || memcmp (one->data, other->data, one->len * sizeof (guint)) == 0);
}

/* A rule has its place; of `while-running` it does not matter of which release. */
static gboolean
same_rules (const DarkSet *one, const DarkSet *other)
{
    if (one->rules->len != other->rules->len)
        return FALSE;
    for (guint i = 0; i < one->rules->len; i++) {
        const DarkRule *left = one->rules->pdata[i], *right = other->rules->pdata[i];

        if (left->id != right->id || (left->broken != NULL) != (right->broken != NULL))
            return FALSE;
    }
    return TRUE;
}

/* Facts have the same numbers in all dark cases of a unit. */
static gboolean
same_findings (const DarkCase *one, const DarkCase *other)
{
    if (one->starts != other->starts || !one->complete || !other->complete || one->sets->len != other->sets->len ||
        one->corrections->len != other->corrections->len)
        return FALSE; /* of lists that do not hold all there is, nobody knows whether they are the same */
    for (guint i = 0; i < one->sets->len; i++) {
        const DarkSet *left = one->sets->pdata[i], *right = other->sets->pdata[i];

        if (left->stated != right->stated || !same_indices (left->facts, right->facts) || !same_rules (left, right))
            return FALSE;
    }
    for (guint i = 0; i < one->corrections->len; i++)
        if (!same_indices (one->corrections->pdata[i], other->corrections->pdata[i]))
            return FALSE;
    return TRUE;
}

/* The one component in which the cases' releases differ; -1: none, or several. */
static int
only_difference (const Board *board, const DarkCase *one, const DarkCase *other)
{
    int found = -1;

    for (guint c = 0; c < board->components->len; c++) {
        gsize size = board_component (board, c)->releases->len * sizeof (gboolean);

        if (memcmp (one->may_be[c], other->may_be[c], size) == 0)
            continue;
        if (found >= 0)
            return -1;
        found = (int) c;
    }
    return found;
}

static void
take_over (const Board *board, DarkCase *one, const DarkCase *other, guint component)
{
    for (guint r = 0; r < board_component (board, component)->releases->len; r++)
        one->may_be[component][r] = one->may_be[component][r] || other->may_be[component][r];
    one->members += other->members;
}

/* Merges the first two that can be. FALSE: none can. */
static gboolean
merge_two (const Board *board, GPtrArray *cases)
{
    for (guint i = 0; i < cases->len; i++)
        for (guint j = i + 1; j < cases->len; j++) {
            DarkCase *one = cases->pdata[i];
            int component = only_difference (board, one, cases->pdata[j]);

            if (component < 0 || !same_findings (one, cases->pdata[j]))
                continue;
            take_over (board, one, cases->pdata[j], (guint) component);
            g_ptr_array_remove_index (cases, j);
            return TRUE;
        }
    return FALSE;
}

void
dark_cases_merge (const Unit *unit, GPtrArray *cases)
{
    while (merge_two (unit->board, cases))
        continue;
    for (guint i = 0; i < cases->len; i++)
        dark_facts_say_releases (unit, cases->pdata[i]);
}
