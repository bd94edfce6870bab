/* SPDX-License-Identifier: MIT */
/* Who has the pulled parts that a published timetable lends on: a part that is out is out, and nobody has what its unit has not given. */
#include "batch/standing.h"

typedef struct {
    Planning *planning;
    GiftStage stage;
} Settling;

static guint
begun (const UnitPlan *plan)
{
    return plan->published == NULL
               ? 0
               : MIN (plan->done + (plan->under_way >= 0 ? 1 : 0), plan->published->tasks->len);
}

static const PublishedTask *
task_at (const UnitPlan *plan, guint step)
{
    return &g_array_index (plan->published->tasks, PublishedTask, step);
}

static gboolean
is_out_again (const UnitPlan *plan, guint fit)
{
    for (guint k = fit + 1; k < plan->done; k++)
        if (task_at (plan, k)->step.kind == STEP_REMOVE && task_at (plan, k)->step.slot == task_at (plan, fit)->step.slot)
            return TRUE;
    return FALSE;
}

static Lot
lot_of_fitted (const Fitted *fitted)
{
    return (Lot){ OWNER_LOAN, fitted->part, fitted->stepping, 1, fitted->bound, MARK_NONE };
}

static gboolean
fits_gift (const Planning *planning, const PublishedTask *task, Lot *lot)
{
    *lot = (Lot){ OWNER_LOAN, task->step.part, task->step.stepping, 1, task->step.bound, MARK_NONE };
    return task->step.kind == STEP_FIT && task->step.owner == OWNER_LOAN && task->part_number > lot_had (planning, lot);
}

/* ---- Who has them ---- */

static void
look_at_route (Planning *planning, const UnitPlan *plan)
{
    for (guint k = 0; plan->published != NULL && k < plan->published->tasks->len; k++) {
        Lot lot;
        KnownGift *gift =
            fits_gift (planning, task_at (plan, k), &lot) ? gift_find (planning, &lot, task_at (plan, k)->part_number) : NULL;

        if (gift == NULL)
            continue;
        if (k >= begun (plan))
            gift->wanted = TRUE;
        else if (!is_out_again (plan, k))
            gift->holder = plan->unit->id;
        gift->by_record |= k < begun (plan) && plan->has_record;
    }
}

static void
look_at_slots (Planning *planning, const UnitPlan *plan)
{
    for (guint s = 0; plan->held != NULL && s < plan->unit->board->slots->len; s++) {
        Lot lot = lot_of_fitted (&plan->unit->fitted[s]);
        KnownGift *gift = plan->held[s] > 0 ? gift_find (planning, &lot, plan->held[s]) : NULL;

        if (gift == NULL)
            continue;
        gift->holder = plan->unit->id;
        gift->by_record = TRUE;
    }
}

static void
look_around (Planning *planning)
{
    for (guint i = 0; i < planning->gifts->len; i++) {
        KnownGift *gift = &g_array_index (planning->gifts, KnownGift, i);

        gift->holder = NULL;
        gift->by_record = gift->wanted = FALSE;
    }
    for (guint i = 0; i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];

        if (planning_unit (planning, i)->aside != ASIDE_NOT)
            continue;
        if (plan->anew)
            look_at_slots (planning, plan);
        else
            look_at_route (planning, plan);
    }
}

/* ---- Parts of units that have left their routes ---- */

/* The part does not lie beside its unit any more. FALSE: it did not. */
static gboolean
take_from_beside (Unit *unit, const KnownGift *gift)
{
    int best = -1;

    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        const Fitted *one = &g_array_index (unit->pulled, Fitted, i);
        Lot lot = lot_of_fitted (one);

        if (lot_is_like (&lot, &gift->lot) && (best < 0 || one->serial == gift->serial))
            best = (int) i;
    }
    if (best >= 0)
        g_array_remove_index (unit->pulled, (guint) best);
    return best >= 0;
}

/* What somebody has or counts on is lent on as before, what broke elsewhere is no more; the rest lies beside the unit again. */
static void
resolve (Planning *planning, KnownGift *gift)
{
    BatchUnit *unit = planning_unit (planning, gift->unit);

    if (gift->step != G_MAXUINT && gift->holder == NULL && !gift->wanted && !gift->lost) {
        gift->gone = TRUE;
        return;
    }
    gift->gone = unit->stands == NULL || !take_from_beside (unit->stands, gift);
    gift->step = G_MAXUINT;
    gift->taken_from = unit->stands;
}

/* Whose it was is known to the next run too. */
static void
note_in_lost (Planning *planning)
{
    GArray *lost = planning->batch->replan->lost;

    for (guint i = 0; i < lost->len; i++) {
        BatchLost *one = &g_array_index (lost, BatchLost, i);
        Lot lot = { one->owner, one->part, one->stepping, 1, one->bound, MARK_NONE };
        const KnownGift *gift = one->owner == OWNER_LOAN ? gift_find (planning, &lot, one->number) : NULL;

        if (gift == NULL)
            continue;
        one->of = g_intern_string (planning_unit (planning, gift->unit)->unit->id);
        one->of_step = gift->step;
    }
}

void
gifts_resolve (Planning *planning)
{
    look_around (planning);
    for (int held = 1; held >= 0; held--)
        for (guint i = 0; i < planning->gifts->len; i++) {
            KnownGift *gift = &g_array_index (planning->gifts, KnownGift, i);
            const BatchUnit *unit = planning_unit (planning, gift->unit);
            gboolean left = planning->plans[gift->unit].anew || gift->step == G_MAXUINT;

            if (left && !gift->gone && unit->aside != ASIDE_RECORD && (gift->holder != NULL) == held &&
                (gift->taken_from == NULL || gift->taken_from != unit->stands))
                resolve (planning, gift);
        }
    note_in_lost (planning);
}

/* ---- What nobody has given ---- */

static char *
whose_words (const Planning *planning, const Lot *lot, const KnownGift *gift)
{
    if (gift != NULL && gift->lost)
        return g_strdup_printf ("the %s of %s, which is out of use", lot->part->name,
                                planning->plans[gift->unit].unit->id);
    return gift == NULL ? g_strdup_printf ("a %s that no unit of this run lends", lot->part->name)
                        : g_strdup_printf ("the %s of %s, which has not given it yet", lot->part->name,
                                           planning->plans[gift->unit].unit->id);
}

/* By the clock alone its unit is not as far, and a record shows that it is. */
static gboolean
move_giver_on (Planning *planning, const KnownGift *gift, const char *borrower)
{
    UnitPlan *giver = gift != NULL ? &planning->plans[gift->unit] : NULL;

    if (giver == NULL || gift->gone || gift->lost || gift->step == G_MAXUINT || giver->has_record || giver->anew ||
        giver->moved_on || planning_unit (planning, gift->unit)->aside != ASIDE_NOT || giver->published == NULL ||
        gift->step >= giver->published->tasks->len)
        return FALSE;
    g_ptr_array_add (planning->batch->said,
                     g_strdup_printf ("%s: by the timetable alone its step %u is not done by now, and by the record of %s "
                                      "the %s that it gives is there; it is taken to be done as far as that",
                                      giver->unit->id, gift->step + 1, borrower, gift->lot.part->name));
    giver->done = gift->step + 1;
    giver->under_way = -1;
    return giver->moved_on = TRUE;
}

static void
wait_in_front (Planning *planning, UnitPlan *plan, guint fit, const char *whose)
{
    g_ptr_array_add (planning->batch->said,
                     g_strdup_printf ("%s: by the timetable alone it was to have %s; it is taken to wait in front of step %u",
                                      plan->unit->id, whose, fit + 1));
    plan->done = fit;
    plan->under_way = -1;
}

/* Its record has what it can't have had: it was given another one, and nobody wrote down which. */
static void
go_on_from_there (const Settling *settling, guint unit, const char *whose)
{
    Planning *planning = settling->planning;
    UnitPlan *plan = &planning->plans[unit];

    if (settling->stage == GIFTS_SHARED) {
        planning_set_aside (planning, unit, ASIDE_RECORD, g_strdup_printf ("by its record it has had %s", whose));
        return;
    }
    g_ptr_array_add (planning->batch->said,
                     g_strdup_printf ("%s: by its record it has had %s: it was given another one, and is planned on from "
                                      "where it stands",
                                      plan->unit->id, whose));
    plan->settled = FALSE;
    plan->keeps = -1;
    standing_leave_at_step (planning, unit);
    gifts_resolve (planning);
    if (settling->stage == GIFTS_CLASSED) {
        classes_part (planning, unit);
        modes_find_for (planning, plan->class);
    }
}

/* TRUE: something changed. */
static gboolean
settle_route (const Settling *settling, guint unit)
{
    Planning *planning = settling->planning;
    UnitPlan *plan = &planning->plans[unit];

    for (guint i = 0; i < begun (plan); i++) {
        Lot lot;
        const KnownGift *gift = NULL;

        if (!fits_gift (planning, task_at (plan, i), &lot))
            continue;
        gift = gift_find (planning, &lot, task_at (plan, i)->part_number);
        /* What broke was given before. */
        if (gift != NULL && (gift_is_given (planning, gift) || (gift->lost && is_out_again (plan, i))))
            continue;
        if (plan->has_record && move_giver_on (planning, gift, plan->unit->id))
            return TRUE;
        g_autofree char *whose = whose_words (planning, &lot, gift);
        if (plan->has_record)
            go_on_from_there (settling, unit, whose);
        else
            wait_in_front (planning, plan, i, whose);
        return TRUE;
    }
    return FALSE;
}

static gboolean
settle_slots (const Settling *settling, guint unit)
{
    Planning *planning = settling->planning;
    UnitPlan *plan = &planning->plans[unit];

    for (guint s = 0; plan->held != NULL && s < plan->unit->board->slots->len; s++) {
        Lot lot = lot_of_fitted (&plan->unit->fitted[s]);
        const KnownGift *gift = NULL;

        if (plan->held[s] == 0 || plan->held[s] <= lot_had (planning, &lot))
            continue;
        gift = gift_find (planning, &lot, plan->held[s]);
        if (gift != NULL && gift_is_given (planning, gift))
            continue;
        if (!move_giver_on (planning, gift, plan->unit->id))
            plan->held[s] = 0; /* some other one */
        return TRUE;
    }
    return FALSE;
}

gboolean
gifts_settle (Planning *planning, GiftStage stage)
{
    Settling settling = { planning, stage };
    gboolean any = FALSE, changed = TRUE;

    while (changed) {
        changed = FALSE;
        gifts_resolve (planning);
        for (guint i = 0; i < planning_units (planning); i++)
            if (planning_unit (planning, i)->aside == ASIDE_NOT)
                changed |= planning->plans[i].anew ? settle_slots (&settling, i) : settle_route (&settling, i);
        any |= changed;
    }
    return any;
}

char *
gifts_out_words (const Planning *planning, guint unit)
{
    for (guint i = 0; i < planning->gifts->len; i++) {
        const KnownGift *gift = &g_array_index (planning->gifts, KnownGift, i);

        if (gift->unit == unit && gift->step == G_MAXUINT && gift->holder != NULL && gift_is_given (planning, gift))
            return g_strdup_printf ("there is no route; its %s is lent on, and at %s now", gift->lot.part->name,
                                    gift->holder);
    }
    return NULL;
}
