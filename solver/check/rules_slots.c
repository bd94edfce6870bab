/* SPDX-License-Identifier: MIT */
/* The forms that look at slots: `before`, `at-least`, `some` and `one-of`. */
#include "check/facts.h"
#include "check/rules.h"
#include "check/state.h"

/* The first empty slot of the kind that comes before `slot` on the board; -1: none. */
static int
empty_before (const State *state, PartKind kind, guint slot)
{
    for (guint i = 0; i < slot; i++)
        if (board_slot (state->board, i)->takes == kind && state->held[i].part == NULL)
            return (int) i;
    return -1;
}

void
look_at_before (const Look *look, const Rule *rule)
{
    const State *state = look->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        if (board_slot (state->board, slot)->takes != rule->kind || state->held[slot].part == NULL)
            continue;
        int earlier = empty_before (state, rule->kind, slot);
        if (earlier < 0)
            continue;
        Broken *broken = broken_add_rule (look->found, rule);
        broken_add_slot (broken, state, (guint) earlier, NULL);
        broken_add_slot (broken, state, slot, NULL);
    }
}

/* Whether a covering part (NULL: none) is enough for the part under it. What isn't stated covers nothing, and what
 * asks for an unstated amount can't be covered. */
static gboolean
is_covered (const Rule *rule, const Held *cover, const Held *under)
{
    const Attribute *need = attribute_find (under->part->attributes, rule->under_attribute);
    const Attribute *have = cover != NULL && cover->part->kind == rule->kind
                                ? attribute_find (cover->part->attributes, rule->attribute)
                                : NULL;

    return need != NULL && have != NULL && have->number >= need->number;
}

void
look_at_at_least (const Look *look, const Rule *rule)
{
    const State *state = look->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Slot *entry = board_slot (state->board, slot);

        if (entry->over < 0 || entry->takes != rule->kind)
            continue;
        const Held *under = state_live_part (state, (guint) entry->over);
        if (under == NULL || under->part->kind != rule->under_kind)
            continue;
        if (is_covered (rule, state_live_part (state, slot), under))
            continue;
        Broken *broken = broken_add_rule (look->found, rule);
        broken_add_slot (broken, state, slot, rule->attribute);
        broken_add_slot (broken, state, (guint) entry->over, rule->under_attribute);
    }
}

void
look_at_some (const Look *look, const Rule *rule)
{
    const State *state = look->state;
    guint n_slots = 0;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = state_live_part (state, slot);

        if (held != NULL && held->part->kind == rule->kind)
            return;
        if (board_slot (state->board, slot)->takes == rule->kind)
            n_slots++;
    }
    if (n_slots == 0)
        return;
    Broken *broken = broken_add_rule (look->found, rule);
    broken_add_fact (broken, state->board->at, "of the %u %s slot%s of %s none holds a live part", n_slots,
                     part_kind_name (rule->kind), n_slots == 1 ? "" : "s", state->board->name);
    for (guint slot = 0; slot < state->board->slots->len; slot++)
        if (state->held[slot].part != NULL && board_slot (state->board, slot)->takes == rule->kind)
            broken_add_slot (broken, state, slot, NULL);
}

/* Whether or not the slots are live: a blank closes the opening of an empty one. */
void
look_at_one_of (const Look *look, const Rule *rule)
{
    const State *state = look->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Slot *entry = board_slot (state->board, slot);

        if (entry->takes != rule->kind || entry->over < 0 ||
            board_slot (state->board, (guint) entry->over)->takes != rule->under_kind)
            continue;
        if ((state->held[slot].part != NULL) != (state->held[entry->over].part != NULL))
            continue;
        Broken *broken = broken_add_rule (look->found, rule);
        broken_add_slot (broken, state, slot, NULL);
        broken_add_slot (broken, state, (guint) entry->over, NULL);
    }
}
