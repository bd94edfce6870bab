/* SPDX-License-Identifier: MIT */
/* Loader: what reading needs beside the library that it fills.
 *
 * Owns:   the nodes of every file until the library is complete, and what is known so far.
 * Promise: one mistake is complained about once. Whatever a complaint keeps from being read goes into `lost_words`, and
 *          a name that may stand among those is never called unknown. */
#ifndef RUNGWISE_LOADER_H
#define RUNGWISE_LOADER_H

#include "book/book.h"
#include "book/table.h"
#include "book/yaml_tree.h"

typedef enum {
    DOCUMENT_BOOK,
    DOCUMENT_RULES,
    DOCUMENT_CAUTIONS,
    DOCUMENT_UNIT,
    DOCUMENT_WANT,
    DOCUMENT_SHOP,
    DOCUMENT_ROUTE,
    DOCUMENT_RECORD,
    DOCUMENT_LOOKS,
    DOCUMENT_SIGNS,
    DOCUMENT_SEEN,
    DOCUMENT_COUNT
} DocumentKind;

typedef struct {
    DocumentKind kind;
    Node *root; /* owned; a map, never empty */
} Document;

/* A table of units. */
typedef struct {
    const char *file; /* interned */
    GPtrArray *rows;  /* TableRow*, the header first; owned */
} Table;

/* A processor generation, as far as the books tell. */
typedef struct {
    const char *name;
    Mark at;                  /* of its definition in `generations:`; line 0 without one */
    gboolean lists_steppings; /* its steppings are given, not only gathered from parts */
    GPtrArray *steppings;     /* interned; owned */
} Generation;

/* A board's list of components, kept until all firmware has been read. */
typedef struct {
    Board *board;            /* borrowed from the library */
    const GPtrArray *listed; /* Node*, borrowed; NULL: none */
    GPtrArray *slot_nodes;   /* Node* of each slot's name, borrowed; owned array */
} BoardListing;

/* A component's firmware and the boards that it is for. */
typedef struct {
    Component *component; /* borrowed from the library */
    GPtrArray *boards;    /* const Board*, borrowed; owned array */
} Firmware;

/* Keys of a release that speak of other releases, kept until all have been read. */
typedef struct {
    const Node *lowest, *also_writes; /* borrowed, nullable */
} ReleaseLinks;

/* A generation with steppings that some key names, to be looked up when all parts have been read. */
typedef struct {
    const Node *generation; /* borrowed */
    const Node *steppings;  /* borrowed; a list or one name; NULL: none named */
} GenerationUse;

typedef enum { ATTRIBUTE_NUMBER = 1, ATTRIBUTE_TEXT, ATTRIBUTE_EITHER } AttributeType;

typedef struct {
    Library *library; /* being filled */
    Complaints *complaints;
    Complaints *row_complaints; /* mistakes in rows of tables; NULL: they are as any */
    gboolean for_batch;         /* several units, each with its want */
    gboolean for_one;           /* ... of which one is asked about: the others may do without */
    const char *asked;          /* interned: the id of that one; NULL: no id is given */
    GPtrArray *documents;       /* Document*, owned */
    GPtrArray *tables;          /* Table*, owned */
    GHashTable *lost_words;     /* char*, owned */
    GHashTable *row_words;      /* char*, owned: what the row that is being read has lost; NULL: no row is */
    gboolean unread_files;      /* some file could not be opened: any name may be in it */
    gboolean lost_unit;         /* some unit could not be read: what goes with it has no board */
    gboolean lost_row;          /* some row is left out, which ends nothing: what speaks of its unit is not to blame */
    GHashTable *unit_marks;     /* interned id -> Mark*, owned: of each unit met, right or not */
    GHashTable *damaged;        /* Board*, Component*, Part*, Shop*: something of it was complained about */
    GHashTable *attributes;     /* interned name -> AttributeType */
    GHashTable *definitions;    /* interned name of a board or part -> Definition* */
    GHashTable *generations;    /* interned name -> Generation*, owned */
    GPtrArray *generation_uses; /* GenerationUse*, owned */
    GPtrArray *listings;        /* BoardListing*, owned */
    GPtrArray *firmware;        /* Firmware*, owned; parallel to library->book.firmware */
    GHashTable *release_links;  /* Release* -> ReleaseLinks*, owned */
} Loader;

Loader *loader_new (Complaints *complaints);
/* Frees the loader, not the library. */
void loader_free (Loader *loader);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Loader, loader_free)

/* Complains about a node, and remembers every word in it as lost. */
void loader_complain (Loader *loader, const Node *node, const char *expected, const char *format, ...)
    G_GNUC_PRINTF (4, 5);
void loader_lose_node (Loader *loader, const Node *node);
void loader_lose_text (Loader *loader, const char *text, const char *end);
gboolean loader_has_lost (const Loader *loader, const char *word);

/* Complains that `word` at `at` is no known `what` ("slot") of `whole` ("board wren-2s"; nullable), unless it may have
 * been lost. `known` is NULL-terminated. */
void loader_unknown (Loader *loader, Mark at, const char *what, const char *word, const char *whole,
                     const char *const *known);

/* Complains that a thing at `at` is defined twice, and names the first place. */
void loader_twice (Loader *loader, Mark at, const char *what, const char *name, Mark first);
/* FALSE, after a complaint that names both places, when there is a first one (nullable). */
gboolean loader_is_first (Loader *loader, const char *what, const char *name, Mark at, const Mark *first);
/* Remembers a board's or part's name. FALSE, after a complaint that names both places, when it is taken. */
gboolean loader_define (Loader *loader, const char *what, const char *name, Mark at);
/* "board wren-2s at a.yaml:3:12"; NULL when there is none of that name. Transfer full. */
char *loader_definition_text (const Loader *loader, const char *name);

/* Finds or makes a generation. */
Generation *loader_generation (Loader *loader, const char *name);
/* NULL when nothing names it. */
const Generation *loader_find_generation (const Loader *loader, const char *name);
void loader_use_generation (Loader *loader, const Node *generation, const Node *steppings);
void firmware_free (gpointer data);

/* The names of an array of structs that start with a `const char *name` (boards, slots, components, releases, parts),
 * NULL-terminated, for loader_unknown(). Transfer container. */
const char **names_of (const GPtrArray *things);
/* Keys of a table of interned names, sorted, NULL-terminated. Transfer container. */
const char **sorted_keys (GHashTable *table);
gboolean names_have (const GPtrArray *names, const char *name);

#endif
