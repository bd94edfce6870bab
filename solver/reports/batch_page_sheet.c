/* SPDX-License-Identifier: MIT */
/* The sheets of a batch: one page for each unit, and the whole bench sheet of each situation's route behind them. */
#include "reports/batch_changes.h"
#include "reports/batch_found.h"
#include "reports/batch_sheet.h"

#include "reports/batch_left_open.h"
#include "reports/batch_moves.h"
#include "reports/markup.h"
#include "reports/route_sheet.h"
#include "reports/route_text.h"
#include "reports/serials.h"

#define MOST_IDS 12 /* of a situation's units that borrow from others */

/* ---- One unit ---- */

static void
put_line (GString *out, const char *name, const char *words)
{
    g_string_append_printf (out, "<p><b class=\"strong\">%s</b> ", name);
    markup_put (out, words);
    g_string_append (out, "</p>\n");
}

static void
put_unit_head (const BatchView *view, const BatchUnit *unit, guint way, GString *out)
{
    g_autofree char *begins = batch_time_words (view->clock, view_begins (unit));
    g_autofree char *ends = batch_time_words (view->clock, view_ends (unit));
    g_autofree char *due = !batch_unit_is_due (unit) ? NULL : batch_time_words (view->clock, unit->due);
    g_autofree char *wanted = words_want (unit->unit->board, unit->want);
    g_autofree char *place = batch_place_words (unit);
    g_autofree char *line = g_strdup_printf (
        "%s %s; bench place %s; from %s to %s%s%s; situation %u; timetable %s", unit->unit->board->name,
        (const char *) unit->unit->board->revisions->pdata[unit->unit->revision], place, begins, ends,
        due == NULL ? "" : view_late (unit) > 0 ? "; LATE, due " : "; due ", due == NULL ? "" : due, way + 1, view->mark);

    g_string_append (out, "<h2>");
    markup_put (out, unit->unit->id);
    g_string_append (out, "</h2>\n");
    put_line (out, "Where, when:", line);
    batch_page_put_sheet_change (view, unit, out);
    batch_page_put_sheet_found (view, unit, out);
    put_line (out, "Becomes:", wanted);
    if (unit->unit->note != NULL)
        put_line (out, "Note:", unit->unit->note);
    batch_page_put_lent_head (view, unit, out);
}

/* What to bring to the bench place. */
static void
put_fetch (const BatchView *view, const BatchUnit *unit, GString *out)
{
    guint fetched = 0;

    for (guint i = 0; i < unit->tasks->len; i++) {
        const BatchTask *task = view_task (unit, i);
        g_autofree char *name = NULL;

        if (task->part < 0 || view_step (view, unit, task)->kind != STEP_FIT)
            continue;
        name = batch_part_words (view, view->batch->parts->pdata[task->part]);
        const BatchWords *words = view_way (view, unit)->words;
        const char *condition = words == NULL || !unit->open ? NULL : words->conditions->pdata[task->step];
        g_string_append (out, fetched++ == 0 ? "<p><b class=\"strong\">Fetch:</b> " : "; ");
        g_string_append (out, "<span class=\"box\"></span> ");
        markup_put (out, name);
        batch_page_put_lent_from (view, unit, task, out);
        if (condition != NULL)
            g_string_append_printf (out, " (for %s)", (const char *) words->labels->pdata[task->step]);
    }
    if (fetched > 0)
        g_string_append (out, "</p>\n");
}

void
batch_page_put_across (Paper *paper, const char *class, GString *out)
{
    g_autofree char *text = paper_finish (paper);

    if (*text != '\0')
        g_string_append_printf (out, "<tr class=\"%s\"><td colspan=\"4\">\n%s</td></tr>\n", class, text);
}

static void
put_above (ModeSheet *sheet, guint step, GString *out)
{
    Paper *power = paper_new_page ();
    Paper *cautions = paper_new_page ();
    const Sheet bench = { cautions, &sheet->report, sheet->account };

    if (!batch_say_above_branch (power, sheet, step))
        route_text_above_step (power, &sheet->report, sheet->account, step);
    batch_page_put_across (power, "power", out);
    sheet_step_cautions (&bench, step);
    batch_page_put_across (cautions, "mind", out);
}

void
batch_page_put_when (const BatchView *view, const BatchUnit *unit, const BatchTask *task, GString *out)
{
    gboolean same_day = batch_day (view->clock, task->begins) == batch_day (view->clock, view_begins (unit));
    g_autofree char *day = same_day ? g_strdup ("") : batch_day_words (view->clock, task->begins);
    g_autofree char *begins = batch_hour_words (view->clock, task->begins);
    g_autofree char *until = batch_hour_words (view->clock, task->attended_until);
    g_autofree char *ends = batch_hour_words (view->clock, task->ends);
    g_autofree char *hands = batch_number_words (task->technician);

    g_string_append_printf (out, "<td class=\"when\">%s%s<b class=\"strong\">%s</b> to %s<br/>technician %s", day,
                            same_day ? "" : "<br/>", begins, ends, hands);
    if (task->attended_until < task->ends)
        g_string_append_printf (out, " until %s", until);
}

static void
put_step_row (const BatchView *view, const BatchUnit *unit, guint index, ModeSheet *sheet, GString *out)
{
    const BatchTask piece = batch_piece (view_task (unit, index), FALSE), *task = &piece;
    Paper *paper = paper_new_page (), *left = paper_new_page (), *leave = paper_new_page ();
    const Sheet bench = { paper, &sheet->report, sheet->account };
    g_autofree char *part =
        task->part < 0 ? NULL : batch_part_words (view, view->batch->parts->pdata[task->part]);
    g_autofree char *whose = batch_whose_words (view, unit, task);

    batch_say_move (left, view, unit, task->step);
    batch_say_left_open (left, view, unit, task->step);
    batch_page_put_across (left, "mind", out);
    batch_page_put_readings (unit, sheet, task->step, view->way_of[unit->class][unit->mode] + 1, out);
    put_above (sheet, task->step, out);
    sheet_step_in_brief (&bench, task->step, part, whose);
    g_auto (GStrv) tick = g_strsplit (batch_tick_words (view, task), "<br/>", 2);
    g_string_append_printf (out, "<tr class=\"step\"><td class=\"tick\">%s</td>", tick[0]);
    batch_page_put_when (view, unit, task, out);
    batch_page_put_number (sheet, task->step, out);
    g_string_append (out, "</td><td>\n");
    if (tick[1] != NULL) /* beside the box there is no room for it */
        g_string_append_printf (out, "<p>%s:</p>\n", tick[1]);
    batch_page_put_condition (unit, sheet, task->step, out);
    page_put_paper (paper, out);
    g_string_append (out, "</td><td class=\"note\">found:</td></tr>\n");
    batch_say_leave_open (leave, view, unit, task->step);
    batch_page_put_across (leave, "mind", out);
}

static void
put_table (const BatchView *view, const BatchUnit *unit, ModeSheet *sheet, GString *out)
{
    g_string_append (out, "<table><thead><tr><th class=\"tick\">done</th><th class=\"when\">when, who</th><th>");
    markup_put (out, unit->unit->id); /* the head of the second page too, where there is one */
    g_string_append (out, ", timetable ");
    markup_put (out, view->mark);
    g_string_append (out, ": step</th><th class=\"note\">what was found, initials</th></tr></thead><tbody>\n");
    for (guint i = 0; i < unit->tasks->len; i++)
        put_step_row (view, unit, i, sheet, out);
    batch_page_put_readings (unit, sheet, sheet->way->mode->steps->len, view->way_of[unit->class][unit->mode] + 1, out);
    if (!batch_ends_read (sheet))
        batch_page_put_last_start (view, unit, sheet, out);
    g_string_append (out, "</tbody></table>\n");
}

static gboolean
writes_something (const ModeSheet *sheet)
{
    for (guint i = 0; i < sheet->account->steps->len; i++)
        if (((const StepAccount *) sheet->account->steps->pdata[i])->step->kind == STEP_WRITE)
            return TRUE;
    return FALSE;
}

static void
put_end (const BatchView *view, const BatchUnit *unit, const ModeSheet *sheet, guint way, GString *out)
{
    Paper *paper = paper_new_page ();
    g_autoptr (GPtrArray) back = batch_given_back (view, unit);

    route_text_before_it_leaves (paper, &sheet->report, sheet->account, back);
    if (writes_something (sheet))
        paper_say (paper, 0, 2,
                   MARK_STRONG "When a write fails" MARK_PLAIN
                               ": files to have at hand and cautions stand under Recovery on the sheet of situation %u.",
                   way + 1);
    page_put_paper (paper, out);
    batch_page_put_lent_ticks (view, unit, out);
}

static void
put_body (const BatchView *view, const BatchUnit *unit, guint way, ModeSheet *sheet, GString *out)
{
    put_unit_head (view, unit, way, out);
    batch_page_put_open_head (unit, sheet, way + 1, out);
    if (sheet->account == NULL && sheet->plan != NULL) {
        g_string_append (out, "<table><tbody>\n");
        batch_page_put_readings (unit, sheet, 0, way + 1, out);
        g_string_append (out, "</tbody></table>\n");
        return;
    }
    if (sheet->account == NULL) {
        g_string_append (out, "<p>Nothing to do: it is what is wanted.</p>\n");
        return;
    }
    put_fetch (view, unit, out);
    Paper *paper = paper_new_page ();
    route_text_cautions (paper, 0, sheet->account->top_cautions);
    g_string_append (out, "<div class=\"mind\">");
    page_put_paper (paper, out);
    g_string_append (out, "</div>\n");
    put_table (view, unit, sheet, out);
    put_end (view, unit, sheet, way, out);
}

void
batch_page_put_unit (const BatchView *view, guint index, ModeSheet *sheet, GString *out)
{
    const BatchUnit *unit = view_unit (view, index);
    guint way = view->way_of[unit->class][unit->mode];
    GString *body = g_string_new (NULL);

    if (sheet->account != NULL)
        serials_follow (unit->stands != NULL ? unit->stands : unit->unit, sheet->account->steps);
    put_body (view, unit, way, sheet, body);
    g_string_append_printf (out, "<section class=\"sheet%s\" id=\"u%u\">\n", batch_page_size (body->str), index + 1);
    g_string_append_len (out, body->str, (gssize) body->len);
    g_string_append (out, "</section>\n");
    g_string_free (body, TRUE);
}

/* ---- A situation's route ---- */

void
batch_page_put_mode (const BatchView *view, const ModeSheet *sheet, GString *out)
{
    const BatchWay *way = sheet->way;
    RouteReport report = sheet->report;
    g_autoptr (GPtrArray) borrow = batch_borrow_from_units (view, way);
    g_autofree char *some = batch_some_ids (borrow, MOST_IDS);
    g_autofree char *ids = g_strdup_printf ("%s %s what another unit lends, which then is what \"loan shelf\" means below; "
                                            "the sheet of each unit says whose part it is.",
                                            some, borrow->len == 1 ? "borrows" : "borrow");

    if (way->mode->answer->claim == CLAIM_BRANCHES)
        report.answer = way->mode->answer;
    g_string_append_printf (out, "<section class=\"mode\">\n<h1>Situation %u, in full</h1>\n",
                            view->way_of[way->class][way->number] + 1);
    put_line (out, "Units like this:", view_situation (view, way->class));
    if (borrow->len > 0)
        put_line (out, "Not from the loan shelf:", ids);
    page_put_answer (&report, out);
    g_string_append (out, "</section>\n");
}
