/* SPDX-License-Identifier: MIT */
#include "reasons.h"

#include "reports/account.h"

/* NULL: all is as it should be. Transfer full. */
static char *
account_is_wrong (const RouteAccount *account)
{
    for (guint i = 0; i < account->steps->len; i++) {
        const StepAccount *step = account->steps->pdata[i];

        if (!step->needed)
            return g_strdup_printf ("step %u is said to be needless: %s", i + 1, step->why);
        if (step->why == NULL || *step->why == '\0' || step->needed_rule == NULL)
            return g_strdup_printf ("step %u has no reason", i + 1);
        if (step->needed_by >= 0 && step->needed_by <= (int) i)
            return g_strdup_printf ("step %u is needed by step %d, which is not later", i + 1, step->needed_by + 1);
    }
    return NULL;
}

/* The first write of the route twice in a row, where that is still sound: both are then told to be needless. */
static char *
doubled_is_wrong (const LoadedJob *loaded, const GArray *steps, Seen *seen)
{
    g_autoptr (GArray) twice = g_array_copy ((GArray *) steps);
    guint write = 0;

    while (write < steps->len && g_array_index (steps, Step, write).kind != STEP_WRITE)
        write++;
    if (write == steps->len)
        return NULL;
    g_array_insert_val (twice, write, g_array_index (steps, Step, write));
    g_autoptr (State) start = state_from_unit (loaded->unit, NULL);
    g_autoptr (GPtrArray) cases = unit_cases (loaded->unit, 1);
    g_autoptr (Walk) walk = check_walk (loaded->library, loaded->shop, loaded->want, start, twice);
    if (!walk->sound || cases == NULL)
        return NULL;
    g_autoptr (RouteAccount) account =
        route_account_new (loaded->library, loaded->shop, loaded->unit, loaded->want, twice);
    seen->doubled++;
    for (guint i = write; i <= write + 1; i++)
        if (((const StepAccount *) account->steps->pdata[i])->needed)
            return g_strdup_printf ("step %u is written twice, and said to be needed", i + 1);
    return NULL;
}

char *
reasons_are_wrong (const LoadedJob *loaded, Objective objective, Seen *seen)
{
    RouteOptions options = { .objective = objective, .no_ways_back = TRUE, .no_branches = TRUE };
    g_autoptr (RouteAnswer) answer = route_find (loaded->library, loaded->shop, loaded->unit, loaded->want, &options);
    char *why = NULL;

    if (answer->claim != CLAIM_PROVED_SHORTEST || answer->steps->len == 0)
        return NULL;
    g_autoptr (RouteAccount) account =
        route_account_new (loaded->library, loaded->shop, loaded->unit, loaded->want, answer->steps);
    seen->routes++;
    seen->steps += answer->steps->len;
    why = account_is_wrong (account);
    return why != NULL ? why : doubled_is_wrong (loaded, answer->steps, seen);
}
