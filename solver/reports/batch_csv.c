/* SPDX-License-Identifier: MIT */
/* The timetable as a table: RFC 4180, UTF-8, a row a task, in order of time. */
#include "reports/batch_csv.h"

#include <string.h>

#include "reports/markup.h"

/* Quoted where it has to be. Of a book's text no control character gets through. */
static void
put_cell (GString *out, const char *text)
{
    g_autofree char *valid = g_utf8_make_valid (text, -1);
    gboolean quoted = strpbrk (valid, ",\"\r\n") != NULL;

    if (quoted)
        g_string_append_c (out, '"');
    for (const char *at = valid; *at != '\0'; at = g_utf8_next_char (at)) {
        if (*at == '"')
            g_string_append_c (out, '"');
        g_string_append_unichar (out, markup_clean (g_utf8_get_char (at)));
    }
    if (quoted)
        g_string_append_c (out, '"');
}

static void
put_time (const BatchView *view, gint64 time, const char *after, GString *out)
{
    g_autofree char *words = batch_time_words (view->clock, time);

    g_string_append (out, words);
    g_string_append (out, after);
}

static void
put_number (guint number, GString *out)
{
    if (number != G_MAXUINT)
        g_string_append_printf (out, "%u", number + 1);
    g_string_append_c (out, ',');
}

static void
put_row (const BatchView *view, guint number, GString *out)
{
    const BatchMoment *moment = &g_array_index (view->moments, BatchMoment, number);
    const BatchUnit *unit = view_unit (view, moment->unit);
    const BatchTask piece = view_piece (view, moment), *task = &piece;
    g_autofree char *what = batch_moment_words (view, moment);

    put_cell (out, unit->unit->id);
    g_string_append_printf (out, ",%u,%u,", number + 1, task->step + 1);
    put_cell (out, what);
    g_string_append_c (out, ',');
    put_number (task->technician, out);
    put_number (task->place, out);
    put_time (view, task->begins, ",", out);
    put_time (view, task->attended_until, ",", out);
    put_time (view, task->ends, "\r\n", out);
}

char *
batch_table_of_view (const BatchView *view)
{
    GString *out = g_string_new ("unit,task,step,what,technician,place,begins,attended until,ends\r\n");

    for (guint i = 0; i < view->moments->len; i++)
        put_row (view, i, out);
    return g_string_free (out, FALSE);
}

const char *
report_batch_csv (const BatchView *view)
{
    return view->table;
}
