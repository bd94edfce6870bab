/* SPDX-License-Identifier: MIT */
/* Which release to read first, where neither one route nor a plan with branches serves every case. */
#include "route/route_parts.h"

/* Combinations that are planned for one by one, to see whether any has a route of its own. */
#define MOST_PLANS 1000
/* States for all questions together that are asked to choose what to read, unless the caller says; and what each question
 * counts beside those that it opens: grounding, and the table of the bound. */
#define READING_STATES  1000000
#define READING_GROUNDS 100

static void
route_case_free (RouteCase *one)
{
    g_free (one->may_be);
    g_clear_pointer (&one->steps, g_array_unref);
    g_free (one);
}

/* What is left of the effort for the questions that choose what to read. */
typedef struct {
    guint64 states;
    guint questions; /* of this round, that are still to share it */
    gboolean stopped;
} Effort;

/* One of these questions, by the search alone and within its share: what that leaves over is for those that follow. FALSE:
 * nothing is left, or it could not be grounded. */
static gboolean
plan_within (const RouteQuestion *question, Effort *effort, RouteAnswer *answer)
{
    guint64 share = effort->states / MAX (1, effort->questions);
    effort->questions -= effort->questions > 0;
    answer->claim = CLAIM_NOT_FOUND;
    if (effort->stopped || share <= READING_GROUNDS)
        return FALSE;
    RouteOptions options = *question->options;
    options.search_only = TRUE;
    options.search_states = share - READING_GROUNDS;
    RouteQuestion limited = *question;
    limited.options = &options;
    gboolean grounded = route_plan_once (&limited, answer);
    effort->stopped = answer->stopped;
    effort->states -= MIN (effort->states, answer->searched + READING_GROUNDS);
    return grounded;
}

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
plan_case (const RouteQuestion *question, Effort *effort, guint component, guint release)
{
    const Board *board = question->unit->board;
    guint n_releases = board_component (board, component)->releases->len;
    g_autofree UnitRelease *releases = g_new0 (UnitRelease, board->components->len + 1);
    g_autofree gboolean *may_be = g_new0 (gboolean, n_releases + 1);
    Unit known = unit_with_release (question->unit, component, release, releases, may_be);
    RouteQuestion narrower = *question;
    narrower.unit = &known;
    RouteAnswer answer = { 0 };
    RouteCase *one = g_new0 (RouteCase, 1);
    if (plan_within (&narrower, effort, &answer) && answer.steps != NULL)
        route_walk_all_cases (&narrower, &answer);
    one->claim = answer.claim;
    one->steps = g_steal_pointer (&answer.steps);
    one->may_be = g_steal_pointer (&may_be);
    g_clear_pointer (&answer.ways_back, g_array_unref);
    one->members = 1;
    for (guint c = 0; c < board->components->len; c++)
        one->members *= known.releases[c].count;
    g_clear_pointer (&answer.walk, walk_free);
    g_free (answer.reason);
    return one;
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
plan_cases_of (const RouteQuestion *question, Effort *effort, guint component, guint *with_route)
{
    GPtrArray *cases = g_ptr_array_new_with_free_func ((GDestroyNotify) route_case_free);
    const UnitRelease *unknown = &question->unit->releases[component];
    guint n_releases = board_component (question->unit->board, component)->releases->len;
    *with_route = 0;
    for (guint r = 0; r < n_releases; r++) {
        if (!unknown->may_be[r])
            continue;
        RouteCase *one = plan_case (question, effort, component, r);
        *with_route += case_has_route (one);
        add_case (cases, one, n_releases);
    }
    return cases;
}

/* Whether some combination of releases has a route: then reading helps, even if one reading is not enough. `*open`: for
 * some it was not settled. */
static gboolean
some_case_has_route (const RouteQuestion *question, Effort *effort, guint *plans, gboolean *open)
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
            RouteQuestion narrower = *question;
            narrower.unit = &known;
            if (some_case_has_route (&narrower, effort, plans, open))
                return TRUE;
            if (*plans > MOST_PLANS)
                return FALSE;
        }
        return FALSE; /* one unknown component at a time: the rest is looked at further down */
    }
    RouteAnswer answer = { 0 };
    if (++*plans > MOST_PLANS)
        return FALSE;
    plan_within (question, effort, &answer);
    gboolean found = answer.steps != NULL;
    *open = *open || (!found && answer.claim != CLAIM_NO_ROUTE);
    g_clear_pointer (&answer.steps, g_array_unref);
    g_clear_pointer (&answer.ways_back, g_array_unref);
    g_free (answer.reason);
    return found;
}

/* Of the components whose release is not known, the one whose reading leads to a route in the most of its cases. */
void
route_choose_reading (const RouteQuestion *asked, RouteAnswer *answer)
{
    /* Of the cases only the routes are shown; what leads back from their steps is asked once the release is read. */
    RouteOptions options = *asked->options;
    options.no_ways_back = TRUE;
    const RouteQuestion narrowed = { asked->library, asked->shop, asked->unit, asked->want, &options };
    const RouteQuestion *question = &narrowed;
    Effort effort = { .states = options.search_states != 0 ? options.search_states : READING_STATES };
    double best = -1;
    effort.questions = 1; /* of those that follow, all together */
    for (guint c = 0; c < question->unit->board->components->len; c++)
        effort.questions += question->unit->releases[c].count > 1 ? question->unit->releases[c].count : 0;
    for (guint c = 0; c < question->unit->board->components->len; c++) {
        guint with_route = 0;
        if (question->unit->releases[c].count < 2)
            continue;
        g_autoptr (GPtrArray) cases = plan_cases_of (question, &effort, c, &with_route);
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
    if (best > 0 || some_case_has_route (question, &effort, &plans, &open)) {
        answer->claim = CLAIM_READ_FIRST;
        answer->proof = "no one route serves every release that the unit may have";
        answer->stopped = answer->stopped || effort.stopped;
        return;
    }
    if (plans > MOST_PLANS) {
        answer->claim = CLAIM_NOT_FOUND;
        answer->proof = "too many combinations of possible releases to try each; read one of them first";
    } else if (open) {
        answer->claim = CLAIM_NOT_FOUND;
        answer->proof = effort.stopped ? "stopped before the end" : "the effort ran out";
    }
    answer->stopped = answer->stopped || effort.stopped;
    g_clear_pointer (&answer->cases, g_ptr_array_unref);
}
