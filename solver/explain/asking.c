/* SPDX-License-Identifier: MIT */
#include "explain/asking.h"

/* States that a run may open. What is asked is small as a rule; where it is not, "undecided" is an answer too. */
#define WAY_STATES   10000
#define ROUTE_STATES 100000

static gboolean
caller_goes_on (const RouteProgress *progress, gpointer data)
{
    Asking *asking = data;
    const RouteOptions *options = asking->options;

    if (options == NULL || options->go_on == NULL || options->go_on (progress, options->go_on_data))
        return TRUE;
    asking->stopped = TRUE;
    return FALSE;
}

static RouteAnswer *
run (Asking *asking, RouteOptions *limits)
{
    /* libsolv may take its full time over one question, which is too much where there are hundreds. */
    limits->search_only = TRUE;
    limits->no_ways_back = TRUE;
    limits->no_branches = TRUE;
    limits->go_on = caller_goes_on;
    limits->go_on_data = asking;
    asking->plans++;
    return route_find (asking->asked.library, asking->asked.shop, asking->asked.unit, asking->asked.want, limits);
}

gboolean
answer_has_route (const RouteAnswer *answer)
{
    return answer->claim == CLAIM_PROVED_SHORTEST || answer->claim == CLAIM_BEST_FOUND;
}

WayAnswer
asking_way (const FactSet *kept, gpointer data)
{
    Asking *asking = data;
    g_autoptr (Changes) changes = changes_new ();
    RouteOptions limits = { .any_route = TRUE, .search_states = WAY_STATES };

    if (asking->stopped)
        return WAY_UNDECIDED;
    /* From the last: what is added to the shop depends on what is wanted, so that has to be dropped later. */
    for (guint i = asking->facts->len; i > 0; i--)
        if (!fact_set_has (kept, i - 1))
            blocking_fact_drop (&asking->asked, g_ptr_array_index (asking->facts, i - 1), changes);
    g_autoptr (RouteAnswer) answer = run (asking, &limits);
    changes_undo (changes);
    /* Where a release is to be read first, there is a way in some case. */
    if (answer_has_route (answer) || answer->claim == CLAIM_READ_FIRST)
        return WAY_OPEN;
    return answer->claim == CLAIM_NO_ROUTE ? WAY_NONE : WAY_UNDECIDED;
}

RouteAnswer *
asking_route (Asking *asking)
{
    RouteOptions limits = { .search_states = ROUTE_STATES };

    if (asking->options != NULL) {
        limits.objective = asking->options->objective;
        limits.familiar = asking->options->familiar;
    }
    return run (asking, &limits);
}
