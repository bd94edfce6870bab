/* SPDX-License-Identifier: MIT */
/* The order in which things are tried, and what each outcome proves: docs/method.md, "Who does what". */
#include "route/solve.h"
#include "route/layers.h"

#define DEFAULT_STATES  1000000
#define DEFAULT_SECONDS 20.0
#define DEFAULT_LAYERS  12
/* Before the search, libsolv is asked for a route over this many layers more than the fewest possible, as long as the
 * package problem is small: some hundredths of a second. A limit in packages, not in seconds, so that one input gives
 * one answer however busy the machine is. */
#define MORE_LAYERS    2
#define FIRST_PACKAGES 4000
/* The search is first let have as much of what is minimised first as the bound says, then this much more, then as much as
 * it takes. */
static guint
extra_allowance (Objective objective, guint bound)
{
    switch (objective) {
    case OBJECTIVE_HANDLING:
        return 1; /* insertion */
    case OBJECTIVE_TIME:
        return 100 + bound / 8; /* tenths of a minute */
    default:
        return 3; /* steps */
    }
}

typedef enum { SEARCH_FOUND, SEARCH_NOTHING, SEARCH_GAVE_UP } SearchOutcome;

typedef struct {
    Problem *problem;
    const RouteOptions *options;
    Bound *bound;
    Layers *layers;
    double seconds; /* most that one libsolv run may take */
    guint fewest_layers;
    guint bound_lead;  /* what the bound alone proves */
    gboolean by_bound; /* the last run of the search had nothing to do: the bound said so */
    int worn;          /* a slot that a route of the search fills too often; -1: none */
    Solved *solved;
} Solve;

void
solved_free (Solved *solved)
{
    g_clear_pointer (&solved->moves, g_array_unref);
    g_free (solved->reason);
    g_free (solved);
}

static void
conclude (Solved *solved, Claim claim, const char *proof)
{
    solved->claim = claim;
    solved->proof = proof;
}

/* ---- Being asked to stop ---- */

static gboolean
goes_on (Solve *solve, const char *doing, guint64 opened, guint layers)
{
    Solved *solved = solve->solved;
    if (solve->options->go_on == NULL || solved->stopped)
        return !solved->stopped;
    RouteProgress progress = {
        .doing = doing,
        .opened = opened,
        .layers = layers,
        .best = solved->moves != NULL ? cost_lead (solve->problem, solved->cost) : G_MAXUINT,
        .lower_bound = solved->lower_bound,
        .objective = solve->problem->objective,
    };
    solved->stopped = !solve->options->go_on (&progress, solve->options->go_on_data);
    return !solved->stopped;
}

static gboolean
search_goes_on (guint64 opened, gpointer data)
{
    return goes_on (data, "searching", opened, 0);
}

static gboolean
solver_goes_on (gpointer data)
{
    Solve *solve = data;
    return goes_on (solve, "planning with packages", 0, solve->solved->layers);
}

static PackagesOutcome
run_layers (Solve *solve, guint n_layers, guint most_steps, GArray **moves)
{
    PackagesPatience patience = { solve->seconds, solver_goes_on, solve };
    solve->solved->layers = n_layers;
    return layers_solve (solve->layers, n_layers, most_steps, &patience, moves);
}

/* ---- Routes ---- */

/* Takes a route over when it is better than what is there. Consumes `moves`. FALSE: it is not sound. */
static gboolean
take_route (Solve *solve, GArray *moves)
{
    Cost cost = moves_cost (solve->problem, moves);
    if (cost == COST_NEVER) {
        g_array_unref (moves);
        return FALSE;
    }
    /* Of equals the later one stays: the search's own, so that the answer does not hang on what libsolv found first. */
    gboolean better = solve->solved->is_familiar ? cost < solve->solved->cost : cost <= solve->solved->cost;
    if (solve->solved->moves == NULL || better) {
        solve->solved->is_familiar = FALSE;
        g_clear_pointer (&solve->solved->moves, g_array_unref);
        solve->solved->moves = moves;
        solve->solved->cost = cost;
    } else {
        g_array_unref (moves);
    }
    return TRUE;
}

static gboolean
fault (Solve *solve, const char *what)
{
    conclude (solve->solved, CLAIM_FAULT, what);
    return FALSE;
}

/* libsolv's first route: more and more layers, from `least` to `most`, until there is one. FALSE: fault. */
static gboolean
first_route (Solve *solve, guint least, guint most, guint most_packages)
{
    for (guint n = least; n <= most && layers_packages (solve->layers, n) <= most_packages; n++) {
        GArray *moves = NULL;
        PackagesOutcome outcome = run_layers (solve, n, G_MAXUINT, &moves);
        if (outcome == PACKAGES_OUT_OF_TIME)
            return TRUE;
        if (outcome != PACKAGES_SOLVED)
            continue;
        moves_trim (solve->problem, moves);
        return take_route (solve, moves) || fault (solve, "libsolv's route does not replay");
    }
    return TRUE;
}

/* The search came to its end without finding anything dearer than it was allowed: what does that say? */
static void
conclude_search (Solve *solve, gboolean found)
{
    Solved *solved = solve->solved;
    if (solved->moves == NULL)
        conclude (solved, CLAIM_NO_ROUTE,
                  solve->by_bound ? "no order of work on processors and firmware leads to the want"
                                  : "every state that can be reached was looked at");
    else if (solve->options->any_route)
        conclude (solved, CLAIM_BEST_FOUND, "any route was asked for");
    else if (!found)
        fault (solve, "libsolv found a route where the search finds none");
    else
        conclude (solved, CLAIM_PROVED_SHORTEST,
                  solve->bound_lead == cost_lead (solve->problem, solved->cost) ? "the lower bound is met"
                                                                                : "all shorter routes were looked at");
    if (solved->claim == CLAIM_PROVED_SHORTEST)
        solved->lower_bound = cost_lead (solve->problem, solved->cost);
}

/* The route fills some slot more often than it may be, and the search did not count that. */
static gboolean
wears_out (Solve *solve, const GArray *moves)
{
    Replay replay = moves_replay (solve->problem, moves);
    solve->worn = replay.verdict == REPLAY_WORN ? (int) replay.var : -1;
    replay_clear (&replay);
    return solve->worn >= 0;
}

/* One run of the search; what it finds is taken over. */
static SearchOutcome
search_once (Solve *solve, Cost ceiling, Cost mask, guint64 most)
{
    Solved *solved = solve->solved;
    SearchLimits limits = { .ceiling = ceiling,
                            .mask = mask,
                            .any = solve->options->any_route,
                            .most = most,
                            .go_on = search_goes_on,
                            .data = solve };
    g_autoptr (SearchResult) result = search_run (solve->problem, solve->bound, &limits);
    gboolean found = result->moves != NULL;
    solved->searched += result->opened;
    if (found && wears_out (solve, result->moves))
        return SEARCH_GAVE_UP;
    if (found && !take_route (solve, g_steal_pointer (&result->moves))) {
        fault (solve, "the search's route does not replay");
        return SEARCH_GAVE_UP;
    }
    if (!result->exhausted) {
        solved->lower_bound = MAX (solved->lower_bound, cost_lead (solve->problem, result->least_open));
        return SEARCH_GAVE_UP;
    }
    return found ? SEARCH_FOUND : SEARCH_NOTHING;
}

/* Looks for routes with at most `most` of what is minimised first: first for one that is good in the parts that count
 * most, which is quick, then for the best in all. */
static SearchOutcome
search_within (Solve *solve, const guint16 *values, guint most)
{
    Solved *solved = solve->solved;
    const Problem *problem = solve->problem;
    guint64 states = solve->options->search_states != 0 ? solve->options->search_states : DEFAULT_STATES;
    bound_make_table (solve->bound, most);
    Cost least = bound_of (solve->bound, values, MODE_FRESH);
    if (least == COST_NEVER || cost_lead (problem, least) > most) {
        solve->by_bound = TRUE;
        return SEARCH_NOTHING;
    }
    solve->by_bound = FALSE;
    solve->bound_lead = MAX (solve->bound_lead, cost_lead (problem, least));
    solved->lower_bound = MAX (solved->lower_bound, solve->bound_lead);
    Cost known = solved->moves != NULL ? solved->cost : COST_NEVER;
    Cost ceiling = most == G_MAXUINT ? known : MIN (known, cost_of_lead (problem, most + 1) - 1);
    SearchOutcome quick =
        search_once (solve, ceiling, problem->weights->coarse, (states - MIN (states, solved->searched)) / 2);
    if (quick != SEARCH_FOUND || solve->options->any_route)
        return quick;
    /* It came to its end, so nothing has less of what counts first; only ties are left. */
    solved->lower_bound = MAX (solved->lower_bound, cost_lead (problem, solved->cost));
    return search_once (solve, solved->cost, SEARCH_ALL, states - MIN (states, solved->searched));
}

/* The second opinion. A small allowance makes a small table, and is enough where the bound is good; it grows until it
 * holds a route, or everything. TRUE: the question is settled. */
static gboolean
search_all (Solve *solve, const guint16 *values)
{
    Solved *solved = solve->solved;
    guint first = solved->lower_bound, extra = extra_allowance (solve->problem->objective, first);
    for (guint round = solve->options->any_route ? 2 : 0;; round++) {
        gboolean whole = round > 1;
        guint allowed = whole ? G_MAXUINT : first + round * extra;
        SearchOutcome outcome = search_within (solve, values, allowed);
        if (outcome == SEARCH_GAVE_UP)
            return solved->claim == CLAIM_FAULT;
        if (outcome == SEARCH_FOUND || whole) {
            conclude_search (solve, outcome == SEARCH_FOUND);
            return TRUE;
        }
        solved->lower_bound = MAX (solved->lower_bound, allowed + 1);
    }
}

/* Where the search is too large: libsolv is asked for fewer and fewer steps. Over as many layers as there may be steps,
 * a refusal is a proof. */
static void
tighten (Solve *solve)
{
    Solved *solved = solve->solved;
    while (solved->moves != NULL && cost_lead (solve->problem, solved->cost) > solved->lower_bound) {
        GArray *moves = NULL;
        guint most = cost_lead (solve->problem, solved->cost) - 1;
        guint n = MIN (MAX (solved->layers, solve->fewest_layers), most);
        PackagesOutcome outcome = run_layers (solve, MAX (n, 1), most, &moves);
        if (outcome == PACKAGES_SOLVED) {
            moves_trim (solve->problem, moves);
            if (!take_route (solve, moves)) {
                fault (solve, "libsolv's route does not replay");
                return;
            }
            continue;
        }
        if (outcome == PACKAGES_REFUTED && n >= most)
            solved->lower_bound = most + 1;
        break;
    }
}

static void
conclude_open (Solve *solve)
{
    Solved *solved = solve->solved;
    if (solved->claim == CLAIM_FAULT)
        return;
    const char *why = solved->stopped ? "stopped before the end" : "the effort ran out";
    if (solved->moves == NULL)
        conclude (solved, CLAIM_NOT_FOUND, why);
    else if (solve->problem->objective == OBJECTIVE_STEPS &&
             cost_lead (solve->problem, solved->cost) == solved->lower_bound)
        conclude (solved, CLAIM_PROVED_SHORTEST,
                  solve->bound_lead == solved->lower_bound
                      ? "the lower bound is met; ties were not looked at to the end"
                      : "all shorter routes were looked at; ties were not looked at to the end");
    else
        conclude (solved, CLAIM_BEST_FOUND, why);
}

/* Where the search did not settle it: libsolv gets its full time, first for a route, then for shorter ones. */
static void
go_on_with_layers (Solve *solve)
{
    Solved *solved = solve->solved;
    guint most = DEFAULT_LAYERS;
    if (solved->claim == CLAIM_FAULT || solved->stopped || solve->options->search_only)
        return;
    if (solved->moves == NULL &&
        !first_route (solve, MAX (solved->layers + 1, solve->fewest_layers), MAX (most, solved->layers + 1), G_MAXUINT))
        return;
    /* The encoding counts steps; of anything else it can only say what the search did not get to. */
    if (solve->problem->objective == OBJECTIVE_STEPS && !solve->options->any_route)
        tighten (solve);
}

/* Steps that were planned before and still lead to the want: they stay, unless something costs less. */
static void
begin_with_familiar (Solve *solve)
{
    const GArray *familiar = solve->options->familiar;
    g_autoptr (GArray) moves = familiar != NULL ? moves_from_steps (solve->problem, familiar) : NULL;
    if (moves == NULL || moves_cost (solve->problem, moves) == COST_NEVER)
        return;
    take_route (solve, g_steal_pointer (&moves));
    solve->solved->is_familiar = TRUE;
}

/* Fittings of a slot are counted only once a route needs too many of them. */
static gboolean
search_counting_wear (Solve *solve, const guint16 *values)
{
    for (;;) {
        solve->worn = -1;
        if (search_all (solve, values))
            return TRUE;
        if (solve->worn < 0)
            return FALSE;
        problem_count_wear (solve->problem, (guint) solve->worn);
    }
}

static void
run (Solve *solve, const guint16 *values)
{
    Solved *solved = solve->solved;
    if (bound_by_needs (solve->bound, values) == COST_NEVER) {
        conclude (solved, CLAIM_NO_ROUTE, "no state that can be reached meets the want and starts");
        return;
    }
    guint fewest = MAX (1, solve->fewest_layers);
    solved->lower_bound = cost_lead (solve->problem, bound_by_needs (solve->bound, values));
    begin_with_familiar (solve);
    if (solved->moves == NULL && !solve->options->search_only &&
        !first_route (solve, fewest, fewest + MORE_LAYERS, FIRST_PACKAGES))
        return;
    if (solve->options->any_route && solved->moves != NULL) {
        conclude (solved, CLAIM_BEST_FOUND, "any route was asked for");
        return;
    }
    if (search_counting_wear (solve, values))
        return;
    go_on_with_layers (solve);
    conclude_open (solve);
}

Solved *
solve_problem (Problem *problem, const RouteOptions *options)
{
    Solve solve = { .problem = problem, .options = options, .solved = g_new0 (Solved, 1), .worn = -1 };
    g_autofree guint16 *values = problem_initial_values (problem);
    solve.seconds = DEFAULT_SECONDS;
    solve.bound = bound_new (problem);
    solve.layers = layers_new (problem);
    solve.fewest_layers = bound_layers (solve.bound, values);
    run (&solve, values);
    solve.solved->solver_runs = layers_runs (solve.layers);
    if (solve.solved->moves != NULL && !solve.solved->is_familiar)
        moves_order (problem, solve.solved->moves);
    layers_free (solve.layers);
    bound_free (solve.bound);
    return solve.solved;
}
