/* SPDX-License-Identifier: MIT */
/* Read: one function per kind of document or entry, each taking nodes and filling the loader's library. They are called
 * in the order in which they depend on one another, over all files (loading.c). */
#ifndef RUNGWISE_READ_H
#define RUNGWISE_READ_H

#include "book/reader.h"

void read_rules (Loader *loader, const Node *root);
void read_cautions (Loader *loader, const Node *root);
void read_looks (Loader *loader, const Node *root);
/* Rules and looks have been read. */
void read_signs (Loader *loader, const Node *root);

/* A book's own keys; its title, attributes and generations are read at once. */
void read_book_head (Loader *loader, const Node *root);
void read_boards (Loader *loader, const Node *list);
void read_parts (Loader *loader, const Node *list);
void read_firmware (Loader *loader, const Node *list);
/* What refers across entries: docs/files.md, "Errors", from "a name that refers to nothing" on. */
void resolve_book (Loader *loader);
void resolve_rules (Loader *loader);

void read_shop (Loader *loader, const Node *root);
void read_unit (Loader *loader, const Node *root);
/* Units as rows, each read as a unit's document. Those of documents have been read. */
void read_tables (Loader *loader);
/* What a shop works: an array of Shift. NULL after a complaint, or with a NULL node. Transfer full. */
GArray *read_shifts (Loader *loader, const Node *node);
void read_want (Loader *loader, const Node *root);
/* Wants of a command line; `items` is NULL-terminated. */
void read_want_items (Loader *loader, const char *const *items);
void read_route (Loader *loader, const Node *root);
/* Its unit has been read. */
void read_record (Loader *loader, const Node *root);
/* Units have been read. */
void read_seen (Loader *loader, const Node *root);
/* Observations of a command line; `items` is NULL-terminated. */
void read_seen_items (Loader *loader, const char *const *items);

/* Complains of each unit that has no want or several, and leaves such rows out. Wants have been read. */
void check_each_has_want (Loader *loader);

/* ---- Shared among them ---- */

/* NULL after a complaint, or with a NULL node. */
const Board *read_board_name (Loader *loader, const Node *node);

/* A part and its stepping in a slot of this kind (KIND_COUNT: any). `stepping` nullable. NULL part after a complaint.
 */
const Part *read_part_name (Loader *loader, const Node *node, PartKind kind);
/* The stepping meant: the one written, or the part's only one (NULL where it has none). `at` is where it should stand.
 * FALSE after a complaint. */
gboolean read_stepping (Loader *loader, const Part *part, const Node *node, const Node *at, const char **out);
/* Slot or component by name; -1 after a complaint. */
int read_slot_name (Loader *loader, const Board *board, const Node *node);
int read_component_name (Loader *loader, const Board *board, const Node *node);
/* Release by name; -1 after a complaint. */
int read_release_name (Loader *loader, const Component *component, const Node *node);
/* As read_release_name(), but any well-formed version will do: the first release at or above it. */
int read_release_at_or_above (Loader *loader, const Component *component, const Node *node);
/* FALSE after a complaint: an atom over a component's releases names another thing, or a version that is none. */
gboolean check_release_expression (Loader *loader, const Component *component, const Expr *expr);
/* Which releases of a component an expression over it allows. */
gboolean release_answers (const Component *component, const Expr *expr, guint release);
/* The unit of this id; `node` is where it is named. NULL after a complaint, or with a NULL `id`. */
const Unit *read_unit_name (Loader *loader, const Node *node, const char *id);
/* A step written out. FALSE after a complaint. */
gboolean read_step (Loader *loader, const Board *board, const Node *node, Step *out);
/* The boards that a want or route of this file may be about (GPtrArray of const Board*): those of the units in the same
 * file; without any there, of all units; without any at all, the book's only board. Transfer container. */
GPtrArray *boards_for_file (const Loader *loader, const char *file);
/* Complains that these are none or several. */
void complain_of_boards (Loader *loader, const GPtrArray *boards, Mark at, const char *what);
/* Reads a document for the one board that it may be about; of several, for the first one that it suits. `board` is NULL
 * after a complaint that there is none; then only what needs no board is looked at. */
typedef void (*ReadForBoard) (Loader *loader, const Node *root, const Board *board);
/* Whether reading for this board goes without a complaint. Leaves nothing behind. */
typedef void (*TryForBoard) (Loader *loader, const Board *board, gconstpointer data);
gboolean reads_well (Loader *loader, const Board *board, TryForBoard try_board, gconstpointer data);
void read_for_board (Loader *loader, const Node *root, const char *what, ReadForBoard read_document);

#endif
