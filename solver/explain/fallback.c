/* SPDX-License-Identifier: MIT */
/* When a write fails: from the state that it leaves, the shortest way to anything that starts. */
#include "explain/explain.h"

static void
fallback_clear (gpointer data)
{
    Fallback *fallback = data;

    if (fallback->steps != NULL)
        g_array_unref (fallback->steps);
}

/* The same file again, by each method that may rewrite what failed: of equal ways, that is the one to take first. */
static GArray *
same_file_again (const Board *board, const Step *step)
{
    GArray *familiar = g_array_new (FALSE, FALSE, sizeof (Step));
    guint recovery = board_component (board, step->component)->recovery;

    for (int method = 0; method < METHOD_COUNT; method++) {
        Step again = *step;

        again.method = (Method) method;
        if (recovery & METHOD_BIT (method))
            g_array_append_val (familiar, again);
    }
    return familiar;
}

static RouteAnswer *
plan_from (const Question *question, const Unit *unit, const Want *want, const Step *step)
{
    g_autoptr (GArray) familiar = same_file_again (unit->board, step);
    RouteOptions options = { 0 };

    if (question->options != NULL)
        options = *question->options;
    options.objective = OBJECTIVE_STEPS;
    options.any_route = FALSE;
    options.no_ways_back = TRUE;
    options.familiar = familiar;
    return route_find (question->library, question->shop, unit, want, &options);
}

/* Keeps the route only when the checker walks it from the very state that the failed write leaves. */
static void
take_route (const Question *question, const Want *want, const State *failed, const State *after,
            const RouteAnswer *answer, Fallback *fallback)
{
    g_autoptr (Walk) walk = check_walk (question->library, question->shop, want, failed, answer->steps);

    if (!walk->sound) {
        fallback->kind = FALLBACK_OPEN;
        return;
    }
    fallback->kind = FALLBACK_ROUTE;
    fallback->proved = answer->claim == CLAIM_PROVED_SHORTEST;
    fallback->steps = g_array_ref (answer->steps);
    fallback->reaches_after = state_equal (walk->last, after);
}

static Fallback
fallback_of (const Question *question, const State *before, const Step *step)
{
    Fallback fallback = { .kind = FALLBACK_OPEN };
    g_autoptr (State) failed = state_copy (before);
    g_autoptr (State) after = state_copy (before);
    g_autoptr (Want) want = want_new ("any state that starts", before->board, (Mark){ 0 });
    g_autoptr (Unit) unit = NULL;
    g_autoptr (RouteAnswer) answer = NULL;

    state_fail (failed, step);
    state_apply (after, step);
    want->just_starts = TRUE;
    unit = unit_at_state (failed);
    answer = plan_from (question, unit, want, step);
    if (answer->claim == CLAIM_NO_ROUTE)
        fallback.kind = FALLBACK_NONE;
    else if (answer->steps != NULL && (answer->claim == CLAIM_PROVED_SHORTEST || answer->claim == CLAIM_BEST_FOUND))
        take_route (question, want, failed, after, answer, &fallback);
    return fallback;
}

GArray *
fallbacks_find (const Question *question, const GArray *steps)
{
    GArray *fallbacks = g_array_new (FALSE, FALSE, sizeof (Fallback));
    g_autoptr (State) state = state_from_unit (question->unit, NULL);

    g_array_set_clear_func (fallbacks, fallback_clear);
    for (guint i = 0; i < steps->len; i++) {
        const Step *step = &g_array_index (steps, Step, i);
        Fallback fallback = { .kind = FALLBACK_NONE };

        if (step->kind == STEP_WRITE)
            fallback = fallback_of (question, state, step);
        g_array_append_val (fallbacks, fallback);
        state_apply (state, step);
    }
    return fallbacks;
}
