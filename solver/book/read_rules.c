/* SPDX-License-Identifier: MIT */
/* Rules: one function per form, and the keys that all forms share. */
#include "book/attributes.h"
#include "book/library.h"
#include "book/read.h"

#include <string.h>

/* The key that says which form a rule has. `requires` and `conflicts` alone are a `when` that always holds. */
static const struct {
    const char *key;
    RuleForm form;
} forms[] = {
    { "same", FORM_SAME },     { "before", FORM_BEFORE }, { "at-least", FORM_AT_LEAST }, { "sum", FORM_SUM },
    { "some", FORM_SOME },     { "knows", FORM_KNOWS },   { "own", FORM_OWN },           { "when", FORM_WHEN },
    { "one-of", FORM_ONE_OF }, { "binds", FORM_BINDS },   { "requires", FORM_WHEN },     { "conflicts", FORM_WHEN },
};

/* ---- Values ---- */

static PartKind
take_kind (MapReader *reader, const char *key)
{
    return (PartKind) MAX (0,
                           value_word (reader->loader, map_take (reader, key, KEY_REQUIRED), key, part_kind_words ()));
}

/* An attribute's name; from now on it is known, and of this type. */
static const char *
take_attribute (MapReader *reader, const char *key, AttributeType type)
{
    const Node *node = map_take (reader, key, KEY_REQUIRED);
    const char *name = value_name (reader->loader, node, key);
    if (name && !attributes_know (reader->loader, name, type))
        loader_complain (reader->loader, node, "expected an attribute that is a number",
                         "%s is text, which %s cannot count", name, key);
    return name;
}

/* ---- Forms ---- */

static void
read_same (MapReader *reader, Rule *rule)
{
    const Node *attribute = map_take (reader, "same", KEY_REQUIRED);
    rule->attribute = value_name (reader->loader, attribute, "same");
    if (rule->attribute && strcmp (rule->attribute, "model") != 0)
        attributes_know (reader->loader, rule->attribute, ATTRIBUTE_EITHER);
    rule->kind = take_kind (reader, "of");
    const Node *with = map_take (reader, "with", KEY_OPTIONAL);
    if (with && with->kind == NODE_SCALAR && strcmp (with->text, "slot") == 0)
        rule->with_slot = TRUE;
    else if (with)
        rule->with_kind = value_word (reader->loader, with, "with", part_kind_words ());
    static const char *const unless_words[] = { "mixed-steppings", NULL };
    const Node *unless = map_take (reader, "unless", KEY_OPTIONAL);
    rule->unless_mixed = value_word (reader->loader, unless, "unless", unless_words) == 0;
    if (rule->unless_mixed && rule->attribute &&
        (strcmp (rule->attribute, "stepping") != 0 || rule->kind != KIND_PROCESSOR || with))
        loader_complain (reader->loader, unless, "expected it with \"same: stepping\" and \"of: processor\" only",
                         "mixed steppings do not go with this rule");
}

static void
read_at_least (MapReader *reader, Rule *rule)
{
    rule->attribute = take_attribute (reader, "at-least", ATTRIBUTE_NUMBER);
    rule->kind = take_kind (reader, "of");
    rule->under_attribute = take_attribute (reader, "covers", ATTRIBUTE_NUMBER);
    rule->under_kind = take_kind (reader, "under");
}

/* Kinds, and "board" beside them. */
static void
read_if_stated (MapReader *reader, Rule *rule)
{
    const char *words[KIND_COUNT + 2] = { NULL };
    memcpy (words, part_kind_words (), KIND_COUNT * sizeof *words);
    words[KIND_COUNT] = "board";
    guint mask = 0;
    value_words (reader->loader, map_take (reader, "if-stated", KEY_OPTIONAL), "if-stated", words, &mask);
    rule->sum_board = (mask & 1u << KIND_COUNT) != 0;
    rule->sum_if_stated = mask & ~(1u << KIND_COUNT);
}

static void
read_sum (MapReader *reader, Rule *rule)
{
    static const char *const largest_words[] = { "kept", "lost", "by-shop", NULL };
    rule->attribute = take_attribute (reader, "sum", ATTRIBUTE_NUMBER);
    value_words (reader->loader, map_take (reader, "of", KEY_REQUIRED), "of", part_kind_words (), &rule->sum_kinds);
    read_if_stated (reader, rule);
    rule->within_attribute = take_attribute (reader, "within", ATTRIBUTE_NUMBER);
    rule->from_kind = take_kind (reader, "from");
    int largest = value_word (reader->loader, map_take (reader, "largest", KEY_OPTIONAL), "largest", largest_words);
    rule->largest = (LargestSupply) MAX (largest, 0);
}

static void
read_when (MapReader *reader, Rule *rule)
{
    Loader *loader = reader->loader;
    const Node *requires = map_take (reader, "requires", KEY_OPTIONAL);
    const Node *conflicts = map_take (reader, "conflicts", KEY_OPTIONAL);
    rule->when = value_expression (loader, map_take (reader, "when", KEY_OPTIONAL), "when", NULL);
    rule->requires = value_expression (loader, requires, "requires", NULL);
    rule->conflicts = value_expression (loader, conflicts, "conflicts", NULL);
    if (!requires && !conflicts)
        complaints_add (loader->complaints, reader->map->at, "expected requires, conflicts or both beside when",
                        "this rule asks for nothing");
}

static void
read_knows (MapReader *reader, Rule *rule)
{
    static const char *const words[] = { "processor", NULL }; /* support is stated for generations of these */
    value_word (reader->loader, map_take (reader, "knows", KEY_REQUIRED), "knows", words);
    rule->kind = KIND_PROCESSOR;
}

static void
read_one_of (MapReader *reader, Rule *rule)
{
    rule->kind = take_kind (reader, "one-of");
    rule->under_kind = take_kind (reader, "with");
}

static void
read_binds (MapReader *reader, Rule *rule)
{
    static const char *const words[] = { "elsewhere", "lent", NULL };
    rule->kind = take_kind (reader, "binds");
    rule->binds_lent = value_word (reader->loader, map_take (reader, "whose", KEY_REQUIRED), "whose", words) == 1;
}

static void
read_form (MapReader *reader, Rule *rule)
{
    static const char *const own_words[] = { "part", NULL };
    switch (rule->form) {
    case FORM_SAME:
        read_same (reader, rule);
        return;
    case FORM_BEFORE:
        rule->kind = take_kind (reader, "before");
        return;
    case FORM_AT_LEAST:
        read_at_least (reader, rule);
        return;
    case FORM_SUM:
        read_sum (reader, rule);
        return;
    case FORM_SOME:
        rule->kind = take_kind (reader, "some");
        return;
    case FORM_WHEN:
        read_when (reader, rule);
        return;
    case FORM_KNOWS:
        read_knows (reader, rule);
        return;
    case FORM_ONE_OF:
        read_one_of (reader, rule);
        return;
    case FORM_BINDS:
        read_binds (reader, rule);
        return;
    case FORM_OWN:
        value_word (reader->loader, map_take (reader, "own", KEY_REQUIRED), "own", own_words);
        return;
    }
    g_assert_not_reached ();
}

/* ---- What breaking it does ---- */

static void
read_breaking (MapReader *reader, Rule *rule)
{
    static const char *const words[] = { "stops", "harms", "warns", "bars", NULL };
    static const char *const power_words[] = { "on", "standby", NULL }; /* in the order of PowerBit */
    Loader *loader = reader->loader;
    int breaking = value_word (loader, map_take (reader, "breaking", KEY_REQUIRED), "breaking", words);
    rule->breaking = (Breaking) MAX (breaking, 0);
    if (breaking == BREAKING_HARMS)
        value_words (loader, map_take (reader, "while", KEY_REQUIRED), "while", power_words, &rule->powers);
    if (breaking == BREAKING_BARS)
        value_words (loader, map_take (reader, "methods", KEY_REQUIRED), "methods", method_words (), &rule->methods);
    if (breaking < 0) { /* either may go with what was meant */
        map_take (reader, "while", KEY_OPTIONAL);
        map_take (reader, "methods", KEY_OPTIONAL);
    }
}

/* ---- A rule ---- */

static gboolean
map_has (const Node *map, const char *key)
{
    for (guint i = 0; i < map->keys->len; i++)
        if (strcmp (((const Node *) g_ptr_array_index (map->keys, i))->text, key) == 0)
            return TRUE;
    return FALSE;
}

/* FALSE after a complaint. */
static gboolean
find_form (Loader *loader, const Node *node, RuleForm *out)
{
    for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
        if (map_has (node, forms[i].key)) {
            *out = forms[i].form;
            return TRUE;
        }
    loader_complain (loader, node, "expected one of same, before, at-least, sum, some, when, knows, own, one-of, binds",
                     "this rule has no form");
    return FALSE;
}

/* The rule of this id among those read, or NULL. */
static const Rule *
find_rule (const GPtrArray *rules, const char *id)
{
    for (guint i = 0; i < rules->len; i++) {
        const Rule *rule = g_ptr_array_index (rules, i);
        if (rule->id == id)
            return rule;
    }
    return NULL;
}

static void
read_rule (Loader *loader, const Node *node)
{
    MapReader reader;
    RuleForm form = FORM_SAME;
    if (node->kind == NODE_MAP && !find_form (loader, node, &form))
        return;
    if (!map_begin (&reader, loader, node, "this rule"))
        return;
    guint before = complaints_count (loader->complaints);
    const Node *id_node = map_take (&reader, "rule", KEY_REQUIRED);
    const char *id = value_name (loader, id_node, "rule");
    Rule *rule = rule_new (id, id_node ? id_node->at : node->at);
    rule->form = form;
    rule->says = value_text (loader, map_take (&reader, "says", KEY_REQUIRED), "says");
    read_breaking (&reader, rule);
    read_form (&reader, rule);
    map_take_source (&reader, &rule->source);
    map_end (&reader);
    const Rule *first = id ? find_rule (loader->library->rules, id) : NULL;
    /* A rule of which something could not be read would only mislead the checks of parts that follow. */
    if (id && loader_is_first (loader, "rule", id, rule->at, first ? &first->at : NULL) &&
        complaints_count (loader->complaints) == before)
        g_ptr_array_add (loader->library->rules, rule);
    else
        rule_free (rule);
}

void
read_rules (Loader *loader, const Node *root)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this document"))
        return;
    const GPtrArray *items = value_list (loader, map_take (&reader, "rules", KEY_REQUIRED), "rules");
    for (guint i = 0; items && i < items->len; i++)
        read_rule (loader, g_ptr_array_index (items, i));
    map_end (&reader);
}
