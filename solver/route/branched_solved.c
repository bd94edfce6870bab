/* SPDX-License-Identifier: MIT */
/* The best plan for a belief, each asked for once: one known case is an ordinary question, several take a search. */
#include "route/branched_search.h"

/* States that the search for one known case may open, and what it counts at the least: it begins anew each time. */
#define KNOWN_STATES 100000
#define KNOWN_BEGINS 5

/* ---- One case ---- */

gboolean
beliefs_go_on (guint64 opened, gpointer data)
{
    Beliefs *beliefs = data;
    const RouteOptions *options = beliefs->options;
    RouteProgress progress = { .doing = "planning with branches",
                               .opened = beliefs->opened + opened,
                               .best = beliefs->best,
                               .lower_bound = beliefs->lower,
                               .objective = options->objective };
    if (!beliefs->stopped && options->go_on != NULL)
        beliefs->stopped = !options->go_on (&progress, options->go_on_data);
    beliefs->out = beliefs->out || beliefs->stopped;
    return !beliefs->stopped;
}

static void
use_up (Beliefs *beliefs, guint64 opened)
{
    beliefs->effort -= MIN (beliefs->effort, opened + KNOWN_BEGINS);
}

/* First good in what counts most, which is quick, then in all. */
static SearchResult *
search_known (Beliefs *beliefs)
{
    const Problem *problem = beliefs->problem;
    guint64 most = MIN (beliefs->effort, KNOWN_STATES);
    SearchLimits limits = { .ceiling = COST_NEVER,
                            .mask = problem->weights->coarse,
                            .most = most,
                            .go_on = beliefs_go_on,
                            .data = beliefs };
    g_autoptr (SearchResult) quick = search_run (problem, beliefs->bound, &limits);
    use_up (beliefs, quick->opened);
    if (!quick->exhausted || quick->moves == NULL)
        return g_steal_pointer (&quick);
    limits.mask = SEARCH_ALL;
    limits.ceiling = quick->cost;
    limits.most = MIN (most - MIN (most, quick->opened), beliefs->effort);
    g_autoptr (SearchResult) whole = search_run (problem, beliefs->bound, &limits);
    use_up (beliefs, whole->opened);
    return whole->exhausted && whole->moves != NULL ? g_steal_pointer (&whole) : g_steal_pointer (&quick);
}

const Plan *
plan_for_known (Beliefs *beliefs, const guint16 *row)
{
    gpointer there;
    if (g_hash_table_lookup_extended (beliefs->known, row, NULL, &there))
        return there;
    beliefs_move_start (beliefs, row, 0);
    g_autoptr (SearchResult) result = search_known (beliefs);
    Plan *plan = NULL;
    if (!result->exhausted)
        beliefs->complete = FALSE;
    if (!result->exhausted && result->moves == NULL && beliefs->effort == 0)
        beliefs->out = TRUE;
    if (result->moves != NULL) {
        plan = plan_new (beliefs, row);
        g_array_append_vals (plan->moves, result->moves->data, result->moves->len);
        plan->known = TRUE;
        plan->sum = sum_of (beliefs, result->cost, row_weight (beliefs, row));
        plan->worst = cost_lead (beliefs->problem, result->cost);
    }
    g_hash_table_insert (beliefs->known, (gpointer) row, plan);
    return plan;
}

/* ---- Several ---- */

/* What earlier searches found out about a belief. */
typedef struct {
    const Plan *plan; /* the best that takes no case beyond ... */
    guint most;       /* ... this */
    guint refused;    /* no plan keeps below this */
} SolvedBelief;

/* Nothing but hopeless cases: there the plan ends. */
static const Plan *
plan_to_give_up (Beliefs *beliefs, const guint16 *row)
{
    Plan *plan = plan_new (beliefs, row);
    plan->then = THEN_GIVE_UP;
    plan->known = TRUE;
    return plan;
}

const Plan *
plan_for_belief (Beliefs *beliefs, const guint16 *row, guint most, guint *next)
{
    *next = G_MAXUINT;
    if (row_weight (beliefs, row) == 0)
        return plan_to_give_up (beliefs, row);
    if (row_count (row) == 1) {
        const Plan *known = plan_for_known (beliefs, row);
        if (known != NULL && known->worst > most)
            *next = known->worst;
        return known != NULL && known->worst <= most ? known : NULL;
    }
    SolvedBelief *solved = g_hash_table_lookup (beliefs->solved, row);
    if (solved == NULL) {
        solved = g_new0 (SolvedBelief, 1);
        g_hash_table_insert (beliefs->solved, (gpointer) row, solved);
    }
    if (solved->plan != NULL && solved->most >= most && solved->plan->worst <= most)
        return solved->plan;
    *next = solved->refused;
    if (solved->refused > most || solved->refused == G_MAXUINT)
        return NULL;
    const Plan *plan = search_beliefs (beliefs, row, most, next);
    if (plan != NULL)
        *solved = (SolvedBelief){ plan, most, solved->refused };
    else if (!beliefs->out)
        solved->refused = *next;
    return plan;
}
