/* SPDX-License-Identifier: MIT */
/* Why a class has no way, within bounds: a batch does not wait long for one of its classes. */
#include "batch/plan.h"

enum {
    MOST_STATES = 1000,   /* of one planning run */
    MOST_OPENED = 200000, /* of all of them, as far as they ask */
    MOST_PLANS = 250,     /* of all classes together: then a class without a way is said to have none, and no more */
};

typedef struct {
    const RouteOptions *asked; /* nullable */
    guint64 opened, last;
} Bound;

/* Counts states over all planning runs; each begins again at none. */
static gboolean
go_on (const RouteProgress *progress, gpointer data)
{
    Bound *bound = data;

    bound->opened += progress->opened >= bound->last ? progress->opened - bound->last : progress->opened;
    bound->last = progress->opened;
    if (bound->opened > MOST_OPENED)
        return FALSE;
    return bound->asked == NULL || bound->asked->go_on == NULL ||
           bound->asked->go_on (progress, bound->asked->go_on_data);
}

void
class_explain_none (Planning *planning, BatchClass *class, Shop *shelf)
{
    Bound bound = { planning->question->route, 0, 0 };
    RouteOptions options = { 0 };

    if (class->failed == NULL || class->failed->claim != CLAIM_NO_ROUTE || planning->why_plans > MOST_PLANS)
        return;
    if (bound.asked != NULL)
        options = *bound.asked;
    options.search_states = MOST_STATES;
    options.go_on = go_on;
    options.go_on_data = &bound;
    options.no_ways_back = options.no_branches = options.search_only = TRUE;
    /* Unit and want are changed while it works, and are again as they were when it returns. */
    class->none =
        no_route_explain (planning->question->library, shelf, (Unit *) class->unit, (Want *) class->want, &options);
    planning->why_plans += class->none->plans;
}
