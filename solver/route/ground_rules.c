/* SPDX-License-Identifier: MIT */
/* From rules to clauses: one function a form. What each form says is in docs/files.md, "Rules". */
#include "route/ground.h"

#include <string.h>

/* Methods that cannot be used while the rule is broken. A jumper write powers the unit for a short run. */
static guint
barred_methods (const Rule *rule)
{
    if (rule->breaking == BREAKING_HARMS)
        return METHOD_BIT (METHOD_JUMPER);
    return rule->breaking == BREAKING_BARS ? rule->methods : 0;
}

/* Where the clauses of a rule go. */
void
ground_emit_rule (Ground *ground, const Rule *rule, const Formula *formula)
{
    Problem *problem = ground->problem;
    if (rule->breaking == BREAKING_STOPS || (rule->breaking == BREAKING_HARMS && (rule->powers & POWER_ON) != 0))
        ground_emit (ground, formula, problem->start, rule->id);
    if (rule->breaking == BREAKING_HARMS && (rule->powers & POWER_STANDBY) != 0)
        ground_emit (ground, formula, problem->standby, rule->id);
    if (problem->by_case && rule->breaking == BREAKING_HARMS && (rule->powers & POWER_ON) != 0)
        ground_emit (ground, formula, problem->quiet_on, rule->id);
    for (guint m = 0; m < METHOD_COUNT; m++)
        if ((barred_methods (rule) & METHOD_BIT (m)) != 0)
            ground_emit (ground, formula, problem->bars[m], rule->id);
}

/* Whenever the slot holds one of the set and is live, `then` holds. */
const Formula *
ground_implication (Ground *ground, guint slot, const guint8 *in, const Formula *then)
{
    Formulas *arena = ground->arena;
    const Formula *when = formula_and (arena, formula_literal (arena, slot, in), ground_live (ground, slot));
    return formula_or (arena, formula_not (arena, when), then);
}

void
ground_pair (Ground *ground, const Rule *rule, guint slot, guint other, Allowed allowed, gboolean dead_is_allowed)
{
    guint size = ground->sizes[slot], other_size = ground->sizes[other];
    g_autofree guint8 *table = g_new0 (guint8, (gsize) size * other_size + 1);
    g_autofree guint8 *done = g_new0 (guint8, size);
    for (guint value = 1; value < size; value++)
        allowed (ground, rule, slot, value, other, table + (gsize) value * other_size);
    for (guint value = 1; value < size; value++) {
        const guint8 *row = table + (gsize) value * other_size;
        g_autofree guint8 *alike = g_new0 (guint8, size);
        if (done[value])
            continue;
        for (guint next = value; next < size; next++)
            if (memcmp (row, table + (gsize) next * other_size, other_size) == 0)
                alike[next] = done[next] = 1;
        const Formula *then = formula_literal (ground->arena, other, row);
        if (ground->problem->vars[other].is_slot) {
            const Formula *live = ground_live (ground, other);
            then = dead_is_allowed ? formula_or (ground->arena, then, formula_not (ground->arena, live))
                                   : formula_and (ground->arena, then, live);
        }
        ground_emit_rule (ground, rule, ground_implication (ground, slot, alike, then));
    }
}

/* ---- same ---- */

/* What a rule compares: texts, or one number. */
typedef struct {
    const char *const *texts; /* interned */
    guint count;
    gboolean is_number;
    double number;
} Compared;

static Compared
compared_attribute (const GPtrArray *attributes, const char *name)
{
    const Attribute *attribute = attribute_find (attributes, name);
    if (attribute == NULL)
        return (Compared){ 0 };
    return (Compared){ (const char *const *) (const void *) attribute->values->pdata, attribute->values->len,
                       attribute->is_number, attribute->number };
}

/* `model` is the part itself, `stepping` the one that is fitted. */
static Compared
compared_triple (const Triple *triple, const char *name)
{
    if (strcmp (name, "model") == 0)
        return (Compared){ &triple->part->name, 1, FALSE, 0 };
    if (strcmp (name, "stepping") == 0)
        return (Compared){ &triple->stepping, triple->stepping != NULL ? 1 : 0, FALSE, 0 };
    return compared_attribute (triple->part->attributes, name);
}

static gboolean
values_meet (Compared left, Compared right)
{
    if (left.is_number && right.is_number)
        return left.number == right.number;
    for (guint l = 0; l < left.count; l++)
        for (guint r = 0; r < right.count; r++)
            if (left.texts[l] == right.texts[r])
                return TRUE;
    return FALSE;
}

static gboolean
steppings_mix (const Board *board, const Triple *left, const Triple *right)
{
    if (board->mixed_steppings == NULL)
        return TRUE;
    for (guint i = 0; i < board->mixed_steppings->len; i++) {
        const SteppingSet *set = board->mixed_steppings->pdata[i];
        if (set->generation == left->part->generation && set->generation == right->part->generation &&
            g_ptr_array_find (set->steppings, left->stepping, NULL) &&
            g_ptr_array_find (set->steppings, right->stepping, NULL))
            return TRUE;
    }
    return FALSE;
}

static gboolean
triples_agree (const Board *board, const Rule *rule, const Triple *left, const Triple *right)
{
    return values_meet (compared_triple (left, rule->attribute), compared_triple (right, rule->attribute)) ||
           (rule->unless_mixed && steppings_mix (board, left, right));
}

static void
allow_same (Ground *ground, const Rule *rule, guint slot, guint value, guint other, guint8 *in)
{
    const Triple *left = ground_triple (ground, slot, value);
    in[0] = 1;
    for (guint next = 1; next < ground->sizes[other]; next++)
        in[next] = triples_agree (ground->problem->unit->board, rule, left, ground_triple (ground, other, next));
}

/* Whether or not the slot is live. */
static void
same_as_slot (Ground *ground, const Rule *rule, guint slot)
{
    Compared asked = compared_attribute (board_slot (ground->problem->unit->board, slot)->attributes, rule->attribute);
    if (asked.count == 0)
        return;
    g_autofree guint8 *in = g_new0 (guint8, ground->sizes[slot]);
    in[0] = 1;
    for (guint value = 1; value < ground->sizes[slot]; value++)
        in[value] = values_meet (asked, compared_triple (ground_triple (ground, slot, value), rule->attribute));
    ground_emit_rule (ground, rule, formula_literal (ground->arena, slot, in));
}

static void
ground_same (Ground *ground, const Rule *rule)
{
    const Board *board = ground->problem->unit->board;
    if (rule->unless_mixed && board->mixed_steppings == NULL)
        return;
    PartKind with = rule->with_kind >= 0 ? (PartKind) rule->with_kind : rule->kind;
    for (guint slot = 0; slot < board->slots->len; slot++) {
        if (board_slot (board, slot)->takes != rule->kind)
            continue;
        if (rule->with_slot) {
            same_as_slot (ground, rule, slot);
            continue;
        }
        for (guint other = with == rule->kind ? slot + 1 : 0; other < board->slots->len; other++)
            if (board_slot (board, other)->takes == with)
                ground_pair (ground, rule, slot, other, allow_same, TRUE);
    }
}

/* ---- before, at-least, some ---- */

static void
ground_before (Ground *ground, const Rule *rule)
{
    const Board *board = ground->problem->unit->board;
    int previous = -1;
    for (guint slot = 0; slot < board->slots->len; slot++) {
        if (board_slot (board, slot)->takes != rule->kind)
            continue;
        if (previous >= 0)
            ground_emit_rule (ground, rule,
                              formula_or (ground->arena, ground_populated (ground, (guint) previous),
                                          formula_not (ground->arena, ground_populated (ground, slot))));
        previous = (int) slot;
    }
}

static void
allow_cover (Ground *ground, const Rule *rule, guint under, guint value, guint cover, guint8 *in)
{
    const Attribute *need =
        attribute_find (ground_triple (ground, under, value)->part->attributes, rule->under_attribute);
    for (guint next = 1; next < ground->sizes[cover]; next++) {
        const Attribute *has = attribute_find (ground_triple (ground, cover, next)->part->attributes, rule->attribute);
        in[next] = need != NULL && has != NULL && has->number >= need->number;
    }
}

static void
ground_at_least (Ground *ground, const Rule *rule)
{
    const Board *board = ground->problem->unit->board;
    for (guint slot = 0; slot < board->slots->len; slot++) {
        const Slot *cover = board_slot (board, slot);
        if (cover->takes == rule->kind && cover->over >= 0 &&
            board_slot (board, (guint) cover->over)->takes == rule->under_kind)
            ground_pair (ground, rule, (guint) cover->over, slot, allow_cover, FALSE);
    }
}

static void
ground_some (Ground *ground, const Rule *rule)
{
    const Board *board = ground->problem->unit->board;
    g_autofree const Formula **in_slot = g_new0 (const Formula *, board->slots->len + 1);
    gboolean applies = FALSE;
    for (guint slot = 0; slot < board->slots->len; slot++) {
        gboolean counts = board_slot (board, slot)->takes == rule->kind;
        applies = applies || counts;
        in_slot[slot] = counts ? ground_populated (ground, slot) : formula_constant (ground->arena, FALSE);
    }
    if (applies)
        ground_emit_rule (ground, rule, ground_any_live (ground, in_slot));
}

/* ---- sum ---- */

static double
adds (const Rule *rule, const Part *part, gboolean to_load)
{
    guint bit = 1u << part->kind;
    const char *name = to_load ? rule->attribute : rule->within_attribute;
    gboolean counts = to_load ? ((rule->sum_kinds | rule->sum_if_stated) & bit) != 0 : part->kind == rule->from_kind;
    const Attribute *attribute = counts ? attribute_find (part->attributes, name) : NULL;
    return attribute != NULL ? attribute->number : 0;
}

static void
ground_sum (Ground *ground, const Rule *rule)
{
    Problem *problem = ground->problem;
    const Board *board = problem->unit->board;
    gboolean applies = FALSE;
    for (guint slot = 0; slot < board->slots->len; slot++)
        applies = applies || board_slot (board, slot)->takes == rule->from_kind;
    if (!applies)
        return;
    Sum *sum = g_new0 (Sum, 1);
    const Attribute *base = rule->sum_board ? attribute_find (board->attributes, rule->attribute) : NULL;
    sum->base = base != NULL ? base->number : 0;
    sum->n_slots = problem->n_slots;
    sum->load = g_new0 (double *, problem->n_slots + 1);
    sum->supply = g_new0 (double *, problem->n_slots + 1);
    for (guint slot = 0; slot < problem->n_slots; slot++) {
        sum->load[slot] = g_new0 (double, ground->sizes[slot]);
        sum->supply[slot] = g_new0 (double, ground->sizes[slot]);
        for (guint value = 1; value < ground->sizes[slot]; value++) {
            sum->load[slot][value] = adds (rule, ground_triple (ground, slot, value)->part, TRUE);
            sum->supply[slot][value] = adds (rule, ground_triple (ground, slot, value)->part, FALSE);
        }
    }
    sum->lose_largest =
        rule->largest == LARGEST_LOST || (rule->largest == LARGEST_BY_SHOP && problem->shop->redundant_supplies);
    gboolean harms = rule->breaking == BREAKING_HARMS;
    sum->harms_on = harms && (rule->powers & POWER_ON) != 0;
    sum->needed_to_start = rule->breaking == BREAKING_STOPS || sum->harms_on;
    sum->needed_on_standby = harms && (rule->powers & POWER_STANDBY) != 0;
    sum->bars = barred_methods (rule);
    g_ptr_array_add (problem->sums, sum);
}

void
ground_rule (Ground *ground, const Rule *rule)
{
    static void (*const FORMS[]) (Ground *, const Rule *) = {
        [FORM_SAME] = ground_same,   [FORM_BEFORE] = ground_before, [FORM_AT_LEAST] = ground_at_least,
        [FORM_SUM] = ground_sum,     [FORM_SOME] = ground_some,     [FORM_WHEN] = ground_when,
        [FORM_KNOWS] = ground_knows, [FORM_OWN] = ground_own,       [FORM_ONE_OF] = ground_one_of,
        [FORM_BINDS] = ground_binds,
    };
    FORMS[rule->form](ground, rule);
}

void
ground_rules (Ground *ground)
{
    const GPtrArray *rules = ground->problem->library->rules;
    for (guint i = 0; i < rules->len; i++) {
        const Rule *rule = rules->pdata[i];
        if (rule->breaking != BREAKING_WARNS)
            ground_rule (ground, rule);
    }
    ground_while_running (ground);
    ground_failed (ground);
}
