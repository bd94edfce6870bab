/* SPDX-License-Identifier: MIT */
/* Offers: gathered once per board, then asked for every expression of the book. */
#include "book/offers.h"

#include "book/reader.h"

#include <string.h>

#define MOST_VERSIONS_NAMED 8

/* One name that a board can offer. */
typedef struct {
    gboolean bare;       /* offered without a version */
    GPtrArray *versions; /* interned; owned */
} Offered;

struct Offers {
    const Loader *loader; /* borrowed */
    GPtrArray *tables;    /* per board of the book: GHashTable, interned name -> Offered* */
    const char **names;   /* owned: all names of all boards, sorted */
};

static void
free_offered (gpointer data)
{
    Offered *offered = data;
    g_ptr_array_unref (offered->versions);
    g_free (offered);
}

static void
unref_table (gpointer data)
{
    g_hash_table_unref (data);
}

/* ---- Gathering ---- */

static void
offer (GHashTable *table, const char *name, const char *version)
{
    Offered *offered = g_hash_table_lookup (table, name);
    if (!offered) {
        offered = g_new0 (Offered, 1);
        offered->versions = g_ptr_array_new ();
        g_hash_table_insert (table, (gpointer) name, offered);
    }
    if (!version)
        offered->bare = TRUE;
    else if (!names_have (offered->versions, version))
        g_ptr_array_add (offered->versions, (gpointer) version);
}

static void
offer_all (GHashTable *table, GArray *provides)
{
    for (guint i = 0; i < provides->len; i++) {
        const Provide *provide = &g_array_index (provides, Provide, i);
        offer (table, provide->name, provide->version);
    }
    g_array_set_size (provides, 0);
}

static gboolean
board_takes (const Board *board, PartKind kind)
{
    for (guint i = 0; i < board->slots->len; i++)
        if (board_slot (board, i)->takes == kind)
            return TRUE;
    return FALSE;
}

static void
offer_part (GHashTable *table, const Part *part, GArray *provides)
{
    for (guint i = 0; i < MAX (part->steppings->len, 1); i++) {
        part_each_provide (part, part->steppings->len ? g_ptr_array_index (part->steppings, i) : NULL, provides);
        offer_all (table, provides);
    }
}

static GHashTable *
table_of_board (const Book *book, const Board *board)
{
    GHashTable *table = g_hash_table_new_full (NULL, NULL, NULL, free_offered);
    g_autoptr (GArray) provides = g_array_new (FALSE, FALSE, sizeof (Provide));
    for (guint i = 0; i < board->revisions->len; i++)
        board_each_provide (board, i, provides);
    for (guint i = 0; i < board->components->len; i++) {
        const Component *component = board_component (board, i);
        for (guint j = 0; j < component->releases->len; j++)
            release_each_provide (component, component_release (component, j), provides);
    }
    offer_all (table, provides);
    for (guint i = 0; i < board->slots->len; i++)
        offer (table, board_slot (board, i)->name, NULL);
    for (guint i = 0; i < book->parts->len; i++) {
        const Part *part = g_ptr_array_index (book->parts, i);
        if (board_takes (board, part->kind))
            offer_part (table, part, provides);
    }
    /* A kind can be asked for whether or not this book has such a part. */
    for (int kind = 0; kind < KIND_COUNT; kind++)
        offer (table, g_intern_string (part_kind_name ((PartKind) kind)), NULL);
    return table;
}

Offers *
offers_new (const Loader *loader)
{
    const Book *book = &loader->library->book;
    Offers *offers = g_new0 (Offers, 1);
    offers->loader = loader;
    offers->tables = g_ptr_array_new_with_free_func (unref_table);
    g_autoptr (GHashTable) names = g_hash_table_new (NULL, NULL);
    for (guint i = 0; i < book->boards->len; i++) {
        GHashTable *table = table_of_board (book, g_ptr_array_index (book->boards, i));
        g_ptr_array_add (offers->tables, table);
        GHashTableIter iter;
        gpointer name;
        g_hash_table_iter_init (&iter, table);
        while (g_hash_table_iter_next (&iter, &name, NULL))
            g_hash_table_add (names, name);
    }
    offers->names = sorted_keys (names);
    return offers;
}

void
offers_free (Offers *offers)
{
    if (!offers)
        return;
    g_ptr_array_unref (offers->tables);
    g_free (offers->names);
    g_free (offers);
}

/* ---- Names ---- */

typedef struct {
    const Offers *offers;
    const GPtrArray *boards; /* on which the expression is to hold */
    NamesAsked asked;
} NameCheck;

static gboolean
name_is_offered (const Offers *offers, const char *name)
{
    for (guint i = 0; i < offers->tables->len; i++)
        if (g_hash_table_contains (g_ptr_array_index (offers->tables, i), name))
            return TRUE;
    return FALSE;
}

/* A name of two words is lost when its value is: `socket S1840` with the part that says so. */
static gboolean
name_is_lost (const Offers *offers, const char *name)
{
    const char *space = strchr (name, ' ');
    return loader_has_lost (offers->loader, space ? space + 1 : name);
}

/* The name that was meant; NULL when none is near. Of a name of two words only the second may be wrong where the first
 * is right: `board heron-4s` is not near `board wren-2s`. Transfer full. */
static char *
nearest_name (const Offers *offers, const char *name)
{
    const char *space = strchr (name, ' ');
    g_autofree char *kind = space ? g_strndup (name, (gsize) (space - name) + 1) : g_strdup ("");
    g_autoptr (GPtrArray) values = g_ptr_array_new ();
    for (guint i = 0; space && offers->names[i]; i++)
        if (g_str_has_prefix (offers->names[i], kind))
            g_ptr_array_add (values, (gpointer) (offers->names[i] + strlen (kind)));
    g_ptr_array_add (values, NULL);
    if (values->len > 1) {
        const char *value = text_nearest (name + strlen (kind), (const char *const *) values->pdata);
        return value ? g_strconcat (kind, value, NULL) : NULL;
    }
    return g_strdup (text_nearest (name, offers->names));
}

static void
complain_of_name (const NameCheck *check, const Expr *atom)
{
    if (name_is_lost (check->offers, atom->name))
        return;
    g_autofree char *nearest = nearest_name (check->offers, atom->name);
    if (!nearest && check->asked == NAMES_NOT_MISSPELT)
        return;
    g_autofree char *expected = nearest ? g_strdup_printf ("did you mean %s?", nearest) : NULL;
    complaints_add (check->offers->loader->complaints, atom->at,
                    expected ? expected : "expected a board, component, part, slot or fact that the book has",
                    "nothing in the book is \"%s\"", atom->name);
}

static gboolean
component_knows (const Loader *loader, const Component *component, const char *version)
{
    if (g_hash_table_contains (loader->damaged, component))
        return TRUE;
    return component->scheme == VERSIONS_LISTED ? component_find_release (component, version) >= 0
                                                : !version_problem (component->scheme, version);
}

static void
complain_of_version (Loader *loader, const Component *component, const Expr *atom)
{
    const char *problem = version_problem (component->scheme, atom->version);
    if (problem) {
        g_autofree char *expected = g_strdup_printf ("expected %s", problem);
        complaints_add (loader->complaints, atom->at, expected, "\"%s\" is no version under the scheme of %s",
                        atom->version, component->name);
        return;
    }
    g_autofree const char **known = names_of (component->releases);
    loader_unknown (loader, atom->at, "release", atom->version, component->name, known);
}

/* Boards may have different firmware under one name: a version that one of them knows will do. */
static void
check_component_version (const NameCheck *check, const Expr *atom)
{
    const Component *unknowing = NULL;
    for (guint i = 0; i < check->boards->len; i++) {
        const Board *board = g_ptr_array_index (check->boards, i);
        int index = board_find_component (board, atom->name);
        const Component *component = index < 0 ? NULL : board_component (board, (guint) index);
        if (component && component_knows (check->offers->loader, component, atom->version))
            return;
        if (component && !unknowing)
            unknowing = component;
    }
    if (unknowing)
        complain_of_version ((Loader *) check->offers->loader, unknowing, atom);
}

static void
check_revision (const Offers *offers, const Board *board, const Expr *atom)
{
    if (board_find_revision (board, atom->version) >= 0 || g_hash_table_contains (offers->loader->damaged, board))
        return;
    g_autoptr (GPtrArray) known = g_ptr_array_new ();
    for (guint i = 0; i < board->revisions->len; i++)
        g_ptr_array_add (known, g_ptr_array_index (board->revisions, i));
    g_ptr_array_add (known, NULL);
    g_autofree char *whole = g_strdup_printf ("board %s", board->name);
    loader_unknown ((Loader *) offers->loader, atom->at, "revision", atom->version, whole,
                    (const char *const *) known->pdata);
}

static void
check_name (const Expr *atom, gpointer data)
{
    const NameCheck *check = data;
    const Book *book = &check->offers->loader->library->book;
    if (!name_is_offered (check->offers, atom->name)) {
        complain_of_name (check, atom);
        return;
    }
    if (atom->op == OP_ANY)
        return;
    check_component_version (check, atom);
    const Board *board =
        g_str_has_prefix (atom->name, "board ") ? book_find_board (book, atom->name + strlen ("board ")) : NULL;
    if (board)
        check_revision (check->offers, board, atom);
}

gboolean
offers_check_names (const Offers *offers, const GPtrArray *boards, const Expr *expr, NamesAsked asked)
{
    NameCheck check = { offers, boards, asked };
    guint before = complaints_count (offers->loader->complaints);
    if (offers->tables->len)
        expression_each_atom (expr, check_name, &check);
    return complaints_count (offers->loader->complaints) == before;
}

/* ---- What can hold ---- */

typedef struct {
    const Offers *offers;
    const Board *board;
    const Expr *fault; /* the first atom that cannot hold */
} Hope;

/* What could not be read might have offered it. */
static gboolean
may_be_unread (const Offers *offers, const Board *board, const Expr *atom)
{
    const Loader *loader = offers->loader;
    int component = board_find_component (board, atom->name);
    if (component >= 0)
        return g_hash_table_contains (loader->damaged, board_component (board, (guint) component));
    return g_hash_table_size (loader->damaged) > 0 || name_is_lost (offers, atom->name);
}

static gboolean
atom_can_hold (const Offers *offers, const Board *board, const Expr *atom)
{
    guint index;
    if (!g_ptr_array_find (offers->loader->library->book.boards, board, &index))
        return TRUE;
    const Offered *offered = g_hash_table_lookup (g_ptr_array_index (offers->tables, index), atom->name);
    if (offered && atom->op == OP_ANY)
        return TRUE;
    for (guint i = 0; offered && i < offered->versions->len; i++)
        if (board_version_answers (board, atom, g_ptr_array_index (offered->versions, i)))
            return TRUE;
    return may_be_unread (offers, board, atom);
}

static gboolean
can_hold (Hope *hope, const Expr *expr)
{
    switch (expr->kind) {
    case EXPR_ATOM: {
        gboolean can = atom_can_hold (hope->offers, hope->board, expr);
        if (!can && !hope->fault)
            hope->fault = expr;
        return can;
    }
    case EXPR_AND:
        return can_hold (hope, expr->left) && can_hold (hope, expr->right);
    case EXPR_OR:
        return can_hold (hope, expr->left) || can_hold (hope, expr->right);
    case EXPR_IF:
        return TRUE;
    }
    g_assert_not_reached ();
}

/* NULL when it can hold on some board, else the first atom at fault on the first board. */
static const Expr *
find_fault (const Offers *offers, const GPtrArray *boards, const Expr *expr)
{
    const Expr *fault = NULL;
    for (guint i = 0; i < boards->len; i++) {
        Hope hope = { offers, g_ptr_array_index (boards, i), NULL };
        if (can_hold (&hope, expr))
            return NULL;
        if (!fault)
            fault = hope.fault;
    }
    return fault;
}

gboolean
offers_can_hold (const Offers *offers, const GPtrArray *boards, const Expr *expr)
{
    return !expr || !find_fault (offers, boards, expr);
}

/* "expected one that is offered: a, b, c"; NULL when no version of the name is. Transfer full. */
static char *
expected_versions (const Offers *offers, const GPtrArray *boards, const char *name)
{
    g_autoptr (GPtrArray) all = g_ptr_array_new ();
    for (guint i = 0; i < offers->tables->len; i++) {
        const Board *board = g_ptr_array_index (offers->loader->library->book.boards, i);
        const Offered *offered = g_hash_table_lookup (g_ptr_array_index (offers->tables, i), name);
        for (guint j = 0; offered && j < offered->versions->len; j++) {
            gpointer version = g_ptr_array_index (offered->versions, j);
            if (g_ptr_array_find ((GPtrArray *) boards, board, NULL) && !g_ptr_array_find (all, version, NULL))
                g_ptr_array_add (all, version);
        }
    }
    if (all->len == 0)
        return NULL;
    guint left_out = all->len > MOST_VERSIONS_NAMED ? all->len - MOST_VERSIONS_NAMED : 0;
    if (left_out)
        g_ptr_array_remove_range (all, 0, left_out); /* the newest tell most */
    g_ptr_array_add (all, NULL);
    g_autofree char *joined = g_strjoinv (", ", (char **) all->pdata);
    return g_strdup_printf ("expected a version that the book has: %s%s", left_out ? "..., " : "", joined);
}

void
offers_check_can_hold (const Offers *offers, const GPtrArray *boards, const Expr *expr)
{
    const Expr *fault = expr ? find_fault (offers, boards, expr) : NULL;
    if (!fault)
        return;
    g_autofree char *text = expression_to_string (fault);
    g_autofree char *expected = fault->op == OP_ANY ? NULL : expected_versions (offers, boards, fault->name);
    complaints_add (offers->loader->complaints, fault->at,
                    expected ? expected : "expected something that can stand on the same board",
                    "nothing in the book could be %s", text);
}
