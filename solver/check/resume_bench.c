/* SPDX-License-Identifier: MIT */
/* Parts on the bench: docs/files.md, "Record". */
#include "check/resume_bench.h"

#include "check/state.h"

static UnitRelease *
copy_releases (const UnitRelease *releases, const Board *board)
{
    UnitRelease *copy = g_new0 (UnitRelease, board->components->len + 1);

    for (guint i = 0; i < board->components->len; i++) {
        copy[i] = releases[i];
        copy[i].may_be =
            g_memdup2 (releases[i].may_be, board_component (board, i)->releases->len * sizeof *copy[i].may_be);
    }
    return copy;
}

static void
copy_slots (const Unit *unit, Unit *copy)
{
    guint n_slots = unit->board->slots->len;

    copy->fitted = g_new0 (Fitted, n_slots + 1);
    copy->began = g_new0 (Fitted, n_slots + 1);
    copy->insertions = g_new0 (guint, n_slots + 1);
    copy->counted = g_new0 (gboolean, n_slots + 1);
    for (guint i = 0; i < n_slots; i++) {
        copy->fitted[i] = unit->fitted[i];
        copy->began[i] = *unit_began (unit, i);
        copy->insertions[i] = unit->insertions == NULL ? 0 : unit->insertions[i];
        copy->counted[i] = unit->counted != NULL && unit->counted[i];
    }
}

static Unit *
copy_unit (const Unit *unit)
{
    const UnitRelease *began = unit->began_releases != NULL ? unit->began_releases : unit->releases;
    Unit *copy = g_memdup2 (unit, sizeof *unit);

    copy->releases = copy_releases (unit->releases, unit->board);
    copy->began_releases = copy_releases (began, unit->board);
    copy->factory = factory_copy (&unit->factory, unit->board);
    copy->failed = g_new0 (gboolean, unit->board->components->len + 1);
    for (guint i = 0; unit->failed != NULL && i < unit->board->components->len; i++)
        copy->failed[i] = unit->failed[i];
    copy_slots (unit, copy);
    copy->pulled = g_array_new (FALSE, TRUE, sizeof (Fitted));
    if (unit->pulled != NULL)
        g_array_append_vals (copy->pulled, unit->pulled->data, unit->pulled->len);
    return copy;
}

static gboolean
same_triple (const Fitted *left, const Fitted *right)
{
    Held one = held_from_fitted (left), other = held_from_fitted (right);

    return held_equal (&one, &other);
}

static gboolean
same_model (const Fitted *left, const Fitted *right)
{
    return left->part == right->part && left->stepping == right->stepping;
}

Bench *
bench_new (const Unit *unit, const Shop *shop)
{
    Bench *bench = g_new0 (Bench, 1);

    bench->unit = copy_unit (unit);
    bench->shop = shop_copy (shop);
    bench->raised = g_new (int, unit->board->components->len + 1);
    bench->written = g_new0 (gboolean, unit->board->components->len + 1);
    bench->worked_on = g_new0 (gboolean, unit->board->slots->len + 1);
    for (guint i = 0; i < unit->board->components->len; i++) {
        bench->raised[i] = -1;
        bench->written[i] = bench->unit->failed[i] || unit->began_releases != NULL;
    }
    for (guint i = 0; i < unit->board->slots->len; i++)
        bench->worked_on[i] = !same_triple (&bench->unit->began[i], &bench->unit->fitted[i]);
    return bench;
}

void
bench_free (Bench *bench)
{
    if (bench == NULL)
        return;
    if (bench->unit != NULL)
        unit_free (bench->unit);
    shop_free (bench->shop);
    g_free (bench->raised);
    g_free (bench->written);
    g_free (bench->worked_on);
    g_free (bench);
}

/* ---- What the shop has ---- */

static gboolean
lot_has (const Lot *lot, const Fitted *part)
{
    return lot->owner == part->owner && lot->part == part->part && lot->stepping == part->stepping &&
           lot->bound == part->bound;
}

/* How many of this very part the shop has in all, fitted ones too. */
static guint
count_there_are (const Shop *shop, const Fitted *part)
{
    guint count = 0;

    for (guint i = 0; i < shop->lots->len; i++)
        if (lot_has (&g_array_index (shop->lots, Lot, i), part))
            count += g_array_index (shop->lots, Lot, i).count;
    return count;
}

static guint
count_fitted (const Unit *unit, const Fitted *part)
{
    guint count = 0;

    for (guint i = 0; i < unit->board->slots->len; i++)
        if (same_triple (&unit->fitted[i], part))
            count++;
    return count;
}

static void
one_fewer (Shop *shop, const Fitted *part)
{
    for (guint i = 0; i < shop->lots->len; i++) {
        Lot *lot = &g_array_index (shop->lots, Lot, i);

        if (lot_has (lot, part) && lot->count > 0) {
            lot->count--;
            return;
        }
    }
}

static void
one_more (Shop *shop, const Fitted *part)
{
    Lot lot = { .owner = part->owner,
                .part = part->part,
                .stepping = part->stepping,
                .count = 1,
                .bound = part->bound,
                .at = part->at };

    for (guint i = 0; i < shop->lots->len; i++)
        if (lot_has (&g_array_index (shop->lots, Lot, i), part)) {
            g_array_index (shop->lots, Lot, i).count++;
            return;
        }
    g_array_append_val (shop->lots, lot);
}

/* ---- Parts that move ---- */

void
bench_take_out (Bench *bench, guint slot)
{
    Fitted *held = &bench->unit->fitted[slot];

    if (held->part != NULL && held->owner == OWNER_UNIT)
        g_array_append_val (bench->unit->pulled, *held);
    *held = (Fitted){ .at = held->at };
    bench->worked_on[slot] = TRUE;
}

/* Of the pulled parts, the one that `wanted` says; -1: none. Its serial decides first, then to whom it is bound. */
static int
find_pulled (const Unit *unit, const Fitted *wanted, gboolean any_bound)
{
    int best = -1;

    for (guint i = 0; i < unit->pulled->len; i++) {
        const Fitted *part = &g_array_index (unit->pulled, Fitted, i);

        if (!same_model (part, wanted))
            continue;
        if (wanted->serial != NULL && part->serial == wanted->serial)
            return (int) i;
        if (part->bound == wanted->bound &&
            (best < 0 || g_array_index (unit->pulled, Fitted, best).bound != wanted->bound))
            best = (int) i;
        if (best < 0 && any_bound)
            best = (int) i;
    }
    return best;
}

static gboolean
pick_up_own (Bench *bench, const Fitted *wanted, gboolean any_bound, Fitted *part)
{
    int index = find_pulled (bench->unit, wanted, any_bound);

    if (index < 0)
        return FALSE;
    *part = g_array_index (bench->unit->pulled, Fitted, index);
    g_array_remove_index (bench->unit->pulled, (guint) index);
    return TRUE;
}

static gboolean
pick_up_lent (const Bench *bench, const Fitted *wanted, gboolean any_bound, Fitted *part)
{
    *part = *wanted;
    if (count_fitted (bench->unit, part) < count_there_are (bench->shop, part))
        return TRUE;
    for (guint i = 0; any_bound && i < bench->shop->lots->len; i++) {
        part->bound = g_array_index (bench->shop->lots, Lot, i).bound;
        if (lot_has (&g_array_index (bench->shop->lots, Lot, i), part) &&
            count_fitted (bench->unit, part) < count_there_are (bench->shop, part))
            return TRUE;
    }
    return FALSE;
}

gboolean
bench_pick_up (Bench *bench, const Step *step, Fitted *part)
{
    Fitted wanted = {
        .part = step->part, .stepping = step->stepping, .owner = step->owner, .bound = step->bound, .at = step->at
    };
    gboolean any_bound = step->bound == NULL;

    return step->owner == OWNER_UNIT ? pick_up_own (bench, &wanted, any_bound, part)
                                     : pick_up_lent (bench, &wanted, any_bound, part);
}

/* What a slot began with is the same part, which is now bound: the slot itself first, then the first that fits. */
static void
bind_began (Unit *unit, guint slot, const Fitted *part)
{
    guint n_slots = unit->board->slots->len;

    for (guint i = 0; i < n_slots; i++) {
        Fitted *began = &unit->began[(slot + i) % n_slots];

        if (same_triple (began, part)) {
            began->bound = unit->board->binds;
            return;
        }
    }
}

static void
bind_part (Bench *bench, guint slot)
{
    Unit *unit = bench->unit;
    Fitted *held = &unit->fitted[slot];

    if (held->part == NULL || !held->part->binds || held->bound != NULL || unit->board->binds == NULL)
        return;
    bind_began (unit, slot, held);
    if (held->owner != OWNER_UNIT)
        one_fewer (bench->shop, held);
    held->bound = unit->board->binds;
    if (held->owner != OWNER_UNIT)
        one_more (bench->shop, held);
}

void
bench_put_in (Bench *bench, guint slot, const Fitted *part)
{
    bench->unit->fitted[slot] = *part;
    bench->unit->insertions[slot]++;
    bench->worked_on[slot] = TRUE;
    if (part->owner != OWNER_LOAN)
        bind_part (bench, slot);
}

void
bench_set_aside (Bench *bench, const Fitted *part)
{
    if (part->owner != OWNER_UNIT)
        one_fewer (bench->shop, part);
}

void
bench_note_running (Bench *bench)
{
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);

    for (guint i = 0; i < bench->unit->board->slots->len; i++)
        if (state_slot_is_live (state, i))
            bind_part (bench, i);
}

/* ---- What was seen ---- */

/* Of two equal parts, one in the slot and one beside the unit, the other one is in the slot. */
static void
take_serial (Unit *unit, Fitted *held, const Fitted *found)
{
    for (guint i = 0; i < unit->pulled->len; i++) {
        Fitted *other = &g_array_index (unit->pulled, Fitted, i);

        if (same_triple (other, held) && other->serial == found->serial)
            other->serial = held->serial;
    }
    held->serial = found->serial;
}

/* What is seen in the slot is what was thought to be in it, as far as is said. */
static gboolean
is_as_thought (const Fitted *held, const Fitted *found)
{
    if (held->part == NULL || found->part == NULL)
        return held->part == found->part;
    return same_model (held, found) && (found->owner == OWNER_UNIT || found->owner == held->owner) &&
           (found->bound == NULL || found->bound == held->bound);
}

static void
replace_thought (Bench *bench, Fitted *held, const Fitted *found)
{
    if (held->part != NULL)
        bench_set_aside (bench, held);
    if (found->part == NULL || found->owner != OWNER_UNIT || !pick_up_own (bench, found, found->bound == NULL, held))
        *held = *found;
    if (found->part == NULL)
        return;
    held->serial = found->serial != NULL ? found->serial : held->serial;
    if (held->owner != OWNER_UNIT && count_fitted (bench->unit, held) > count_there_are (bench->shop, held))
        one_more (bench->shop, held);
}

void
bench_find_part (Bench *bench, guint slot, const Fitted *found)
{
    Fitted *held = &bench->unit->fitted[slot];

    if (!is_as_thought (held, found))
        replace_thought (bench, held, found);
    else if (found->serial != NULL && found->serial != held->serial)
        take_serial (bench->unit, held, found);
    if (!bench->worked_on[slot])
        bench->unit->began[slot] = *held;
}
