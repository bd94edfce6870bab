/* SPDX-License-Identifier: MIT */
#include "singles.h"

#include "check/state.h"
#include "check/steps.h"

static void
single_free (gpointer data)
{
    Single *single = data;

    state_free (single->state);
    g_ptr_array_unref (single->broken);
    if (single->moves != NULL)
        g_array_unref (single->moves);
    g_free (single);
}

/* ---- Steps that could be made ---- */

static gboolean
is_listed (const GArray *steps, const Step *fit)
{
    const Held held = held_from_step (fit);

    for (guint i = 0; i < steps->len; i++) {
        const Step *other = &g_array_index (steps, Step, i);
        const Held there = held_from_step (other);

        if (other->kind == STEP_FIT && other->slot == fit->slot && held_equal (&held, &there))
            return TRUE;
    }
    return FALSE;
}

static void
list_fits (GArray *steps, const Board *board, const Part *part, const char *stepping, Owner owner, const char *bound)
{
    for (guint slot = 0; slot < board->slots->len; slot++) {
        const Step fit = {
            .kind = STEP_FIT, .slot = slot, .part = part, .stepping = stepping, .owner = owner, .bound = bound
        };

        if (board_slot (board, slot)->takes == part->kind && !is_listed (steps, &fit))
            g_array_append_val (steps, fit);
    }
}

static void
list_own_fits (GArray *steps, const Unit *unit)
{
    for (guint slot = 0; slot < unit->board->slots->len; slot++) {
        const Fitted *fitted = &unit->fitted[slot];

        if (fitted->part != NULL && fitted->owner == OWNER_UNIT)
            list_fits (steps, unit->board, fitted->part, fitted->stepping, OWNER_UNIT, fitted->bound);
    }
    for (guint i = 0; unit->pulled != NULL && i < unit->pulled->len; i++) {
        const Fitted *pulled = &g_array_index (unit->pulled, Fitted, i);

        list_fits (steps, unit->board, pulled->part, pulled->stepping, OWNER_UNIT, pulled->bound);
    }
}

static void
list_writes (GArray *steps, const Board *board, const Shop *shop)
{
    for (guint c = 0; c < board->components->len; c++) {
        const Component *component = board_component (board, c);

        for (guint r = 0; r < component->releases->len; r++)
            for (guint m = 0; m < METHOD_COUNT; m++) {
                const Step write = { .kind = STEP_WRITE, .component = c, .release = r, .method = (Method) m };

                if (component->methods[m].there && (shop->methods & METHOD_BIT (m)) != 0)
                    g_array_append_val (steps, write);
            }
    }
}

static GArray *
list_steps (const Question *question)
{
    GArray *steps = g_array_new (FALSE, FALSE, sizeof (Step));
    const Board *board = question->unit->board;

    for (guint slot = 0; slot < board->slots->len; slot++) {
        const Step remove = { .kind = STEP_REMOVE, .slot = slot };

        g_array_append_val (steps, remove);
    }
    list_own_fits (steps, question->unit);
    for (guint i = 0; i < question->shop->lots->len; i++) {
        const Lot *lot = &g_array_index (question->shop->lots, Lot, i);

        list_fits (steps, board, lot->part, lot->stepping, lot->owner, lot->bound);
    }
    list_writes (steps, board, question->shop);
    return steps;
}

/* ---- The table ---- */

/* Fittings count where a socket bears only so many; elsewhere nothing asks for them. */
static GBytes *
key_of (const State *state)
{
    GByteArray *key = g_byte_array_new ();
    const Board *board = state->board;

    for (guint c = 0; c < board->components->len; c++) {
        const int numbers[] = { (int) state->releases[c], state->floors[c], state->failed[c] };

        g_byte_array_append (key, (const guint8 *) numbers, sizeof numbers);
    }
    for (guint s = 0; s < board->slots->len; s++) {
        const Held *held = &state->held[s];
        gboolean counted = unit_insertions_left (state->unit, s) != G_MAXUINT, full = held->part != NULL;
        const guintptr words[] = { (guintptr) held->part, (guintptr) (full ? held->stepping : NULL),
                                   (guintptr) (full ? held->bound : NULL), full ? (guintptr) held->owner : 0,
                                   counted ? state->fittings[s] : 0 };

        g_byte_array_append (key, (const guint8 *) words, sizeof words);
    }
    return g_byte_array_free_to_bytes (key);
}

Singles *
singles_new (const Question *question)
{
    Singles *singles = g_new0 (Singles, 1);

    singles->question = *question;
    singles->steps = list_steps (question);
    singles->all = g_ptr_array_new_with_free_func (single_free);
    singles->index = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, NULL);
    return singles;
}

void
singles_free (Singles *singles)
{
    if (singles == NULL)
        return;
    g_array_unref (singles->steps);
    g_hash_table_unref (singles->index);
    g_ptr_array_unref (singles->all);
    g_free (singles);
}

static Meets
meets_want (const Question *asked, const State *state)
{
    g_autoptr (GArray) none = g_array_new (FALSE, FALSE, sizeof (Step));
    g_autoptr (Walk) walk = check_walk (asked->library, asked->shop, asked->want, state, none);

    if (!walk->sound && !g_str_equal (walk->rule, "end-spare"))
        return MEETS_NO;
    for (guint c = 0; c < state->board->components->len; c++)
        if (board_find_spare (state->board, c) >= 0)
            return MEETS_BY_CASE;
    return MEETS_YES;
}

guint
singles_add (Singles *singles, State *state)
{
    GBytes *key = key_of (state);
    gpointer found;

    if (g_hash_table_lookup_extended (singles->index, key, NULL, &found)) {
        g_bytes_unref (key);
        state_free (state);
        return GPOINTER_TO_UINT (found);
    }
    Single *single = g_new0 (Single, 1);
    single->state = state;
    single->broken = check_state (singles->question.library, singles->question.shop, state);
    single->starts = broken_verdict (single->broken) == STARTS_YES;
    single->meets = single->starts ? meets_want (&singles->question, state) : MEETS_NO;
    g_hash_table_insert (singles->index, key, GUINT_TO_POINTER (singles->all->len));
    g_ptr_array_add (singles->all, single);
    return singles->all->len - 1;
}

/* ---- What is allowed ---- */

/* A removal from an empty slot and a fitting into a full one need not be asked about. */
static gboolean
is_idle (const State *state, const Step *step)
{
    return step->kind != STEP_WRITE && (state->held[step->slot].part == NULL) != (step->kind == STEP_FIT);
}

/* As walk.c has it: the conditions on the state before; then, of a write, those on the state after. Index of that, or -1. */
static int
after_step (Singles *singles, const Single *single, const Step *step)
{
    const Question *asked = &singles->question;
    Refusal refusal = { NULL, NULL };
    Walker walker = { asked->library, asked->shop, asked->want, single->state, single->state, single->broken };
    int after = -1;

    if (step_is_known (&walker, step, &refusal) && step_is_allowed (&walker, step, &refusal)) {
        State *state = state_copy (single->state);

        state_apply (state, step);
        after = (int) singles_add (singles, state);
        if (step->kind == STEP_WRITE &&
            !write_is_allowed_after (&walker, step, singles_at (singles, (guint) after)->broken, &refusal))
            after = -1;
    }
    g_free (refusal.why);
    return after;
}

const Single *
singles_at (const Singles *singles, guint index)
{
    return singles->all->pdata[index];
}

const Single *
singles_moves (Singles *singles, guint index)
{
    Single *single = singles->all->pdata[index];

    if (single->moves != NULL)
        return single;
    single->moves = g_array_new (FALSE, FALSE, sizeof (Onward));
    for (guint s = 0; s < singles->steps->len; s++) {
        const Step *step = &g_array_index (singles->steps, Step, s);
        int after = is_idle (single->state, step) ? -1 : after_step (singles, single, step);
        const Onward move = { s, (guint) after };

        if (after >= 0)
            g_array_append_val (single->moves, move);
    }
    return single;
}

const Single *
singles_reads (Singles *singles, guint index)
{
    Single *single = singles->all->pdata[index];
    const Question *asked = &singles->question;

    if (single->is_read)
        return single;
    single->is_read = TRUE;
    single->may_try = start_can_be_tried (asked->library, asked->shop, single->state);
    for (guint c = 0; c < single->state->board->components->len; c++)
        if (page_can_be_read (asked->library, asked->shop, single->state, c))
            single->pages |= 1u << c;
    return single;
}
