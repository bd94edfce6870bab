/* SPDX-License-Identifier: MIT */
/* The search over beliefs, between the files that are it. */
#ifndef RUNGWISE_ROUTE_BRANCHED_SEARCH_H
#define RUNGWISE_ROUTE_BRANCHED_SEARCH_H

#include "route/branched_parts.h"
#include "route/cost.h"
#include "route/heap.h"

#define NO_NODE G_MAXUINT32

typedef enum {
    NODE_MOVED, /* the first belief, and every one that a move leads to */
    NODE_DARK,  /* the cases that stayed dark; its parent is a NODE_TRY */
    NODE_TRY,   /* a start is tried in the belief of its parent */
    NODE_READ,  /* a page is read there */
    NODE_DONE,  /* nothing is left to do */
} NodeKind;

typedef struct {
    NodeKind kind;
    const guint16 *row;
    Cost spent;     /* by each case that is still in the row */
    CostSum parted; /* by all that are not */
    guint worst;    /* of those */
    guint32 parent;
    Move move;        /* NODE_MOVED */
    guint component;  /* NODE_READ: which variable */
    const Plan *rest; /* NODE_DONE: what is left to do in its parent's belief; NULL: nothing */
    GPtrArray *parts; /* Plan*, NODE_TRY and NODE_READ once they were looked into; owned; its members borrowed */
    guint32 label;    /* the next node of the same belief */
    gboolean stale;   /* another node of the same belief is no worse in anything */
} Node;

/* What is known of a belief. */
typedef struct {
    gboolean hopeless; /* some case that has a route has none from here */
    CostSum to_go;     /* bounds */
    guint dearest;     /* the largest of them */
    guint32 label;     /* the last node of it; NO_NODE */
} Met;

typedef struct {
    Beliefs *beliefs;
    guint most; /* that a case may come to */
    guint next; /* the least that one was refused for */
    GArray *nodes;
    GHashTable *met; /* row -> Met */
    Heap heap;
    guint16 *values; /* scratch */
} Search;

static inline Node *
node_at (const Search *search, guint32 index)
{
    return &g_array_index (search->nodes, Node, index);
}

/* FALSE, and noted, when a case would come to more than it may. */
static inline gboolean
may_come_to (Search *search, guint lead)
{
    if (lead > search->most)
        search->next = MIN (search->next, lead);
    return lead <= search->most;
}

/* A way to a belief, unless it is no good. */
void search_reach (Search *search, Node node);
/* Nothing is left to do behind `parent` but `rest` (NULL: nothing). */
void search_finish (Search *search, guint32 parent, const Plan *rest);

/* What a start of these cases, or the page of this component, would tell. */
gboolean start_tells (const Beliefs *beliefs, const guint16 *row, const guint8 *starts);
gboolean page_tells (const Beliefs *beliefs, const guint16 *row, guint var);
/* Solves the parts of a NODE_TRY, or a NODE_READ. */
void search_look_into_try (Search *search, guint32 index);
void search_look_into_page (Search *search, guint32 index);

/* The best plan for a belief of several cases, by a search of its own; see plan_for_belief(). */
const Plan *search_beliefs (Beliefs *beliefs, const guint16 *row, guint most, guint *next);

#endif
