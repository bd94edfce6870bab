/* SPDX-License-Identifier: MIT */
/* The plan with branches, and what is proved of it. */
#include "route/branched.h"

#include "route/branched_parts.h"
#include "route/cost.h"

/* As Beliefs.effort counts. */
#define DEFAULT_EFFORT 1000000
/* So often the limit on the worst case is raised to what was refused for the least; then it is let go, and lowered from what
 * was found. */
#define MOST_RAISES 12

void
branch_answer_free (BranchAnswer *answer)
{
    g_clear_pointer (&answer->legs, g_ptr_array_unref);
    g_clear_pointer (&answer->plan, branch_free);
    g_clear_pointer (&answer->check, branch_check_free);
    g_free (answer->reason);
    g_free (answer);
}

/* ---- The single route ---- */

/* What it has of what the objective minimises first. */
static guint
lead_of (const RouteAnswer *single)
{
    if (single->claim == CLAIM_PROVED_SHORTEST)
        return single->lower_bound;
    switch (single->objective) {
    case OBJECTIVE_HANDLING:
        return single->walk->insertions;
    case OBJECTIVE_TIME:
        return (guint) (single->walk->minutes * 10 + 0.5);
    default:
        return single->steps->len;
    }
}

/* ---- Single cases ---- */

typedef enum { CASES_NONE_HAS_A_ROUTE, CASES_OPEN, CASES_FINE } CasesVerdict;

/* What the dearest case takes when it is known is the least that any plan takes. */
static CasesVerdict
look_at_cases (Beliefs *beliefs, const guint16 *first, guint *lower)
{
    guint count = row_count (first), with_route = 0;
    g_autofree guint8 *one = g_new0 (guint8, count);
    *lower = 0;
    for (guint i = 0; i < count && !beliefs->out; i++) {
        one[i] = TRUE;
        const Plan *plan = plan_for_known (beliefs, row_part (beliefs, first, one));
        one[i] = FALSE;
        if (plan == NULL && !beliefs->complete)
            return CASES_OPEN;
        ((CaseClass *) beliefs->classes->pdata[i])->hopeless = plan == NULL;
        with_route += plan != NULL;
        *lower = plan != NULL ? MAX (*lower, plan->worst) : *lower;
    }
    if (beliefs->out)
        return CASES_OPEN;
    return with_route > 0 ? CASES_FINE : CASES_NONE_HAS_A_ROUTE;
}

/* What the bound says of the dearest case: proved, whatever was left out. */
static guint
bound_lead (const Beliefs *beliefs, const guint16 *first)
{
    g_autofree guint16 *values = g_new (guint16, beliefs->problem->n_vars + 1);
    guint lead = 0;
    for (guint i = 0; i < row_count (first); i++) {
        row_values (beliefs, first, i, values);
        Cost bound = bound_of (beliefs->bound, values, row_mode (first));
        lead = bound != COST_NEVER ? MAX (lead, cost_lead (beliefs->problem, bound)) : lead;
    }
    return lead;
}

static void
lower_to_what_is_proved (const Beliefs *beliefs, BranchAnswer *answer, const guint16 *first)
{
    if (!beliefs->complete)
        answer->lower_bound = MIN (answer->lower_bound, bound_lead (beliefs, first));
}

/* As far as goal and needs see, no case meets the want. */
static gboolean
none_may_end (const Beliefs *beliefs, const guint16 *first)
{
    g_autofree guint16 *values = g_new (guint16, beliefs->problem->n_vars + 1);
    for (guint i = 0; i < row_count (first); i++) {
        row_values (beliefs, first, i, values);
        if (bound_by_needs (beliefs->bound, values) != COST_NEVER)
            return FALSE;
    }
    return TRUE;
}

/* ---- The least worst case ---- */

/* Raises the limit from `*lower` until there is a plan; `*lower` then is what is proved. NULL: there is none up to `most`. */
static const Plan *
raise_limit (Beliefs *beliefs, const guint16 *first, guint most, guint *lower)
{
    for (guint raises = 0; *lower <= most && !beliefs->out; raises++) {
        guint limit = raises < MOST_RAISES ? *lower : most, next;
        beliefs->lower = *lower;
        const Plan *plan = plan_for_belief (beliefs, first, limit, &next);
        if (plan != NULL)
            return plan;
        if (beliefs->out)
            return NULL;
        *lower = next;
        if (next == G_MAXUINT)
            return NULL;
    }
    return NULL;
}

/* A plan that takes more than is proved: is there a better one? */
static const Plan *
lower_limit (Beliefs *beliefs, const guint16 *first, const Plan *plan, guint *lower)
{
    while (plan->worst > *lower && !beliefs->out) {
        guint next;
        beliefs->best = plan->worst;
        const Plan *better = plan_for_belief (beliefs, first, plan->worst - 1, &next);
        if (better != NULL)
            plan = better;
        else if (!beliefs->out)
            *lower = plan->worst;
    }
    return plan;
}

/* ---- The answer ---- */

/* A component whose write failed keeps the release that it had for `from`; of several that it may have had, no more than one
 * is planned with. */
static gboolean
is_exact (const Beliefs *beliefs)
{
    const Unit *unit = beliefs->problem->unit;
    for (guint c = 0; c < beliefs->n_components; c++)
        if (unit->failed != NULL && unit->failed[c] && unit->releases[c].count > 1)
            return FALSE;
    return beliefs->complete;
}

/* The checker can't judge that: it knows of no routes. */
static gboolean
gives_up_the_hopeless (const Beliefs *beliefs, const BranchCheck *check)
{
    g_assert (check->costs->len == beliefs->unit_cases->len); /* in the same order */
    for (guint i = 0; i < check->costs->len; i++) {
        const CaseClass *one = beliefs->classes->pdata[g_array_index (beliefs->class_of, guint, i)];
        if (g_array_index (check->costs, BranchCost, i).given_up != one->hopeless)
            return FALSE;
    }
    return TRUE;
}

static void
conclude (Beliefs *beliefs, BranchAnswer *answer, const Plan *plan)
{
    const Problem *problem = beliefs->problem;
    answer->claim = plan->worst == answer->lower_bound && is_exact (beliefs) ? CLAIM_PROVED_SHORTEST : CLAIM_BEST_FOUND;
    answer->plan = plan_to_branch (beliefs, plan);
    answer->check = check_branches (problem->library, problem->shop, problem->unit, problem->want, answer->plan,
                                    MOST_BRANCHED_COMBINATIONS);
    if (answer->check == NULL || !answer->check->sound || !gives_up_the_hopeless (beliefs, answer->check)) {
        answer->claim = CLAIM_FAULT;
        answer->reason = g_strdup (answer->check == NULL   ? "too many cases to check"
                                   : !answer->check->sound ? answer->check->why
                                                           : "it does not give up the cases without a route, and no others");
        return;
    }
    answer->legs = branched_legs (problem, beliefs->options, answer->plan, answer->claim);
}

static void
answer_without (BranchAnswer *answer, Claim claim, const char *reason)
{
    answer->claim = claim;
    answer->reason = g_strdup (reason);
}

static void
plan_all (Beliefs *beliefs, BranchAnswer *answer, guint most)
{
    const guint16 *first = row_first (beliefs);
    CasesVerdict verdict = CASES_NONE_HAS_A_ROUTE;
    if (!none_may_end (beliefs, first)) {
        bound_make_table (beliefs->bound, G_MAXUINT);
        verdict = look_at_cases (beliefs, first, &answer->lower_bound);
    }
    if (verdict != CASES_FINE) {
        lower_to_what_is_proved (beliefs, answer, first);
        gboolean none = verdict == CASES_NONE_HAS_A_ROUTE && is_exact (beliefs);
        answer_without (answer, none ? CLAIM_NO_ROUTE : CLAIM_NOT_FOUND,
                        none ? "no possible release leads to the want"
                             : "whether each possible release leads to the want was not settled");
        return;
    }
    const Plan *plan = raise_limit (beliefs, first, most, &answer->lower_bound);
    if (plan != NULL)
        plan = lower_limit (beliefs, first, plan, &answer->lower_bound);
    lower_to_what_is_proved (beliefs, answer, first);
    if (plan != NULL)
        conclude (beliefs, answer, plan);
    else
        answer_without (answer, CLAIM_NOT_FOUND,
                        beliefs->out || !beliefs->complete ? "the effort ran out"
                                     : "nothing that can be read on the way tells enough of the cases apart");
}

/* Consumes `reason`. */
static BranchAnswer *
answer_for_none (char *reason)
{
    BranchAnswer *answer = g_new0 (BranchAnswer, 1);
    answer->claim = CLAIM_NOT_FOUND;
    answer->reason = reason;
    answer->too_many = TRUE;
    return answer;
}

BranchAnswer *
branched_find (const Library *library, const Shop *shop, const Unit *unit, const Want *want,
               const RouteOptions *options, const RouteAnswer *single)
{
    static const RouteOptions DEFAULTS = { 0 };
    g_autofree char *reason = NULL;
    const RouteOptions *used = options != NULL ? options : &DEFAULTS;
    guint lead = single != NULL ? lead_of (single) : 0;
    if (single != NULL && lead == 0)
        return NULL;
    g_autoptr (Beliefs) beliefs = beliefs_new (library, shop, unit, want, used, &reason);
    if (beliefs == NULL)
        return single == NULL ? answer_for_none (g_steal_pointer (&reason)) : NULL;
    beliefs->effort = used->search_states != 0 ? used->search_states : DEFAULT_EFFORT;
    g_autoptr (BranchAnswer) answer = g_new0 (BranchAnswer, 1);
    answer->single_steps = single != NULL ? single->steps->len : 0;
    plan_all (beliefs, answer, single != NULL ? lead - 1 : G_MAXUINT);
    answer->searched = beliefs->opened;
    answer->stopped = beliefs->stopped;
    return single == NULL || answer->plan != NULL ? g_steal_pointer (&answer) : NULL;
}
