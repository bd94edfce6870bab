/* SPDX-License-Identifier: MIT */
#include "reports/batch_rows.h"

#define MOST_ROWS 20

/* ---- Finding them ---- */

static void
left_row_free (gpointer data)
{
    BatchLeftRow *row = data;

    g_free (row->what);
    g_free (row->expected);
    g_free (row);
}

static char *
line_key (const char *file, guint line)
{
    return g_strdup_printf ("%u %s", line, file);
}

/* char* of every line -> RowLeftOut*, borrowed. Transfer full. */
static GHashTable *
rows_by_line (const GArray *rows)
{
    GHashTable *by_line = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

    for (guint i = 0; i < rows->len; i++) {
        RowLeftOut *row = &g_array_index (rows, RowLeftOut, i);

        for (guint line = row->at.line; line <= row->last_line; line++)
            g_hash_table_insert (by_line, line_key (row->at.file, line), row);
    }
    return by_line;
}

static BatchLeftRow *
left_row_new (const RowLeftOut *row, const Complaint *first)
{
    BatchLeftRow *left = g_new0 (BatchLeftRow, 1);

    *left = (BatchLeftRow){ .line = row->at.line,
                            .unit = row->unit,
                            .at = first->at,
                            .what = g_strdup (first->what),
                            .expected = g_strdup (first->expected) };
    return left;
}

GPtrArray *
batch_rows_left_out (const Library *library, Complaints *in_rows)
{
    GPtrArray *all = g_ptr_array_new_with_free_func (left_row_free);
    g_autoptr (GHashTable) by_line = rows_by_line (library->left_out);
    g_autoptr (GHashTable) met = g_hash_table_new (NULL, NULL); /* RowLeftOut* -> BatchLeftRow* */

    for (guint i = 0; i < complaints_count (in_rows); i++) {
        const Complaint *complaint = complaints_get (in_rows, i);
        g_autofree char *key = line_key (complaint->at.file, complaint->at.line);
        RowLeftOut *row = g_hash_table_lookup (by_line, key);
        BatchLeftRow *left = row == NULL ? NULL : g_hash_table_lookup (met, row);

        if (left != NULL)
            left->further++;
        if (row == NULL || left != NULL)
            continue;
        left = left_row_new (row, complaint);
        g_hash_table_insert (met, row, left);
        g_ptr_array_add (all, left);
    }
    return all;
}

guint
batch_count_rows (const BatchReport *report)
{
    return report->left_out == NULL ? 0 : report->left_out->len;
}

/* ---- Saying them ---- */

static void
say_row (Paper *paper, const BatchLeftRow *row)
{
    g_autofree char *name =
        row->unit != NULL ? g_strdup (row->unit) : g_strdup_printf ("row at line %u", row->line);
    g_autofree char *further = words_count (row->further, "further mistake", "further mistakes");

    paper_say (paper, 2, 4, MARK_STRONG "%s" MARK_PLAIN " (%s:%u:%u): %s%s%s%s%s%s", name, row->at.file, row->at.line,
               row->at.column, row->what, row->expected == NULL ? "" : "; ", row->expected == NULL ? "" : row->expected,
               row->further == 0 ? "" : " (and ", row->further == 0 ? "" : further, row->further == 0 ? "" : ")");
}

void
batch_say_rows (Paper *paper, const BatchView *view)
{
    const guint count = batch_count_rows (view->report);

    if (count == 0)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_BAD "Rows of a table left out" MARK_PLAIN);
    for (guint i = 0; i < count && i < MOST_ROWS; i++)
        say_row (paper, view->report->left_out->pdata[i]);
    if (count > MOST_ROWS)
        paper_say (paper, 2, 4, "and %u more: the JSON has them all", count - MOST_ROWS);
}

json_t *
batch_rows_to_json (const BatchView *view)
{
    json_t *list = json_array ();

    for (guint i = 0; i < batch_count_rows (view->report); i++) {
        const BatchLeftRow *row = view->report->left_out->pdata[i];
        json_t *entry = json_object ();

        json_set_text (entry, "file", row->at.file);
        json_object_set_new (entry, "line", json_integer (row->at.line));
        json_object_set_new (entry, "column", json_integer (row->at.column));
        json_set_text (entry, "unit", row->unit);
        json_set_text (entry, "what", row->what);
        json_set_text (entry, "expected", row->expected);
        json_object_set_new (entry, "further", json_integer (row->further));
        json_array_append_new (list, entry);
    }
    return list;
}
