/* SPDX-License-Identifier: MIT */
/* The rest of a published batch: modes kept, what is held now put right. */
#include "batch/standing.h"

/* ---- Modes ---- */

gboolean
steps_are_equal (const Step *left, const Step *right)
{
    if (left->kind != right->kind)
        return FALSE;
    if (left->kind == STEP_WRITE)
        return left->component == right->component && left->release == right->release && left->method == right->method;
    if (left->slot != right->slot)
        return FALSE;
    return left->kind == STEP_REMOVE || (left->part == right->part && left->stepping == right->stepping &&
                                         left->bound == right->bound && left->owner == right->owner);
}

static gboolean
is_published_mode (const BatchMode *mode, const PublishedUnit *published)
{
    if (mode->steps->len != published->tasks->len)
        return FALSE;
    for (guint i = 0; i < mode->steps->len; i++)
        if (!steps_are_equal (&g_array_index (mode->steps, Step, i),
                              &g_array_index (published->tasks, PublishedTask, i).step))
            return FALSE;
    return TRUE;
}

/* A route that planning would not choose today, and that still leads there: the bench works by it. NULL: it does not. */
static BatchMode *
mode_of_published (const Planning *planning, const BatchClass *class, guint index, const PublishedUnit *published)
{
    g_autoptr (Shop) shelf = shelf_for_class (planning, index);
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));
    BatchMode *mode = NULL;
    RouteAnswer *answer = NULL;

    for (guint i = 0; i < published->tasks->len; i++)
        g_array_append_val (steps, g_array_index (published->tasks, PublishedTask, i).step);
    mode = batch_mode_new (planning->question, shelf, class->unit, class->want, steps, NULL);
    if (mode == NULL)
        return NULL;
    answer = g_new0 (RouteAnswer, 1);
    answer->claim = CLAIM_BEST_FOUND;
    answer->proof = "the route that was published";
    answer->steps = g_array_copy (mode->steps);
    g_ptr_array_add (class->answers, answer);
    mode->answer = answer;
    return mode;
}

static int
find_mode (Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];
    BatchClass *class = planning_class (planning, plan->class);

    for (guint m = 0; m < class->modes->len; m++)
        if (is_published_mode (class_mode (class, m), plan->published))
            return (int) m;
    BatchMode *mode = mode_of_published (planning, class, plan->class, plan->published);
    if (mode == NULL)
        return -1;
    g_ptr_array_add (class->modes, mode);
    return (int) class->modes->len - 1;
}

/* Its route is not to be had any more: it is planned anew from where it stands. */
static void
go_on_from_there (Planning *planning, guint unit)
{
    UnitPlan *plan = &planning->plans[unit];

    standing_leave_at_step (planning, unit);
    gifts_resolve (planning);
    classes_part (planning, unit);
    modes_find_for (planning, plan->class);
}

static void
set_aside_by_clock (Planning *planning, guint unit, const char *why)
{
    planning->plans[unit].done = 0;
    planning->plans[unit].under_way = -1;
    planning_set_aside (planning, unit, ASIDE_RECORD,
                        g_strdup_printf ("its published route can't be gone on with, and nobody knows how far it is: %s",
                                         why));
}

/* Begun by the clock, and by no route that leads on. Where it is in the middle of a step, or can't have done what the timetable says,
 * only a look at it can tell where it stands. */
static void
go_on_from_clock (Planning *planning, guint unit)
{
    UnitPlan *plan = &planning->plans[unit];
    g_autoptr (GArray) steps = standing_published_steps (plan->published);
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autofree char *why = NULL;

    if (!standing_can_have_done (planning, plan->unit, steps, plan->done, complaints)) {
        why = g_strdup_printf ("its steps up to %u are over by the timetable alone, but %s", plan->done,
                               complaints_get (complaints, 0)->what);
        set_aside_by_clock (planning, unit, why);
        return;
    }
    if (plan->under_way >= 0) {
        why = g_strdup_printf ("by the timetable alone its step %u is under way; let it end, and record what was done",
                               plan->done + 1);
        set_aside_by_clock (planning, unit, why);
        return;
    }
    g_ptr_array_add (planning->batch->said,
                     g_strdup_printf ("%s: its published route can't be gone on with, and no record says how far it is; "
                                      "by the timetable alone its steps up to %u are done, and it is planned on from "
                                      "where that leaves it",
                                      plan->unit->id, plan->done));
    go_on_from_there (planning, unit);
}

void
replan_keep_modes (Planning *planning)
{
    for (guint i = 0; i < planning_units (planning); i++) {
        UnitPlan *plan = &planning->plans[i];

        if (plan->published == NULL || plan->anew || planning_unit (planning, i)->aside != ASIDE_NOT)
            continue;
        plan->keeps = find_mode (planning, i);
        plan->refused = plan->keeps < 0 && unit_has_begun (plan);
        if (plan->keeps >= 0)
            branching_say_unread (planning, i);
        else if (plan->as_read != NULL)
            go_on_from_there (planning, i);
        else if (plan->refused)
            go_on_from_clock (planning, i);
    }
    gifts_settle (planning, GIFTS_CLASSED);
    shelf_count (planning);
}

/* ---- What is held now ---- */

static gboolean
is_in (const Holding *holding, const UnitPlan *plan)
{
    guint next = plan->done + (plan->under_way >= 0 ? 1 : 0);
    gboolean fitted = holding->fit == G_MAXUINT || holding->fit < next;

    return holding->owner == OWNER_LOAN && fitted && holding->remove != G_MAXUINT && holding->remove >= plan->done;
}

static GArray *
holdings_of (const Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];

    return mode_holdings (planning, plan->unit,
                          class_mode (planning_class (planning, plan->class), (guint) plan->mode)->steps);
}

/* By the clock alone, and what it would hold is elsewhere: it waits in front of the step that fits it. */
static void
hold_back (Planning *planning, guint unit, const Holding *holding)
{
    UnitPlan *plan = &planning->plans[unit];
    const Lot *lot = &g_array_index (planning->pools, Pool, holding->pool).lot;

    g_ptr_array_add (
        planning->batch->said,
        g_strdup_printf ("%s: by the timetable it has %s by now, which records say is elsewhere or gone; it is "
                         "taken to wait in front of step %u",
                         plan->unit->id, lot->part->name, holding->fit + 1));
    plan->done = MIN (plan->done, holding->fit);
    plan->under_way = -1;
}

/* Per pool: what is lent at the moment, and what units have given. */
typedef struct {
    guint *lent, *given; /* borrowed; given G_MAXUINT: not known yet */
} Shelf;

/* Who is held back or set aside has not given what was counted. */
static void
forget_given (const Planning *planning, Shelf *shelf)
{
    for (guint p = 0; p < planning->pools->len; p++)
        shelf->given[p] = G_MAXUINT;
}

/* All of the pool are lent. */
static gboolean
has_none_left (const Planning *planning, Shelf *shelf, guint pool)
{
    guint own = g_array_index (planning->pools, Pool, pool).lot.count;

    if (shelf->lent[pool] < own)
        return FALSE;
    if (shelf->given[pool] == G_MAXUINT)
        shelf->given[pool] = planning_given (planning, pool);
    return shelf->lent[pool] >= own + shelf->given[pool];
}

/* FALSE: there are not as many as it holds. */
static gboolean
hold (Planning *planning, guint unit, Shelf *shelf)
{
    const UnitPlan *plan = &planning->plans[unit];
    g_autoptr (GArray) holdings = holdings_of (planning, unit);

    for (guint i = 0; i < holdings->len; i++) {
        const Holding *holding = &g_array_index (holdings, Holding, i);

        if (!is_in (holding, plan))
            continue;
        if (has_none_left (planning, shelf, holding->pool)) {
            if (plan->has_record || holding->fit == G_MAXUINT)
                return FALSE;
            hold_back (planning, unit, holding);
            forget_given (planning, shelf);
            break;
        }
        shelf->lent[holding->pool]++;
    }
    return TRUE;
}

/* Of loaners records come before the clock, and what is under way before what waits; of places settle_places() tells. */
static void
settle_units (Planning *planning)
{
    g_autofree guint *lent = g_new0 (guint, planning->pools->len + 1);
    g_autofree guint *given = g_new0 (guint, planning->pools->len + 1);
    Shelf shelf = { lent, given };
    g_autofree gboolean *settled = g_new0 (gboolean, planning_units (planning) + 1);

    forget_given (planning, &shelf);
    for (int turn = 0; turn < 4; turn++)
        for (guint i = 0; i < planning_units (planning); i++) {
            const UnitPlan *plan = &planning->plans[i];
            gboolean records = turn < 2, under_way = turn % 2 == 0;

            if (settled[i] || planning_unit (planning, i)->aside != ASIDE_NOT || !unit_has_begun (plan) ||
                plan->has_record != records || (plan->under_way >= 0) != under_way)
                continue;
            settled[i] = TRUE; /* one that is held back then waits, and is not to be counted again */
            if (hold (planning, i, &shelf))
                continue;
            planning_set_aside (
                planning, i, ASIDE_RECORD,
                g_strdup ("by its record it holds a loaner, and of those that the shop has and units have given by "
                          "now none is left for it"));
            forget_given (planning, &shelf);
        }
}

/* Who is held back has not given what others count on. */
void
replan_settle (Planning *planning)
{
    do {
        (void) gifts_settle (planning, GIFTS_SHARED);
        settle_units (planning);
    } while (gifts_settle (planning, GIFTS_SHARED));
    settle_places (planning);
}
