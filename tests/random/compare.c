/* SPDX-License-Identifier: MIT */
#include "compare.h"

#include "compare_walk.h"
#include "emit.h"
#include "load_job.h"
#include "translate.h"

#include "route/route.h"

#include <math.h>
#include <string.h>

static const char *
claim_words (Claim claim)
{
    static const char *const words[] = { "proved shortest", "best found", "no route", "not found within the effort",
                                         "read first",      "fault" };
    return words[claim];
}

enum { MOST_WORLDS_BY_GOAL = 60000 };

static RouteAnswer *
plan (const LoadedJob *loaded, Goal goal)
{
    RouteOptions options = { .objective = goal_objective (goal), .no_ways_back = TRUE, .no_branches = TRUE };
    return route_find (loaded->library, loaded->shop, loaded->unit, loaded->want, &options);
}

/* Walks the route by the model's rules and holds its own count against the program's. */
static Difference
walk_route (const Play *play, const Board *board, const RouteAnswer *route, Counts *counts, char **why)
{
    World world = play->start;
    *counts = (Counts){ 0 };
    for (guint i = 0; i < route->steps->len; i++) {
        Move move = { 0 };
        Verdict verdict = world_verdict (play, &world);
        if (!step_to_move (play, &world, board, &g_array_index (route->steps, Step, i), &move)) {
            *why = g_strdup_printf ("step %u names what is not there", i + 1);
            return DIFFERS_WALK;
        }
        if (!move_allowed (play, &world, &verdict, &move)) {
            g_autofree char *text = emit_move (play, &move);
            *why = g_strdup_printf ("step %u is not allowed: %s", i + 1, text);
            return DIFFERS_WALK;
        }
        *counts = counts_after (play, &world, &move, *counts);
        world = move_apply (play, &world, &move);
    }
    counts->tenths += end_tenths (play, &world);
    if (!world_verdict (play, &world).starts || !world_may_end (play, &world)) {
        *why = g_strdup ("the end is not allowed");
        return DIFFERS_WALK;
    }
    const Walk *walk = route->walk;
    if (counts->insertions == (int) walk->insertions && counts->openings == (int) walk->openings &&
        counts->tenths == (int) lround (walk->minutes * 10))
        return AGREES;
    *why = g_strdup_printf ("walked: insertions %d, openings %d, minutes %.1f; the program says %u, %u, %.1f",
                            counts->insertions, counts->openings, counts->tenths / 10.0, walk->insertions,
                            walk->openings, walk->minutes);
    return DIFFERS_WALK;
}

/* Counts that the goal does not name may differ. */
static Difference
counts_differ (Goal goal, Counts got, Counts expected)
{
    if (goal_cost (goal, got) == goal_cost (goal, expected))
        return AGREES;
    return got.steps != expected.steps             ? DIFFERS_STEPS
           : got.insertions != expected.insertions ? DIFFERS_INSERTIONS
           : got.openings != expected.openings     ? DIFFERS_OPENINGS
                                                   : DIFFERS_MINUTES;
}

static char *
counts_text (Counts counts)
{
    return g_strdup_printf ("steps %d, insertions %d, openings %d, minutes %.1f", counts.steps, counts.insertions,
                            counts.openings, counts.tenths / 10.0);
}

static Difference
compare_route (const Play *play, const Board *board, Goal goal, const Answer *answer, const RouteAnswer *route,
               char **why)
{
    Counts counts;
    g_autofree char *expected = counts_text (answer->counts);
    if (route->claim != CLAIM_PROVED_SHORTEST || !route->steps || !route->walk) {
        *why = g_strdup_printf ("by %s: expected %s; got %s (%s)", goal_name (goal), expected,
                                claim_words (route->claim), route->reason ? route->reason : "no reason");
        return DIFFERS_CLAIM;
    }
    Difference walked = walk_route (play, board, route, &counts, why);
    if (walked != AGREES)
        return walked;
    Difference difference = counts_differ (goal, counts, answer->counts);
    if (difference == AGREES && (int) route->lower_bound > goal_first (goal, answer->counts))
        difference = DIFFERS_BOUND;
    g_autofree char *got = counts_text (counts);
    if (difference != AGREES)
        *why = g_strdup_printf ("by %s: expected %s; got %s, bound %u (%s)", goal_name (goal), expected, got,
                                route->lower_bound, route->proof ? route->proof : "no proof");
    return difference;
}

/* How many cases have a route of their own. */
static int
cases_with_route (const Job *job)
{
    int total = job_case_count (job), with = 0;
    for (int k = 0; k < total; k++) {
        Play play;
        play_setup (&play, job, k);
        Answer answer = exhaustive_answer (&play, GOAL_STEPS, 200000);
        with += answer.kind == ANSWER_ROUTE;
        answer_clear (&answer);
    }
    return with;
}

/* How the job fares once this release of one component has been read. */
static gboolean
release_fares_so (const Job *job, int component, int release, const RouteCase *theirs, char **why)
{
    Job read = *job;
    Play play;
    read.may_be[component] = 1u << release;
    play_setup (&play, &read, -1);
    Answer alone = exhaustive_answer (&play, GOAL_STEPS, 200000);
    gboolean agrees = alone.kind == ANSWER_ROUTE ? theirs->claim == CLAIM_PROVED_SHORTEST && theirs->steps &&
                                                       (int) theirs->steps->len == alone.counts.steps
                                                 : theirs->claim == CLAIM_NO_ROUTE;
    if (!agrees) {
        g_autofree char *expected = emit_expectation (&alone);
        *why = g_strdup_printf ("component %d at release %d: expected %s; got %s, %u steps", component, release,
                                expected, claim_words (theirs->claim), theirs->steps ? theirs->steps->len : 0);
    }
    answer_clear (&alone);
    return agrees;
}

/* Each release that may be read leads where the program says, and its cases together are all of them. */
static Difference
compare_cases (const Play *all, const Board *board, const RouteAnswer *route, char **why)
{
    guint members = 0;
    const Component *component = board_component (board, route->read_first);
    for (guint i = 0; i < route->cases->len; i++) {
        const RouteCase *theirs = g_ptr_array_index (route->cases, i);
        members += theirs->members;
        for (guint r = 0; r < component->releases->len; r++) {
            if (!theirs->may_be[r])
                continue;
            Move at = { 0 };
            if (!find_release (all->job, component->name, component_release (component, r)->name, &at) ||
                !(all->job->may_be[at.component] & 1u << at.release)) {
                *why = g_strdup_printf ("case %u is none of the unit's", i + 1);
                return DIFFERS_CASES;
            }
            if (!release_fares_so (all->job, at.component, at.release, theirs, why))
                return DIFFERS_CASES;
        }
    }
    if (members == (guint) all->case_count)
        return AGREES;
    *why = g_strdup_printf ("the cases stand for %u combinations; there are %d", members, all->case_count);
    return DIFFERS_CASES;
}

/* No one route serves all cases: what to read first is told where some case has a route of its own. */
static Difference
compare_none (const Play *all, const Board *board, Goal goal, const RouteAnswer *route, char **why)
{
    if (all->case_count > 1 && route->claim == CLAIM_READ_FIRST && route->cases)
        return goal == GOAL_STEPS ? compare_cases (all, board, route, why) : AGREES;
    if (route->claim == CLAIM_NO_ROUTE && (all->case_count == 1 || !cases_with_route (all->job)))
        return AGREES;
    *why = g_strdup_printf ("expected no route for all of %d cases; got %s (%s)", all->case_count,
                            claim_words (route->claim), route->reason ? route->reason : "no reason");
    return DIFFERS_CLAIM;
}

Difference
compare_job (const Job *job, Goal goal, const Answer *answer, char **why)
{
    Play play;
    g_auto (LoadedJob) loaded = { 0 };
    g_assert (play_setup (&play, job, -1));
    if (!load_job (job, &loaded, why))
        return DIFFERS_REFUSED;
    g_autoptr (RouteAnswer) route = plan (&loaded, goal);
    if (answer->kind != ANSWER_ROUTE)
        return compare_none (&play, loaded.unit->board, goal, route, why);
    if (goal == GOAL_STEPS)
        return compare_route (&play, loaded.unit->board, goal, answer, route, why);
    Answer best = exhaustive_answer (&play, goal, MOST_WORLDS_BY_GOAL);
    Difference difference = best.kind == ANSWER_TOO_LARGE
                                ? NOT_COMPARED
                                : compare_route (&play, loaded.unit->board, goal, &best, route, why);
    answer_clear (&best);
    return difference;
}

Difference
compare_walks (const Job *job, const Answer *answer, char **why)
{
    g_auto (LoadedJob) loaded = { 0 };
    (void) answer;
    if (!load_job (job, &loaded, why))
        return DIFFERS_REFUSED;
    return walks_agree (job, &loaded, why) ? AGREES : DIFFERS_CHECKER;
}

Difference
compare_kept (const char *path, char **why)
{
    g_autofree char *text = NULL;
    if (!g_file_get_contents (path, &text, NULL, NULL) || !g_str_has_prefix (text, "# expect: ")) {
        *why = g_strdup ("does not begin with \"# expect: \"");
        return DIFFERS_REFUSED;
    }
    const char *header = text + strlen ("# expect: ");
    g_autofree char *expected = g_strndup (header, strcspn (header, "\n"));
    g_auto (LoadedJob) loaded = { 0 };
    if (!load_path (path, &loaded, why))
        return DIFFERS_REFUSED;
    g_autoptr (RouteAnswer) route = plan (&loaded, GOAL_STEPS);
    Answer said = { .kind = ANSWER_NONE };
    if (route->steps && route->walk)
        said = (Answer){ .kind = ANSWER_ROUTE,
                         .counts = { .steps = (int) route->steps->len,
                                     .insertions = (int) route->walk->insertions,
                                     .tenths = (int) lround (route->walk->minutes * 10) } };
    gboolean settled = route->claim == CLAIM_PROVED_SHORTEST || route->claim == CLAIM_NO_ROUTE;
    g_autofree char *got =
        settled ? emit_expectation (&said) : g_strdup_printf ("claim %s", claim_words (route->claim));
    if (!strcmp (expected, got))
        return AGREES;
    *why = g_strdup_printf ("expected %s; got %s", expected, got);
    return DIFFERS_CLAIM;
}
