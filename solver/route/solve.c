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
/* The search is first let have as many steps as the bound says, then this many more, then as many as it takes. */
#define EXTRA_STEPS 3

typedef enum { SEARCH_FOUND, SEARCH_NOTHING, SEARCH_GAVE_UP } SearchOutcome;

typedef struct {
    const Problem *problem;
    const RouteOptions *options;
    Bound *bound;
    Layers *layers;
    double seconds; /* most that one libsolv run may take */
    guint fewest_layers;
    guint bound_steps; /* what the bound alone proves */
    gboolean by_bound; /* the last run of the search had nothing to do: the bound said so */
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
        .best = solved->moves != NULL ? cost_steps (solved->cost) : G_MAXUINT,
        .lower_bound = solved->lower_bound,
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
    if (solve->solved->moves == NULL || cost <= solve->solved->cost) {
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
    else if (!found)
        fault (solve, "libsolv found a route where the search finds none");
    else
        conclude (solved, CLAIM_PROVED_SHORTEST,
                  solve->bound_steps == cost_steps (solved->cost) ? "the lower bound is met"
                                                                  : "all shorter routes were looked at");
    if (solved->claim == CLAIM_PROVED_SHORTEST)
        solved->lower_bound = cost_steps (solved->cost);
}

/* One run of the search; what it finds is taken over. */
static SearchOutcome
search_once (Solve *solve, Cost ceiling, Cost mask, guint64 most)
{
    Solved *solved = solve->solved;
    SearchLimits limits = { ceiling, mask, most, search_goes_on, solve };
    g_autoptr (SearchResult) result = search_run (solve->problem, solve->bound, &limits);
    gboolean found = result->moves != NULL;
    solved->searched += result->opened;
    if (found && !take_route (solve, g_steal_pointer (&result->moves))) {
        fault (solve, "the search's route does not replay");
        return SEARCH_GAVE_UP;
    }
    if (!result->exhausted) {
        solved->lower_bound = MAX (solved->lower_bound, cost_steps (result->least_open));
        return SEARCH_GAVE_UP;
    }
    return found ? SEARCH_FOUND : SEARCH_NOTHING;
}

/* Looks for routes of at most `most_steps` steps: first for one that is good in steps and insertions, which is quick,
 * then for the best in all. */
static SearchOutcome
search_within (Solve *solve, const guint16 *values, guint most_steps)
{
    Solved *solved = solve->solved;
    guint64 most = solve->options->search_states != 0 ? solve->options->search_states : DEFAULT_STATES;
    bound_make_table (solve->bound, most_steps);
    Cost least = bound_of (solve->bound, values, MODE_FRESH);
    if (least == COST_NEVER || cost_steps (least) > most_steps) {
        solve->by_bound = TRUE;
        return SEARCH_NOTHING;
    }
    solve->by_bound = FALSE;
    solve->bound_steps = MAX (solve->bound_steps, cost_steps (least));
    solved->lower_bound = MAX (solved->lower_bound, solve->bound_steps);
    Cost known = solved->moves != NULL ? solved->cost : COST_NEVER;
    Cost ceiling = most_steps == G_MAXUINT ? known : MIN (known, (most_steps + 1) * COST_STEP - 1);
    SearchOutcome quick = search_once (solve, ceiling, SEARCH_STEPS, (most - MIN (most, solved->searched)) / 2);
    if (quick != SEARCH_FOUND)
        return quick;
    /* It came to its end, so nothing has fewer steps; only ties are left. */
    solved->lower_bound = MAX (solved->lower_bound, cost_steps (solved->cost));
    return search_once (solve, solved->cost, SEARCH_ALL, most - MIN (most, solved->searched));
}

/* The second opinion. A small allowance of steps makes a small table, and is enough where the bound is good; it grows
 * until it holds a route, or everything. TRUE: the question is settled. */
static gboolean
search_all (Solve *solve, const guint16 *values)
{
    Solved *solved = solve->solved;
    guint first = solved->lower_bound;
    for (guint extra = 0;; extra += EXTRA_STEPS) {
        gboolean whole = extra > EXTRA_STEPS;
        guint allowed = whole ? G_MAXUINT : first + extra;
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
    while (solved->moves != NULL && cost_steps (solved->cost) > solved->lower_bound) {
        GArray *moves = NULL;
        guint most = cost_steps (solved->cost) - 1;
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
    else if (cost_steps (solved->cost) == solved->lower_bound)
        conclude (solved, CLAIM_PROVED_SHORTEST,
                  solve->bound_steps == solved->lower_bound
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
    if (solved->claim == CLAIM_FAULT || solved->stopped)
        return;
    if (solved->moves == NULL &&
        !first_route (solve, MAX (solved->layers + 1, solve->fewest_layers), MAX (most, solved->layers + 1), G_MAXUINT))
        return;
    tighten (solve);
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
    solved->lower_bound = cost_steps (bound_by_needs (solve->bound, values));
    if (!first_route (solve, fewest, fewest + MORE_LAYERS, FIRST_PACKAGES))
        return;
    if (search_all (solve, values))
        return;
    go_on_with_layers (solve);
    conclude_open (solve);
}

Solved *
solve_problem (const Problem *problem, const RouteOptions *options)
{
    Solve solve = { .problem = problem, .options = options, .solved = g_new0 (Solved, 1) };
    g_autofree guint16 *values = problem_initial_values (problem);
    solve.seconds = DEFAULT_SECONDS;
    solve.bound = bound_new (problem);
    solve.layers = layers_new (problem);
    solve.fewest_layers = bound_layers (solve.bound, values);
    run (&solve, values);
    solve.solved->solver_runs = layers_runs (solve.layers);
    if (solve.solved->moves != NULL)
        moves_order (problem, solve.solved->moves);
    layers_free (solve.layers);
    bound_free (solve.bound);
    return solve.solved;
}
