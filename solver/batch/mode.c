/* SPDX-License-Identifier: MIT */
/* A route as a mode: walked, and what it takes and gives read off its steps. */
#include "batch/plan.h"

void
batch_mode_free (gpointer data)
{
    BatchMode *mode = data;

    if (mode == NULL)
        return;
    g_clear_pointer (&mode->steps, g_array_unref);
    g_clear_pointer (&mode->walk, walk_free);
    g_clear_pointer (&mode->ways_back, g_array_unref);
    g_clear_pointer (&mode->stock, g_array_unref);
    g_clear_pointer (&mode->lent, g_array_unref);
    g_clear_pointer (&mode->pulled, g_array_unref);
    batch_branching_free (mode->branching);
    g_free (mode);
}

/* ---- Parts from elsewhere ---- */

gboolean
lot_is_like (const Lot *left, const Lot *right)
{
    return left->part == right->part && left->owner == right->owner && left->stepping == right->stepping &&
           left->bound == right->bound;
}

static Lot
lot_of (const Held *held)
{
    return (Lot){ held->owner, held->part, held->stepping, 0, held->bound, MARK_NONE };
}

static void
add_lot_of (GArray *lots, const Held *held)
{
    Lot lot = lot_of (held);

    for (guint i = 0; i < lots->len; i++)
        if (lot_is_like (&lot, &g_array_index (lots, Lot, i)))
            return;
    g_array_append_val (lots, lot);
}

static void
count_most (GArray *lots, const State *state)
{
    for (guint i = 0; i < lots->len; i++) {
        Lot *lot = &g_array_index (lots, Lot, i);
        guint count = 0;

        for (guint s = 0; s < state->board->slots->len; s++) {
            Lot held = lot_of (&state->held[s]);

            count += lot_is_like (&held, lot) ? 1 : 0;
        }
        lot->count = MAX (lot->count, count);
    }
}

/* Of each lot the most that are in at a time: of stock that is what stays, but for parts that a route only passes through,
 * which are kept for the unit all the same. In any case of the unit the same parts are moved. */
void
steps_lots (const Unit *unit, const GArray *steps, GArray *stock, GArray *lent)
{
    g_autoptr (State) state = state_from_unit (unit, NULL);
    GArray *of_owner[OWNER_COUNT] = { [OWNER_LOAN] = lent, [OWNER_STOCK] = stock };

    for (guint s = 0; s < unit->board->slots->len; s++)
        if (state->held[s].part != NULL && state->held[s].owner != OWNER_UNIT)
            add_lot_of (of_owner[state->held[s].owner], &state->held[s]);
    for (guint i = 0; i < steps->len; i++) {
        const Step *step = &g_array_index (steps, Step, i);
        Held held = { step->part, step->stepping, step->owner, step->bound };

        if (step->kind == STEP_FIT && step->owner != OWNER_UNIT)
            add_lot_of (of_owner[step->owner], &held);
    }
    for (guint i = 0; i <= steps->len; i++) {
        count_most (lent, state);
        count_most (stock, state);
        if (i < steps->len)
            state_apply (state, &g_array_index (steps, Step, i));
    }
}

/* ---- The unit's own parts ---- */

typedef struct {
    Held held;
    Pulled pulled;
} Piece;

static gboolean
same_part (const Held *left, const Held *right)
{
    return left->part == right->part && left->stepping == right->stepping && left->bound == right->bound;
}

/* The last one that came out goes in first: the others can be lent from earlier on. Its slot; the step's own: none. */
static guint
take_piece (GArray *beside, const Step *fit)
{
    Held wanted = { fit->part, fit->stepping, OWNER_UNIT, fit->bound };

    for (guint i = beside->len; i-- > 0;) {
        const Piece *piece = &g_array_index (beside, Piece, i);
        guint slot = piece->pulled.slot;

        if (!same_part (&piece->held, &wanted))
            continue;
        g_array_remove_index (beside, i);
        return slot;
    }
    return fit->slot;
}

static int
compare_pulled (gconstpointer a, gconstpointer b)
{
    const Pulled *left = a, *right = b;
    return (left->step > right->step) - (left->step < right->step);
}

const Fitted *
unit_piece (const Unit *unit, guint slot)
{
    guint n_slots = unit->board->slots->len;

    return slot < n_slots ? &unit->fitted[slot] : &g_array_index (unit->pulled, Fitted, slot - n_slots);
}

/* What lies beside the unit at first; only what a step takes out again after it was fitted is pulled by one. */
static void
add_beside (const Unit *unit, GArray *beside)
{
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        const Fitted *part = &g_array_index (unit->pulled, Fitted, i);
        Piece piece = { { part->part, part->stepping, OWNER_UNIT, part->bound },
                        { G_MAXUINT, unit->board->slots->len + i } };

        g_array_append_val (beside, piece);
    }
}

GArray *
steps_pull (const Unit *unit, const GArray *steps)
{
    g_autoptr (State) state = state_from_unit (unit, NULL);
    g_autoptr (GArray) beside = g_array_new (FALSE, FALSE, sizeof (Piece));
    g_autofree guint *came_in = g_new (guint, unit->board->slots->len + 1);
    GArray *pulled = g_array_new (FALSE, FALSE, sizeof (Pulled));

    add_beside (unit, beside);
    for (guint s = 0; s < unit->board->slots->len; s++)
        came_in[s] = s;
    for (guint i = 0; i < steps->len; i++) {
        const Step *step = &g_array_index (steps, Step, i);

        if (step->kind == STEP_REMOVE && state->held[step->slot].part != NULL &&
            state->held[step->slot].owner == OWNER_UNIT) {
            Piece piece = { state->held[step->slot], { i, came_in[step->slot] } };
            g_array_append_val (beside, piece);
        } else if (step->kind == STEP_FIT && step->owner == OWNER_UNIT) {
            came_in[step->slot] = take_piece (beside, step);
        }
        state_apply (state, step);
    }
    for (guint i = 0; i < beside->len; i++)
        if (g_array_index (beside, Piece, i).pulled.step != G_MAXUINT)
            g_array_append_val (pulled, g_array_index (beside, Piece, i).pulled);
    g_array_sort (pulled, compare_pulled);
    return pulled;
}

/* ---- The mode ---- */

static gboolean
walks_in_every_case (const BatchQuestion *question, const Shop *shelf, const Unit *unit, const Want *want,
                     const GArray *steps)
{
    g_autoptr (GPtrArray) cases = unit_cases (unit, BATCH_MOST_CASES);

    for (guint i = 0; cases != NULL && i < cases->len; i++) {
        g_autoptr (State) start = state_from_unit (unit, cases->pdata[i]);
        g_autoptr (Walk) walk = check_walk (question->library, shelf, want, start, steps);

        if (!walk->sound)
            return FALSE;
    }
    return cases != NULL;
}

/* `releases`: of the one case that it is for; NULL: every case. */
BatchMode *
batch_mode_new (const BatchQuestion *question, const Shop *shelf, const Unit *unit, const Want *want,
                const GArray *steps, const guint *releases)
{
    g_autoptr (State) start = state_from_unit (unit, releases);
    g_autoptr (Walk) walk = check_walk (question->library, shelf, want, start, steps);

    if (!walk->sound || (releases == NULL && !walks_in_every_case (question, shelf, unit, want, steps)))
        return NULL;
    BatchMode *mode = g_new0 (BatchMode, 1);
    g_autoptr (GArray) pulled = steps_pull (unit, steps);
    mode->steps = g_array_sized_new (FALSE, TRUE, sizeof (Step), steps->len);
    g_array_append_vals (mode->steps, steps->data, steps->len);
    mode->walk = g_steal_pointer (&walk);
    mode->stock = g_array_new (FALSE, FALSE, sizeof (Lot));
    mode->lent = g_array_new (FALSE, FALSE, sizeof (Lot));
    mode->pulled = g_array_new (FALSE, FALSE, sizeof (guint));
    mode->claim = CLAIM_BEST_FOUND;
    steps_lots (unit, mode->steps, mode->stock, mode->lent);
    for (guint i = 0; i < pulled->len; i++)
        g_array_append_val (mode->pulled, g_array_index (pulled, Pulled, i).step);
    return mode;
}
