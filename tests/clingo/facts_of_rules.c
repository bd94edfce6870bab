/* SPDX-License-Identifier: MIT */
/* Expressions and rules. */
#include "facts_of_files.h"

/* ---- Expressions ---- */

/* Everything that anything on this board, fitted or not, could offer. Transfer full. */
static GArray *
all_offers (const Library *library, const Unit *unit)
{
    GArray *offers = g_array_new (FALSE, FALSE, sizeof (Provide));
    board_each_provide (unit->board, unit->revision, offers);
    for (guint c = 0; c < unit->board->components->len; c++) {
        const Component *component = board_component (unit->board, c);
        for (guint r = 0; r < component->releases->len; r++)
            release_each_provide (component, component_release (component, r), offers);
    }
    for (guint p = 0; p < library->book.parts->len; p++) {
        const Part *part = g_ptr_array_index (library->book.parts, p);
        for (guint s = 0; s < MAX (1, part->steppings->len); s++)
            part_each_provide (part, part->steppings->len ? g_ptr_array_index (part->steppings, s) : NULL, offers);
    }
    return offers;
}

/* A release under its name in the book, however it is spelt here (1.05 for 1.5). */
static const char *
spelt_as_in_book (const Unit *unit, const Expr *atom)
{
    int c = board_find_component (unit->board, atom->name);
    int r = c < 0 ? -1 : component_find_release (board_component (unit->board, (guint) c), atom->version);
    return r < 0 ? atom->version : component_release (board_component (unit->board, (guint) c), (guint) r)->name;
}

static char *
atom_term (Facts *facts, const Library *library, const Unit *unit, const Expr *atom)
{
    static const char *const ops[] = { "", "lt", "le", "eq", "ge", "gt", "ne" };
    g_autofree char *name = facts_name (atom->name);
    if (atom->op == OP_ANY)
        return g_strdup_printf ("atom(%s)", name);
    char *term = g_strdup_printf ("atom(%s,%s,\"%s\")", name, ops[atom->op], spelt_as_in_book (unit, atom));
    g_autoptr (GArray) offers = all_offers (library, unit);
    for (guint i = 0; i < offers->len; i++) {
        const Provide *offer = &g_array_index (offers, Provide, i);
        if (offer->name == atom->name && board_version_answers (unit->board, atom, offer->version))
            facts_add (facts, "answers(%s,\"%s\")", term, offer->version);
    }
    return term;
}

char *
facts_expression (Facts *facts, const Library *library, const Unit *unit, const Expr *expr)
{
    static const char *const joins[] = { "", "and", "or", "if" };
    if (expr->kind == EXPR_ATOM)
        return atom_term (facts, library, unit, expr);
    g_autofree char *left = facts_expression (facts, library, unit, expr->left);
    g_autofree char *right = facts_expression (facts, library, unit, expr->right);
    return g_strdup_printf ("%s(%s,%s)", joins[expr->kind], left, right);
}

/* ---- Rules ---- */

static void
rule_expression (Facts *facts, const Library *library, const Unit *unit, const char *fact, const Rule *rule,
                 const Expr *expr)
{
    if (!expr)
        return;
    g_autofree char *term = facts_expression (facts, library, unit, expr);
    facts_add (facts, "%s(\"%s\",%s)", fact, rule->id, term);
}

static void
breaking (Facts *facts, const Rule *rule)
{
    static const char *const words[] = { "stops", "harms", "warns", "bars" };
    facts_add (facts, "breaking(\"%s\",%s)", rule->id, words[rule->breaking]);
    if (rule->breaking == BREAKING_HARMS && rule->powers & POWER_ON)
        facts_add (facts, "harms(\"%s\",on)", rule->id);
    if (rule->breaking == BREAKING_HARMS && rule->powers & POWER_STANDBY)
        facts_add (facts, "harms(\"%s\",standby)", rule->id);
    for (Method method = METHOD_HOST; rule->breaking == BREAKING_BARS && method < METHOD_COUNT; method++)
        if (rule->methods & METHOD_BIT (method))
            facts_add (facts, "bars(\"%s\",%s)", rule->id, method_name (method));
}

static void
same (Facts *facts, const Rule *rule)
{
    facts_add (facts, "same(\"%s\",\"%s\",\"%s\")", rule->id, rule->attribute, part_kind_name (rule->kind));
    if (rule->with_slot)
        facts_add (facts, "with_slot(\"%s\")", rule->id);
    if (rule->with_kind >= 0)
        facts_add (facts, "with_kind(\"%s\",\"%s\")", rule->id, part_kind_name ((PartKind) rule->with_kind));
    if (rule->unless_mixed)
        facts_add (facts, "unless_mixed(\"%s\")", rule->id);
}

static void
sum (Facts *facts, const Rule *rule)
{
    static const char *const largest[] = { "kept", "lost", "by_shop" };
    facts_add (facts, "sum(\"%s\",\"%s\")", rule->id, rule->attribute);
    for (PartKind kind = KIND_PROCESSOR; kind < KIND_COUNT; kind++) {
        if (rule->sum_kinds >> kind & 1)
            facts_add (facts, "sum_of(\"%s\",\"%s\")", rule->id, part_kind_name (kind));
        if (rule->sum_if_stated >> kind & 1)
            facts_add (facts, "sum_if_stated(\"%s\",\"%s\")", rule->id, part_kind_name (kind));
    }
    if (rule->sum_board)
        facts_add (facts, "sum_board(\"%s\")", rule->id);
    facts_add (facts, "sum_within(\"%s\",\"%s\",\"%s\")", rule->id, rule->within_attribute,
               part_kind_name (rule->from_kind));
    facts_add (facts, "largest(\"%s\",%s)", rule->id, largest[rule->largest]);
}

static void
one_rule (Facts *facts, const Library *library, const Unit *unit, const Rule *rule)
{
    const char *kind = part_kind_name (rule->kind);
    breaking (facts, rule);
    switch (rule->form) {
    case FORM_SAME:
        same (facts, rule);
        return;
    case FORM_BEFORE:
        facts_add (facts, "before(\"%s\",\"%s\")", rule->id, kind);
        return;
    case FORM_AT_LEAST:
        facts_add (facts, "at_least(\"%s\",\"%s\",\"%s\",\"%s\",\"%s\")", rule->id, rule->attribute, kind,
                   rule->under_attribute, part_kind_name (rule->under_kind));
        return;
    case FORM_SUM:
        sum (facts, rule);
        return;
    case FORM_SOME:
        facts_add (facts, "some(\"%s\",\"%s\")", rule->id, kind);
        return;
    case FORM_WHEN:
        if (!rule->when)
            facts_add (facts, "always(\"%s\")", rule->id);
        rule_expression (facts, library, unit, "when", rule, rule->when);
        rule_expression (facts, library, unit, "rule_requires", rule, rule->requires);
        rule_expression (facts, library, unit, "rule_conflicts", rule, rule->conflicts);
        return;
    case FORM_KNOWS:
        facts_add (facts, "knows(\"%s\",\"%s\")", rule->id, kind);
        return;
    case FORM_ONE_OF:
        facts_add (facts, "one_of(\"%s\",\"%s\",\"%s\")", rule->id, kind, part_kind_name (rule->under_kind));
        return;
    case FORM_BINDS:
        facts_add (facts, "binds(\"%s\",\"%s\",%s)", rule->id, kind, rule->binds_lent ? "lent" : "elsewhere");
        return;
    case FORM_OWN:
        facts_add (facts, "own(\"%s\")", rule->id);
        return;
    }
}

void
facts_of_rules (Facts *facts, const Library *library, const Unit *unit)
{
    for (guint i = 0; i < library->rules->len; i++)
        one_rule (facts, library, unit, g_ptr_array_index (library->rules, i));
}
