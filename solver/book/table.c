/* SPDX-License-Identifier: MIT */
/* libcsv is fed byte by byte: it says what the cells are, and this file keeps count of where they stand. */
#include "book/table.h"

#include <csv.h>
#include <string.h>

#define BYTE_ORDER_MARK "\xEF\xBB\xBF"

typedef struct {
    GPtrArray *rows; /* being filled */
    TableRow *row;   /* being filled; NULL between rows */
    Mark here;       /* of the byte that is being read */
    Mark cell_at;    /* where the cell that is being read begins */
    gboolean begun;  /* ... and something but space was met of it */
    gboolean quoted; /* ... a quote first */
} Reader;

static void
clear_cell (gpointer cell)
{
    g_free (((Cell *) cell)->text);
}

static void
row_free (gpointer data)
{
    TableRow *row = data;

    g_array_unref (row->cells);
    g_free (row);
}

/* Spaces that do not break are spaces, and the apostrophe by which a spreadsheet is told that a cell is text is no part of the text.
 * `skipped` counts the characters that stood in front. Transfer full. */
static char *
plain_text (const char *text, gsize length, guint *skipped)
{
    static const char *const spaces[] = { "\xC2\xA0", "\xE2\x80\x87", "\xE2\x80\xAF" }; /* U+00A0, U+2007, U+202F */
    g_autofree char *whole = g_strndup (text, length);
    g_autoptr (GString) plain = g_string_new (whole);
    gsize front = 0;

    for (guint i = 0; i < G_N_ELEMENTS (spaces); i++)
        g_string_replace (plain, spaces[i], " ", 0);
    front = strspn (plain->str, " ");
    front += plain->str[front] == '\'' ? 1 : 0;
    *skipped = (guint) front;
    return g_strchomp (g_strdup (plain->str + front));
}

static void
end_cell (void *text, size_t length, void *data)
{
    Reader *reader = data;

    if (reader->row == NULL) {
        reader->row = g_new0 (TableRow, 1);
        reader->row->cells = g_array_new (FALSE, TRUE, sizeof (Cell));
        reader->row->at = reader->cell_at;
        g_array_set_clear_func (reader->row->cells, clear_cell);
    }
    Cell cell = { .at = reader->cell_at, .quoted = reader->quoted };
    cell.text = plain_text (text, length, &cell.skipped);
    g_array_append_val (reader->row->cells, cell);
}

static gboolean
row_is_blank (const TableRow *row)
{
    for (guint i = 0; i < row->cells->len; i++)
        if (g_array_index (row->cells, Cell, i).text[0] != '\0')
            return FALSE;
    return TRUE;
}

static void
end_row (int terminator, void *data)
{
    Reader *reader = data;

    (void) terminator;
    if (row_is_blank (reader->row))
        row_free (reader->row);
    else
        g_ptr_array_add (reader->rows, reader->row);
    reader->row = NULL;
}

/* Of comma, semicolon and tab, the one that the first line has most of outside quotes. */
static char
separator_of (const char *text, gsize length)
{
    static const char SEPARATORS[] = ",;\t";
    guint counts[3] = { 0 };
    guint best = 0;
    gboolean quoted = FALSE;

    for (gsize i = 0; i < length && (quoted || (text[i] != '\n' && text[i] != '\r')); i++) {
        const char *found = text[i] == '\0' ? NULL : strchr (SEPARATORS, text[i]);
        if (text[i] == '"')
            quoted = !quoted;
        else if (found != NULL && !quoted)
            counts[found - SEPARATORS]++;
    }
    for (guint s = 1; s < 3; s++)
        if (counts[s] > counts[best])
            best = s;
    return SEPARATORS[best];
}

/* The place of what follows `byte`. A carriage return ends a line only where no line feed follows. */
static Mark
after_byte (Mark at, char byte, char next)
{
    if (byte == '\n' || (byte == '\r' && next != '\n'))
        return (Mark){ at.file, at.line + 1, 1 };
    if (((guchar) byte & 0xC0) != 0x80) /* no further byte of a character */
        at.column++;
    return at;
}

/* FALSE where libcsv calls this byte a mistake. */
static gboolean
read_byte (Reader *reader, struct csv_parser *parser, char byte, char next)
{
    const guint cells = reader->row == NULL ? 0 : reader->row->cells->len, rows = reader->rows->len;
    /* Blank lines and space before a cell are no part of it. */
    gboolean between = !reader->begun && strchr (" \t\r\n", byte) != NULL && byte != '\0';
    if (!reader->begun)
        reader->quoted = byte == '"';
    gboolean taken = csv_parse (parser, &byte, 1, end_cell, end_row, reader) == 1;
    gboolean ended = rows != reader->rows->len || (reader->row == NULL ? 0 : reader->row->cells->len) != cells;
    Mark behind = after_byte (reader->here, byte, next);

    reader->begun = !ended && !between;
    if (ended || between)
        reader->cell_at = behind;
    reader->here = behind;
    return taken;
}

static void
read_all (Reader *reader, struct csv_parser *parser, const char *text, gsize length, Complaints *complaints)
{
    for (gsize i = 0; i < length; i++) {
        Mark at = reader->here;
        if (read_byte (reader, parser, text[i], i + 1 < length ? text[i + 1] : '\0'))
            continue;
        complaints_add (complaints, at, "expected a quote only around a whole cell, doubled where it stands in one",
                        "this quote neither opens nor closes a cell");
        return;
    }
    if (csv_fini (parser, end_cell, end_row, reader) != 0)
        complaints_add (complaints, reader->cell_at, "expected a closing quote before the end of the file",
                        "this cell opens a quote and never closes it");
}

/* FALSE after a complaint: a byte that is no text. */
static gboolean
is_text (const char *file, const char *text, gsize length, Complaints *complaints)
{
    const char *bad = NULL;
    Mark at = { g_intern_string (file), 1, 1 };

    if (g_utf8_validate (text, (gssize) length, &bad))
        return TRUE;
    for (const char *byte = text; byte < bad; byte++)
        at = after_byte (at, *byte, byte[1]);
    complaints_add (complaints, at, "expected a table saved as UTF-8", "this byte is not UTF-8 text");
    return FALSE;
}

GPtrArray *
table_read (const char *file, const char *text, gsize length, Complaints *complaints)
{
    const char *begin = text;
    gsize left = length;
    Reader reader = { .rows = g_ptr_array_new_with_free_func (row_free), .here = { g_intern_string (file), 1, 1 } };
    struct csv_parser parser;

    if (g_str_has_prefix (text, BYTE_ORDER_MARK)) {
        begin += strlen (BYTE_ORDER_MARK);
        left -= strlen (BYTE_ORDER_MARK);
    }
    complaints_add_text (complaints, file, begin, left);
    if (!is_text (file, begin, left, complaints))
        return reader.rows;
    reader.cell_at = reader.here;
    if (csv_init (&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0)
        g_error ("libcsv: no parser could be made");
    csv_set_delim (&parser, (unsigned char) separator_of (begin, left));
    read_all (&reader, &parser, begin, left, complaints);
    if (reader.row != NULL)
        row_free (reader.row);
    csv_free (&parser);
    return reader.rows;
}
