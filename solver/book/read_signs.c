/* SPDX-License-Identifier: MIT */
/* Signs: what an observation means, for which causes and rules. */
#include "book/causes.h"
#include "book/library.h"
#include "book/read.h"
#include "book/read_event.h"
#include "book/read_observation.h"

#include <string.h>

/* ---- What is seen ---- */

/* A number of minutes, or two with `..` between. */
static void
read_minutes_range (Loader *loader, const Node *node, Sign *sign)
{
    g_autofree char *first = NULL, *last = NULL;
    if (node->kind != NODE_SCALAR || !value_split_range (node->text, &first, &last)) {
        if (value_minutes (loader, node, "dark-minutes", &sign->from))
            sign->to = sign->from;
        return;
    }
    Node lower = *node, upper = *node; /* the text alone differs */
    lower.text = first;
    upper.text = last;
    if (value_minutes (loader, &lower, "dark-minutes", &sign->from) &&
        value_minutes (loader, &upper, "dark-minutes", &sign->to) && sign->from > sign->to)
        loader_complain (loader, node, "expected the lower number first, such as 10 .. 30",
                         "dark-minutes \"%s\" is not a range", node->text);
}

static void
read_sign_event (Loader *loader, const Node *node, Sign *sign)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this event"))
        return;
    take_event_type (&reader, KEY_REQUIRED, &sign->event);
    const Node *data_2 = map_take (&reader, "data-2", KEY_OPTIONAL);
    value_bytes (loader, data_2, "data-2", &sign->event.data_2, &sign->data_2_to);
    value_byte (loader, map_take (&reader, "data-3", KEY_OPTIONAL), "data-3", 0xFF, &sign->event.data_3);
    map_end (&reader);
}

static void
read_sign_value (Loader *loader, const Node *node, Sign *sign)
{
    int from = 0, to = 0;
    switch (sign->kind) {
    case SEEN_DARK_MINUTES:
        read_minutes_range (loader, node, sign);
        break;
    case SEEN_POST_CODE:
        value_bytes (loader, node, "post-code", &from, &to);
        sign->from = from;
        sign->to = to;
        break;
    case SEEN_EVENT:
        read_sign_event (loader, node, sign);
        break;
    default:
        sign->word = read_seen_word (loader, sign->kind, node);
    }
}

/* One key: a sign is of one observation. */
static void
read_sign_seen (Loader *loader, const Node *node, Sign *sign)
{
    MapReader reader;
    guint found = 0;
    if (!map_begin (&reader, loader, node, "seen"))
        return;
    guint before = complaints_count (loader->complaints);
    for (int kind = 0; kind <= SEEN_EVENT; kind++) {
        const Node *value = map_take (&reader, seen_kind_name ((SeenKind) kind), KEY_OPTIONAL);
        if (!value)
            continue;
        found++;
        sign->kind = (SeenKind) kind;
        read_sign_value (loader, value, sign);
    }
    map_end (&reader);
    if (found != 1 && complaints_count (loader->complaints) == before)
        loader_complain (loader, node, "expected one observation, such as fans: still",
                         found ? "seen names several observations" : "seen names no observation");
}

/* ---- What it speaks of ---- */

static gboolean
read_target (Loader *loader, const Node *node, const char *key, SignTarget *out)
{
    const char *name = value_name (loader, node, key);
    if (!name)
        return FALSE;
    out->any_rule = strcmp (name, ANY_RULE) == 0;
    out->cause = out->any_rule ? NULL : causes_find (loader, name);
    out->rule = out->any_rule || out->cause ? NULL : rules_find (loader, name);
    if (out->any_rule || out->cause || out->rule)
        return TRUE;
    if (!causes_are_known (loader))
        return FALSE;
    const GPtrArray *rules = loader->library->rules;
    g_autoptr (GPtrArray) known = g_ptr_array_new ();
    causes_add_names (loader, known);
    for (guint i = 0; i < rules->len; i++)
        g_ptr_array_add (known, (gpointer) ((const Rule *) g_ptr_array_index (rules, i))->id);
    g_ptr_array_add (known, (gpointer) ANY_RULE);
    g_ptr_array_add (known, NULL);
    loader_unknown (loader, node->at, "cause or rule", name, NULL, (const char *const *) known->pdata);
    return FALSE;
}

static gboolean
is_same_target (const SignTarget *a, const SignTarget *b)
{
    return a->cause == b->cause && a->rule == b->rule && a->any_rule == b->any_rule;
}

/* Excluding one leaves nothing of the other to support. */
static gboolean
targets_meet (const SignTarget *a, const SignTarget *b)
{
    return is_same_target (a, b) || (a->any_rule && b->rule) || (b->any_rule && a->rule);
}

static void
read_supports (Loader *loader, const Node *node, Sign *sign)
{
    if (!node)
        return;
    if (node->kind != NODE_MAP) {
        complain_of_kind (loader, node, "supports", "expected a cause or rule with how many times likelier it is");
        return;
    }
    for (guint i = 0; i < node->keys->len; i++) {
        const Node *factor = g_ptr_array_index (node->items, i);
        SignSupport support = { 0 };
        gboolean right = read_target (loader, g_ptr_array_index (node->keys, i), "supports", &support.target);
        if (!value_number (loader, factor, "supports", &support.factor))
            continue;
        if (support.factor <= 1)
            loader_complain (loader, factor, "expected a factor above 1: so many times as likely as before",
                             "%s supports nothing", factor->text);
        else if (right)
            g_array_append_val (sign->supports, support);
    }
}

/* Supported by the sign too, or excluded by it already: TRUE after a complaint. */
static gboolean
is_spoken_of (Loader *loader, const Sign *sign, const Node *node, const SignTarget *target)
{
    for (guint i = 0; i < sign->excludes->len; i++)
        if (is_same_target (&g_array_index (sign->excludes, SignTarget, i), target)) {
            loader_complain (loader, node, "expected each name once", "excludes lists %s twice", node->text);
            return TRUE;
        }
    for (guint i = 0; i < sign->supports->len; i++)
        if (targets_meet (&g_array_index (sign->supports, SignSupport, i).target, target)) {
            loader_complain (loader, node, "expected what a sign excludes not to be supported by it",
                             "%s is supported and excluded", node->text);
            return TRUE;
        }
    return FALSE;
}

static void
read_excludes (Loader *loader, const Node *node, Sign *sign)
{
    g_autoptr (GPtrArray) nodes = value_list_or_one (loader, node, "excludes");
    for (guint i = 0; nodes && i < nodes->len; i++) {
        const Node *item = g_ptr_array_index (nodes, i);
        SignTarget target = { 0 };
        if (read_target (loader, item, "excludes", &target) && !is_spoken_of (loader, sign, item, &target))
            g_array_append_val (sign->excludes, target);
    }
}

/* ---- A sign ---- */

static void
read_sign_boards (Loader *loader, const Node *node, Sign *sign)
{
    sign->boards = value_names (loader, node, "board");
    g_autofree const char **known = names_of (loader->library->book.boards);
    for (guint i = 0; sign->boards && i < sign->boards->len; i++) {
        const char *name = g_ptr_array_index (sign->boards, i);
        const Node *item = node->kind == NODE_LIST ? g_ptr_array_index (node->items, i) : node;
        if (!book_find_board (&loader->library->book, name))
            loader_unknown (loader, item->at, "board", name, NULL, known);
    }
}

static gboolean
sign_is_first (Loader *loader, const Sign *sign)
{
    const GPtrArray *signs = loader->library->signs;
    const Sign *first = NULL;
    for (guint i = 0; i < signs->len && !first; i++) {
        const Sign *earlier = g_ptr_array_index (signs, i);
        first = earlier->id == sign->id ? earlier : NULL;
    }
    return loader_is_first (loader, "sign", sign->id, sign->at, first ? &first->at : NULL);
}

static void
read_sign (Loader *loader, const Node *node)
{
    MapReader reader;
    if (!map_begin (&reader, loader, node, "this sign"))
        return;
    const Node *id_node = map_take (&reader, "sign", KEY_REQUIRED);
    Sign *sign = sign_new (value_name (loader, id_node, "sign"), id_node ? id_node->at : node->at);
    read_sign_boards (loader, map_take (&reader, "board", KEY_OPTIONAL), sign);
    read_sign_seen (loader, map_take (&reader, "seen", KEY_REQUIRED), sign);
    sign->says = value_text (loader, map_take (&reader, "says", KEY_REQUIRED), "says");
    read_supports (loader, map_take (&reader, "supports", KEY_OPTIONAL), sign);
    read_excludes (loader, map_take (&reader, "excludes", KEY_OPTIONAL), sign);
    map_take_source (&reader, &sign->source);
    map_end (&reader);
    if (sign->id && sign_is_first (loader, sign))
        g_ptr_array_add (loader->library->signs, sign);
    else
        sign_free (sign);
}

void
read_signs (Loader *loader, const Node *root)
{
    MapReader reader;
    if (!map_begin (&reader, loader, root, "this document"))
        return;
    const GPtrArray *items = value_list (loader, map_take (&reader, "signs", KEY_REQUIRED), "signs");
    for (guint i = 0; items && i < items->len; i++)
        read_sign (loader, g_ptr_array_index (items, i));
    map_end (&reader);
}
