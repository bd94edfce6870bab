/* SPDX-License-Identifier: MIT */
#include "back.h"
#include "compare.h"
#include "load_job.h"
#include "translate.h"

#include "explain/explain.h"

enum { MOST_GRAPH = 20000 };

/* The route's steps as the model's moves; NULL where the model does not know one. Transfer full. */
static GArray *
moves_of (const Play *play, const Board *board, const GArray *steps)
{
    GArray *moves = g_array_new (FALSE, FALSE, sizeof (Move));
    World world = play->start;
    for (guint i = 0; i < steps->len; i++) {
        Move move = { 0 };
        if (!step_to_move (play, &world, board, &g_array_index (steps, Step, i), &move)) {
            g_array_free (moves, TRUE);
            return NULL;
        }
        g_array_append_val (moves, move);
        world = move_apply (play, &world, &move);
    }
    return moves;
}

static BackKind
kind_of (BackAnswer answer)
{
    return answer == WAY_NONE_BEFORE ? BACK_NONE_BEFORE : answer == WAY_THERE ? BACK_WAY : BACK_NO_RETURN;
}

static Difference
way_back_agrees (const WayBack *theirs, BackAnswer kind, int steps, gboolean unknown, guint step, char **why)
{
    static const char *const words[] = { "no state before it starts", "a way back", "no return", "not settled" };
    /* `at_most`: a way that need not be the shortest. */
    gboolean as_many = theirs->at_most ? (int) theirs->steps >= steps : (int) theirs->steps == steps;
    gboolean agrees = theirs->kind == kind_of (kind) && (kind != WAY_THERE || as_many) &&
                      (kind != WAY_NO_RETURN || !theirs->unknown == !unknown);
    if (agrees)
        return AGREES;
    *why = g_strdup_printf ("back from step %u: expected %s, %d steps%s; got %s, %u steps%s", step + 1,
                            words[kind_of (kind)], steps, unknown ? ", for want of knowing" : "", words[theirs->kind],
                            theirs->steps, theirs->unknown ? ", for want of knowing" : "");
    return DIFFERS_BACK;
}

static Difference
ways_back_agree (Graph *graph, const GArray *moves, const GArray *ways_back, char **why)
{
    const Play *play = &graph->play;
    World world = play->start;
    WorkingState working = { FALSE };
    if (!ways_back || ways_back->len != moves->len) {
        *why = g_strdup_printf ("%u ways back for %u steps", ways_back ? ways_back->len : 0, moves->len);
        return DIFFERS_BACK;
    }
    for (guint i = 0; i < moves->len; i++) {
        int steps = 0;
        working_state_note (&working, &world, world_verdict (play, &world).starts);
        world = move_apply (play, &world, &g_array_index (moves, Move, i));
        BackAnswer kind = graph_way_back (graph, &working, &world, &steps);
        gboolean unknown = kind == WAY_NO_RETURN && is_unknown_lost (play, &working, &world);
        const WayBack *theirs = &g_array_index (ways_back, WayBack, i);
        Difference difference = way_back_agrees (theirs, kind, steps, unknown, i, why);
        if (difference != AGREES)
            return difference;
    }
    return AGREES;
}

static Difference
order_agrees (const Play *play, Graph *graph, const GArray *moves, Goal goal, char **why)
{
    int own = 0, most = 0;
    if (!latest_no_return (play, graph, moves, goal, &own, &most))
        return NOT_COMPARED;
    if (own == most)
        return AGREES;
    *why =
        g_strdup_printf ("%d steps come before the first no-return step; in another order of equal cost %d", own, most);
    return DIFFERS_ORDER;
}

static RouteAnswer *
plan (const LoadedJob *loaded, Goal goal, gboolean no_ways_back)
{
    RouteOptions options = { .objective = goal_objective (goal), .no_ways_back = no_ways_back, .no_branches = TRUE };
    return route_find (loaded->library, loaded->shop, loaded->unit, loaded->want, &options);
}

Difference
compare_back (const Job *job, Goal goal, const Answer *answer, char **why)
{
    (void) answer;
    g_auto (LoadedJob) loaded = { 0 };
    if (!load_job (job, &loaded, why))
        return DIFFERS_REFUSED;
    g_autoptr (RouteAnswer) route = plan (&loaded, goal, FALSE);
    if (!route->steps)
        return AGREES;
    g_autoptr (Graph) graph = graph_new (job, MOST_GRAPH);
    if (graph->too_large)
        return NOT_COMPARED;
    Play play; /* the graph's keeps nothing */
    play_setup (&play, job, -1);
    g_autoptr (GArray) moves = moves_of (&play, loaded.unit->board, route->steps);
    if (!moves) {
        *why = g_strdup ("a step names what is not there");
        return DIFFERS_WALK;
    }
    Difference difference = ways_back_agree (graph, moves, route->ways_back, why);
    return difference == AGREES ? order_agrees (&play, graph, moves, goal, why) : difference;
}

/* ---- When a write fails ---- */

static Difference
fallback_agrees (const Answer *answer, const Fallback *theirs, guint step, char **why)
{
    FallbackKind kind = answer->kind == ANSWER_ROUTE ? FALLBACK_ROUTE : FALLBACK_NONE;
    int steps = theirs->steps ? (int) theirs->steps->len : 0;
    if (answer->kind == ANSWER_TOO_LARGE)
        return NOT_COMPARED;
    if (theirs->kind == kind && (kind != FALLBACK_ROUTE || steps == answer->counts.steps))
        return AGREES;
    *why = g_strdup_printf ("when step %u fails: expected %s, %d steps; got %s, %d steps", step + 1,
                            kind == FALLBACK_ROUTE ? "a way" : "none", answer->counts.steps,
                            theirs->kind == FALLBACK_ROUTE  ? "a way"
                            : theirs->kind == FALLBACK_NONE ? "none"
                                                            : "not settled",
                            steps);
    return DIFFERS_FALLBACK;
}

/* The steps lead, by the model's rules, from `world` to one that starts. */
static gboolean
leads_to_a_start (const Play *play, World world, const Board *board, const GArray *steps)
{
    for (guint i = 0; i < steps->len; i++) {
        Move move = { 0 };
        Verdict verdict = world_verdict (play, &world);
        if (!step_to_move (play, &world, board, &g_array_index (steps, Step, i), &move) ||
            !move_allowed (play, &world, &verdict, &move))
            return FALSE;
        world = move_apply (play, &world, &move);
    }
    return world_verdict (play, &world).starts;
}

/* One write that fails in `world`. */
static Difference
one_fallback (const Play *play, const World *world, const Board *board, const Move *move, const Fallback *theirs,
              guint step, char **why)
{
    World failed = move_fail (play, world, move);
    failed.mode = MODE_FRESH;
    Answer answer = exhaustive_from (play, &failed, END_STARTS, GOAL_STEPS, MOST_GRAPH);
    Difference difference = fallback_agrees (&answer, theirs, step, why);
    if (difference == AGREES && theirs->steps && !leads_to_a_start (play, failed, board, theirs->steps)) {
        *why = g_strdup_printf ("when step %u fails: the way is not allowed or does not end with a start", step + 1);
        difference = DIFFERS_FALLBACK;
    }
    answer_clear (&answer);
    return difference;
}

static Difference
each_fallback (const Play *play, const Board *board, const GArray *moves, const GArray *fallbacks, char **why)
{
    Difference left_out = AGREES;
    World world = play->start;
    for (guint i = 0; i < moves->len; i++) {
        const Move *move = &g_array_index (moves, Move, i);
        const Fallback *theirs = &g_array_index (fallbacks, Fallback, i);
        Difference difference =
            move->kind == MOVE_WRITE ? one_fallback (play, &world, board, move, theirs, i, why) : AGREES;
        if (difference == NOT_COMPARED)
            left_out = NOT_COMPARED;
        else if (difference != AGREES)
            return difference;
        world = move_apply (play, &world, move);
    }
    return left_out;
}

Difference
compare_fallbacks (const Job *job, Goal goal, const Answer *answer, char **why)
{
    (void) answer;
    g_auto (LoadedJob) loaded = { 0 };
    if (!load_job (job, &loaded, why))
        return DIFFERS_REFUSED;
    g_autoptr (RouteAnswer) route = plan (&loaded, goal, TRUE);
    if (!route->steps)
        return AGREES;
    RouteOptions options = { .objective = goal_objective (goal), .no_ways_back = TRUE, .no_branches = TRUE };
    const Question question = { loaded.library, loaded.shop, loaded.unit, loaded.want, &options };
    g_autoptr (GArray) fallbacks = fallbacks_find (&question, route->steps);
    Job no_keep = job_that_keeps_nothing (job);
    Play play;
    play_setup (&play, &no_keep, 0); /* the unit in its first case */
    g_autoptr (GArray) moves = moves_of (&play, loaded.unit->board, route->steps);
    if (!moves || fallbacks->len != moves->len) {
        *why = g_strdup_printf ("%u fallbacks for %u steps", fallbacks->len, route->steps->len);
        return DIFFERS_FALLBACK;
    }
    return each_fallback (&play, loaded.unit->board, moves, fallbacks, why);
}
