/* SPDX-License-Identifier: MIT */
/* The shelf: what may be lent, and how many there are of everything. */
#include "batch/plan.h"

static gboolean
lot_is (const Lot *lot, Owner owner, const Part *part, const char *stepping, const char *bound)
{
    return lot->owner == owner && lot->part == part && lot->stepping == stepping && lot->bound == bound;
}

int
planning_pool (const Planning *planning, Owner owner, const Part *part, const char *stepping, const char *bound)
{
    for (guint i = 0; i < planning->pools->len; i++)
        if (lot_is (&g_array_index (planning->pools, Pool, i).lot, owner, part, stepping, bound))
            return (int) i;
    return -1;
}

static guint
find_or_add_pool (Planning *planning, Owner owner, const Part *part, const char *stepping, const char *bound)
{
    int found = planning_pool (planning, owner, part, stepping, bound);
    Pool pool = { .lot = { owner, part, stepping, 0, bound, MARK_NONE }, .rank = -1 };

    if (found >= 0)
        return (guint) found;
    g_array_append_val (planning->pools, pool);
    return planning->pools->len - 1;
}

static void
pools_of_shop (Planning *planning)
{
    g_array_set_size (planning->pools, 0);
    for (guint i = 0; i < planning->shop->lots->len; i++) {
        const Lot *lot = &g_array_index (planning->shop->lots, Lot, i);
        guint pool = find_or_add_pool (planning, lot->owner, lot->part, lot->stepping, lot->bound);

        g_array_index (planning->pools, Pool, pool).lot.count += lot->count;
    }
}

/* A part that may have bound itself where it was is not lent, as long as nobody knows to whom. */
static gboolean
may_be_lent (const Planning *planning, const Unit *unit, const Fitted *fitted)
{
    return planning->shop->lend_pulled_parts && !unit->own_parts_stay && fitted->part != NULL &&
           fitted->owner == OWNER_UNIT && !(fitted->part->binds && fitted->bound == NULL && unit->board->binds != NULL);
}

/* ---- What one unit of a class gives, while its modes are not known ---- */

static gboolean
is_pushed_out (const Unit *unit, const Want *want, guint slot)
{
    const Fitted *fitted = &unit->fitted[slot];

    return want->slots[slot].kind != WANT_NOTHING &&
           !want_slot_is_met (&want->slots[slot], fitted->part, fitted->stepping);
}

/* Pulled parts that are lent on already, whatever becomes of their units' routes; and those that are out of use. */
static void
count_known_gifts (Planning *planning)
{
    for (guint i = 0; i < planning->gifts->len; i++) {
        const KnownGift *gift = &g_array_index (planning->gifts, KnownGift, i);
        guint pool = find_or_add_pool (planning, OWNER_LOAN, gift->lot.part, gift->lot.stepping, gift->lot.bound);
        guint *give = &g_array_index (planning->pools, Pool, pool).give;
        int beyond = gift_beyond_modes (planning, gift);

        *give = beyond < 0 ? *give - MIN (*give, 1) : *give + (guint) beyond;
    }
}

void
shelf_expect (Planning *planning)
{
    pools_of_shop (planning);
    for (guint c = 0; c < planning->batch->classes->len; c++) {
        const BatchClass *class = planning_class (planning, c);

        for (guint s = 0; s < class->unit->board->slots->len; s++) {
            const Fitted *fitted = &class->unit->fitted[s];

            if (!may_be_lent (planning, class->unit, fitted) || !is_pushed_out (class->unit, class->want, s))
                continue;
            guint pool = find_or_add_pool (planning, OWNER_LOAN, fitted->part, fitted->stepping, fitted->bound);
            g_array_index (planning->pools, Pool, pool).give += class->units;
        }
    }
    count_known_gifts (planning);
}

/* ---- What modes take and give ---- */

void
mode_draws_free (gpointer data)
{
    ModeDraws *draws = data;

    g_array_unref (draws->stock);
    g_array_unref (draws->lent);
    g_array_unref (draws->gives);
    g_free (draws);
}

static guint
held_at_first (const Unit *unit, const Lot *lot)
{
    guint count = 0;

    for (guint s = 0; s < unit->board->slots->len; s++) {
        const Fitted *fitted = &unit->fitted[s];
        count += fitted->part != NULL && lot_is (lot, fitted->owner, fitted->part, fitted->stepping, fitted->bound);
    }
    return count;
}

static ModeDraws *
draws_of_mode (Planning *planning, const BatchClass *class, const BatchMode *mode)
{
    ModeDraws *draws = g_new0 (ModeDraws, 1);
    g_autoptr (GArray) pulled = mode_pulls_surely (class->unit, mode);
    g_autoptr (GArray) stock = mode_most (mode, OWNER_STOCK);
    g_autoptr (GArray) lent = mode_most (mode, OWNER_LOAN);

    draws->stock = g_array_new (FALSE, FALSE, sizeof (Draw));
    draws->lent = g_array_new (FALSE, FALSE, sizeof (Draw));
    draws->gives = g_array_new (FALSE, FALSE, sizeof (Give));
    for (guint i = 0; i < stock->len; i++) {
        const Lot *lot = &g_array_index (stock, Lot, i);
        Draw draw = { find_or_add_pool (planning, lot->owner, lot->part, lot->stepping, lot->bound),
                      lot->count - held_at_first (class->unit, lot) };
        if (draw.amount > 0)
            g_array_append_val (draws->stock, draw);
    }
    for (guint i = 0; i < lent->len; i++) {
        const Lot *lot = &g_array_index (lent, Lot, i);
        Draw draw = { find_or_add_pool (planning, lot->owner, lot->part, lot->stepping, lot->bound), lot->count };
        g_array_append_val (draws->lent, draw);
    }
    for (guint i = 0; i < pulled->len; i++) {
        const Pulled *one = &g_array_index (pulled, Pulled, i);
        const Fitted *fitted = unit_piece (class->unit, one->slot);

        if (!may_be_lent (planning, class->unit, fitted))
            continue;
        Give give = { find_or_add_pool (planning, OWNER_LOAN, fitted->part, fitted->stepping, fitted->bound),
                      one->step };
        g_array_append_val (draws->gives, give);
    }
    return draws;
}

static guint
given_by_mode (const ModeDraws *draws, guint pool)
{
    guint given = 0;

    for (guint i = 0; i < draws->gives->len; i++)
        given += g_array_index (draws->gives, Give, i).pool == pool ? 1 : 0;
    return given;
}

/* The most that one unit of the class gives; while no modes were counted, what its want pushes out. */
static guint
given_by_unit (const Planning *planning, guint class, guint pool)
{
    const GPtrArray *draws = class < planning->draws->len ? planning->draws->pdata[class] : NULL;
    const BatchClass *of = planning_class (planning, class);
    const Lot *lot = &g_array_index (planning->pools, Pool, pool).lot;
    guint most = 0;

    for (guint i = 0; draws != NULL && i < draws->len; i++)
        most = MAX (most, given_by_mode (draws->pdata[i], pool));
    for (guint s = 0; draws == NULL && s < of->unit->board->slots->len; s++) {
        const Fitted *fitted = &of->unit->fitted[s];
        most += may_be_lent (planning, of->unit, fitted) && is_pushed_out (of->unit, of->want, s) &&
                lot_is (lot, OWNER_LOAN, fitted->part, fitted->stepping, fitted->bound);
    }
    return most;
}

void
shelf_count (Planning *planning)
{
    pools_of_shop (planning);
    g_ptr_array_set_size (planning->draws, 0);
    for (guint c = 0; c < planning->batch->classes->len; c++) {
        const BatchClass *class = planning_class (planning, c);
        GPtrArray *draws = g_ptr_array_new_with_free_func (mode_draws_free);

        g_ptr_array_add (planning->draws, draws);
        for (guint m = 0; m < class->modes->len; m++)
            g_ptr_array_add (draws, draws_of_mode (planning, class, class_mode (class, m)));
    }
    for (guint c = 0; c < planning->batch->classes->len; c++)
        for (guint p = 0; p < planning->pools->len; p++)
            g_array_index (planning->pools, Pool, p).give +=
                planning_class (planning, c)->units * given_by_unit (planning, c, p);
    count_known_gifts (planning);
}

/* ---- The shelf ---- */

/* More of one kind than a board has slots are of no use to its plan. */
static void
lend_pool (Shop *shelf, const Pool *pool, guint more, guint most)
{
    Lot lot = pool->lot;

    for (guint i = 0; i < shelf->lots->len; i++) {
        Lot *known = &g_array_index (shelf->lots, Lot, i);

        if (!lot_is (known, lot.owner, lot.part, lot.stepping, lot.bound))
            continue;
        known->count = MAX (known->count, MIN (known->count + more, most));
        return;
    }
    lot.count = MIN (more, most);
    g_array_append_val (shelf->lots, lot);
}

Shop *
shelf_for_class (const Planning *planning, guint class)
{
    Shop *shelf = shop_copy (planning->shop);

    for (guint p = 0; p < planning->pools->len; p++) {
        const Pool *pool = &g_array_index (planning->pools, Pool, p);
        guint own = pool->give > 0 ? given_by_unit (planning, class, p) : 0;

        if (pool->lot.owner == OWNER_LOAN && pool->give > own)
            lend_pool (shelf, pool, pool->give - own, planning_class (planning, class)->unit->board->slots->len);
    }
    return shelf;
}
