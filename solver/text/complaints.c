/* SPDX-License-Identifier: MIT */
/* Complaints: every mistake found in one run, kept apart by place and told in the order of the files. */
#include "text/text.h"

#include <string.h>

/* A line longer than this is shown as a window around the caret: JSON may stand on one line of any length. */
#define SHOWN_CHARACTERS 110

struct Complaints {
    GPtrArray *items;  /* Complaint*, owned */
    GHashTable *ranks; /* interned file name -> 1 + its position in the order in which files were met */
    GHashTable *lines; /* interned file name -> GPtrArray of char*, owned: the lines of a file */
    GHashTable *seen;  /* char*, owned: place and sentence of each complaint, to keep repeats out */
    gboolean sorted;
};

static void
complaint_free (gpointer data)
{
    Complaint *complaint = data;
    g_free (complaint->what);
    g_free (complaint->expected);
    g_free (complaint->line);
    g_free (complaint);
}

static void
unref_lines (gpointer data)
{
    g_ptr_array_unref (data);
}

Complaints *
complaints_new (void)
{
    Complaints *list = g_new0 (Complaints, 1);
    list->items = g_ptr_array_new_with_free_func (complaint_free);
    list->ranks = g_hash_table_new (NULL, NULL);
    list->lines = g_hash_table_new_full (NULL, NULL, NULL, unref_lines);
    list->seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    return list;
}

void
complaints_free (Complaints *list)
{
    if (!list)
        return;
    g_ptr_array_unref (list->items);
    g_hash_table_unref (list->ranks);
    g_hash_table_unref (list->lines);
    g_hash_table_unref (list->seen);
    g_free (list);
}

/* Position of a file among all files met; 0 for no file. */
static guint
rank_of (Complaints *list, const char *file)
{
    if (!file)
        return 0;
    guint rank = GPOINTER_TO_UINT (g_hash_table_lookup (list->ranks, file));
    if (!rank) {
        rank = g_hash_table_size (list->ranks) + 1;
        g_hash_table_insert (list->ranks, (gpointer) file, GUINT_TO_POINTER (rank));
    }
    return rank;
}

/* Bytes of the line break at `text`, 0 when there is none. These are the breaks of YAML 1.1, so that line numbers
 * agree with the parser's: LF, CR, CR LF, NEL, LS, PS. */
static gsize
line_break_length (const char *text, const char *end)
{
    const guchar *bytes = (const guchar *) text;
    gsize left = (gsize) (end - text);
    if (bytes[0] == '\n')
        return 1;
    if (bytes[0] == '\r')
        return left > 1 && bytes[1] == '\n' ? 2 : 1;
    if (left > 1 && bytes[0] == 0xc2 && bytes[1] == 0x85)
        return 2;
    if (left > 2 && bytes[0] == 0xe2 && bytes[1] == 0x80 && (bytes[2] == 0xa8 || bytes[2] == 0xa9))
        return 3;
    return 0;
}

void
complaints_add_text (Complaints *list, const char *file, const char *text, gsize length)
{
    GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
    const char *end = text + length;
    if (length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0)
        text += 3; /* the byte order mark has no column */
    const char *start = text;
    while (text < end) {
        gsize width = line_break_length (text, end);
        if (width) {
            g_ptr_array_add (lines, g_strndup (start, (gsize) (text - start)));
            start = text + width;
        }
        text += width ? width : 1;
    }
    g_ptr_array_add (lines, g_strndup (start, (gsize) (end - start)));
    file = g_intern_string (file);
    rank_of (list, file);
    g_hash_table_replace (list->lines, (gpointer) file, lines);
}

static char *
line_at (Complaints *list, Mark at)
{
    GPtrArray *lines = at.file ? g_hash_table_lookup (list->lines, at.file) : NULL;
    if (!lines || at.line == 0 || at.line > lines->len)
        return NULL;
    return g_utf8_make_valid (g_ptr_array_index (lines, at.line - 1), -1);
}

void
complaints_add (Complaints *list, Mark at, const char *expected, const char *format, ...)
{
    at.file = g_intern_string (at.file);
    va_list arguments;
    va_start (arguments, format);
    g_autofree char *what = g_strdup_vprintf (format, arguments);
    va_end (arguments);

    char *key = g_strdup_printf ("%s:%u:%u:%s", at.file ? at.file : "", at.line, at.column, what);
    if (!g_hash_table_add (list->seen, key))
        return;
    rank_of (list, at.file);
    Complaint *complaint = g_new0 (Complaint, 1);
    complaint->at = at;
    complaint->what = g_steal_pointer (&what);
    complaint->expected = g_strdup (expected);
    g_ptr_array_add (list->items, complaint);
    list->sorted = FALSE;
}

guint
complaints_count (const Complaints *list)
{
    return list->items->len;
}

static int
compare_places (gconstpointer a, gconstpointer b, gpointer data)
{
    const Complaint *left = *(Complaint *const *) a, *right = *(Complaint *const *) b;
    guint left_rank = rank_of (data, left->at.file), right_rank = rank_of (data, right->at.file);
    if (left_rank != right_rank)
        return left_rank < right_rank ? -1 : 1;
    if (left->at.line != right->at.line)
        return left->at.line < right->at.line ? -1 : 1;
    if (left->at.column != right->at.column)
        return left->at.column < right->at.column ? -1 : 1;
    return strcmp (left->what, right->what);
}

const Complaint *
complaints_get (Complaints *list, guint index)
{
    g_return_val_if_fail (index < list->items->len, NULL);
    if (!list->sorted)
        g_ptr_array_sort_with_data (list->items, compare_places, list);
    list->sorted = TRUE;
    Complaint *complaint = g_ptr_array_index (list->items, index);
    if (!complaint->line) /* only now: a long line with many mistakes would be copied for each */
        complaint->line = line_at (list, complaint->at);
    return complaint;
}

void
complaints_copy (Complaints *list, Complaints *from, guint index)
{
    const Complaint *other = complaints_get (from, index);
    guint before = list->items->len;
    complaints_add (list, other->at, other->expected, "%s", other->what);
    if (list->items->len > before)
        ((Complaint *) g_ptr_array_index (list->items, before))->line = g_strdup (other->line);
}

/* Appends the line and, under it, the caret. Tabs stay tabs in both, so that they line up on any screen. */
static void
append_caret (GString *out, const char *line, guint column)
{
    glong characters = g_utf8_strlen (line, -1);
    glong caret = MIN ((glong) column - 1, characters);
    glong first = 0, last = characters;
    if (characters > SHOWN_CHARACTERS) {
        first = CLAMP (caret - SHOWN_CHARACTERS / 2, 0, characters - SHOWN_CHARACTERS);
        last = first + SHOWN_CHARACTERS;
    }
    g_autoptr (GString) under = g_string_new ("    ");
    g_string_append (out, first > 0 ? "    ..." : "    ");
    g_string_append (under, first > 0 ? "   " : "");
    const char *at = g_utf8_offset_to_pointer (line, first);
    for (glong i = first; i < last; i++, at = g_utf8_next_char (at)) {
        gunichar character = g_utf8_get_char (at);
        gboolean shown = character == '\t' || g_unichar_isprint (character);
        g_string_append_unichar (out, shown ? character : '?');
        if (i < caret)
            g_string_append (under, character == '\t' ? "\t" : g_unichar_iswide (character) ? "  " : " ");
    }
    g_string_append (out, last < characters ? "...\n" : "\n");
    g_string_append_printf (out, "%s^\n", under->str);
}

static void
append_complaint (GString *out, const Complaint *complaint)
{
    if (complaint->at.file)
        g_string_append_printf (out, "%s:", complaint->at.file);
    if (complaint->at.line)
        g_string_append_printf (out, "%u:%u:", complaint->at.line, complaint->at.column);
    g_string_append_printf (out, "%s%s\n", complaint->at.file ? " " : "", complaint->what);
    if (complaint->line && *complaint->line)
        append_caret (out, complaint->line, complaint->at.column);
    if (complaint->expected)
        g_string_append_printf (out, "  %s\n", complaint->expected);
}

char *
complaints_to_string (Complaints *list, guint most)
{
    GString *out = g_string_new (NULL);
    guint shown = MIN (most, list->items->len);
    for (guint i = 0; i < shown; i++)
        append_complaint (out, complaints_get (list, i));
    guint left_out = list->items->len - shown;
    if (left_out)
        g_string_append_printf (out, "and %u more\n", left_out);
    return g_string_free (out, FALSE);
}
