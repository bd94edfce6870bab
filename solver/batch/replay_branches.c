/* SPDX-License-Identifier: MIT */
/* Replay of plans with branches: the mode is the way of the worst case, and stock and lent parts hold whatever is read. */
#include "batch/replay.h"

#include "route/branched.h"

#include <math.h>
#include <string.h>

enum { MOST_CASES = 4096 };

/* One way through a plan, from its beginning to where it is. */
typedef struct Trail {
    const Branch *branch;
    const struct Trail *before;
} Trail;

/* Called with every end of the plan; the first that returns something ends it. */
typedef char *(*AtEnd) (const Trail *end, gpointer data);

static char *
at_every_end (const Branch *branch, const Trail *before, AtEnd at_end, gpointer data)
{
    const Trail here = { branch, before };
    char *wrong = branch->next->len == 0 ? at_end (&here, data) : NULL;

    for (guint i = 0; i < branch->next->len && wrong == NULL; i++)
        wrong = at_every_end (branch->next->pdata[i], &here, at_end, data);
    return wrong;
}

/* The steps of a whole way, in their order. */
static void
steps_until (const Trail *trail, GArray *steps)
{
    if (trail->before != NULL)
        steps_until (trail->before, steps);
    g_array_append_vals (steps, trail->branch->steps->data, trail->branch->steps->len);
}

static const Branch *
plan_of (const BatchMode *mode)
{
    return mode->answer->branches->plan;
}

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
    steps_until (end, steps);
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

    at_every_end (plan_of (mode), NULL, is_its_way, &seeking);
    if (!seeking.found)
        return g_strdup_printf ("%s: its steps are not the way of any case of its plan", unit->id);
    for (guint i = 0; i < check->costs->len; i++)
        if (memcmp (g_array_index (check->costs, BranchCost, i).releases, mode->branching->releases,
                    unit->board->components->len * sizeof (guint)) == 0)
            own = &g_array_index (check->costs, BranchCost, i);
    for (guint i = 0; i < check->costs->len && own != NULL; i++) {
        const BranchCost *cost = &g_array_index (check->costs, BranchCost, i);

        if (!cost->given_up && (cost->steps > own->steps || (cost->steps == own->steps && cost->minutes > own->minutes)))
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
    g_autoptr (BranchCheck) check = check_branches (question->library, shop, unit, want, plan_of (mode), MOST_CASES);

    if (check == NULL || !check->sound)
        return g_strdup_printf ("%s: its plan with branches is not sound", unit->id);
    return check_worst (unit, mode, check);
}

/* ---- Stock: what any way takes is kept ---- */

typedef struct {
    const Unit *unit;
    const Lot *lot;
    guint most;
} Taking;

static guint
held_of (const State *state, const Lot *lot)
{
    guint count = 0;

    for (guint s = 0; s < state->board->slots->len; s++) {
        const Held *held = &state->held[s];

        count += held->part == lot->part && held->owner == lot->owner && held->stepping == lot->stepping &&
                 held->bound == lot->bound;
    }
    return count;
}

static void
take_most (Taking *taking, const GArray *steps)
{
    g_autoptr (State) state = state_from_unit (taking->unit, NULL);

    taking->most = MAX (taking->most, held_of (state, taking->lot));
    for (guint i = 0; i < steps->len; i++) {
        state_apply (state, &g_array_index (steps, Step, i));
        taking->most = MAX (taking->most, held_of (state, taking->lot));
    }
}

static char *
take_at_end (const Trail *end, gpointer data)
{
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));

    steps_until (end, steps);
    take_most (data, steps);
    return NULL;
}

static guint
most_of_mode (const Unit *unit, const BatchMode *mode, const Lot *lot)
{
    Taking taking = { unit, lot, 0 };

    take_most (&taking, mode->steps);
    if (mode->claim == CLAIM_BRANCHES)
        at_every_end (plan_of (mode), NULL, take_at_end, &taking);
    return taking.most;
}

static guint64
units_by (const Batch *batch, const BatchMode *mode)
{
    guint64 units = 0;

    for (guint i = 0; i < batch->units->len; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        units += unit->aside == ASIDE_NOT && replayed_mode (batch, unit) == mode;
    }
    return units;
}

static char *
check_stock (const BatchQuestion *question, const Batch *batch, const GPtrArray *modes, const GPtrArray *units)
{
    g_autofree guint64 *by = g_new0 (guint64, modes->len + 1);

    for (guint m = 0; m < modes->len; m++)
        by[m] = units_by (batch, modes->pdata[m]);
    for (guint i = 0; i < question->shop->lots->len; i++) {
        const Lot *lot = &g_array_index (question->shop->lots, Lot, i);
        guint64 there = 0, taken = 0;

        for (guint k = 0; k < question->shop->lots->len; k++) {
            const Lot *other = &g_array_index (question->shop->lots, Lot, k);

            there += other->owner == lot->owner && other->part == lot->part && other->stepping == lot->stepping &&
                             other->bound == lot->bound
                         ? other->count
                         : 0;
        }
        for (guint m = 0; m < modes->len && lot->owner == OWNER_STOCK; m++)
            taken += by[m] * most_of_mode (units->pdata[m], modes->pdata[m], lot);
        if (taken > there)
            return g_strdup_printf ("%s: some way of some unit takes more of it than the stock has", lot->part->name);
    }
    return NULL;
}

/* ---- Pulled parts: lent only where no way needs them ---- */

typedef struct {
    const Unit *unit;
    Lot lot;    /* as its own part */
    guint over; /* steps that are done, and were made in every case */
    guint most; /* still to be in it at once */
} Needing;

static char *
need_at_end (const Trail *end, gpointer data)
{
    Needing *needing = data;
    g_autoptr (GArray) steps = g_array_new (FALSE, TRUE, sizeof (Step));
    g_autoptr (State) state = state_from_unit (needing->unit, NULL);

    steps_until (end, steps);
    for (guint i = 0; i <= steps->len; i++) {
        if (i >= needing->over)
            needing->most = MAX (needing->most, held_of (state, &needing->lot));
        if (i < steps->len)
            state_apply (state, &g_array_index (steps, Step, i));
    }
    return NULL;
}

static gint64
lent_from (const BatchPart *part)
{
    return part->stays->len > 0 ? g_array_index (part->stays, BatchStay, 0).from : G_MAXINT64;
}

static char *
check_lent (const Batch *batch, const BatchPart *part)
{
    const BatchUnit *unit = batch->units->pdata[part->from_unit];
    const BatchMode *mode = replayed_mode (batch, unit);
    Needing needing = { replayed_unit (unit), { OWNER_UNIT, part->part, part->stepping, 0, part->bound, MARK_NONE }, 0, 0 };
    g_autoptr (State) first = state_from_unit (needing.unit, NULL);
    guint lent = 0;

    for (guint i = 0; i < plan_of (mode)->steps->len; i++)
        needing.over += g_array_index (unit->tasks, BatchTask, i).ends <= lent_from (part);
    at_every_end (plan_of (mode), NULL, need_at_end, &needing);
    for (guint p = 0; p < batch->parts->len; p++) {
        const BatchPart *other = batch->parts->pdata[p];

        lent += other->owner == OWNER_UNIT && other->from_unit == part->from_unit && other->part == part->part &&
                other->stepping == part->stepping && other->bound == part->bound && lent_from (other) <= lent_from (part);
    }
    return lent + needing.most <= held_of (first, &needing.lot)
               ? NULL
               : g_strdup_printf ("%s #%u is lent, and some way of %s still needs it", part->part->name, part->number,
                                  unit->unit->id);
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
    gboolean some = FALSE;
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
        some |= branches;
        g_autoptr (Shop) shop = branches ? shop_with_lent (question, mode) : NULL;
        wrong = branches ? check_mode (question, mode, replayed_unit (unit), unit->want, shop) : NULL;
    }
    if (wrong == NULL && some)
        wrong = check_stock (question, batch, modes, units);
    for (guint p = 0; p < batch->parts->len && wrong == NULL; p++) {
        const BatchPart *part = batch->parts->pdata[p];

        if (part->owner == OWNER_UNIT && part->stays->len > 0 &&
            replayed_mode (batch, batch->units->pdata[part->from_unit])->claim == CLAIM_BRANCHES)
            wrong = check_lent (batch, part);
    }
    if (wrong == NULL && unsure != batch->unsure)
        wrong = g_strdup ("not as many units may turn out to have no way as is said");
    return wrong;
}
