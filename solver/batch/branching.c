/* SPDX-License-Identifier: MIT */
/* What a plan with branches does on other ways than that of its worst case. */
#include "batch/plan.h"

#include "route/branched.h"

void
batch_branching_free (BatchBranching *branching)
{
    if (branching == NULL)
        return;
    g_array_unref (branching->readings);
    g_array_unref (branching->legs);
    g_array_unref (branching->stock);
    g_array_unref (branching->lent);
    g_free (branching);
}

/* ---- The plan ---- */

static gboolean
branch_has_case (const Branch *branch, const guint *releases, guint n_components)
{
    for (guint i = 0; i < branch->cases->len; i++)
        if (memcmp (branch->cases->pdata[i], releases, n_components * sizeof (guint)) == 0)
            return TRUE;
    return FALSE;
}

const Branch *
branch_next_for (const Branch *branch, const guint *releases, guint n_components)
{
    for (guint i = 0; i < branch->next->len; i++)
        if (branch_has_case (branch->next->pdata[i], releases, n_components))
            return branch->next->pdata[i];
    return NULL;
}

static void
add_ways (const Branch *branch, const GArray *before, GPtrArray *ways)
{
    g_autoptr (GArray) way = g_array_new (FALSE, TRUE, sizeof (Step));

    g_array_append_vals (way, before->data, before->len);
    g_array_append_vals (way, branch->steps->data, branch->steps->len);
    for (guint i = 0; i < branch->next->len; i++)
        add_ways (branch->next->pdata[i], way, ways);
    if (branch->next->len == 0)
        g_ptr_array_add (ways, g_steal_pointer (&way));
}

/* From the beginning to each end, also where the plan gives up. Transfer full (GPtrArray of GArray of Step). */
static GPtrArray *
all_ways (const Branch *plan)
{
    GPtrArray *ways = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
    g_autoptr (GArray) nothing = g_array_new (FALSE, TRUE, sizeof (Step));

    add_ways (plan, nothing, ways);
    return ways;
}

static const Branch *
plan_of (const BatchMode *mode)
{
    return mode->answer->branches->plan;
}

/* ---- Readings ---- */

static double
minutes_of (const Shop *shop, const Board *board, const Branch *after, const Branch *next)
{
    if (after->then == THEN_READ)
        return board_component (board, after->component)->page.minutes;
    return shop->start_minutes + (next->dark ? shop_dark_after_minutes (shop, board) : 0);
}

static guint
leg_of (const BranchAnswer *answer, const Branch *branch)
{
    for (guint i = 0; i < answer->legs->len; i++)
        if (((const BranchLeg *) answer->legs->pdata[i])->branch == branch)
            return i;
    g_assert_not_reached (); /* every branch of the plan is a leg */
}

static void
follow_worst_case (const Shop *shop, const Unit *unit, const BatchMode *mode)
{
    BatchBranching *branching = mode->branching;
    const Branch *next = NULL;

    for (const Branch *at = plan_of (mode); at != NULL; at = next) {
        guint leg = leg_of (mode->answer->branches, at);

        for (guint i = 0; i < at->steps->len; i++)
            g_array_append_val (branching->legs, leg);
        next = branch_next_for (at, branching->releases, unit->board->components->len);
        if (next == NULL)
            continue;
        BatchReading reading = { branching->legs->len, at, next, minutes_of (shop, unit->board, at, next) };
        g_array_append_val (branching->readings, reading);
    }
    branching->common = plan_of (mode)->steps->len;
}

/* ---- Parts ---- */

static guint
count_of (const GArray *lots, const Lot *like)
{
    for (guint i = 0; i < lots->len; i++)
        if (lot_is_like (&g_array_index (lots, Lot, i), like))
            return g_array_index (lots, Lot, i).count;
    return 0;
}

/* Raises each lot to what there is of it in `lots`. */
static void
raise_lots (GArray *most, const GArray *lots)
{
    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        gboolean known = FALSE;

        for (guint k = 0; k < most->len; k++) {
            Lot *one = &g_array_index (most, Lot, k);

            if (!lot_is_like (one, lot))
                continue;
            one->count = MAX (one->count, lot->count);
            known = TRUE;
        }
        if (!known)
            g_array_append_val (most, *lot);
    }
}

static void
add_beyond (GArray *beyond, const GArray *most, const GArray *own)
{
    for (guint i = 0; i < most->len; i++) {
        Lot lot = g_array_index (most, Lot, i);
        guint there = count_of (own, &lot);

        if (lot.count <= there)
            continue;
        lot.count -= there;
        g_array_append_val (beyond, lot);
    }
}

static void
find_parts (const Unit *unit, BatchMode *mode)
{
    g_autoptr (GPtrArray) ways = all_ways (plan_of (mode));
    g_autoptr (GArray) most_stock = g_array_new (FALSE, FALSE, sizeof (Lot));
    g_autoptr (GArray) most_lent = g_array_new (FALSE, FALSE, sizeof (Lot));

    for (guint i = 0; i < ways->len; i++) {
        g_autoptr (GArray) stock = g_array_new (FALSE, FALSE, sizeof (Lot));
        g_autoptr (GArray) lent = g_array_new (FALSE, FALSE, sizeof (Lot));

        steps_lots (unit, ways->pdata[i], stock, lent);
        raise_lots (most_stock, stock);
        raise_lots (most_lent, lent);
    }
    add_beyond (mode->branching->stock, most_stock, mode->stock);
    add_beyond (mode->branching->lent, most_lent, mode->lent);
}

GArray *
mode_most (const BatchMode *mode, Owner owner)
{
    const GArray *own = owner == OWNER_STOCK ? mode->stock : mode->lent;
    const GArray *beyond = mode->branching == NULL ? NULL
                           : owner == OWNER_STOCK  ? mode->branching->stock
                                                   : mode->branching->lent;
    GArray *most = g_array_copy ((GArray *) own);

    for (guint i = 0; beyond != NULL && i < beyond->len; i++) {
        Lot lot = g_array_index (beyond, Lot, i);

        lot.count += count_of (own, &lot);
        raise_lots (most, &(GArray){ (char *) &lot, 1 });
    }
    return most;
}

/* ---- The whole ---- */

BatchBranching *
branching_new (const Shop *shop, const Unit *unit, BatchMode *mode, const BranchCost *worst)
{
    const BranchCheck *check = mode->answer->branches->check;
    BatchBranching *branching = mode->branching = g_new0 (BatchBranching, 1);

    branching->releases = worst->releases;
    branching->given_up = check->given_up;
    branching->readings = g_array_new (FALSE, FALSE, sizeof (BatchReading));
    branching->legs = g_array_new (FALSE, FALSE, sizeof (guint));
    branching->stock = g_array_new (FALSE, FALSE, sizeof (Lot));
    branching->lent = g_array_new (FALSE, FALSE, sizeof (Lot));
    for (guint i = 0; i < check->costs->len; i++)
        branching->longer =
            MAX (branching->longer, g_array_index (check->costs, BranchCost, i).minutes - worst->minutes);
    follow_worst_case (shop, unit, mode);
    find_parts (unit, mode);
    return branching;
}

static gboolean
pulls (const Unit *unit, const GArray *way, const Pulled *one)
{
    g_autoptr (GArray) pulled = steps_pull (unit, way);

    for (guint i = 0; i < pulled->len; i++) {
        const Pulled *other = &g_array_index (pulled, Pulled, i);

        if (other->step == one->step && other->slot == one->slot)
            return TRUE;
    }
    return FALSE;
}

/* A part that comes out after a reading, or that goes in again on some way, is not sure to be there for another unit. */
GArray *
mode_pulls_surely (const Unit *unit, const BatchMode *mode)
{
    GArray *pulled = steps_pull (unit, mode->steps);
    g_autoptr (GPtrArray) ways = mode->branching == NULL ? NULL : all_ways (plan_of (mode));

    for (guint i = pulled->len; ways != NULL && i-- > 0;) {
        const Pulled one = g_array_index (pulled, Pulled, i);
        gboolean sure = one.step < mode->branching->common;

        for (guint w = 0; w < ways->len && sure; w++)
            sure = pulls (unit, ways->pdata[w], &one);
        if (!sure)
            g_array_remove_index (pulled, i);
    }
    return pulled;
}

void
branching_say_unread (Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];
    const BatchMode *mode = class_mode (planning_class (planning, plan->class), (guint) plan->keeps);

    if (mode->branching != NULL && !plan->has_record && plan->done > mode->branching->common)
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("%s: by the timetable it is past a reading, and no record says what was read; it is "
                             "taken to go the longest way",
                             plan->unit->id));
}

void
batch_find_open (Planning *planning)
{
    for (guint i = 0; i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];
        BatchUnit *unit = planning_unit (planning, i);
        const BatchMode *mode =
            unit->aside == ASIDE_NOT ? class_mode (planning_class (planning, unit->class), unit->mode) : NULL;

        unit->open = mode != NULL && mode->branching != NULL && !(plan->settled && plan->keeps >= 0);
        planning->batch->unsure += unit->open && mode->branching->given_up > 0 ? 1 : 0;
    }
}

gboolean
mode_reads_before (const BatchMode *mode, guint step)
{
    for (guint i = 0; mode->branching != NULL && i < mode->branching->readings->len; i++)
        if (g_array_index (mode->branching->readings, BatchReading, i).before == step)
            return TRUE;
    return FALSE;
}
