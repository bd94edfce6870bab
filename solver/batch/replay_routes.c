/* SPDX-License-Identifier: MIT */
/* Replay of routes: one walk per mode in use, in every case; every unit is held against the one that was walked. */
#include "batch/replay.h"

#include "check/branches.h"
#include "route/branched.h"

enum { MOST_CASES = 4096 };

/* The shop with what is pulled in this batch on its shelf. Transfer full. */
static Shop *
shop_with_pulled (const BatchQuestion *question, const Batch *batch)
{
    Shop *shop = shop_copy (question->shop);

    for (guint i = 0; i < batch->parts->len; i++) {
        const BatchPart *part = batch->parts->pdata[i];
        Lot lot = { OWNER_LOAN, part->part, part->stepping, 1, part->bound, MARK_NONE };
        guint k = 0;

        if (part->owner != OWNER_UNIT)
            continue;
        for (; k < shop->lots->len; k++) {
            Lot *known = &g_array_index (shop->lots, Lot, k);

            if (known->owner == OWNER_LOAN && known->part == lot.part && known->stepping == lot.stepping &&
                known->bound == lot.bound) {
                known->count++;
                break;
            }
        }
        if (k == shop->lots->len)
            g_array_append_val (shop->lots, lot);
    }
    return shop;
}

/* ---- Is it as the one that was walked? ---- */

static gboolean
same_fitted (const Fitted *left, const Fitted *right)
{
    return left->part == right->part &&
           (left->part == NULL ||
            (left->stepping == right->stepping && left->owner == right->owner && left->bound == right->bound));
}

static gboolean
same_releases (const UnitRelease *left, const UnitRelease *right, const Board *board)
{
    for (guint c = 0; left != right && c < board->components->len; c++) {
        if (left == NULL || right == NULL || left[c].floor != right[c].floor)
            return FALSE;
        for (guint r = 0; r < board_component (board, c)->releases->len; r++)
            if (!left[c].may_be[r] != !right[c].may_be[r])
                return FALSE;
    }
    return TRUE;
}

static gboolean
same_pulled (const Unit *left, const Unit *right)
{
    guint count = left->pulled != NULL ? left->pulled->len : 0;

    if (count != (right->pulled != NULL ? right->pulled->len : 0))
        return FALSE;
    for (guint i = 0; i < count; i++)
        if (!same_fitted (&g_array_index (left->pulled, Fitted, i), &g_array_index (right->pulled, Fitted, i)))
            return FALSE;
    return TRUE;
}

static gboolean
stands_alike (const Unit *left, const Unit *right)
{
    if (left->board != right->board || left->revision != right->revision || !same_pulled (left, right) ||
        !same_releases (left->releases, right->releases, left->board) ||
        !same_releases (left->began_releases, right->began_releases, left->board))
        return FALSE;
    for (guint c = 0; c < left->board->components->len; c++)
        if ((left->failed != NULL && left->failed[c]) != (right->failed != NULL && right->failed[c]))
            return FALSE;
    for (guint s = 0; s < left->board->slots->len; s++)
        if (!same_fitted (&left->fitted[s], &right->fitted[s]) ||
            !same_fitted (unit_began (left, s), unit_began (right, s)))
            return FALSE;
    return TRUE;
}

/* What the class leaves open: sockets of each unit have borne a number of fittings of their own. */
static char *
check_sockets (const Unit *unit, const BatchMode *mode)
{
    g_autofree guint *fits = g_new0 (guint, unit->board->slots->len + 1);

    for (guint i = 0; i < mode->steps->len; i++) {
        const Step *step = &g_array_index (mode->steps, Step, i);

        if (step->kind == STEP_FIT && ++fits[step->slot] > unit_insertions_left (unit, step->slot))
            return g_strdup_printf ("%s, step %u: %s is worn", unit->id, i + 1,
                                    board_slot (unit->board, step->slot)->name);
    }
    return NULL;
}

/* ---- The walk ---- */

static char *
walk_every_case (const BatchQuestion *question, const Shop *shop, const BatchClass *class, const BatchMode *mode)
{
    g_autoptr (GPtrArray) cases = unit_cases (class->unit, MOST_CASES);

    if (cases == NULL)
        return g_strdup_printf ("%s may have more releases than are looked at", class->unit->id);
    for (guint i = 0; i < cases->len; i++) {
        g_autoptr (State) start = state_from_unit (class->unit, cases->pdata[i]);
        g_autoptr (Walk) walk = check_walk (question->library, shop, class->want, start, mode->steps);

        if (!walk->sound)
            return g_strdup_printf ("%s, step %u: %s", class->unit->id, walk->first_bad + 1, walk->why);
    }
    return NULL;
}

static char *
walk_branches (const BatchQuestion *question, const Shop *shop, const BatchClass *class, const BatchMode *mode)
{
    g_autoptr (BranchCheck) check =
        check_branches (question->library, shop, class->unit, class->want, mode->answer->branches->plan, MOST_CASES);

    if (check == NULL)
        return g_strdup_printf ("%s may have more releases than are looked at", class->unit->id);
    return check->sound ? NULL : g_strdup_printf ("%s: %s", class->unit->id, check->why);
}

char *
replay_routes (const BatchQuestion *question, const Batch *batch)
{
    g_autoptr (Shop) shop = shop_with_pulled (question, batch);
    g_autoptr (GHashTable) walked = g_hash_table_new (NULL, NULL);
    char *wrong = NULL;

    for (guint i = 0; i < batch->units->len && wrong == NULL; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        if (unit->aside != ASIDE_NOT)
            continue;
        const BatchClass *class = batch->classes->pdata[unit->class];
        const BatchMode *mode = replayed_mode (batch, unit);
        if (class->want != unit->want || !stands_alike (replayed_unit (unit), class->unit))
            return g_strdup_printf ("%s is not as the unit for which its route was found", unit->unit->id);
        wrong = check_sockets (replayed_unit (unit), mode);
        if (wrong == NULL && g_hash_table_add (walked, (gpointer) mode))
            wrong = mode->claim == CLAIM_BRANCHES ? walk_branches (question, shop, class, mode)
                                                  : walk_every_case (question, shop, class, mode);
    }
    return wrong;
}
