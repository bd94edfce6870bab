/* SPDX-License-Identifier: MIT */
/* The start at the end of a unit's work: in the list of work, and in the last row of its sheet. docs/batch.md, "The last start". */
#include "reports/batch_changes.h"
#include "reports/batch_sheet.h"

#include <string.h>

#include "reports/batch_left_open.h"
#include "reports/markup.h"
#include "reports/route_text.h"

BatchTask
batch_piece (const BatchTask *task, gboolean is_start)
{
    BatchTask piece = *task;

    if (is_start) {
        piece.begins = piece.start.begins;
        piece.attended_until = piece.ends;
        piece.technician = piece.start.technician;
        piece.part = -1;
    } else if (piece.start.apart) {
        piece.ends = piece.start.step_ends;
    }
    return piece;
}

BatchTask
view_piece (const BatchView *view, const BatchMoment *moment)
{
    return batch_piece (view_task (view_unit (view, moment->unit), moment->step), moment->is_start);
}

/* Transfer full. */
static char *
words_of_start (const BatchView *view, const BatchUnit *unit, guint step)
{
    static const char then[] = "; then ";
    const BatchWay *way = view_way (view, unit);
    g_autofree char *read = batch_words_behind (way, unit->open, step);
    const char *what = *read == '\0' ? "start it and see that it runs" : read + strlen (then);
    const char *condition = way->words != NULL && unit->open ? way->words->conditions->pdata[step] : NULL;

    if (way->words == NULL)
        return g_strdup (what);
    return g_strdup_printf ("behind %s%s%s: %s", (const char *) way->words->labels->pdata[step],
                            condition != NULL ? ", only if " : "", condition != NULL ? condition : "", what);
}

char *
batch_moment_words (const BatchView *view, const BatchMoment *moment)
{
    const BatchUnit *unit = view_unit (view, moment->unit);

    return moment->is_start ? words_of_start (view, unit, moment->step)
                            : batch_task_words (view, unit, view_task (unit, moment->step));
}

/* ---- On the sheet ---- */

static const char *
tick_words (const BatchView *view, const BatchTask *task, const BatchTask *start)
{
    if (task->start.apart || task->done)
        return batch_tick_words (view, start);
    return "<span class=\"box\"></span>"; /* that the step has begun says nothing of the start */
}

static void
put_row (const BatchView *view, const BatchUnit *unit, guint last, GString *out)
{
    const BatchTask *task = view_task (unit, last);
    const BatchTask piece = batch_piece (task, task->start.apart);

    g_string_append_printf (out, "<tr class=\"step\"><td class=\"tick\">%s</td>", tick_words (view, task, &piece));
    batch_page_put_when (view, unit, &piece, out);
    if (!task->start.apart)
        g_string_append_printf (out, "<br/>in the time of step %u", last + 1);
    g_string_append (out, "</td><td><p>It starts and runs.</p>\n<p>If it stays dark: power off, isolate it as for an opening, "
                          "ask `rungwise explain --unit ");
    markup_put (out, unit->unit->id);
    g_string_append (out, "`, and note what was seen.</p></td><td class=\"note\">found:</td></tr>\n");
}

void
batch_page_put_last_start (const BatchView *view, const BatchUnit *unit, const ModeSheet *sheet, GString *out)
{
    Paper *paper = paper_new_page (), *left = paper_new_page ();

    batch_say_left_open (left, view, unit, unit->tasks->len);
    batch_page_put_across (left, "mind", out);
    route_text_last_start (paper, &sheet->report, sheet->account);
    batch_page_put_across (paper, "power", out);
    if (sheet->account->start_at_end && unit->tasks->len > 0)
        put_row (view, unit, unit->tasks->len - 1, out);
}
