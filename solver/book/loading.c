/* SPDX-License-Identifier: MIT */
/* Loading: files to documents, documents to a library, each kind after those that it refers to. */
#include "book/attributes.h"
#include "book/files.h"
#include "book/library.h"
#include "book/read.h"

#include <string.h>

/* In the order of DocumentKind. */
static const char *const document_words[] = { "book",  "rules",  "cautions", "unit",  "want", "shop",
                                              "route", "record", "looks",    "signs", "seen", NULL };

G_STATIC_ASSERT (G_N_ELEMENTS (document_words) == DOCUMENT_COUNT + 1);

/* ---- Documents ---- */

/* What a document is, by its first key; DOCUMENT_COUNT after a complaint. */
static DocumentKind
document_kind (Loader *loader, const Node *root)
{
    static const char expected_first[] =
        "expected book, rules, cautions, unit, want, shop, route, record, looks, signs or seen as the first key";
    if (root->kind != NODE_MAP || root->keys->len == 0) {
        if (root->kind == NODE_MAP)
            loader_complain (loader, root, expected_first, "this document has no keys");
        else
            complain_of_kind (loader, root, "this document", expected_first);
        return DOCUMENT_COUNT;
    }
    const Node *first = g_ptr_array_index (root->keys, 0);
    for (int kind = 0; kind < DOCUMENT_COUNT; kind++)
        if (strcmp (first->text, document_words[kind]) == 0)
            return (DocumentKind) kind;
    const char *nearest = text_nearest (first->text, document_words);
    g_autofree char *expected = nearest ? g_strdup_printf ("did you mean %s?", nearest) : g_strdup (expected_first);
    loader_complain (loader, first, expected, "a document cannot start with \"%s\"", first->text);
    loader_lose_node (loader, root);
    loader->lost_unit = TRUE; /* it may have been one */
    return DOCUMENT_COUNT;
}

static void
take_documents (Loader *loader, const char *path, const char *text, gsize length)
{
    const char *broken_from;
    complaints_add_text (loader->complaints, path, text, length);
    g_autoptr (GPtrArray) roots = yaml_read (path, text, length, &broken_from, loader->complaints);
    for (guint i = 0; i < roots->len; i++) {
        Document *document = g_new0 (Document, 1);
        document->root = g_steal_pointer (&roots->pdata[i]);
        document->kind = document_kind (loader, document->root);
        g_ptr_array_add (loader->documents, document);
    }
    if (broken_from) {
        loader_lose_text (loader, broken_from, text + length);
        loader->lost_unit = TRUE;
    }
}

static void
take_table (Loader *loader, const char *path, const char *text, gsize length)
{
    guint before = complaints_count (loader->complaints);
    Table *table = g_new0 (Table, 1);
    table->file = g_intern_string (path);
    table->rows = table_read (path, text, length, loader->complaints);
    g_ptr_array_add (loader->tables, table);
    if (loader->row_complaints)
        complaints_add_text (loader->row_complaints, path, text, length);
    if (complaints_count (loader->complaints) > before)
        loader->lost_unit = TRUE; /* of the rows from the mistake on */
}

static void
take_file (Loader *loader, const char *path)
{
    gsize length;
    g_autofree char *text = files_read (path, &length, loader->complaints);
    if (!text)
        loader->unread_files = TRUE;
    else if (files_is_table (path))
        take_table (loader, path, text, length);
    else
        take_documents (loader, path, text, length);
}

/* ---- In the order in which one refers to the other ---- */

typedef void (*ReadDocument) (Loader *loader, const Node *root);

static void
read_each (Loader *loader, DocumentKind kind, ReadDocument read_document)
{
    for (guint i = 0; i < loader->documents->len; i++) {
        const Document *document = g_ptr_array_index (loader->documents, i);
        if (document->kind == kind)
            read_document (loader, document->root);
    }
}

/* The list under one key of a book, given to its reader. */
static void
read_book_list (Loader *loader, const Node *root, const char *key, ReadDocument read_list)
{
    for (guint i = 0; i < root->keys->len; i++)
        if (strcmp (((const Node *) g_ptr_array_index (root->keys, i))->text, key) == 0)
            read_list (loader, g_ptr_array_index (root->items, i));
}

static void
read_book_boards (Loader *loader, const Node *root)
{
    read_book_list (loader, root, "boards", read_boards);
}

static void
read_book_parts (Loader *loader, const Node *root)
{
    read_book_list (loader, root, "parts", read_parts);
}

static void
read_book_firmware (Loader *loader, const Node *root)
{
    read_book_list (loader, root, "firmware", read_firmware);
}

static void
read_all (Loader *loader, const char *const *want_items, const char *const *seen_items)
{
    attributes_know_usual (loader);
    read_each (loader, DOCUMENT_BOOK, read_book_head);
    read_each (loader, DOCUMENT_RULES, read_rules); /* they name attributes, which parts and boards state */
    read_each (loader, DOCUMENT_BOOK, read_book_boards);
    read_each (loader, DOCUMENT_BOOK, read_book_parts);
    read_each (loader, DOCUMENT_BOOK, read_book_firmware);
    resolve_book (loader);
    resolve_rules (loader);
    read_each (loader, DOCUMENT_CAUTIONS, read_cautions);
    read_each (loader, DOCUMENT_LOOKS, read_looks);
    read_each (loader, DOCUMENT_SIGNS, read_signs); /* they name causes, rules and boards */
    read_each (loader, DOCUMENT_SHOP, read_shop);
    read_each (loader, DOCUMENT_UNIT, read_unit);
    read_tables (loader);
    read_each (loader, DOCUMENT_WANT, read_want);
    read_each (loader, DOCUMENT_ROUTE, read_route);
    read_each (loader, DOCUMENT_RECORD, read_record);
    read_each (loader, DOCUMENT_SEEN, read_seen);
    read_want_items (loader, want_items);
    read_seen_items (loader, seen_items);
}

/* Takes over the loader. */
static Library *
load (Loader *owned, const char *const *paths, const char *const *want_items, const char *const *seen_items)
{
    g_autoptr (Loader) loader = owned;
    g_autoptr (GPtrArray) files = files_list (paths, &loader->unread_files, loader->complaints);
    for (guint i = 0; i < files->len; i++)
        take_file (loader, g_ptr_array_index (files, i));
    read_all (loader, want_items, seen_items);
    if (loader->for_batch && !loader->for_one)
        check_each_has_want (loader);
    return loader->library;
}

Library *
library_load (const char *const *paths, const char *const *want_items, Complaints *complaints)
{
    return load (loader_new (complaints), paths, want_items, NULL);
}

Library *
library_load_seen (const char *const *paths, const char *const *want_items, const char *const *seen_items,
                   Complaints *complaints)
{
    return load (loader_new (complaints), paths, want_items, seen_items);
}

Library *
library_load_rows (const char *const *paths, const char *const *want_items, const char *const *seen_items,
                   Complaints *complaints, Complaints *row_complaints)
{
    Loader *loader = loader_new (complaints);
    loader->row_complaints = row_complaints;
    loader->for_batch = TRUE;
    return load (loader, paths, want_items, seen_items);
}

Library *
library_load_one_of_rows (const char *const *paths, const char *const *want_items, const char *const *seen_items,
                          const char *unit, Complaints *complaints, Complaints *row_complaints)
{
    Loader *loader = loader_new (complaints);
    loader->row_complaints = row_complaints;
    loader->for_batch = loader->for_one = TRUE;
    loader->asked = unit ? g_intern_string (unit) : NULL;
    return load (loader, paths, want_items, seen_items);
}
