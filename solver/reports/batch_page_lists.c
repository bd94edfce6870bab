/* SPDX-License-Identifier: MIT */
/* The lists of a batch's page: where parts go, who does what when, which situations there are. */
#include "batch/bench.h"
#include "reports/batch_left_open.h"
#include "reports/batch_sheet.h"
#include "reports/markup.h"

#include <string.h>

#define MOST_STAYS 2000
#define MOST_TASKS 4000
#define MOST_IDS   400

static void
put_time (const BatchView *view, gint64 time, GString *out)
{
    g_autofree char *words = batch_time_words (view->clock, time);

    batch_page_put_dated (words, out);
}

/* How long "2034-03-06T07:15" is; without the clock, "2034-03-06". */
static guint
length_of_date (const char *at)
{
    static const char form[] = "0000-00-00T00:00";
    guint i = 0;

    for (; form[i] != '\0' && (form[i] == '0' ? g_ascii_isdigit (at[i]) : at[i] == form[i]); i++)
        ;
    return i >= strlen ("0000-00-00") && (at[i] == '\0' || !g_ascii_isalnum (at[i])) ? i : 0;
}

void
batch_page_put_dated (const char *words, GString *out)
{
    for (const char *at = words; *at != '\0';) {
        guint length = length_of_date (at), plain = length > 0 ? 0 : 1;
        g_autofree char *piece = NULL;

        while (plain > 0 && at[plain] != '\0' && length_of_date (at + plain) == 0)
            plain++;
        piece = g_strndup (at, length + plain);
        g_string_append (out, length > 0 ? "<span class=\"date\">" : "");
        markup_put (out, piece);
        g_string_append (out, length > 0 ? "</span>" : "");
        at += length + plain;
    }
}

void
batch_page_put_href (const BatchView *view, guint unit, GString *out)
{
    guint page = view->rank[unit] / BATCH_MOST_SHEETS;

    g_string_append (out, "href=\"");
    if (page > 0)
        g_string_append_printf (out, BATCH_LATER_PAGES, page + 1);
    g_string_append_printf (out, "#u%u\"", unit + 1);
}

static void
put_unit_link (const BatchView *view, guint index, GString *out)
{
    g_string_append (out, "<a ");
    batch_page_put_href (view, index, out);
    g_string_append_c (out, '>');
    markup_put (out, view_unit (view, index)->unit->id);
    g_string_append (out, "</a>");
}

/* A long table says that it is cut. */
static void
put_rest (guint rest, GString *out)
{
    if (rest > 0)
        g_string_append_printf (out, "<p>%u more are not shown here; the JSON has them all.</p>\n", rest);
}

/* Of a step that is made only as it is read. */
static void
put_condition (const BatchView *view, const BatchUnit *unit, guint step, GString *out)
{
    const BatchWords *words = view_way (view, unit)->words;
    const char *condition =
        words == NULL || !unit->open || step == G_MAXUINT ? NULL : words->conditions->pdata[step];

    if (condition == NULL)
        return;
    g_string_append (out, ", only if ");
    markup_put (out, condition);
}

/* ---- Travels ---- */

static void
put_stay (const BatchView *view, const BatchPart *part, guint index, GString *out)
{
    const BatchStay *stay = &g_array_index (part->stays, BatchStay, index);
    const BatchUnit *unit = view_unit (view, stay->unit);
    const Window in = bench_stay (view->report->question, view->batch, stay);

    g_string_append (out, "<tr><td>");
    if (index == 0) {
        g_autofree char *name = batch_part_words (view, part);

        markup_put (out, name);
    }
    g_string_append (out, "</td><td>");
    put_unit_link (view, stay->unit, out);
    g_string_append (out, "</td><td>");
    markup_put (out, board_slot (unit->unit->board, stay->slot)->name);
    g_string_append (out, "</td><td>");
    put_time (view, in.from, out);
    put_condition (view, unit, stay->fit_step, out);
    g_string_append (out, "</td><td>");
    if (in.to == G_MAXINT64)
        g_string_append (out, "stays");
    else
        put_time (view, in.to, out);
    if (batch_stay_is_over_shift_end (view, stay))
        g_string_append (out, ", over the end of a shift");
    g_string_append (out, "</td></tr>\n");
}

static void
put_loaners (const BatchView *view, GString *out)
{
    guint count = 0;

    for (guint i = 0; i < view->batch->parts->len; i++) {
        const BatchPart *part = view->batch->parts->pdata[i];

        for (guint s = 0; s < part->stays->len && (part->owner == OWNER_LOAN || part->from_unit >= 0); s++) {
            if (count++ == 0)
                g_string_append (out, "<h2>Where loaners and lent parts go</h2>\n<table><thead><tr><th>part</th>"
                                      "<th>in unit</th><th>slot</th><th>from</th><th>to</th></tr></thead><tbody>\n");
            if (count <= MOST_STAYS)
                put_stay (view, part, s, out);
        }
    }
    if (count > 0)
        g_string_append (out, "</tbody></table>\n");
    put_rest (count > MOST_STAYS ? count - MOST_STAYS : 0, out);
}

static void
put_where_it_goes (const BatchView *view, const PulledPart *pulled, GString *out)
{
    const BatchUnit *unit = view_unit (view, pulled->unit);
    guint lent = pulled->lent == NULL ? 0 : pulled->lent->stays->len;

    for (guint i = 0; i < lent; i++) {
        const BatchStay *stay = &g_array_index (pulled->lent->stays, BatchStay, i);

        g_string_append (out, i == 0 ? "lent to " : ", then to ");
        put_unit_link (view, stay->unit, out);
        g_string_append_c (out, ' ');
        markup_put (out, board_slot (view_unit (view, stay->unit)->unit->board, stay->slot)->name);
        g_string_append (out, " at ");
        put_time (view, stay->from, out);
    }
    if (lent > 0) {
        g_string_append (out, "; back with its own unit at ");
        put_time (view, batch_part_is_back (pulled->lent), out);
    } else if (unit->unit->own_parts_stay) {
        g_string_append (out, "stays with its unit, as the customer asked");
    } else if (view_task (unit, pulled->step)->done) {
        /* This plan lends it no more; a unit that was set aside since may have it. */
        g_string_append (out, "taken out before now: with its unit, unless \"Look at this\" says where it is");
    } else {
        g_string_append (out, "kept with its unit");
    }
}

static void
put_pulled_row (const BatchView *view, const PulledPart *pulled, GString *out)
{
    const BatchUnit *unit = view_unit (view, pulled->unit);
    const BatchTask *task = view_task (unit, pulled->step);
    const BatchWay *way = view_way (view, unit);
    const Step *step = &g_array_index (way->mode->steps, Step, pulled->step);
    const Held *held = &g_array_index (way->moved, Held, pulled->step);
    const Unit *stands = unit->stands != NULL ? unit->stands : unit->unit;
    const char *serial = pulled->lent != NULL ? pulled->lent->serial : stands->fitted[step->slot].serial;
    g_autofree char *name = batch_short_part (held->part, held->stepping);

    g_string_append (out, "<tr><td>");
    put_time (view, task->ends, out);
    put_condition (view, unit, pulled->step, out);
    g_string_append (out, "</td><td>");
    put_unit_link (view, pulled->unit, out);
    g_string_append (out, "</td><td>");
    markup_put (out, board_slot (unit->unit->board, step->slot)->name);
    g_string_append (out, "</td><td>");
    markup_put (out, name);
    if (serial != NULL) {
        g_string_append (out, ", serial ");
        markup_put (out, serial);
    }
    g_string_append (out, "</td><td>");
    put_where_it_goes (view, pulled, out);
    g_string_append (out, "</td></tr>\n");
}

void
batch_page_put_travels (const BatchView *view, GString *out)
{
    g_autoptr (GArray) pulled = batch_pulled (view);

    put_loaners (view, out);
    if (pulled->len == 0)
        return;
    g_string_append (out, "<h2>What is pulled, and where it goes</h2>\n<table><thead><tr><th>at</th><th>unit</th>"
                          "<th>slot</th><th>part</th><th>then</th></tr></thead><tbody>\n");
    for (guint i = 0; i < pulled->len && i < MOST_STAYS; i++)
        put_pulled_row (view, &g_array_index (pulled, PulledPart, i), out);
    g_string_append (out, "</tbody></table>\n");
    put_rest (pulled->len > MOST_STAYS ? pulled->len - MOST_STAYS : 0, out);
}

/* ---- Work ---- */

static void
put_task (const BatchView *view, const BatchMoment *moment, GString *out)
{
    const BatchTask piece = view_piece (view, moment), *task = &piece;
    g_autofree char *what = batch_moment_words (view, moment);
    g_autofree char *begins = batch_hour_words (view->clock, task->begins);
    g_autofree char *until = batch_hour_words (view->clock, task->attended_until);
    g_autofree char *ends = batch_hour_words (view->clock, task->ends);
    g_autofree char *place = batch_number_words (task->place);

    g_string_append_printf (out, "<tr><td class=\"tick\">%s</td><td>%s</td><td>%s</td><td>%s</td><td>",
                            task->done ? "done" : "<span class=\"box\"></span>", begins, until, ends);
    put_unit_link (view, moment->unit, out);
    g_string_append_printf (out, "</td><td class=\"number\">%s</td><td>%u. ", place, task->step + 1);
    markup_put (out, what);
    g_string_append (out, "</td></tr>\n");
}

static void
put_day (const BatchView *view, gint64 begins, GString *out)
{
    g_autofree char *day = batch_day_words (view->clock, begins);

    g_string_append_printf (out, "<tr class=\"power\"><td colspan=\"7\"><b class=\"strong\">%s</b></td></tr>\n", day);
}

static void
put_technician (const BatchView *view, guint technician, guint until, GString *out)
{
    gint64 day = -1;

    for (guint i = 0; i < until; i++) {
        const BatchMoment *moment = &g_array_index (view->moments, BatchMoment, i);
        gint64 of_day = batch_day (view->clock, moment->begins);

        if (view_piece (view, moment).technician != technician)
            continue;
        if (day < 0)
            g_string_append_printf (out,
                                    "<h3>Technician %u</h3>\n<table><thead><tr><th class=\"tick\">done</th><th>begins</th>"
                                    "<th>attended until</th><th>ends</th><th>unit</th><th>place</th><th>step</th></tr>"
                                    "</thead><tbody>\n",
                                    technician + 1);
        if (of_day != day)
            put_day (view, moment->begins, out);
        day = of_day;
        put_task (view, moment, out);
    }
    if (day >= 0)
        g_string_append (out, "</tbody></table>\n");
}

void
batch_page_put_work (const BatchView *view, GString *out)
{
    guint until = MIN (view->moments->len, MOST_TASKS);

    if (until == 0)
        return;
    g_string_append (out, "<h2>Who does what when</h2>\n");
    for (guint t = 0; t < view->report->question->shop->technicians; t++)
        put_technician (view, t, until, out);
    if (view->moments->len > until)
        g_string_append_printf (out, "<p>%u later tasks are not shown here; the CSV has them all.</p>\n",
                                view->moments->len - until);
}

/* ---- Situations ---- */

static void
put_way (const BatchView *view, guint number, GString *out)
{
    const BatchWay *way = view->ways->pdata[number];
    const Walk *walk = way->mode->walk;
    g_autofree char *wanted = words_want (way->of->unit->board, way->of->want);
    g_autofree char *minutes = words_number (walk->minutes);
    g_autofree char *attended = words_number (walk->attended);
    guint named = 0;

    g_string_append_printf (out, "<tr><td class=\"number\">%u</td><td class=\"number\">%u</td><td>", number + 1,
                            way->units);
    markup_put (out, view_situation (view, way->class));
    g_string_append (out, "; becomes ");
    markup_put (out, wanted);
    g_string_append_printf (out,
                            "</td><td class=\"number\">%u</td><td class=\"number\">%u</td><td class=\"number\">%s</td>"
                            "<td class=\"number\">%s</td><td>",
                            walk->steps, walk->insertions, minutes, attended);
    for (guint i = 0; i < view->order->len && named < MOST_IDS; i++) {
        guint index = g_array_index (view->order, guint, i);

        if (view_way (view, view_unit (view, index)) != way)
            continue;
        g_string_append (out, named++ == 0 ? "" : ", ");
        put_unit_link (view, index, out);
    }
    g_string_append (out, named < way->units ? " ..." : "");
    g_string_append (out, "</td></tr>\n");
}

void
batch_page_put_situations (const BatchView *view, GString *out)
{
    if (view->ways->len == 0)
        return;
    g_string_append (out, "<h2>Situations</h2>\n<table><thead><tr><th></th><th>units</th><th>situation</th><th>steps</th>"
                          "<th>insertions</th><th>minutes</th><th>attended</th><th>units</th></tr></thead><tbody>\n");
    for (guint i = 0; i < view->ways->len; i++)
        put_way (view, i, out);
    g_string_append (out, "</tbody></table>\n");
}
