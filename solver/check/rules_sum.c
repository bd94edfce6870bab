/* SPDX-License-Identifier: MIT */
/* The form `sum`: a total of one attribute within a total of another, the largest of these perhaps left out. */
#include "check/facts.h"
#include "check/rules.h"
#include "check/state.h"

/* Sums of tenths aren't exact in binary; nothing that a file states is this fine. */
#define ROUNDING 1e-6

static gboolean
board_has_slot_for (const Board *board, PartKind kind)
{
    for (guint i = 0; i < board->slots->len; i++)
        if (board_slot (board, i)->takes == kind)
            return TRUE;
    return FALSE;
}

static gboolean
adds_up (const Rule *rule, const Held *held)
{
    return held != NULL && ((rule->sum_kinds | rule->sum_if_stated) & (1u << held->part->kind)) != 0 &&
           attribute_find (held->part->attributes, rule->attribute) != NULL;
}

static gboolean
gives (const Rule *rule, const Held *held)
{
    return held != NULL && held->part->kind == rule->from_kind &&
           attribute_find (held->part->attributes, rule->within_attribute) != NULL;
}

static double
total_needed (const Rule *rule, const State *state)
{
    const Attribute *of_board = rule->sum_board ? attribute_find (state->board->attributes, rule->attribute) : NULL;
    double total = of_board != NULL ? of_board->number : 0;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = state_live_part (state, slot);

        if (adds_up (rule, held))
            total += attribute_find (held->part->attributes, rule->attribute)->number;
    }
    return total;
}

static double
total_given (const Rule *rule, const State *state, double *largest)
{
    double total = 0;

    *largest = 0;
    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = state_live_part (state, slot);

        if (!gives (rule, held))
            continue;
        double value = attribute_find (held->part->attributes, rule->within_attribute)->number;
        total += value;
        *largest = MAX (*largest, value);
    }
    return total;
}

static void
add_terms (const Look *look, const Rule *rule, Broken *broken)
{
    const State *state = look->state;
    const Attribute *of_board = rule->sum_board ? attribute_find (state->board->attributes, rule->attribute) : NULL;

    if (of_board != NULL) {
        g_autofree char *value = attribute_in_words (of_board);

        broken_add_fact (broken, of_board->at, "the board %s states %s %s", state->board->name, rule->attribute, value);
    }
    for (guint slot = 0; slot < state->board->slots->len; slot++)
        if (adds_up (rule, state_live_part (state, slot)))
            broken_add_slot (broken, state, slot, rule->attribute);
    for (guint slot = 0; slot < state->board->slots->len; slot++)
        if (gives (rule, state_live_part (state, slot)))
            broken_add_slot (broken, state, slot, rule->within_attribute);
}

void
look_at_sum (const Look *look, const Rule *rule)
{
    double largest;

    if (!board_has_slot_for (look->state->board, rule->from_kind))
        return;
    gboolean lost =
        rule->largest == LARGEST_LOST || (rule->largest == LARGEST_BY_SHOP && look->shop->redundant_supplies);
    double needed = total_needed (rule, look->state);
    double given = total_given (rule, look->state, &largest);
    double left = lost ? given - largest : given;
    if (needed <= left + ROUNDING)
        return;
    Broken *broken = broken_add_rule (look->found, rule);
    add_terms (look, rule, broken);
    broken_add_fact (broken, rule->at, "%s adds up to %.10g, and %s to %.10g%s", rule->attribute, needed,
                     rule->within_attribute, left, lost ? " with the largest lost" : "");
}
