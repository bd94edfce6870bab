/* SPDX-License-Identifier: MIT */
/* Replay of plans with branches: the mode is the way of the worst case, and stock and lent parts hold whatever is read. */
#include "batch/replay_ways.h"

#include "route/branched.h"

#include <math.h>
#include <string.h>

enum { MOST_CASES = 4096 };

/* ---- The worst case ---- */

static gboolean
is_same_step (const Step *left, const Step *right)
{
    return left->kind == right->kind && left->slot == right->slot && left->component == right->component &&
           left->release == right->release && left->method == right->method && left->part == right->part &&
           left->stepping == right->stepping && left->bound == right->bound && left->owner == right->owner;
}

typedef struct {
    const BatchMode *mode;
    const Unit *unit;
    gboolean found;
} Seeking;

static char *
is_its_way (const Trail *end, gpointer data)
{
    Seeking *seeking = data;
    const GArray *own = seeking->mode->steps;
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));
    gboolean of_case = FALSE;

    for (guint i = 0; i < end->branch->cases->len; i++)
        of_case |= memcmp (end->branch->cases->pdata[i], seeking->mode->branching->releases,
                           seeking->unit->board->components->len * sizeof (guint)) == 0;
    if (!of_case)
        return NULL;
    replay_steps_until (end, steps);
    seeking->found = steps->len == own->len && end->branch->then == THEN_END;
    for (guint i = 0; i < own->len && seeking->found; i++)
        seeking->found = is_same_step (&g_array_index (own, Step, i), &g_array_index (steps, Step, i));
    return NULL;
}

static double
minutes_read (const BatchMode *mode)
{
    double minutes = 0;

    for (guint i = 0; i < mode->branching->readings->len; i++)
        minutes += g_array_index (mode->branching->readings, BatchReading, i).minutes;
    return minutes;
}

static char *
check_worst (const Unit *unit, const BatchMode *mode, const BranchCheck *check)
{
    Seeking seeking = { mode, unit, FALSE };
    const BranchCost *own = NULL;

    replay_every_end (replayed_plan (mode), NULL, is_its_way, &seeking);
    if (!seeking.found)
        return g_strdup_printf ("%s: its steps are not the way of any case of its plan", unit->id);
    for (guint i = 0; i < check->costs->len; i++)
        if (memcmp (g_array_index (check->costs, BranchCost, i).releases, mode->branching->releases,
                    unit->board->components->len * sizeof (guint)) == 0)
            own = &g_array_index (check->costs, BranchCost, i);
    for (guint i = 0; i < check->costs->len && own != NULL; i++) {
        const BranchCost *cost = &g_array_index (check->costs, BranchCost, i);

        if (!cost->given_up &&
            (cost->steps > own->steps || (cost->steps == own->steps && cost->minutes > own->minutes)))
            return g_strdup_printf ("%s: its steps are not those of the worst case", unit->id);
        if (cost->minutes > own->minutes + mode->branching->longer + 1e-6)
            return g_strdup_printf ("%s: a case takes longer than is said", unit->id);
    }
    if (own == NULL || fabs (own->minutes - mode->walk->minutes - minutes_read (mode)) > 1e-6)
        return g_strdup_printf ("%s: its tries and readings do not take what its worst case does", unit->id);
    return mode->branching->given_up == check->given_up
               ? NULL
               : g_strdup_printf ("%s: not as many of its cases have no way as is said", unit->id);
}

static char *
check_mode (const BatchQuestion *question, const BatchMode *mode, const Unit *unit, const Want *want, const Shop *shop)
{
    g_autoptr (BranchCheck) check =
        check_branches (question->library, shop, unit, want, replayed_plan (mode), MOST_CASES);

    if (check == NULL || !check->sound)
        return g_strdup_printf ("%s: its plan with branches is not sound", unit->id);
    return check_worst (unit, mode, check);
}

/* ---- The whole ---- */

/* A loaner that a plan borrows on any way, pulled ones that are lent in this batch included. */
static Shop *
shop_with_lent (const BatchQuestion *question, const BatchMode *mode)
{
    Shop *shop = shop_copy (question->shop);

    for (guint i = 0; i < mode->lent->len; i++) {
        const Lot *lot = &g_array_index (mode->lent, Lot, i);
        guint there = 0;

        for (guint k = 0; k < shop->lots->len; k++) {
            const Lot *other = &g_array_index (shop->lots, Lot, k);

            there += other->owner == OWNER_LOAN && other->part == lot->part && other->stepping == lot->stepping &&
                             other->bound == lot->bound
                         ? other->count
                         : 0;
        }
        if (there >= lot->count)
            continue;
        Lot more = *lot;
        more.count -= there;
        g_array_append_val (shop->lots, more);
    }
    return shop;
}

char *
replay_branches (const BatchQuestion *question, const Batch *batch)
{
    g_autoptr (GPtrArray) modes = g_ptr_array_new (), units = g_ptr_array_new ();
    guint unsure = 0;
    char *wrong = NULL;

    for (guint i = 0; i < batch->units->len && wrong == NULL; i++) {
        const BatchUnit *unit = batch->units->pdata[i];
        const BatchMode *mode = unit->aside == ASIDE_NOT ? replayed_mode (batch, unit) : NULL;
        gboolean branches = mode != NULL && mode->claim == CLAIM_BRANCHES;

        unsure += branches && unit->open && mode->branching->given_up > 0;
        if (mode == NULL || g_ptr_array_find (modes, mode, NULL))
            continue;
        g_ptr_array_add (modes, (gpointer) mode);
        g_ptr_array_add (units, (gpointer) replayed_unit (unit));
        g_autoptr (Shop) shop = branches ? shop_with_lent (question, mode) : NULL;
        wrong = branches ? check_mode (question, mode, replayed_unit (unit), unit->want, shop) : NULL;
    }
    if (wrong == NULL)
        wrong = replay_kept_stock (question, batch, modes, units);
    for (guint p = 0; p < batch->parts->len && wrong == NULL; p++) {
        const BatchPart *part = batch->parts->pdata[p];

        /* What a route that was left has given is nothing that a way of today's needs: the unit has it no more. */
        if (part->owner == OWNER_UNIT && part->stays->len > 0 && part->from_step != G_MAXUINT &&
            ((const BatchUnit *) batch->units->pdata[part->from_unit])->aside == ASIDE_NOT &&
            replayed_mode (batch, batch->units->pdata[part->from_unit])->claim == CLAIM_BRANCHES)
            wrong = replay_lent_on (batch, part);
    }
    if (wrong == NULL && unsure != batch->unsure)
        wrong = g_strdup ("not as many units may turn out to have no way as is said");
    return wrong;
}
