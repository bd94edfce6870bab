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
/* Combinations that are planned for one by one, to see whether any has a route of its own. */
#define MOST_PLANS 1000

static void
route_case_free (RouteCase *one)
{
    g_free (one->may_be);
    g_clear_pointer (&one->steps, g_array_unref);
    g_free (one);
}

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

typedef struct {
    const Library *library;
    const Shop *shop;
    const Unit *unit;
    const Want *want;
    const RouteOptions *options;
} Question;

static void
take_over (const Question *question, RouteAnswer *answer, Solved *solved)
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
static gboolean
plan_once (const Question *question, RouteAnswer *answer)
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
static void
walk_all_cases (const Question *question, RouteAnswer *answer)
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

/* ---- Unknown releases ---- */

/* The unit as it would be if `component` were known to have `release`. Borrows everything but its releases. */
static Unit
unit_with_release (const Unit *unit, guint component, guint release, UnitRelease *releases, gboolean *may_be)
{
    Unit known = *unit;
    guint n = board_component (unit->board, component)->releases->len;
    for (guint c = 0; c < unit->board->components->len; c++)
        releases[c] = unit->releases[c];
    for (guint r = 0; r < n; r++)
        may_be[r] = r == release;
    releases[component].may_be = may_be;
    releases[component].count = 1;
    known.releases = releases;
    return known;
}

static RouteCase *
plan_case (const Question *question, guint component, guint release)
{
    const Board *board = question->unit->board;
    guint n_releases = board_component (board, component)->releases->len;
    g_autofree UnitRelease *releases = g_new0 (UnitRelease, board->components->len + 1);
    g_autofree gboolean *may_be = g_new0 (gboolean, n_releases + 1);
    Unit known = unit_with_release (question->unit, component, release, releases, may_be);
    Question narrower = *question;
    narrower.unit = &known;
    RouteAnswer answer = { 0 };
    RouteCase *one = g_new0 (RouteCase, 1);
    if (plan_once (&narrower, &answer) && answer.steps != NULL)
        walk_all_cases (&narrower, &answer);
    one->claim = answer.claim;
    one->steps = g_steal_pointer (&answer.steps);
    one->may_be = g_steal_pointer (&may_be);
    one->members = 1;
    for (guint c = 0; c < board->components->len; c++)
        one->members *= known.releases[c].count;
    g_clear_pointer (&answer.walk, walk_free);
    g_free (answer.reason);
    return one;
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
            l->owner != r->owner || l->component != r->component || l->release != r->release || l->method != r->method)
            return FALSE;
    }
    return TRUE;
}

/* Releases with the same answer are one case. Consumes `one`. */
static void
add_case (GPtrArray *cases, RouteCase *one, guint n_releases)
{
    for (guint i = 0; i < cases->len; i++) {
        RouteCase *there = cases->pdata[i];
        if (there->claim != one->claim || !route_steps_equal (there->steps, one->steps))
            continue;
        for (guint r = 0; r < n_releases; r++)
            there->may_be[r] = there->may_be[r] || one->may_be[r];
        there->members += one->members;
        route_case_free (one);
        return;
    }
    g_ptr_array_add (cases, one);
}

static gboolean
case_has_route (const RouteCase *one)
{
    return one->claim == CLAIM_PROVED_SHORTEST || one->claim == CLAIM_BEST_FOUND;
}

/* What each possible release of one component would lead to. Transfer full (GPtrArray of RouteCase*). */
static GPtrArray *
plan_cases_of (const Question *question, guint component, guint *with_route)
{
    GPtrArray *cases = g_ptr_array_new_with_free_func ((GDestroyNotify) route_case_free);
    const UnitRelease *unknown = &question->unit->releases[component];
    guint n_releases = board_component (question->unit->board, component)->releases->len;
    *with_route = 0;
    for (guint r = 0; r < n_releases; r++) {
        if (!unknown->may_be[r])
            continue;
        RouteCase *one = plan_case (question, component, r);
        *with_route += case_has_route (one);
        add_case (cases, one, n_releases);
    }
    return cases;
}

/* Whether some combination of releases has a route: then reading helps, even if one reading is not enough. `*open`: for
 * some it was not settled. */
static gboolean
some_case_has_route (const Question *question, guint *plans, gboolean *open)
{
    const Board *board = question->unit->board;
    for (guint c = 0; c < board->components->len; c++) {
        if (question->unit->releases[c].count < 2)
            continue;
        for (guint r = 0; r < board_component (board, c)->releases->len; r++) {
            if (!question->unit->releases[c].may_be[r])
                continue;
            g_autofree UnitRelease *releases = g_new0 (UnitRelease, board->components->len + 1);
            g_autofree gboolean *may_be = g_new0 (gboolean, board_component (board, c)->releases->len + 1);
            Unit known = unit_with_release (question->unit, c, r, releases, may_be);
            Question narrower = *question;
            narrower.unit = &known;
            if (some_case_has_route (&narrower, plans, open))
                return TRUE;
        }
        return FALSE; /* one unknown component at a time: the rest is looked at further down */
    }
    RouteAnswer answer = { 0 };
    if (++*plans > MOST_PLANS)
        return FALSE;
    plan_once (question, &answer);
    gboolean found = answer.steps != NULL;
    *open = *open || (!found && answer.claim != CLAIM_NO_ROUTE);
    g_clear_pointer (&answer.steps, g_array_unref);
    g_free (answer.reason);
    return found;
}

/* Of the components whose release is not known, the one whose reading leads to a route in the most of its cases. */
static void
choose_reading (const Question *asked, RouteAnswer *answer)
{
    /* Of the cases only the routes are shown; what leads back from their steps is asked once the release is read. */
    RouteOptions options = *asked->options;
    options.no_ways_back = TRUE;
    const Question narrowed = { asked->library, asked->shop, asked->unit, asked->want, &options };
    const Question *question = &narrowed;
    double best = -1;
    for (guint c = 0; c < question->unit->board->components->len; c++) {
        guint with_route = 0;
        if (question->unit->releases[c].count < 2)
            continue;
        g_autoptr (GPtrArray) cases = plan_cases_of (question, c, &with_route);
        double share = (double) with_route / question->unit->releases[c].count;
        if (share <= best)
            continue;
        best = share;
        answer->read_first = c;
        g_clear_pointer (&answer->cases, g_ptr_array_unref);
        answer->cases = g_steal_pointer (&cases);
    }
    guint plans = 0;
    gboolean open = FALSE;
    if (best > 0 || some_case_has_route (question, &plans, &open)) {
        answer->claim = CLAIM_READ_FIRST;
        answer->proof = "no one route serves every release that the unit may have";
        return;
    }
    if (plans > MOST_PLANS) {
        answer->claim = CLAIM_NOT_FOUND;
        answer->proof = "too many combinations of possible releases to try each; read one of them first";
    } else if (open) {
        answer->claim = CLAIM_NOT_FOUND;
        answer->proof = "the effort ran out";
    }
    g_clear_pointer (&answer->cases, g_ptr_array_unref);
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
plan_with_branches (const Question *question, RouteAnswer *answer)
{
    const RouteOptions *options = question->options;
    gboolean single = answer->steps != NULL && answer->walk != NULL;
    if (options->no_branches || options->any_route || options->search_only || answer->stopped ||
        !has_unknown (question->unit) || (!single && answer->claim != CLAIM_NO_ROUTE))
        return FALSE;
    g_autoptr (BranchAnswer) plan = branched_find (question->library, question->shop, question->unit, question->want,
                                                   options, single ? answer : NULL);
    if (plan == NULL)
        return FALSE;
    answer->searched += plan->searched;
    answer->stopped = plan->stopped;
    if (plan->plan == NULL && plan->claim != CLAIM_NO_ROUTE)
        return FALSE;
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
    Question question = { library, shop, unit, want, options != NULL ? options : &DEFAULTS };
    RouteAnswer *answer = g_new0 (RouteAnswer, 1);
    if (plan_once (&question, answer) && answer->steps != NULL)
        walk_all_cases (&question, answer);
    if (!plan_with_branches (&question, answer) && answer->claim == CLAIM_NO_ROUTE && has_unknown (unit))
        choose_reading (&question, answer);
    route_mark_assumed_floors (unit, answer);
    return answer;
}
