/* SPDX-License-Identifier: MIT */
/* Sets of needs: read off a route, and taken away from a shop and a want. */
#include "explain/needs.h"

static guint
lot_count (const Question *question)
{
    return question->shop->lots->len;
}

static const Lot *
lot_at (const Question *question, guint index)
{
    return &g_array_index (question->shop->lots, Lot, index);
}

static guint
need_of_method (const Question *question, Method method)
{
    return lot_count (question) + (guint) method;
}

static guint
need_of_opening (const Question *question)
{
    return lot_count (question) + METHOD_COUNT;
}

guint
need_count (const Question *question)
{
    return need_of_opening (question) + 1;
}

NeedSet *
need_set_new (const Question *question)
{
    return g_strnfill (need_count (question), NEED_OUT);
}

static gboolean
same_lot (const Lot *left, const Lot *right)
{
    return left->owner == right->owner && left->part == right->part && left->stepping == right->stepping &&
           left->bound == right->bound;
}

static gboolean
held_is_of_lot (const Held *held, const Lot *lot)
{
    return held->part == lot->part && held->owner == lot->owner && held->stepping == lot->stepping &&
           held->bound == lot->bound;
}

/* The first of the lots that a fitted part may come from; -1: the unit's own. A shop may list one lot in two pieces. */
static int
lot_of_step (const Question *question, const Step *step)
{
    Held held = { step->part, step->stepping, step->owner, step->bound };

    for (guint i = 0; step->kind == STEP_FIT && i < lot_count (question); i++)
        if (held_is_of_lot (&held, lot_at (question, i)))
            return (int) i;
    return -1;
}

static gboolean
step_opens (const Board *board, const Step *step)
{
    return step->kind != STEP_WRITE || method_powered (&board_component (board, step->component)->methods[step->method],
                                                       step->method) == POWERED_OFF;
}

NeedSet *
need_set_of_route (const Question *question, const GArray *steps)
{
    NeedSet *needs = need_set_new (question);

    for (guint i = 0; i < steps->len; i++) {
        const Step *step = &g_array_index (steps, Step, i);
        int lot = lot_of_step (question, step);

        if (lot >= 0)
            needs[lot] = NEED_IN;
        if (step->kind == STEP_WRITE)
            needs[need_of_method (question, step->method)] = NEED_IN;
        if (step_opens (question->unit->board, step))
            needs[need_of_opening (question)] = NEED_IN;
    }
    return needs;
}

gboolean
need_set_is_within (const NeedSet *part, const NeedSet *whole)
{
    for (guint i = 0; part[i] != '\0'; i++)
        if (part[i] == NEED_IN && whole[i] != NEED_IN)
            return FALSE;
    return TRUE;
}

gboolean
need_sets_meet (const NeedSet *left, const NeedSet *right)
{
    for (guint i = 0; left[i] != '\0'; i++)
        if (left[i] == NEED_IN && right[i] == NEED_IN)
            return TRUE;
    return FALSE;
}

static guint
fitted_of_lot (const State *state, const Lot *lot)
{
    guint count = 0;

    for (guint s = 0; s < state->board->slots->len; s++)
        if (held_is_of_lot (&state->held[s], lot))
            count++;
    return count;
}

static guint
most_at_a_time (const Question *question, const GArray *steps, const Lot *lot)
{
    g_autoptr (State) state = state_from_unit (question->unit, NULL);
    guint most = fitted_of_lot (state, lot);

    for (guint i = 0; i < steps->len; i++) {
        state_apply (state, &g_array_index (steps, Step, i));
        most = MAX (most, fitted_of_lot (state, lot));
    }
    return most;
}

void
needed_of_route (const Question *question, const GArray *steps, Needed *needed)
{
    g_autofree NeedSet *needs = need_set_of_route (question, steps);

    needed->methods = 0;
    needed->opens = needs[need_of_opening (question)] == NEED_IN;
    needed->lots = g_array_new (FALSE, FALSE, sizeof (Lot));
    for (int method = 0; method < METHOD_COUNT; method++)
        if (needs[need_of_method (question, (Method) method)] == NEED_IN)
            needed->methods |= METHOD_BIT (method);
    for (guint i = 0; i < lot_count (question); i++) {
        Lot lot = *lot_at (question, i);

        if (needs[i] != NEED_IN)
            continue;
        lot.count = most_at_a_time (question, steps, &lot);
        g_array_append_val (needed->lots, lot);
    }
}

static char *
lot_in_words (const Lot *lot)
{
    g_autofree char *stepping =
        lot->stepping == NULL ? g_strdup ("") : g_strdup_printf (" (stepping %s)", lot->stepping);
    g_autofree char *bound = lot->bound == NULL ? g_strdup ("") : g_strdup_printf (", bound to %s", lot->bound);

    return g_strdup_printf (lot->owner == OWNER_LOAN ? "the loaner %s%s%s" : "%s%s%s from stock", lot->part->name,
                            stepping, bound);
}

char *
need_in_words (const Question *question, guint need)
{
    if (need < lot_count (question))
        return lot_in_words (lot_at (question, need));
    if (need == need_of_opening (question))
        return g_strdup ("opening the unit");
    return g_strdup_printf ("writing by %s", method_name ((Method) (need - lot_count (question))));
}

static gboolean
lot_is_ruled_out (const Question *question, const NeedSet *without, const Lot *lot)
{
    for (guint i = 0; i < lot_count (question); i++)
        if (without[i] == NEED_IN && same_lot (lot, lot_at (question, i)))
            return TRUE;
    return FALSE;
}

/* Of a lot that is ruled out as many stay as the unit holds already: they are there, and have to go back. */
static Shop *
shop_without (const Question *question, const NeedSet *without)
{
    Shop *shop = shop_copy (question->shop);
    g_autoptr (State) start = state_from_unit (question->unit, NULL);

    for (guint i = shop->lots->len; i-- > 0;) {
        Lot *lot = &g_array_index (shop->lots, Lot, i);

        if (!lot_is_ruled_out (question, without, lot))
            continue;
        lot->count = MIN (lot->count, fitted_of_lot (start, lot));
        if (lot->count == 0)
            g_array_remove_index (shop->lots, i);
    }
    return shop;
}

static guint
methods_ruled_out (const Question *question, const NeedSet *without)
{
    guint methods = 0;

    for (int method = 0; method < METHOD_COUNT; method++)
        if (without[need_of_method (question, (Method) method)] == NEED_IN)
            methods |= METHOD_BIT (method);
    if (without[need_of_opening (question)] == NEED_IN)
        methods |= METHOD_BIT (METHOD_CLIP) | METHOD_BIT (METHOD_JUMPER);
    return methods;
}

static void
bar_methods (const Question *question, guint methods, Narrowed *narrowed)
{
    g_autofree char *board = g_strdup_printf ("board %s", question->unit->board->name);

    narrowed->anything = (Expr){ .kind = EXPR_ATOM, .name = g_intern_string (board), .op = OP_ANY };
    narrowed->bar = (Rule){ .id = g_intern_static_string ("ruled-out"),
                            .says = "Writing by this method is to be done without.",
                            .form = FORM_WHEN,
                            .breaking = BREAKING_BARS,
                            .methods = methods,
                            .conflicts = &narrowed->anything };
    narrowed->library = *question->library;
    narrowed->library.rules = g_ptr_array_copy (question->library->rules, NULL, NULL);
    g_ptr_array_set_free_func (narrowed->library.rules, NULL);
    if (methods != 0)
        g_ptr_array_add (narrowed->library.rules, &narrowed->bar);
}

static void
keep_every_slot (const Question *question, Narrowed *narrowed)
{
    guint n_slots = question->unit->board->slots->len;

    narrowed->keep = g_new (gboolean, n_slots + 1);
    for (guint s = 0; s < n_slots; s++)
        narrowed->keep[s] = TRUE;
    narrowed->want.keep_slot = narrowed->keep;
}

void
question_without (const Question *question, const NeedSet *without, Narrowed *narrowed)
{
    bar_methods (question, methods_ruled_out (question, without), narrowed);
    narrowed->shop = shop_without (question, without);
    narrowed->want = *question->want;
    if (without[need_of_opening (question)] == NEED_IN)
        keep_every_slot (question, narrowed);
    narrowed->question =
        (Question){ &narrowed->library, narrowed->shop, question->unit, &narrowed->want, question->options };
}

void
narrowed_clear (Narrowed *narrowed)
{
    g_clear_pointer (&narrowed->library.rules, g_ptr_array_unref);
    g_clear_pointer (&narrowed->shop, shop_free);
    g_clear_pointer (&narrowed->keep, g_free);
}
