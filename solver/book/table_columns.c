/* SPDX-License-Identifier: MIT */
/* The header of a table of units: which column is what. */
#include "book/table_columns.h"

#include <string.h>

/* In the order of ColumnRole. */
static const char *const fixed_words[] = { "unit",     "board",          "revision", "note",          "becomes", "due",
                                           "priority", "own parts stay", "made",     "written since", "failed",  NULL };

G_STATIC_ASSERT (G_N_ELEMENTS (fixed_words) == COLUMN_THING + 1);

/* What may follow a slot's or component's name. */
typedef struct {
    const char *word;
    ColumnRole role;
    gboolean of_slot;
} Suffix;

static const Suffix suffixes[] = {
    { " floor", COLUMN_FLOOR, FALSE },
    { " label", COLUMN_LABEL, FALSE },
    { " serial", COLUMN_SERIAL, TRUE },
    { " insertions", COLUMN_INSERTIONS, TRUE },
};

/* ---- Slots and components of all boards ---- */

typedef struct {
    GPtrArray *slots, *components; /* interned, each once; owned */
} Things;

static void
add_names (const GPtrArray *things, GHashTable *seen, GPtrArray *out)
{
    for (guint i = 0; i < things->len; i++) {
        const char *name = *(const char *const *) g_ptr_array_index (things, i);
        if (g_hash_table_add (seen, (gpointer) name))
            g_ptr_array_add (out, (gpointer) name);
    }
}

static Things
things_of_all_boards (const Loader *loader)
{
    const GPtrArray *boards = loader->library->book.boards;
    g_autoptr (GHashTable) slots = g_hash_table_new (NULL, NULL);
    g_autoptr (GHashTable) components = g_hash_table_new (NULL, NULL);
    Things things = { g_ptr_array_new (), g_ptr_array_new () };
    for (guint i = 0; i < boards->len; i++) {
        const Board *board = g_ptr_array_index (boards, i);
        add_names (board->slots, slots, things.slots);
        add_names (board->components, components, things.components);
    }
    return things;
}

static void
things_clear (Things *things)
{
    g_ptr_array_unref (things->slots);
    g_ptr_array_unref (things->components);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Things, things_clear)

/* As the book writes it: the name just so, else one that differs in capitals alone. NULL when there is none. */
static const char *
find_name (const GPtrArray *names, const char *text, gsize length)
{
    const char *alike = NULL;
    for (guint i = 0; i < names->len; i++) {
        const char *name = g_ptr_array_index (names, i);
        if (strlen (name) != length || g_ascii_strncasecmp (name, text, length) != 0)
            continue;
        if (strncmp (name, text, length) == 0)
            return name;
        alike = name;
    }
    return alike;
}

/* ---- One column ---- */

/* Without the spaces around it, and one space (no line break either) between words. Transfer full. */
static char *
plain_words (const char *text)
{
    GString *out = g_string_new (NULL);
    g_auto (GStrv) words = g_strsplit_set (text, " \t\r\n", -1);
    for (guint i = 0; words[i]; i++)
        if (*words[i])
            g_string_append_printf (out, "%s%s", out->len ? " " : "", words[i]);
    return g_string_free (out, FALSE);
}

static gboolean
take_fixed (const char *text, Column *out)
{
    for (guint role = 0; fixed_words[role]; role++)
        if (g_ascii_strcasecmp (text, fixed_words[role]) == 0) {
            *out = (Column){ (ColumnRole) role, g_intern_static_string (fixed_words[role]), NULL };
            return TRUE;
        }
    return FALSE;
}

static gboolean
take_thing (const Things *things, const char *text, Column *out)
{
    const char *name = find_name (things->slots, text, strlen (text));
    name = name ? name : find_name (things->components, text, strlen (text));
    if (name)
        *out = (Column){ COLUMN_THING, name, name };
    return name != NULL;
}

static gboolean
take_with_suffix (const Things *things, const char *text, Column *out)
{
    gsize length = strlen (text);
    for (guint i = 0; i < G_N_ELEMENTS (suffixes); i++) {
        const Suffix *suffix = &suffixes[i];
        gsize tail = strlen (suffix->word);
        if (length <= tail || g_ascii_strcasecmp (text + length - tail, suffix->word) != 0)
            continue;
        const char *name = find_name (suffix->of_slot ? things->slots : things->components, text, length - tail);
        if (!name)
            continue;
        g_autofree char *whole = g_strconcat (name, suffix->word, NULL);
        *out = (Column){ suffix->role, g_intern_string (whole), name };
        return TRUE;
    }
    return FALSE;
}

/* ---- Complaints ---- */

/* Every name that a column may have. Transfer full. */
static GPtrArray *
known_columns (const Things *things)
{
    GPtrArray *known = g_ptr_array_new_with_free_func (g_free);
    for (guint i = 0; fixed_words[i]; i++)
        g_ptr_array_add (known, g_strdup (fixed_words[i]));
    for (guint i = 0; i < things->slots->len; i++)
        g_ptr_array_add (known, g_strdup (g_ptr_array_index (things->slots, i)));
    for (guint i = 0; i < things->components->len; i++)
        g_ptr_array_add (known, g_strdup (g_ptr_array_index (things->components, i)));
    for (guint s = 0; s < G_N_ELEMENTS (suffixes); s++) {
        const GPtrArray *names = suffixes[s].of_slot ? things->slots : things->components;
        for (guint i = 0; i < names->len; i++)
            g_ptr_array_add (known, g_strconcat (g_ptr_array_index (names, i), suffixes[s].word, NULL));
    }
    g_ptr_array_add (known, NULL);
    return known;
}

/* A needed column that was meant, and misspelt, is not missing as well. */
static void
complain_of_column (Loader *loader, const Things *things, const Cell *cell, const char *text, gboolean *met)
{
    g_autoptr (GPtrArray) known = known_columns (things);
    const char *nearest = text_nearest (text, (const char *const *) known->pdata);
    loader_unknown (loader, cell->at, "column", text, "a table of units", (const char *const *) known->pdata);
    loader_lose_text (loader, text, text + strlen (text));
    for (guint role = 0; nearest && fixed_words[role]; role++)
        met[role] = met[role] || strcmp (nearest, fixed_words[role]) == 0;
}

static gboolean
is_given_twice (Loader *loader, const GArray *columns, const Column *column, const TableRow *header, Mark at)
{
    for (guint i = 0; i < columns->len; i++) {
        if (g_array_index (columns, Column, i).name != column->name)
            continue;
        Mark first = g_array_index (header->cells, Cell, i).at;
        g_autofree char *expected =
            g_strdup_printf ("expected it once; the first is at %s:%u:%u", first.file, first.line, first.column);
        complaints_add (loader->complaints, at, expected, "column %s is given twice", column->name);
        return TRUE;
    }
    return FALSE;
}

/* ---- The header ---- */

GArray *
columns_read (Loader *loader, const TableRow *header)
{
    g_auto (Things) things = things_of_all_boards (loader);
    g_autoptr (GArray) columns = g_array_new (FALSE, TRUE, sizeof (Column));
    gboolean met[COLUMN_BLANK + 1] = { FALSE };
    gboolean right = TRUE;
    for (guint i = 0; i < header->cells->len; i++) {
        const Cell *cell = &g_array_index (header->cells, Cell, i);
        g_autofree char *text = plain_words (cell->text);
        Column column = { .role = COLUMN_BLANK };
        if (*text && !take_fixed (text, &column) && !take_thing (&things, text, &column) &&
            !take_with_suffix (&things, text, &column)) {
            complain_of_column (loader, &things, cell, text, met);
            right = FALSE;
        } else if (*text && is_given_twice (loader, columns, &column, header, cell->at))
            right = FALSE;
        met[column.role] = TRUE;
        g_array_append_val (columns, column);
    }
    for (guint role = 0; role <= COLUMN_LAST_NEEDED; role++)
        if (!met[role]) {
            g_autofree char *expected = g_strdup_printf ("expected \"%s\" among the names in the first line",
                                                         fixed_words[role]);
            complaints_add (loader->complaints, header->at, expected, "this table has no column \"%s\"",
                            fixed_words[role]);
            right = FALSE;
        }
    return right ? g_steal_pointer (&columns) : NULL;
}
