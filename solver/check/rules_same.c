/* SPDX-License-Identifier: MIT */
/* The form `same`: among parts of a kind, with the slot that holds them, with another kind, and but for the board's
 * mixed steppings. */
#include "check/facts.h"
#include "check/rules.h"
#include "check/state.h"

/* The values of one attribute; borrowed. count 0: not stated. */
typedef struct {
    const char *const *texts;
    guint count;
    gboolean is_number;
    double number;
} Values;

static Values
values_of_attribute (const Attribute *attribute)
{
    if (attribute == NULL)
        return (Values){ NULL, 0, FALSE, 0 };
    return (Values){ (const char *const *) attribute->values->pdata, attribute->values->len, attribute->is_number,
                     attribute->number };
}

/* `model` is the part itself. `stepping` is the one that is fitted, not all that the part is made in. */
static Values
values_of_held (const Held *held, const char *attribute)
{
    if (g_str_equal (attribute, "model"))
        return (Values){ &held->part->name, 1, FALSE, 0 };
    if (g_str_equal (attribute, "stepping"))
        return (Values){ &held->stepping, held->stepping != NULL ? 1 : 0, FALSE, 0 };
    return values_of_attribute (attribute_find (held->part->attributes, attribute));
}

static gboolean
values_share_one (Values left, Values right)
{
    if (left.is_number && right.is_number)
        return left.number == right.number;
    for (guint i = 0; i < left.count; i++)
        for (guint j = 0; j < right.count; j++)
            if (left.texts[i] == right.texts[j])
                return TRUE;
    return FALSE;
}

static gboolean
set_has (const SteppingSet *set, const Held *held)
{
    return held->part->generation == set->generation && g_ptr_array_find (set->steppings, held->stepping, NULL);
}

static gboolean
board_mixes (const Board *board, const Held *left, const Held *right)
{
    for (guint i = 0; i < board->mixed_steppings->len; i++) {
        const SteppingSet *set = board->mixed_steppings->pdata[i];

        if (set_has (set, left) && set_has (set, right))
            return TRUE;
    }
    return FALSE;
}

static gboolean
parts_agree (const Board *board, const Rule *rule, const Held *left, const Held *right)
{
    if (values_share_one (values_of_held (left, rule->attribute), values_of_held (right, rule->attribute)))
        return TRUE;
    return rule->unless_mixed && board_mixes (board, left, right);
}

static gboolean
is_live_of_kind (const State *state, guint slot, PartKind kind)
{
    const Held *held = state_live_part (state, slot);

    return held != NULL && held->part->kind == kind;
}

static void
add_pair (const Look *look, const Rule *rule, guint first, guint second)
{
    Broken *broken = broken_add_rule (look->found, rule);

    broken_add_slot (broken, look->state, first, rule->attribute);
    broken_add_slot (broken, look->state, second, rule->attribute);
}

/* Says `slot` beside the first of the slots below `end` that holds a live part of `kind` and disagrees with it. */
static void
look_at_pairs (const Look *look, const Rule *rule, guint slot, PartKind kind, guint end)
{
    const State *state = look->state;

    for (guint other = 0; other < end; other++) {
        if (other == slot || !is_live_of_kind (state, other, kind))
            continue;
        if (!parts_agree (state->board, rule, &state->held[other], &state->held[slot])) {
            add_pair (look, rule, other, slot);
            return;
        }
    }
}

/* The part against the slot that holds it, live or not; a slot that states nothing takes any. */
static void
look_at_slot_itself (const Look *look, const Rule *rule, guint slot)
{
    const State *state = look->state;
    const Slot *entry = board_slot (state->board, slot);
    const Attribute *asked = attribute_find (entry->attributes, rule->attribute);
    const Held *held = &state->held[slot];

    if (asked == NULL || held->part == NULL || held->part->kind != rule->kind)
        return;
    if (values_share_one (values_of_attribute (asked), values_of_held (held, rule->attribute)))
        return;
    Broken *broken = broken_add_rule (look->found, rule);
    g_autofree char *value = attribute_in_words (asked);
    broken_add_slot (broken, state, slot, rule->attribute);
    broken_add_fact (broken, asked->at, "%s takes %s %s", entry->name, rule->attribute, value);
}

void
look_at_same (const Look *look, const Rule *rule)
{
    const Board *board = look->state->board;

    if (rule->unless_mixed && board->mixed_steppings == NULL)
        return;
    for (guint slot = 0; slot < board->slots->len; slot++) {
        if (rule->with_slot)
            look_at_slot_itself (look, rule, slot);
        else if (!is_live_of_kind (look->state, slot, rule->kind))
            continue;
        else if (rule->with_kind >= 0)
            look_at_pairs (look, rule, slot, (PartKind) rule->with_kind, board->slots->len);
        else
            look_at_pairs (look, rule, slot, rule->kind, slot);
    }
}
