/* SPDX-License-Identifier: MIT */
/* The one list of exit statuses and their sentences. */
#include "reports/outcome.h"

#include "route/branched.h"

static const OutcomeRow rows[] = {
    { OUTCOME_ANSWERED, "all",
      "answered: the route is proved shortest (an empty one too), or the plan with branches proved least in the worst "
      "case, with a way for every release; the unit starts; the written route is sound; the "
      "entry is in the record; the files are in order; every unit of the batch is planned" },
    { OUTCOME_BEST_FOUND, "plan", "the route, or the plan with branches, is sound and the best found, but not proved shortest" },
    { OUTCOME_NO_ROUTE, "plan, pool, batch",
      "there is no route, and that is proved; of a batch: no unit has one" },
    { OUTCOME_NOT_FOUND, "plan, batch",
      "no route was found within the effort; there may be one; of a batch: no unit could be planned, for one reason or "
      "another" },
    { OUTCOME_READ_FIRST, "plan, starts, walk, explain",
      "no single answer serves every release that the unit may have: read a release first; or a plan with branches has no "
      "way for some of them, and says for which" },
    { OUTCOME_STOPPED, "plan, batch", "stopped by hand before the end; what is shown is the best until then, with its bound" },
    { OUTCOME_SOME_ASIDE, "batch",
      "some units are planned, others set aside, or may turn out to have no way when their releases are read, or rows of a "
      "table were left out; the answer says which and why" },
    { OUTCOME_DOES_NOT_START, "starts, explain", "the unit does not start, and a fact in the files says so" },
    { OUTCOME_NOT_KNOWN, "starts, explain", "the unit is not known to start: no fact says that it does" },
    { OUTCOME_SOME_START, "starts, explain",
      "the unit starts with some of the releases that it may have, not with all" },
    { OUTCOME_REFUSED, "walk", "the written route has an unsafe step, or does not end where it should" },
    { OUTCOME_REFUTED, "pool", "the replayed case has no solution" },
    { OUTCOME_EVIDENCE_CONFLICTS, "explain", "what was seen cannot all be right, or does not fit what the files say" },
    { OUTCOME_BAD_INPUT, "all", "something is wrong in the files; nothing was answered" },
    { OUTCOME_BAD_USAGE, "all", "the command line is wrong, or the files do not hold what the command needs" },
    { OUTCOME_OWN_FAULT, "plan, batch", "this program's own fault: the checker refused what was found, so it is not shown" },
    { OUTCOME_CANNOT_WRITE, "all", "the answer could not be written; or the record could not, and is as it was" },
};

const OutcomeRow *
outcome_each (guint *count)
{
    *count = G_N_ELEMENTS (rows);
    return rows;
}

/* Cases without a way count more than a bound that is not met: somebody has to know before the work begins. */
static Outcome
outcome_of_branches (const BranchAnswer *branches)
{
    if (branches->check->given_up > 0)
        return OUTCOME_READ_FIRST;
    return branches->claim == CLAIM_PROVED_SHORTEST ? OUTCOME_ANSWERED : OUTCOME_BEST_FOUND;
}

Outcome
outcome_of_answer (const RouteAnswer *answer)
{
    switch (answer->claim) {
    case CLAIM_PROVED_SHORTEST:
        return OUTCOME_ANSWERED;
    case CLAIM_BEST_FOUND:
        return OUTCOME_BEST_FOUND;
    case CLAIM_NO_ROUTE:
        return OUTCOME_NO_ROUTE;
    case CLAIM_NOT_FOUND:
        return OUTCOME_NOT_FOUND;
    case CLAIM_READ_FIRST:
        return OUTCOME_READ_FIRST;
    case CLAIM_FAULT:
        return OUTCOME_OWN_FAULT;
    case CLAIM_BRANCHES:
        return outcome_of_branches (answer->branches);
    }
    g_assert_not_reached ();
}

static guint
start_rank (Outcome outcome)
{
    switch (outcome) {
    case OUTCOME_DOES_NOT_START:
        return 4;
    case OUTCOME_NOT_KNOWN:
        return 3;
    case OUTCOME_SOME_START:
        return 2;
    case OUTCOME_READ_FIRST:
        return 1;
    default:
        return 0;
    }
}

Outcome
outcome_worse_start (Outcome left, Outcome right)
{
    return start_rank (right) > start_rank (left) ? right : left;
}
