/* SPDX-License-Identifier: MIT */
/* YAML tree: a file's documents as plain nodes, each with its place. The only file that knows libyaml. */
#ifndef RUNGWISE_YAML_TREE_H
#define RUNGWISE_YAML_TREE_H

#include "text/text.h"

typedef enum { NODE_SCALAR, NODE_LIST, NODE_MAP } NodeKind;

typedef struct Node Node;
struct Node {
    NodeKind kind;
    Mark at;          /* of its first character, a quote included */
    char *text;       /* owned; scalar: its value. NULL otherwise */
    gboolean plain;   /* scalar: written without quotes */
    guint quote;      /* scalar: characters before the text itself (1 for a quote) */
    gboolean spelled; /* scalar: each character of `text` stands in the file just as it is, on one line */
    GPtrArray *items; /* list: Node*; map: Node*, values in the order of `keys`. Owned; NULL for a scalar */
    GPtrArray *keys;  /* map: Node*, scalars, no two alike. Owned */
};

void node_free (Node *node);

/* All documents of a text, in order, empty ones left out (GPtrArray of Node*). After a complaint the documents before
 * the mistake. `broken_from` is set to where in the text reading stopped early, or to NULL. Transfer full. */
GPtrArray *yaml_read (const char *file, const char *text, gsize length, const char **broken_from,
                      Complaints *complaints);

/* "a list", "keys and values", "no value", "text": what a node is, for a complaint. Static text. */
const char *node_description (const Node *node);
/* Nothing written where a value belongs (`key:` alone). */
gboolean node_is_blank (const Node *node);

#endif
