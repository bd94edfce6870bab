/* SPDX-License-Identifier: MIT */
/* A way back is a planning question of its own: from the state that is there to exactly the one that was. */
#include "route/back.h"
#include "route/cost.h"
#include "route/solve.h"

#include <string.h>

/* States that the search for one way back may open: each is a small question. */
#define BACK_STATES 100000

/* ---- Moments ---- */

static guint
n_components (const Problem *problem)
{
    return problem->n_vars - problem->n_slots;
}

Moment *
moment_new (const Problem *problem, const State *state, const guint8 *written, gboolean starts)
{
    Moment *moment = g_new0 (Moment, 1);
    moment->state = state_copy (state);
    moment->written = g_memdup2 (written, n_components (problem) + 1);
    moment->starts = starts;
    return moment;
}

Moment *
moment_begin (const Problem *problem)
{
    g_autoptr (State) state = state_from_unit (problem->unit, NULL);
    g_autofree guint16 *values = problem_initial_values (problem);
    g_autofree guint8 *written = g_new0 (guint8, n_components (problem) + 1);
    return moment_new (problem, state, written, problem_starts (problem, values));
}

void
moment_free (Moment *moment)
{
    state_free (moment->state);
    g_free (moment->written);
    g_free (moment);
}

Moment *
moment_after (const Moment *before, const Step *step, const Problem *problem, gboolean starts)
{
    Moment *after = moment_new (problem, before->state, before->written, starts);
    const Board *board = problem->unit->board;
    state_apply (after->state, step);
    if (step->kind != STEP_WRITE)
        return after;
    after->written[step->component] = TRUE;
    const Release *release = component_release (board_component (board, step->component), step->release);
    for (guint i = 0; step->method != METHOD_SPARE && i < release->also_writes->len; i++) {
        int also = board_find_component (board, ((const AlsoWrites *) release->also_writes->pdata[i])->component);
        if (also >= 0)
            after->written[also] = TRUE;
    }
    return after;
}

/* ---- Without planning ---- */

static gboolean
is_known (const Problem *problem, const Moment *moment, guint component)
{
    return moment->written[component] || problem->unit->releases[component].count == 1;
}

/* Something was written over a release that nobody knows. */
static gboolean
lost_unknown (const Problem *problem, const Moment *from, const Moment *to)
{
    for (guint c = 0; c < n_components (problem); c++)
        if (from->written[c] && !is_known (problem, to, c) && !to->state->failed[c])
            return TRUE;
    return FALSE;
}

/* What had failed need not be as it was. */
static gboolean
same_firmware (const Problem *problem, const State *now, const State *then)
{
    for (guint c = 0; c < n_components (problem); c++)
        if (!then->failed[c] && (now->releases[c] != then->releases[c] || now->failed[c]))
            return FALSE;
    return TRUE;
}

static gboolean
same_held (const Held *left, const Held *right)
{
    return left->part == right->part &&
           (left->part == NULL ||
            (left->stepping == right->stepping && left->owner == right->owner && left->bound == right->bound));
}

/* A stock part that its board would bind is not taken out again. */
static gboolean
stays (const Board *board, const Held *held)
{
    return held->owner == OWNER_STOCK && held->part->binds && held->bound == NULL && board->binds != NULL;
}

gboolean
wear_allows (const Problem *problem, const Moment *now, const Moment *earlier, guint fits)
{
    for (guint s = 0; s < problem->n_slots; s++) {
        guint left = unit_insertions_left (problem->unit, s), had = now->state->fittings[s];
        if (left != G_MAXUINT && had != earlier->state->fittings[s] && left < had + fits)
            return FALSE;
    }
    return TRUE;
}

/* Parts alone differ: each slot is emptied and filled, as fits always can be unless a socket is worn or a part stays. FALSE:
 * it takes a closer look. */
gboolean
way_back_by_parts (const Problem *problem, const Moment *from, const Moment *to, WayBack *way)
{
    guint steps = 0;
    if (lost_unknown (problem, from, to) || !same_firmware (problem, from->state, to->state))
        return FALSE;
    for (guint s = 0; s < problem->n_slots; s++) {
        const Held *held = &from->state->held[s], *was = &to->state->held[s];
        if (same_held (held, was))
            continue;
        guint left = unit_insertions_left (problem->unit, s);
        if ((held->part != NULL && stays (problem->unit->board, held)) ||
            (was->part != NULL && left != G_MAXUINT && from->state->fittings[s] >= left))
            return FALSE;
        steps += (held->part != NULL) + (was->part != NULL);
    }
    *way = (WayBack){ .kind = BACK_WAY, .steps = steps };
    return TRUE;
}

/* ---- By planning ---- */

/* The highest floor that the component may have begun with: what is to serve every case keeps to that. */
static int
highest_first_floor (const Unit *unit, guint component)
{
    const UnitRelease *first = &unit->releases[component];
    const Component *of = board_component (unit->board, component);
    int floor = first->floor;
    for (guint r = 0; r < of->releases->len; r++)
        if (first->may_be[r])
            floor = MAX (floor, component_release (of, r)->lowest);
    return floor;
}

/* The unit as it stands, its releases known as far as they are. */
static Unit *
unit_at (const Problem *problem, const Moment *moment)
{
    Unit *unit = unit_at_state (moment->state);
    for (guint c = 0; c < n_components (problem); c++) {
        const UnitRelease *before = &problem->unit->releases[c];
        guint releases = board_component (unit->board, c)->releases->len;
        unit->releases[c].floor = MAX (unit->releases[c].floor, highest_first_floor (problem->unit, c));
        if (is_known (problem, moment, c))
            continue;
        memcpy (unit->releases[c].may_be, before->may_be, releases * sizeof (gboolean));
        unit->releases[c].count = before->count;
    }
    return unit;
}

/* Exactly the state at `moment`; what is not known there is not touched. */
static Want *
want_of (const Problem *problem, const Moment *moment)
{
    const Board *board = problem->unit->board;
    Want *want = want_new ("the way back", board, (Mark){ 0 });
    want->exact_release = g_new0 (int, n_components (problem) + 1);
    want->spares_apart = TRUE; /* the state that was is asked for, in step or not */
    for (guint s = 0; s < problem->n_slots; s++) {
        const Held *held = &moment->state->held[s];
        want->slots[s] = (WantSlot){ .kind = WANT_HELD,
                                     .part = held->part,
                                     .stepping = held->stepping,
                                     .owner = held->owner,
                                     .bound = held->bound };
    }
    for (guint c = 0; c < n_components (problem); c++) {
        gboolean known = is_known (problem, moment, c);
        gboolean failed = moment->state->failed[c];
        want->exact_release[c] = known && !failed ? (int) moment->state->releases[c] : -1;
        want->keep_component[c] = !known && !failed;
    }
    return want;
}

static WayBack
plan_back (const Problem *problem, const Moment *from, const Moment *to, BackEffort effort)
{
    const RouteOptions options = { .search_states = effort.states, .search_only = effort.search_only };
    g_autoptr (Unit) unit = unit_at (problem, from);
    g_autoptr (Want) want = want_of (problem, to);
    g_autofree char *reason = NULL;
    WayBack way = { .kind = BACK_OPEN };
    g_autoptr (Problem) back = problem_new (problem->library, problem->shop, unit, want, &options, &reason);
    if (back == NULL)
        return way;
    g_autoptr (Solved) solved = solve_problem (back, &options);
    if (solved->claim == CLAIM_NO_ROUTE)
        way.kind = BACK_NO_RETURN;
    if (solved->claim != CLAIM_PROVED_SHORTEST)
        return way;
    g_autoptr (GArray) steps = moves_to_steps (back, solved->moves);
    g_autoptr (State) start = state_from_unit (unit, NULL);
    g_autoptr (Walk) walk = check_walk (problem->library, problem->shop, want, start, steps);
    if (walk->sound)
        way = (WayBack){ .kind = BACK_WAY, .steps = steps->len };
    return way;
}

WayBack
way_back (const Problem *problem, const Moment *from, const Moment *to, BackEffort effort)
{
    WayBack way;
    if (lost_unknown (problem, from, to))
        return (WayBack){ .kind = BACK_NO_RETURN, .unknown = TRUE };
    if (way_back_by_parts (problem, from, to, &way))
        return way;
    return plan_back (problem, from, to, effort);
}

/* What is known of ways back to the working state of a moment. */
typedef struct {
    const GPtrArray *moments; /* Moment*; borrowed */
    int working;              /* the last one that starts; -1: none does */
    int anchor;               /* a later one from which `way` is known; -1: none yet */
    WayBack way;
    BackEffort effort;
} Trail;

/* Once there is no return, nothing that follows opens one. Where there is one, work on parts can be undone first. */
static WayBack
way_back_of (const Problem *problem, Trail *trail, guint at)
{
    const Moment *now = trail->moments->pdata[at];
    WayBack way = { .kind = BACK_NONE_BEFORE };
    if (trail->working < 0)
        return way;
    if (trail->anchor >= 0 && trail->way.kind == BACK_NO_RETURN)
        return trail->way;
    if (way_back_by_parts (problem, now, trail->moments->pdata[trail->working], &way))
        return way;
    /* Undoing fills each slot once at the most, and a way back of so many steps fills none more often than that. */
    if (trail->anchor >= 0 && trail->way.kind == BACK_WAY &&
        wear_allows (problem, now, trail->moments->pdata[trail->anchor], trail->way.steps + 1) &&
        way_back_by_parts (problem, now, trail->moments->pdata[trail->anchor], &way)) {
        way.steps += trail->way.steps;
        way.at_most = TRUE;
        return way;
    }
    trail->way = way_back (problem, now, trail->moments->pdata[trail->working], trail->effort);
    trail->anchor = (int) at;
    return trail->way;
}

GArray *
moments_ways_back (const Problem *problem, const GPtrArray *moments, guint first, gboolean search_only)
{
    GArray *ways = g_array_new (FALSE, TRUE, sizeof (WayBack));
    Trail trail = { .moments = moments, .working = -1, .anchor = -1, .effort = { BACK_STATES, search_only } };
    for (guint i = 0; i + 1 < moments->len; i++) {
        if (((const Moment *) moments->pdata[i])->starts) {
            trail.working = (int) i;
            trail.anchor = -1;
        }
        if (i < first)
            continue;
        WayBack way = way_back_of (problem, &trail, i + 1);
        g_array_append_val (ways, way);
    }
    return ways;
}

GArray *
moves_ways_back (const Problem *problem, const GArray *moves)
{
    g_autoptr (GPtrArray) moments = g_ptr_array_new_with_free_func ((GDestroyNotify) moment_free);
    g_autoptr (GArray) steps = moves_to_steps (problem, moves);
    g_autoptr (Player) player = player_new (problem);
    g_ptr_array_add (moments, moment_begin (problem));
    for (guint i = 0; i < moves->len; i++) {
        const Moment *before = moments->pdata[i];
        player_step (player, &g_array_index (moves, Move, i));
        g_ptr_array_add (moments, moment_after (before, &g_array_index (steps, Step, i), problem,
                                                problem_starts (problem, player->values)));
    }
    return moments_ways_back (problem, moments, 0, FALSE);
}
