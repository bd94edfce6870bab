/* SPDX-License-Identifier: MIT */
/* The question as a whole: ground, solve, walk the answer in every case; where no one route serves, say what to read.
 */
#include "route/route.h"
#include "route/back.h"
#include "route/branched.h"
#include "route/route_parts.h"
#include "route/solve.h"

/* Combinations of possible releases that one answer is walked through. */
#define MOST_CASES 65536

void
route_answer_free (RouteAnswer *answer)
{
    g_clear_pointer (&answer->steps, g_array_unref);
    g_clear_pointer (&answer->ways_back, g_array_unref);
    g_clear_pointer (&answer->walk, walk_free);
    g_clear_pointer (&answer->cases, g_ptr_array_unref);
    g_free (answer->reason);
    g_free (answer->floor_assumed);
    g_clear_pointer (&answer->branches, branch_answer_free);
    g_free (answer);
}

/* ---- One question ---- */

static void
take_over (const RouteQuestion *question, RouteAnswer *answer, Solved *solved)
{
    answer->claim = solved->claim;
    answer->objective = question->options->objective;
    answer->stopped = answer->stopped || solved->stopped;
    answer->lower_bound = solved->lower_bound;
    answer->searched = solved->searched;
    answer->solver_runs = solved->solver_runs;
    answer->layers = solved->layers;
    answer->proof = solved->proof;
    g_free (answer->reason);
    answer->reason = g_steal_pointer (&solved->reason);
}

static gboolean
some_no_return (const GArray *ways)
{
    for (guint i = 0; i < ways->len; i++)
        if (g_array_index (ways, WayBack, i).kind == BACK_NO_RETURN)
            return TRUE;
    return FALSE;
}

/* Plans for the unit as it is given, unknown releases and all. FALSE: it could not be grounded. */
gboolean
route_plan_once (const RouteQuestion *question, RouteAnswer *answer)
{
    char *reason = NULL;
    g_autoptr (Problem) problem =
        problem_new (question->library, question->shop, question->unit, question->want, question->options, &reason);
    if (problem == NULL) {
        answer->claim = CLAIM_NOT_FOUND;
        answer->proof = "the question is too large";
        g_free (answer->reason);
        answer->reason = reason;
        return FALSE;
    }
    g_autoptr (Solved) solved = solve_problem (problem, question->options);
    take_over (question, answer, solved);
    if (solved->moves == NULL)
        return TRUE;
    if (!question->options->no_ways_back) {
        answer->ways_back = moves_ways_back (problem, solved->moves);
        if (!solved->is_familiar && some_no_return (answer->ways_back) && moves_keep_open (problem, solved->moves)) {
            g_array_unref (answer->ways_back);
            answer->ways_back = moves_ways_back (problem, solved->moves);
        }
    }
    answer->steps = moves_to_steps (problem, solved->moves);
    return TRUE;
}

static void
refuse (RouteAnswer *answer, Walk *walk)
{
    answer->claim = CLAIM_FAULT;
    answer->proof = "the checker refused the answer";
    g_free (answer->reason);
    answer->reason = g_strdup_printf ("step %u breaks %s: %s", walk->first_bad + 1, walk->rule, walk->why);
    walk_free (walk);
}

/* Nothing is shown unchecked: every case of the unit walks the route. */
void
route_walk_all_cases (const RouteQuestion *question, RouteAnswer *answer)
{
    g_autoptr (GPtrArray) cases = unit_cases (question->unit, MOST_CASES);
    if (cases == NULL) {
        answer->claim = CLAIM_NOT_FOUND;
        answer->proof = "too many combinations of possible releases to check";
        g_clear_pointer (&answer->steps, g_array_unref);
        return;
    }
    for (guint i = 0; i < cases->len; i++) {
        g_autoptr (State) start = state_from_unit (question->unit, cases->pdata[i]);
        Walk *walk = check_walk (question->library, question->shop, question->want, start, answer->steps);
        if (!walk->sound) {
            refuse (answer, walk);
            return;
        }
        if (answer->walk == NULL)
            answer->walk = walk;
        else
            walk_free (walk);
    }
}

gboolean
route_steps_equal (const GArray *left, const GArray *right)
{
    if (left == NULL || right == NULL)
        return left == right;
    if (left->len != right->len)
        return FALSE;
    for (guint i = 0; i < left->len; i++) {
        const Step *l = &g_array_index (left, Step, i), *r = &g_array_index (right, Step, i);
        if (l->kind != r->kind || l->slot != r->slot || l->part != r->part || l->stepping != r->stepping ||
            l->owner != r->owner || l->bound != r->bound || l->component != r->component || l->release != r->release ||
            l->method != r->method)
            return FALSE;
    }
    return TRUE;
}

/* ---- The answer ---- */

/* A floor that was not given, of a component in which some release sets one. */
static gboolean
floor_is_assumed (const Unit *unit, guint index)
{
    const Component *component = board_component (unit->board, index);
    for (guint r = 0; unit->releases[index].floor < 0 && r < component->releases->len; r++)
        if (component_release (component, r)->lowest >= 0)
            return TRUE;
    return FALSE;
}

void
route_mark_assumed_floors (const Unit *unit, RouteAnswer *answer)
{
    const Board *board = unit->board;
    answer->floor_assumed = g_new0 (gboolean, board->components->len + 1);
    for (guint i = 0; answer->steps != NULL && i < answer->steps->len; i++) {
        const Step *step = &g_array_index (answer->steps, Step, i);
        if (step->kind != STEP_WRITE)
            continue;
        const Release *written = component_release (board_component (board, step->component), step->release);
        answer->floor_assumed[step->component] = floor_is_assumed (unit, step->component);
        for (guint a = 0; a < written->also_writes->len; a++) {
            int also = board_find_component (board, ((const AlsoWrites *) written->also_writes->pdata[a])->component);
            if (also >= 0)
                answer->floor_assumed[also] = floor_is_assumed (unit, (guint) also);
        }
    }
}

static gboolean
has_unknown (const Unit *unit)
{
    for (guint c = 0; c < unit->board->components->len; c++)
        if (unit->releases[c].count > 1)
            return TRUE;
    return FALSE;
}

/* ---- Plans with branches ---- */

/* Nothing of the single route is left: the plan takes its place. */
static void
take_plan (RouteAnswer *answer, BranchAnswer *plan)
{
    g_clear_pointer (&answer->steps, g_array_unref);
    g_clear_pointer (&answer->ways_back, g_array_unref);
    g_clear_pointer (&answer->walk, walk_free);
    g_clear_pointer (&answer->reason, g_free);
    answer->branches = plan;
    answer->claim = CLAIM_BRANCHES;
    answer->lower_bound = plan->lower_bound;
    answer->proof = plan->claim == CLAIM_PROVED_SHORTEST ? "all plans with a better worst case were looked at"
                    : plan->stopped                      ? "stopped before the end"
                                                         : "the effort ran out";
}

/* Reading on the way may save steps, or be the only way. TRUE: the answer is settled. */
static gboolean
plan_with_branches (const RouteQuestion *question, RouteAnswer *answer)
{
    const RouteOptions *options = question->options;
    gboolean single = answer->steps != NULL && answer->walk != NULL;
    if (options->no_branches || options->any_route || answer->stopped ||
        !has_unknown (question->unit) || (!single && answer->claim != CLAIM_NO_ROUTE))
        return FALSE;
    g_autoptr (BranchAnswer) plan = branched_find (question->library, question->shop, question->unit, question->want,
                                                   options, single ? answer : NULL);
    if (plan == NULL)
        return FALSE;
    answer->searched += plan->searched;
    answer->stopped = plan->stopped;
    if (plan->plan == NULL && plan->claim != CLAIM_NO_ROUTE) {
        g_free (answer->reason);
        answer->reason = plan->too_many ? g_steal_pointer (&plan->reason) : NULL;
        return FALSE;
    }
    if (plan->claim == CLAIM_FAULT) {
        answer->claim = CLAIM_FAULT;
        answer->proof = "the checker refused the plan with branches";
        g_free (answer->reason);
        answer->reason = g_strdup (plan->reason);
        g_clear_pointer (&answer->steps, g_array_unref);
        g_clear_pointer (&answer->walk, walk_free);
    } else if (plan->plan != NULL) {
        take_plan (answer, g_steal_pointer (&plan));
    }
    return TRUE;
}

RouteAnswer *
route_find (const Library *library, const Shop *shop, const Unit *unit, const Want *want, const RouteOptions *options)
{
    static const RouteOptions DEFAULTS = { 0 };
    RouteQuestion question = { library, shop, unit, want, options != NULL ? options : &DEFAULTS };
    RouteAnswer *answer = g_new0 (RouteAnswer, 1);
    if (route_plan_once (&question, answer) && answer->steps != NULL)
        route_walk_all_cases (&question, answer);
    if (!plan_with_branches (&question, answer) && answer->claim == CLAIM_NO_ROUTE && has_unknown (unit))
        route_choose_reading (&question, answer);
    route_mark_assumed_floors (unit, answer);
    return answer;
}
