/* SPDX-License-Identifier: MIT */
#include "compare_plan.h"

#include "route/branched.h"
#include "route/route.h"

static RouteAnswer *
ask_planner (const Question *question, Counted counted)
{
    const RouteOptions options = { .objective = counted == COUNT_STEPS ? OBJECTIVE_STEPS : OBJECTIVE_HANDLING,
                                   .no_ways_back = TRUE };

    return route_find (question->library, question->shop, question->unit, question->want, &options);
}

/* ---- A plan with branches ---- */

static guint
count_branches (const Branch *branch)
{
    guint count = 1;

    for (guint i = 0; i < branch->next->len; i++)
        count += count_branches (branch->next->pdata[i]);
    return count;
}

static void
note_shape (const Branch *branch, guint depth, PlanShape *shape)
{
    gboolean dark = FALSE, starts = FALSE;

    shape->depth = MAX (shape->depth, depth);
    for (guint i = 0; i < branch->next->len; i++) {
        const Branch *next = branch->next->pdata[i];

        dark = dark || next->dark;
        starts = starts || !next->dark;
        note_shape (next, depth + 1, shape);
    }
    shape->some_dark = shape->some_dark || (branch->then == THEN_TRY && dark && starts);
    shape->reads_page = shape->reads_page || (branch->then == THEN_READ && branch->next->len > 1);
}

/* The checker once more, on the plan alone; and whether it gives up where the exhaustive search does. */
static char *
check_differs (const Question *question, const PlanAnswer *expected, const BranchAnswer *answer)
{
    g_autoptr (BranchCheck) check =
        check_branches (question->library, question->shop, question->unit, question->want, answer->plan, MOST_CASES);

    if (check == NULL || !check->sound)
        return g_strdup_printf ("the plan is refused: %s", check != NULL ? check->why : "too many cases");
    if (!answer->check->sound || check->worst_steps != answer->check->worst_steps ||
        check->given_up != answer->check->given_up)
        return g_strdup ("the checker's account that comes with the plan is another one");
    for (guint i = 0; i < check->costs->len; i++) {
        gboolean given_up = g_array_index (check->costs, BranchCost, i).given_up;

        if (given_up != expected->hopeless[i])
            return g_strdup_printf ("case %u is %s, and it has %s", i, given_up ? "given up" : "served",
                                    given_up ? "a route" : "none");
    }
    return NULL;
}

static char *
legs_differ (const BranchAnswer *answer)
{
    guint branches = count_branches (answer->plan);

    if (answer->legs == NULL || answer->legs->len != branches)
        return g_strdup_printf ("%u legs for %u branches", answer->legs != NULL ? answer->legs->len : 0, branches);
    for (guint i = 0; i < branches; i++) {
        const BranchLeg *leg = answer->legs->pdata[i];
        const BranchLeg *before = leg->parent >= 0 ? answer->legs->pdata[leg->parent] : NULL;

        if (leg->parent >= (int) i || (before == NULL) != (i == 0) ||
            (before != NULL && leg->depth != before->depth + 1))
            return g_strdup_printf ("leg %u follows leg %d", i, leg->parent);
        if (before != NULL && !g_ptr_array_find (before->branch->next, leg->branch, NULL))
            return g_strdup_printf ("leg %u does not follow leg %d in the plan", i, leg->parent);
    }
    return NULL;
}

/* Of the cases that are not given up. */
static guint
worst_of (const BranchCheck *check, Counted counted)
{
    guint worst = 0;

    for (guint i = 0; i < check->costs->len; i++) {
        const BranchCost *cost = &g_array_index (check->costs, BranchCost, i);

        if (!cost->given_up)
            worst = MAX (worst, counted == COUNT_STEPS ? cost->steps : cost->insertions);
    }
    return worst;
}

static char *
worst_differs (Counted counted, const PlanAnswer *expected, const BranchAnswer *answer)
{
    guint worst = worst_of (answer->check, counted), least = expected->worst;

    if (answer->lower_bound > least)
        return g_strdup_printf ("lower bound %u, and %u is enough", answer->lower_bound, least);
    if (answer->claim == CLAIM_PROVED_SHORTEST && worst != least)
        return g_strdup_printf ("worst case %u is said to be least; the exhaustive search says %u", worst, least);
    if (answer->claim != CLAIM_PROVED_SHORTEST && answer->claim != CLAIM_BEST_FOUND)
        return g_strdup_printf ("a plan, and claim %d", answer->claim);
    if (worst < least)
        return g_strdup_printf ("worst case %u; the exhaustive search says %u", worst, least);
    if (expected->single != NO_SINGLE && worst >= (guint) expected->single)
        return g_strdup_printf ("worst case %u, and one route of %d serves all", worst, expected->single);
    if (counted == COUNT_STEPS && answer->single_steps != (guint) MAX (expected->single, 0))
        return g_strdup_printf ("one route for all of %u steps; the exhaustive search says %d", answer->single_steps,
                                expected->single);
    return NULL;
}

static char *
branches_differ (const Question *question, Counted counted, const PlanAnswer *expected, const BranchAnswer *answer,
                 PlanShape *shape)
{
    if (answer == NULL || answer->plan == NULL || answer->check == NULL)
        return g_strdup ("a plan with branches is claimed, and there is none");
    char *why = check_differs (question, expected, answer);
    if (why == NULL)
        why = worst_differs (counted, expected, answer);
    if (why == NULL)
        why = legs_differ (answer);
    if (why != NULL)
        return why;
    shape->branches = TRUE;
    shape->proved = answer->claim == CLAIM_PROVED_SHORTEST;
    shape->begins_with = answer->plan->steps->len;
    shape->given_up = answer->check->given_up;
    note_shape (answer->plan, 0, shape);
    return NULL;
}

/* ---- Any answer ---- */

/* One route for all cases, as a plan without branches. */
static char *
single_differs (const Question *question, Counted counted, const PlanAnswer *expected, const RouteAnswer *answer)
{
    g_autoptr (GPtrArray) cases = unit_cases (question->unit, MOST_CASES);
    g_autoptr (Branch) plan = branch_new ();

    for (guint i = 0; i < cases->len; i++)
        g_ptr_array_add (plan->cases, branch_case_copy (cases->pdata[i], question->unit->board->components->len));
    g_array_append_vals (plan->steps, answer->steps->data, answer->steps->len);
    g_autoptr (BranchCheck) check =
        check_branches (question->library, question->shop, question->unit, question->want, plan, MOST_CASES);
    if (!check->sound)
        return g_strdup_printf ("the route is refused: %s", check->why);
    guint takes = worst_of (check, counted);
    if (takes == expected->worst)
        return NULL;
    return g_strdup_printf ("one route of %u is said to be best; with branches %u are enough", takes, expected->worst);
}

static char *
answer_differs (const Question *question, Counted counted, const PlanAnswer *expected, const RouteAnswer *answer,
                PlanShape *shape)
{
    gboolean there = expected->kind == PLAN_THERE;

    /* Where some case has a route of its own, what is missing is something to read that tells it. */
    if (!there && answer->claim == (expected->n_hopeless == expected->n_cases ? CLAIM_NO_ROUTE : CLAIM_READ_FIRST))
        return NULL;
    if (!there)
        return g_strdup_printf ("claim %d; the exhaustive search finds no plan", answer->claim);
    if (answer->claim == CLAIM_BRANCHES)
        return branches_differ (question, counted, expected, answer->branches, shape);
    if (answer->claim == CLAIM_PROVED_SHORTEST)
        return single_differs (question, counted, expected, answer);
    return g_strdup_printf ("claim %d (%s); the exhaustive search finds a plan of %u in the worst case", answer->claim,
                            answer->reason != NULL ? answer->reason : "no reason", expected->worst);
}

char *
plan_differs (const Question *question, Counted counted, const PlanAnswer *expected, PlanShape *shape)
{
    g_autoptr (RouteAnswer) answer = ask_planner (question, counted);

    *shape = (PlanShape){ 0 };
    return answer_differs (question, counted, expected, answer, shape);
}

/* ---- In words ---- */

static void
say_step (GString *words, const Board *board, const Step *step)
{
    switch (step->kind) {
    case STEP_REMOVE:
        g_string_append_printf (words, " [remove %s]", board_slot (board, step->slot)->name);
        return;
    case STEP_FIT:
        g_string_append_printf (words, " [fit %s: %s %s, %s]", board_slot (board, step->slot)->name, step->part->name,
                                step->stepping != NULL ? step->stepping : "", owner_name (step->owner));
        return;
    case STEP_WRITE:
        g_string_append_printf (words, " [write %s %s by %s]", board_component (board, step->component)->name,
                                component_release (board_component (board, step->component), step->release)->name,
                                method_name (step->method));
        return;
    }
}

static void
say_branch (GString *words, const Board *board, const Branch *branch, guint depth)
{
    static const char *const then[] = { "end", "try a start", "read the page", "give up" };

    g_string_append_printf (words, "%*s%s", (int) (2 * depth), "", branch->dark ? "dark:" : ":");
    for (guint i = 0; i < branch->cases->len; i++) {
        const guint *releases = branch->cases->pdata[i];

        g_string_append_c (words, ' ');
        for (guint c = 0; c < board->components->len; c++)
            g_string_append_printf (words, "%s%s", c > 0 ? "/" : "",
                                    component_release (board_component (board, c), releases[c])->name);
    }
    g_string_append (words, " ->");
    for (guint i = 0; i < branch->steps->len; i++)
        say_step (words, board, &g_array_index (branch->steps, Step, i));
    g_string_append_printf (words, " then %s\n", then[branch->then]);
    for (guint i = 0; i < branch->next->len; i++)
        say_branch (words, board, branch->next->pdata[i], depth + 1);
}

char *
plan_in_words (const Question *question, Counted counted)
{
    g_autoptr (RouteAnswer) answer = ask_planner (question, counted);
    GString *words = g_string_new (NULL);
    const Board *board = question->unit->board;

    g_string_append_printf (words, "planner: claim %d, %s\n", answer->claim,
                            answer->reason != NULL ? answer->reason : "no reason");
    for (guint i = 0; answer->steps != NULL && i < answer->steps->len; i++)
        say_step (words, board, &g_array_index (answer->steps, Step, i));
    if (answer->branches != NULL && answer->branches->plan != NULL)
        say_branch (words, board, answer->branches->plan, 0);
    return g_string_free (words, FALSE);
}
