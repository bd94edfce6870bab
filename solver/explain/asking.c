/* SPDX-License-Identifier: MIT */
#include "explain/asking.h"

/* States that a run may open. What is asked is small as a rule; where it is not, "undecided" is an answer too. */
#define WAY_STATES   10000
#define ROUTE_STATES 100000

static gboolean
caller_goes_on (Asking *asking, RouteProgress progress, guint64 opened)
{
    const RouteOptions *options = asking->options;

    progress.opened = opened;
    if (options != NULL && options->go_on != NULL && !options->go_on (&progress, options->go_on_data))
        asking->stopped = TRUE;
    return !asking->stopped;
}

/* A run may search several times, and counts from none in each. */
static gboolean
run_goes_on (const RouteProgress *progress, gpointer data)
{
    Asking *asking = data;

    asking->in_run += progress->opened >= asking->last ? progress->opened - asking->last : progress->opened;
    asking->last = progress->opened;
    return caller_goes_on (asking, *progress, asking->opened + asking->in_run);
}

/* Small runs end before they ask. */
static void
end_run (Asking *asking, const RouteAnswer *answer)
{
    const RouteProgress progress = { .doing = "explaining",
                                     .best = G_MAXUINT,
                                     .objective = asking->options != NULL ? asking->options->objective : 0 };

    asking->opened += MAX (answer->searched, asking->in_run);
    asking->in_run = asking->last = 0;
    if (!asking->stopped)
        caller_goes_on (asking, progress, asking->opened);
}

static RouteAnswer *
run (Asking *asking, RouteOptions *limits)
{
    /* libsolv may take its full time over one question, which is too much where there are hundreds. */
    limits->search_only = TRUE;
    limits->no_ways_back = TRUE;
    limits->no_branches = TRUE;
    limits->go_on = run_goes_on;
    limits->go_on_data = asking;
    if (asking->options != NULL && asking->options->search_states != 0)
        limits->search_states = MIN (limits->search_states, asking->options->search_states);
    asking->plans++;
    RouteAnswer *answer = route_find (asking->asked.library, asking->asked.shop, asking->asked.unit, asking->asked.want, limits);
    end_run (asking, answer);
    return answer;
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
