/* SPDX-License-Identifier: MIT */
/* What changed, on the page: a list with what was and what is, and a line at the head of each unit's sheet. */
#include "reports/batch_changes.h"

#include "reports/batch_sheet.h"
#include "reports/markup.h"

enum { MOST_ROWS = 2000 };

/* "; start 09:52 to 09:57, technician 2"; empty where it is no task of its own. Transfer full. */
static char *
start_words (const BatchView *view, const LastStart *start, gint64 ends)
{
    g_autofree char *from = batch_time_words (view->clock, start->begins);
    g_autofree char *to = batch_hour_words (view->clock, ends);
    g_autofree char *hands = batch_number_words (start->technician);

    return start->apart ? g_strdup_printf ("; start %s to %s, technician %s", from, to, hands) : g_strdup ("");
}

/* "09:30 to 09:41, technician 1, place 2, #1". Transfer full. */
static char *
task_words (const BatchView *view, gint64 begins, gint64 ends, const LastStart *start, guint technician, guint place,
            guint number)
{
    g_autofree char *from = batch_time_words (view->clock, begins);
    g_autofree char *to = batch_hour_words (view->clock, start->apart ? start->step_ends : ends);
    g_autofree char *then = start_words (view, start, ends);
    g_autofree char *hands = batch_number_words (technician);
    g_autofree char *bench = batch_number_words (place);
    g_autofree char *part = number > 0 ? g_strdup_printf (", #%u", number) : g_strdup ("");

    return g_strdup_printf ("%s to %s, technician %s, place %s%s%s", from, to, hands, bench, part, then);
}

static guint
number_of (const BatchView *view, const BatchTask *task)
{
    return task->part >= 0 ? ((const BatchPart *) view->batch->parts->pdata[task->part])->number : 0;
}

static void
put_cell (GString *out, const char *words)
{
    g_string_append (out, "<td>");
    batch_page_put_dated (words, out);
    g_string_append (out, "</td>");
}

static void
put_row (const BatchView *view, guint index, guint step, const PublishedTask *was, const BatchTask *is, GString *out)
{
    const BatchUnit *unit = view_unit (view, index);
    g_autofree char *name = g_strdup_printf ("%s, step %u", unit->unit->id, step + 1);
    g_autofree char *what = words_step (unit->unit->board, &was->step);
    g_autofree char *before = task_words (view, was->begins, was->ends, &was->start, was->technician, was->place,
                                         was->part_number);
    g_autofree char *after =
        is == NULL ? g_strdup ("not done any more")
                   : task_words (view, is->begins, is->ends, &is->start, is->technician, is->place, number_of (view, is));

    g_string_append (out, "<tr>");
    put_cell (out, name);
    put_cell (out, what);
    put_cell (out, before);
    put_cell (out, after);
    g_string_append (out, "</tr>\n");
}

/* So many rows it would take; what is past `most` is not put. */
static guint
put_rows (const BatchView *view, guint index, guint most, GString *out)
{
    const PublishedUnit *was = batch_published_unit (view, index);
    guint rows = 0;

    for (guint i = 0; was != NULL && i < was->tasks->len; i++)
        if (batch_step_changed (view, index, i) && rows++ < most)
            put_row (view, index, i, &g_array_index (was->tasks, PublishedTask, i), batch_step_now (view, index, i),
                     out);
    return rows;
}

static void
put_unit_line (const BatchView *view, guint index, GString *out)
{
    g_autofree char *words = batch_change_words (view, index);

    g_string_append (out, "<tr><td colspan=\"4\"><b class=\"strong\">");
    markup_put (out, view_unit (view, index)->unit->id);
    g_string_append (out, "</b>: ");
    batch_page_put_dated (words, out);
    g_string_append (out, "</td></tr>\n");
}

void
batch_page_put_changes (const BatchView *view, GString *out)
{
    g_autofree char *replaced = NULL;
    guint rows = 0;

    if (view->batch->replan == NULL || view->batch->replan->changed == 0)
        return;
    replaced = batch_replaced_words (view);
    g_string_append (out, "<h2>What has changed against timetable ");
    markup_put (out, replaced);
    g_string_append (out,
                     "</h2>\n<table><thead><tr><th>unit, step</th><th>what</th><th>was</th><th>is</th></tr></thead>"
                     "<tbody>\n");
    for (guint i = 0; i < view->batch->units->len; i++) {
        if (view->batch->replan->changes[i].kind == CHANGE_NONE)
            continue;
        put_unit_line (view, i, out);
        rows += put_rows (view, i, MOST_ROWS - MIN (rows, MOST_ROWS), out);
    }
    g_string_append (out, "</tbody></table>\n");
    if (rows > MOST_ROWS)
        g_string_append_printf (out, "<p>And %u more steps: the JSON has them all.</p>\n", rows - MOST_ROWS);
}

/* ---- Sheets ---- */

/* "; 2 of its steps are done already". Transfer full. */
static char *
done_words (const BatchUnit *unit)
{
    guint done = 0;
    gboolean by_clock = FALSE;

    for (guint i = 0; i < unit->tasks->len; i++) {
        done += view_task (unit, i)->done ? 1 : 0;
        by_clock |= view_task (unit, i)->by_clock;
    }
    if (done == 0)
        return g_strdup (unit->earlier != NULL ? ". Work on it has begun by another route" : "");
    return g_strdup_printf (". Work on it has begun: %u of its %u steps %s done, by %s", done, unit->tasks->len,
                            done == 1 ? "is" : "are", by_clock ? "the timetable alone" : "its record");
}

void
batch_page_put_sheet_change (const BatchView *view, const BatchUnit *unit, GString *out)
{
    guint index = unit->index;
    const PublishedUnit *was = batch_published_unit (view, index);
    const char *holds = view->batch->replan == NULL ? NULL : batch_sheet_still_holds (view, index);
    g_autofree char *words = NULL, *done = NULL;

    if (view->batch->replan == NULL)
        return;
    if (holds != NULL) {
        g_string_append (out, "<p>As in timetable ");
        markup_put (out, holds);
        g_string_append (out, ": a sheet that was printed then still holds.</p>\n");
        return;
    }
    words = batch_change_words (view, index);
    done = done_words (unit);
    g_string_append (out, "<p><b class=\"strong\">");
    if (was != NULL) {
        g_string_append (out, was->sheet == NULL ? "Replaces its earlier sheet" : "Replaces its sheet of timetable ");
        markup_put (out, was->sheet == NULL ? "" : was->sheet);
    } else {
        g_string_append (out, "Its first sheet");
    }
    g_string_append (out, ":</b> ");
    markup_put (out, words);
    markup_put (out, done);
    g_string_append (out, ".</p>\n");
}

const char *
batch_tick_words (const BatchView *view, const BatchTask *task)
{
    if (task->by_clock)
        return "<span class=\"box\"></span><br/>by the timetable; tick if it was done";
    if (task->done)
        return "done";
    if (view->batch->replan != NULL && task->begins < view->report->question->now)
        return "<span class=\"box\"></span><br/>under way";
    return "<span class=\"box\"></span>";
}
