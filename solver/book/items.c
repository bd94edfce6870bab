/* SPDX-License-Identifier: MIT */
/* Items of a command line, as nodes with places. */
#include "book/items.h"

#include <string.h>

Node *
item_node (const char *text, gsize length, Mark at)
{
    Node *node = g_new0 (Node, 1);
    node->kind = NODE_SCALAR;
    node->text = g_strndup (text, length);
    g_strchug (node->text);
    node->at = mark_right_of (at, (guint) (length - strlen (node->text)));
    g_strchomp (node->text);
    node->plain = node->spelled = TRUE;
    return node;
}

Mark
items_begin (Loader *loader, const char *option, const char *const *items)
{
    const char *file = g_intern_string (option);
    g_autofree char *text = g_strjoinv ("\n", (char **) items);
    complaints_add_text (loader->complaints, file, text, strlen (text));
    return (Mark){ file, 1, 1 };
}
