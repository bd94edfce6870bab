/* SPDX-License-Identifier: MIT */
/* Sharing out: which units get what of the stock, and go by which mode. */
#include "batch/plan.h"

static Pool *
pool_at (const Planning *planning, guint pool)
{
    return &g_array_index (planning->pools, Pool, pool);
}

/* ---- Which modes are possible at all: loaners have to come from somewhere ---- */

/* The units that would give, those that are set aside left out. */
static guint *
units_of_classes (const Planning *planning)
{
    guint *units = g_new0 (guint, planning->batch->classes->len + 1);

    for (guint i = 0; i < planning_units (planning); i++)
        units[planning->plans[i].class] += planning_unit (planning, i)->aside == ASIDE_NOT ? 1 : 0;
    return units;
}

static gboolean
has_mode (const Planning *planning, guint class, guint mode)
{
    return mode < planning_class (planning, class)->modes->len;
}

static gboolean
lots_suffice (const ModeDraws *draws, const guint *there)
{
    for (guint i = 0; i < draws->lent->len; i++) {
        const Draw *draw = &g_array_index (draws->lent, Draw, i);

        if (there[draw->pool] < draw->amount)
            return FALSE;
    }
    return TRUE;
}

/* Adds what classes give that can be done with what there is; TRUE: something was added. A class gives once, by its first
 * possible mode that gives the most. */
static gboolean
add_gifts (Planning *planning, const guint *units, guint *there, guint *lost, gboolean *counted, int rank)
{
    g_autofree guint *more = g_new0 (guint, planning->pools->len + 1);
    gboolean added = FALSE;

    for (guint c = 0; c < planning->batch->classes->len; c++)
        for (guint m = 0; has_mode (planning, c, m); m++) {
            const ModeDraws *draws = planning_draws (planning, c, m);

            if (counted[c] || units[c] == 0 || !lots_suffice (draws, there))
                continue;
            counted[c] = TRUE;
            for (guint i = 0; i < draws->gives->len; i++)
                more[g_array_index (draws->gives, Give, i).pool] += units[c];
        }
    for (guint p = 0; p < planning->pools->len; p++) {
        guint gone = MIN (more[p], lost[p]);

        more[p] -= gone;
        lost[p] -= gone;
        if (more[p] > 0 && pool_at (planning, p)->rank < 0)
            pool_at (planning, p)->rank = rank;
        there[p] += more[p];
        added |= more[p] > 0;
    }
    return added;
}

/* From what the shop has, on to what the units give that need only that, and so on. A unit's own gift can't serve itself
 * before it is out, but another unit's can, so it takes one more than one unit of the class gives. */
static void
find_possible (Planning *planning)
{
    guint n_classes = planning->batch->classes->len;
    g_autofree guint *units = units_of_classes (planning);
    g_autofree guint *there = g_new0 (guint, planning->pools->len + 1);
    g_autofree guint *lost = g_new0 (guint, planning->pools->len + 1); /* modes give so many that are out of use */
    g_autofree gboolean *counted = g_new0 (gboolean, n_classes + 1);

    for (guint p = 0; p < planning->pools->len; p++) {
        int beyond = gifts_beyond_modes (planning, p);

        there[p] = pool_at (planning, p)->lot.count + (guint) MAX (beyond, 0);
        lost[p] = (guint) MAX (-beyond, 0);
        pool_at (planning, p)->rank = -1;
    }
    for (int rank = 1; add_gifts (planning, units, there, lost, counted, rank);)
        rank++;
    for (guint c = 0; c < n_classes; c++)
        for (guint m = 0; has_mode (planning, c, m); m++) {
            ModeDraws *draws = (ModeDraws *) planning_draws (planning, c, m);
            draws->possible = lots_suffice (draws, there);
        }
}

/* ---- Handing out ---- */

gboolean
sharing_has (const Sharing *sharing, const ModeDraws *draws)
{
    for (guint i = 0; i < draws->stock->len; i++) {
        const Draw *draw = &g_array_index (draws->stock, Draw, i);

        if (sharing->left[draw->pool] < draw->amount)
            return FALSE;
    }
    return TRUE;
}

void
sharing_take (Sharing *sharing, guint class, guint mode)
{
    const ModeDraws *draws = planning_draws (sharing->planning, class, mode);

    for (guint i = 0; i < draws->stock->len; i++) {
        const Draw *draw = &g_array_index (draws->stock, Draw, i);
        sharing->left[draw->pool] -= draw->amount;
    }
}

void
sharing_put_back (Sharing *sharing, guint class, guint mode)
{
    const ModeDraws *draws = planning_draws (sharing->planning, class, mode);

    for (guint i = 0; i < draws->stock->len; i++) {
        const Draw *draw = &g_array_index (draws->stock, Draw, i);
        sharing->left[draw->pool] += draw->amount;
    }
}

/* What units hold of the stock already is gone, whatever becomes of them; so is what those may hold of which nothing is known. */
static void
take_what_is_fitted (Sharing *sharing)
{
    for (guint i = 0; i < planning_units (sharing->planning); i++) {
        const Unit *unit = sharing->planning->plans[i].unit;

        if (unit_withholds (sharing->planning, i)) {
            sharing_take_withheld (sharing, i);
            continue;
        }
        for (guint s = 0; s < unit->board->slots->len; s++) {
            const Fitted *fitted = &unit->fitted[s];
            int pool =
                fitted->part == NULL || fitted->owner != OWNER_STOCK
                    ? -1
                    : planning_pool (sharing->planning, OWNER_STOCK, fitted->part, fitted->stepping, fitted->bound);
            if (pool >= 0 && sharing->left[pool] > 0)
                sharing->left[pool]--;
        }
    }
}

/* ---- What to say of those that get nothing ---- */

static char *
part_in_words (const Lot *lot)
{
    g_autofree char *stepping = lot->stepping != NULL ? g_strdup_printf (" %s", lot->stepping) : g_strdup ("");
    g_autofree char *bound = lot->bound != NULL ? g_strdup_printf (", bound to %s,", lot->bound) : g_strdup ("");

    return g_strdup_printf ("%s%s%s", lot->part->name, stepping, bound);
}

static guint
missing_of (const Sharing *sharing, const ModeDraws *draws)
{
    guint missing = 0;

    for (guint i = 0; i < draws->stock->len; i++) {
        const Draw *draw = &g_array_index (draws->stock, Draw, i);
        missing += draw->amount - MIN (draw->amount, sharing->left[draw->pool]);
    }
    return missing;
}

static void
say_missing (const Sharing *sharing, const Draw *draw, GString *text)
{
    const Lot *lot = &pool_at (sharing->planning, draw->pool)->lot;
    g_autofree char *part = part_in_words (lot);
    guint left = MIN (draw->amount, sharing->left[draw->pool]);

    if (left == draw->amount)
        return;
    g_string_append_printf (text, "%s%u more %s from stock (it needs %u; %u of %u %s left)",
                            text->len > 0 ? ", and " : "", draw->amount - left, part, draw->amount, left, lot->count,
                            left == 1 ? "is" : "are");
}

static const ModeDraws *
nearest_mode (const Sharing *sharing, guint class)
{
    const ModeDraws *nearest = NULL;

    for (guint m = 0; has_mode (sharing->planning, class, m); m++) {
        const ModeDraws *draws = planning_draws (sharing->planning, class, m);

        if (draws->possible && (nearest == NULL || missing_of (sharing, draws) < missing_of (sharing, nearest)))
            nearest = draws;
    }
    return nearest;
}

/* No mode is possible: a loaner that was counted on does not come. */
static char *
say_no_loaner (const Planning *planning, guint class)
{
    const ModeDraws *draws = planning_draws (planning, class, 0);

    for (guint i = 0; i < draws->lent->len; i++) {
        const Draw *draw = &g_array_index (draws->lent, Draw, i);
        g_autofree char *part = part_in_words (&pool_at (planning, draw->pool)->lot);

        if (pool_at (planning, draw->pool)->lot.count < draw->amount)
            return g_strdup_printf (
                "it needs %u %s to borrow, and neither the shop nor the other units have as many to lend", draw->amount,
                part);
    }
    return g_strdup ("a part that it would borrow is not to be had");
}

static void
set_aside_without (Sharing *sharing, guint unit)
{
    guint class = sharing->planning->plans[unit].class;
    const ModeDraws *nearest = nearest_mode (sharing, class);
    g_autoptr (GString) missing = g_string_new (NULL);

    for (guint i = 0; nearest != NULL && i < nearest->stock->len; i++)
        say_missing (sharing, &g_array_index (nearest->stock, Draw, i), missing);
    planning_set_aside (sharing->planning, unit, ASIDE_NO_STOCK,
                        nearest == NULL ? say_no_loaner (sharing->planning, class)
                                        : g_strdup_printf ("stock does not reach: %s", missing->str));
}

/* ---- Unit after unit ---- */

static gboolean
serve_by (Sharing *sharing, guint class, guint mode, gboolean with_room)
{
    const ModeDraws *draws = planning_draws (sharing->planning, class, mode);

    if (!draws->possible)
        return FALSE;
    if (with_room ? !sharing_make_room (sharing, class, mode) : !sharing_has (sharing, draws))
        return FALSE;
    sharing_take (sharing, class, mode);
    return TRUE;
}

static gboolean
serve (Sharing *sharing, guint class)
{
    for (int with_room = 0; with_room < 2; with_room++)
        for (guint m = 0; has_mode (sharing->planning, class, m); m++)
            if (serve_by (sharing, class, m, with_room)) {
                sharing->served[class][m]++;
                return TRUE;
            }
    return FALSE;
}

/* Those that go on by their published mode. FALSE: it is not to be had any more. */
static gboolean
serve_kept (Sharing *sharing, UnitPlan *plan)
{
    if (!serve_by (sharing, plan->class, (guint) plan->keeps, FALSE) &&
        !serve_by (sharing, plan->class, (guint) plan->keeps, TRUE)) {
        plan->keeps = unit_has_begun (plan) ? plan->keeps : -1;
        return FALSE;
    }
    plan->mode = plan->keeps;
    return TRUE;
}

/* A unit that has begun does not change its mode. */
static gboolean
serve_unit (Sharing *sharing, UnitPlan *plan)
{
    if (plan->keeps >= 0 && serve_kept (sharing, plan))
        return TRUE;
    return plan->keeps < 0 && serve (sharing, plan->class);
}

/* Earlier units get the better of the modes that the class was given. */
static void
hand_out_modes (Sharing *sharing, const guint *order)
{
    Planning *planning = sharing->planning;

    for (guint i = 0; i < planning_units (planning); i++) {
        UnitPlan *plan = &planning->plans[order[i]];
        guint mode = 0;

        if (plan->mode >= 0 || planning_unit (planning, order[i])->aside != ASIDE_NOT)
            continue;
        while (sharing->served[plan->class][mode] == 0)
            mode++;
        sharing->served[plan->class][mode]--;
        plan->mode = (int) mode;
    }
}

static Sharing
sharing_new (Planning *planning)
{
    Sharing sharing = { planning, g_new0 (guint, planning->pools->len + 1),
                        g_new0 (guint *, planning->batch->classes->len + 1) };

    for (guint p = 0; p < planning->pools->len; p++)
        sharing.left[p] = pool_at (planning, p)->lot.count;
    for (guint c = 0; c < planning->batch->classes->len; c++)
        sharing.served[c] = g_new0 (guint, planning_class (planning, c)->modes->len + 1);
    take_what_is_fitted (&sharing);
    return sharing;
}

static void
sharing_clear (Sharing *sharing)
{
    for (guint c = 0; c < sharing->planning->batch->classes->len; c++)
        g_free (sharing->served[c]);
    g_free (sharing->served);
    g_free (sharing->left);
}

/* TRUE: somebody was set aside, whose parts others may have counted on. */
static gboolean
share_once (Planning *planning)
{
    Sharing sharing = sharing_new (planning);
    g_autofree guint *order = planning_order (planning);
    g_autofree gboolean *hopeless = g_new0 (gboolean, planning->batch->classes->len + 1);
    guint before = planning->batch->aside;

    for (guint i = 0; i < planning_units (planning); i++) {
        UnitPlan *plan = &planning->plans[order[i]];

        plan->mode = -1;
        if (planning_unit (planning, order[i])->aside != ASIDE_NOT)
            continue;
        /* What one unit of the class can't get, the next one can't either: stock only grows less. */
        if (hopeless[plan->class] || !serve_unit (&sharing, plan)) {
            hopeless[plan->class] = plan->keeps < 0;
            set_aside_without (&sharing, order[i]);
        }
    }
    hand_out_modes (&sharing, order);
    sharing_clear (&sharing);
    return planning->batch->aside > before;
}

void
share_out (Planning *planning)
{
    do
        find_possible (planning);
    while (share_once (planning));
    withheld_say (planning);
}
