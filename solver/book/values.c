/* SPDX-License-Identifier: MIT */
/* Reader: values that are lists, expressions, or what a package provides. */
#include "book/reader.h"

#include <string.h>

gboolean
value_split_range (const char *text, char **first, char **last)
{
    const char *dots = strstr (text, " .. ");
    if (!dots)
        return FALSE;
    *first = g_strstrip (g_strndup (text, (gsize) (dots - text)));
    *last = g_strstrip (g_strdup (dots + strlen (" .. ")));
    return TRUE;
}

const GPtrArray *
value_list (Loader *loader, const Node *node, const char *key)
{
    if (!node)
        return NULL;
    if (node->kind == NODE_LIST)
        return node->items;
    complain_of_kind (loader, node, key, "expected a list");
    return NULL;
}

GPtrArray *
value_list_or_one (Loader *loader, const Node *node, const char *key)
{
    if (!node)
        return NULL;
    if (node->kind == NODE_MAP || node_is_blank (node)) {
        complain_of_kind (loader, node, key, "expected a name, or a list of names");
        return NULL;
    }
    GPtrArray *nodes = g_ptr_array_new ();
    if (node->kind == NODE_SCALAR)
        g_ptr_array_add (nodes, (gpointer) node);
    for (guint i = 0; node->items && i < node->items->len; i++)
        g_ptr_array_add (nodes, g_ptr_array_index (node->items, i));
    return nodes;
}

GPtrArray *
value_names (Loader *loader, const Node *node, const char *key)
{
    g_autoptr (GPtrArray) nodes = value_list_or_one (loader, node, key);
    if (!nodes)
        return NULL;
    if (nodes->len == 0) {
        loader_complain (loader, node, "expected at least one name", "%s is an empty list", key);
        return NULL;
    }
    g_autoptr (GPtrArray) names = g_ptr_array_new ();
    for (guint i = 0; i < nodes->len; i++) {
        const Node *item = g_ptr_array_index (nodes, i);
        const char *name = value_name (loader, item, key);
        if (name && names_have (names, name))
            loader_complain (loader, item, "expected each name once", "%s lists %s twice", key, name);
        else if (name)
            g_ptr_array_add (names, (gpointer) name);
    }
    return names->len ? g_steal_pointer (&names) : NULL;
}

gboolean
value_words (Loader *loader, const Node *node, const char *key, const char *const *words, guint *out)
{
    g_autoptr (GPtrArray) nodes = value_list_or_one (loader, node, key);
    if (!nodes)
        return FALSE;
    guint mask = 0;
    for (guint i = 0; i < nodes->len; i++) {
        int word = value_word (loader, g_ptr_array_index (nodes, i), key, words);
        mask |= word >= 0 ? 1u << word : 0;
    }
    *out = mask;
    return mask != 0 || nodes->len == 0;
}

/* ---- Expressions ---- */

static void
move_mark (Expr *expr, Mark at)
{
    if (!expr)
        return;
    expr->at = at;
    move_mark (expr->left, at);
    move_mark (expr->right, at);
}

Expr *
value_expression (Loader *loader, const Node *node, const char *key, const char *implied_name)
{
    const char *text = value_scalar (loader, node, key, "expected an expression, such as controller >= 2.10");
    if (!text)
        return NULL;
    /* Folded or escaped text has no columns of its own: whatever is in it is at its start. */
    g_autoptr (Complaints) own = complaints_new ();
    Expr *expr = expression_parse (text, mark_right_of (node->at, node->quote), implied_name, own);
    for (guint i = 0; i < complaints_count (own); i++) {
        const Complaint *complaint = complaints_get (own, i);
        complaints_add (loader->complaints, node->spelled ? complaint->at : node->at, complaint->expected, "%s",
                        complaint->what);
        loader_lose_node (loader, node);
    }
    if (!node->spelled)
        move_mark (expr, node->at);
    return expr;
}

void
value_provides (Loader *loader, const Node *node, const char *key, GPtrArray *out)
{
    static const char expected[] = "expected a name alone, or name = version";
    g_autoptr (GPtrArray) nodes = value_list_or_one (loader, node, key);
    for (guint i = 0; nodes && i < nodes->len; i++) {
        const Node *item = g_ptr_array_index (nodes, i);
        g_autoptr (Expr) expr = value_expression (loader, item, key, NULL);
        if (!expr)
            continue;
        if (expr->kind != EXPR_ATOM || (expr->op != OP_ANY && expr->op != OP_EQ)) {
            loader_complain (loader, item, expected, "\"%s\" cannot be provided", item->text);
            continue;
        }
        Provide *provide = g_new0 (Provide, 1);
        provide->name = expr->name;
        provide->version = g_intern_string (expr->version);
        provide->at = item->at;
        g_ptr_array_add (out, provide);
    }
}
