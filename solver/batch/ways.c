/* SPDX-License-Identifier: MIT */
/* Ways back of a route that was found elsewhere. */
#include "batch/ways.h"

#include "route/back.h"

/* Whether the unit starts after so many steps in every case. */
static gboolean
starts_after (const GPtrArray *walks, guint count)
{
    for (guint i = 0; i < walks->len; i++) {
        const Walk *walk = walks->pdata[i];
        const WalkedStep *walked = &g_array_index (walk->walked, WalkedStep, count == 0 ? 0 : count - 1);

        if (!(count == 0 ? walked->starts_before : walked->starts_after))
            return FALSE;
    }
    return TRUE;
}

/* Transfer full (GPtrArray of Walk*); NULL: it is not sound in every case. */
static GPtrArray *
walk_cases (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const GArray *steps)
{
    g_autoptr (GPtrArray) cases = unit_cases (unit, BATCH_MOST_CASES);
    g_autoptr (GPtrArray) walks = g_ptr_array_new_with_free_func ((GDestroyNotify) walk_free);

    if (cases == NULL)
        return NULL;
    for (guint i = 0; i < cases->len; i++) {
        g_autoptr (State) start = state_from_unit (unit, cases->pdata[i]);
        Walk *walk = check_walk (library, shop, want, start, steps);

        g_ptr_array_add (walks, walk);
        if (!walk->sound)
            return NULL;
    }
    return g_steal_pointer (&walks);
}

GArray *
ways_back_of_steps (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const GArray *steps)
{
    const RouteOptions options = { .search_only = TRUE, .no_branches = TRUE };
    g_autofree char *reason = NULL;
    g_autoptr (Problem) problem = NULL;
    g_autoptr (GPtrArray) walks = walk_cases (library, shop, unit, want, steps);
    g_autoptr (GPtrArray) moments = g_ptr_array_new_with_free_func ((GDestroyNotify) moment_free);

    if (walks == NULL)
        return NULL;
    if (steps->len == 0)
        return g_array_new (FALSE, TRUE, sizeof (WayBack));
    problem = problem_new (library, shop, unit, want, &options, &reason);
    if (problem == NULL)
        return NULL;
    g_autoptr (Moment) first = moment_begin (problem);
    g_ptr_array_add (moments, moment_new (problem, first->state, first->written, starts_after (walks, 0)));
    for (guint i = 0; i < steps->len; i++)
        g_ptr_array_add (moments, moment_after (moments->pdata[i], &g_array_index (steps, Step, i), problem,
                                                starts_after (walks, i + 1)));
    return moments_ways_back (problem, moments, 0, TRUE);
}
