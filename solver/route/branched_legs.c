/* SPDX-License-Identifier: MIT */
/* The branches of a plan as questions of their own: the unit as it stands when a branch begins, the walk of its steps,
 * and what comes back from each of them. */
#include "route/back.h"
#include "route/branched_parts.h"
#include "route/route_parts.h"

#include <string.h>

typedef struct {
    const Problem *problem; /* the question; nothing that was grounded is asked of it */
    const RouteOptions *options;
    Claim claim;
    GPtrArray *legs; /* BranchLeg* */
    GArray *path;    /* Step: from the root to where the branch at hand begins */
} Legs;

void
branch_leg_free (BranchLeg *leg)
{
    /* The walk's last state borrows the unit. */
    g_clear_pointer (&leg->answer, route_answer_free);
    g_clear_pointer (&leg->unit, unit_free);
    g_free (leg);
}

static guint
n_components (const Legs *legs)
{
    return legs->problem->n_vars - legs->problem->n_slots;
}

/* ---- What is known ---- */

/* The releases of one component in these cases, nothing else. */
static void
narrow (UnitRelease *known, const Component *component, const guint *const *releases, guint n_cases, guint index)
{
    memset (known->may_be, 0, component->releases->len * sizeof (gboolean));
    known->count = 0;
    for (guint i = 0; i < n_cases; i++) {
        gboolean *may_be = &known->may_be[releases[i][index]];
        known->count += !*may_be;
        *may_be = TRUE;
    }
}

/* The unit as it came, but for the releases: those of some cases alone. Everything else is borrowed. */
typedef struct {
    Unit unit;
    UnitRelease *releases; /* owned, and each `may_be` */
} NarrowUnit;

static NarrowUnit *
narrow_unit_new (const Legs *legs, const GPtrArray *cases)
{
    const Unit *unit = legs->problem->unit;
    NarrowUnit *narrowed = g_new0 (NarrowUnit, 1);
    narrowed->releases = g_memdup2 (unit->releases, (n_components (legs) + 1) * sizeof (UnitRelease));
    for (guint c = 0; c < n_components (legs); c++) {
        const Component *component = board_component (unit->board, c);
        narrowed->releases[c].may_be = g_new0 (gboolean, component->releases->len + 1);
        narrow (&narrowed->releases[c], component, (const guint *const *) cases->pdata, cases->len, c);
    }
    narrowed->unit = *unit;
    narrowed->unit.releases = narrowed->releases;
    return narrowed;
}

static void
narrow_unit_free (NarrowUnit *narrowed)
{
    for (guint c = 0; c < narrowed->unit.board->components->len; c++)
        g_free (narrowed->releases[c].may_be);
    g_free (narrowed->releases);
    g_free (narrowed);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NarrowUnit, narrow_unit_free)

/* ---- The way to the branch ---- */

/* Some cases where the branch begins. Transfer full (GPtrArray of State*). */
static GPtrArray *
states_at_begin (const Legs *legs, const GPtrArray *cases)
{
    GPtrArray *states = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    for (guint i = 0; i < cases->len; i++) {
        State *state = state_from_unit (legs->problem->unit, cases->pdata[i]);
        for (guint s = 0; s < legs->path->len; s++)
            state_apply (state, &g_array_index (legs->path, Step, s));
        g_ptr_array_add (states, state);
    }
    return states;
}

static gboolean
all_start (const Legs *legs, const GPtrArray *states)
{
    for (guint i = 0; i < states->len; i++)
        if (!state_starts (legs->problem->library, legs->problem->shop, states->pdata[i]))
            return FALSE;
    return TRUE;
}

/* The moments on the way from the root to the end of the branch, in these cases. Transfer full (GPtrArray of Moment*). */
static GPtrArray *
moments_of (const Legs *legs, const Branch *branch, const GPtrArray *cases)
{
    GPtrArray *moments = g_ptr_array_new_with_free_func ((GDestroyNotify) moment_free);
    g_autofree guint8 *written = g_new0 (guint8, n_components (legs) + 1);
    g_autoptr (GPtrArray) states = g_ptr_array_new_with_free_func ((GDestroyNotify) state_free);
    for (guint i = 0; i < cases->len; i++)
        g_ptr_array_add (states, state_from_unit (legs->problem->unit, cases->pdata[i]));
    g_ptr_array_add (moments, moment_new (legs->problem, states->pdata[0], written, all_start (legs, states)));
    for (guint i = 0; i < legs->path->len + branch->steps->len; i++) {
        const Step *step = i < legs->path->len ? &g_array_index (legs->path, Step, i)
                                               : &g_array_index (branch->steps, Step, i - legs->path->len);
        for (guint s = 0; s < states->len; s++)
            state_apply (states->pdata[s], step);
        g_ptr_array_add (moments, moment_after (moments->pdata[i], step, legs->problem, all_start (legs, states)));
    }
    return moments;
}

/* ---- Ways back ---- */

/* What is worse to come back from, first. */
static int
severity (BackKind kind)
{
    static const int OF[] = { [BACK_NONE_BEFORE] = 0, [BACK_WAY] = 1, [BACK_OPEN] = 2, [BACK_NO_RETURN] = 3 };
    return OF[kind];
}

/* The way back in all of several cases that are told apart by now. */
static void
take_worse (WayBack *way, const WayBack *other)
{
    if (severity (other->kind) > severity (way->kind)) {
        *way = *other;
    } else if (way->kind == BACK_WAY && other->kind == BACK_WAY) {
        way->at_most = way->at_most || other->at_most || way->steps != other->steps;
        way->steps = MAX (way->steps, other->steps);
    }
}

/* In cases that nothing tells apart. Transfer full (GArray of WayBack). */
static GArray *
ways_back_of (const Legs *legs, const Branch *branch, const GPtrArray *cases)
{
    g_autoptr (GPtrArray) moments = moments_of (legs, branch, cases);
    g_autoptr (NarrowUnit) narrowed = narrow_unit_new (legs, cases);
    Problem known = *legs->problem;
    known.unit = &narrowed->unit;
    /* There are many of them, and each is small: libsolv's first route costs more than the whole search. */
    return moments_ways_back (&known, moments, legs->path->len, TRUE);
}

/* What was read before the branch tells these two apart: a start that worked shows every release, a page one. */
static gboolean
are_told_apart (const Legs *legs, const Branch *from, const Branch *branch, const State *left, const State *right)
{
    if (from == NULL || branch->dark)
        return FALSE;
    if (from->then == THEN_READ)
        return left->releases[from->component] != right->releases[from->component];
    return memcmp (left->releases, right->releases, n_components (legs) * sizeof (guint)) != 0;
}

/* Branches that go on alike are one; what was read is still known in each of its cases. */
static GArray *
ways_back_of_leg (const Legs *legs, const Branch *from, const Branch *branch)
{
    g_autoptr (GPtrArray) states = states_at_begin (legs, branch->cases);
    g_autofree guint8 *done = g_new0 (guint8, states->len + 1);
    GArray *worst = NULL;
    for (guint first = 0; first < states->len; first++) {
        g_autoptr (GPtrArray) together = g_ptr_array_new ();
        for (guint i = first; !done[first] && i < states->len; i++)
            if (i == first ||
                (!done[i] && !are_told_apart (legs, from, branch, states->pdata[first], states->pdata[i]))) {
                g_ptr_array_add (together, branch->cases->pdata[i]);
                done[i] = i != first;
            }
        if (together->len == 0)
            continue;
        g_autoptr (GArray) ways = ways_back_of (legs, branch, together);
        for (guint i = 0; worst != NULL && i < ways->len; i++)
            take_worse (&g_array_index (worst, WayBack, i), &g_array_index (ways, WayBack, i));
        if (worst == NULL)
            worst = g_steal_pointer (&ways);
    }
    return worst;
}

/* ---- The leg ---- */

/* Which components were written on the way to the branch. Transfer full. */
static guint8 *
written_before (const Legs *legs, const Branch *branch)
{
    g_autoptr (GPtrArray) first = g_ptr_array_new ();
    g_ptr_array_add (first, branch->cases->pdata[0]);
    g_autoptr (GPtrArray) moments = moments_of (legs, branch, first);
    const Moment *begin = moments->pdata[legs->path->len];
    return g_memdup2 (begin->written, n_components (legs) + 1);
}

/* What was written has one floor to keep to, the highest of the cases; what was not keeps what the file says. */
static void
set_floor (UnitRelease *known, const UnitRelease *came, const GPtrArray *states, guint component, gboolean written)
{
    if (!written && known->count > 1)
        known->floor = came->floor;
    for (guint i = 0; written && i < states->len; i++)
        known->floor = MAX (known->floor, ((const State *) states->pdata[i])->floors[component]);
}

/* The unit as it stands where the branch begins. Transfer full. */
static Unit *
unit_of_leg (const Legs *legs, const Branch *branch, const GPtrArray *states)
{
    const Unit *came = legs->problem->unit;
    const guint *const *began = (const guint *const *) branch->cases->pdata;
    Unit *unit = unit_at_state (states->pdata[0]);
    g_autofree const guint **now = g_new (const guint *, states->len);
    g_autofree guint8 *written = written_before (legs, branch);
    for (guint i = 0; i < states->len; i++)
        now[i] = ((const State *) states->pdata[i])->releases;
    for (guint c = 0; c < n_components (legs); c++) {
        const Component *component = board_component (unit->board, c);
        narrow (&unit->releases[c], component, now, states->len, c);
        set_floor (&unit->releases[c], &came->releases[c], states, c, written[c]);
        if (came->began_releases == NULL)
            narrow (&unit->began_releases[c], component, began, branch->cases->len, c);
    }
    return unit;
}

static RouteAnswer *
answer_of_leg (const Legs *legs, const Branch *from, const Branch *branch, const Unit *unit, const guint *releases)
{
    const Problem *problem = legs->problem;
    RouteAnswer *answer = g_new0 (RouteAnswer, 1);
    g_autoptr (State) start = state_from_unit (unit, releases);
    answer->claim = legs->claim;
    answer->objective = legs->options->objective;
    answer->proof = "a branch of a plan";
    answer->steps = g_array_new (FALSE, TRUE, sizeof (Step));
    g_array_append_vals (answer->steps, branch->steps->data, branch->steps->len);
    answer->walk = check_walk (problem->library, problem->shop, branch->then == THEN_END ? problem->want : NULL, start,
                               branch->steps);
    if (!legs->options->no_ways_back)
        answer->ways_back = ways_back_of_leg (legs, from, branch);
    route_mark_assumed_floors (problem->unit, answer);
    return answer;
}

static void
add_legs (Legs *legs, const Branch *from, const Branch *branch, guint depth, int parent)
{
    g_autoptr (GPtrArray) states = states_at_begin (legs, branch->cases);
    BranchLeg *leg = g_new0 (BranchLeg, 1);
    guint before = legs->path->len, index = legs->legs->len;
    leg->branch = branch;
    leg->depth = depth;
    leg->parent = parent;
    leg->unit = unit_of_leg (legs, branch, states);
    leg->answer = answer_of_leg (legs, from, branch, leg->unit, ((const State *) states->pdata[0])->releases);
    g_ptr_array_add (legs->legs, leg);
    g_array_append_vals (legs->path, branch->steps->data, branch->steps->len);
    for (guint i = 0; i < branch->next->len; i++)
        add_legs (legs, branch, branch->next->pdata[i], depth + 1, (int) index);
    g_array_set_size (legs->path, before);
}

GPtrArray *
branched_legs (const Problem *problem, const RouteOptions *options, const Branch *plan, Claim claim)
{
    g_autoptr (GArray) path = g_array_new (FALSE, TRUE, sizeof (Step));
    Legs legs = { problem, options, claim, g_ptr_array_new_with_free_func ((GDestroyNotify) branch_leg_free), path };
    add_legs (&legs, NULL, plan, 0, -1);
    return legs.legs;
}
