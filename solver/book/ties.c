/* SPDX-License-Identifier: MIT */
/* Ties: which slots a rule holds together. docs/method.md, "Tied slots", has the table. */
#include "book/book.h"

/* Both ways round. */
static gboolean
are_kinds (PartKind a, PartKind b, PartKind one, PartKind other)
{
    return (a == one && b == other) || (a == other && b == one);
}

static gboolean
same_ties (const Rule *rule, const Slot *a, const Slot *b)
{
    if (rule->with_slot)
        return FALSE;
    PartKind other = rule->with_kind >= 0 ? (PartKind) rule->with_kind : rule->kind;
    return are_kinds (a->takes, b->takes, rule->kind, other);
}

/* The slot of the rule's kind and the one that it lies over; `covering` is tried as the former. */
static gboolean
covers (const Rule *rule, const Slot *covering, const Slot *under)
{
    return covering->takes == rule->kind && covering->over == (int) under->index && under->takes == rule->under_kind;
}

/* The slot of the rule's kind and the one that serves it. */
static gboolean
serves (const Rule *rule, const Slot *served, const Slot *serving)
{
    return served->takes == rule->kind && served->served_by == (int) serving->index;
}

static gboolean
rule_ties (const Rule *rule, const Slot *a, const Slot *b)
{
    switch (rule->form) {
    case FORM_SAME:
        return same_ties (rule, a, b);
    case FORM_BEFORE:
        return a->takes == rule->kind && b->takes == rule->kind;
    case FORM_AT_LEAST:
    case FORM_ONE_OF:
        return covers (rule, a, b) || covers (rule, b, a);
    case FORM_SUM: {
        guint kinds = rule->sum_kinds | rule->sum_if_stated | 1u << rule->from_kind;
        return (kinds & 1u << a->takes) && (kinds & 1u << b->takes);
    }
    case FORM_SOME:
        return serves (rule, a, b) || serves (rule, b, a);
    case FORM_WHEN:
    case FORM_KNOWS:
    case FORM_BINDS:
    case FORM_OWN:
        return FALSE;
    }
    g_assert_not_reached ();
}

gboolean
rules_tie_kinds (const GPtrArray *rules, const Board *board, guint slot_a, guint slot_b)
{
    if (slot_a == slot_b)
        return FALSE;
    const Slot *a = board_slot (board, slot_a), *b = board_slot (board, slot_b);
    for (guint i = 0; i < rules->len; i++) {
        const Rule *rule = g_ptr_array_index (rules, i);
        if (rule->breaking != BREAKING_WARNS && rule_ties (rule, a, b))
            return TRUE;
    }
    return FALSE;
}
