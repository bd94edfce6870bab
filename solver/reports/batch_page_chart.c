/* SPDX-License-Identifier: MIT */
/* The timetable as strips, one for each shift: a row for each technician, bench place and lent part. Where a bar lies is said in minutes
 * of its strip; how wide a minute is, the style sheet says. */
#include "batch/bench.h"
#include "reports/batch_sheet.h"
#include "reports/markup.h"

#include <string.h>

#define MOST_BARS       6000 /* tasks; a page with more is slow to open */
#define TENTHS_IN_DAY   14400
#define TENTHS_IN_HOUR  600
#define LONG_STRIP      (14 * TENTHS_IN_HOUR)
#define MOST_PART_ROWS  60

/* On paper, in mm; there is no zoom. */
#define PAPER_TRACK     152.0 /* of a row: what batch_page_style.c leaves beside the names */
#define PAPER_LETTER    1.2   /* of an id along its bar */
#define PAPER_LINE      1.9   /* of an id that stands upright in its bar */

typedef enum { BAR_WORK, BAR_PLACE, BAR_PART } BarKind;

typedef struct {
    gint64 from, to;
    guint unit;
} Bar;

typedef struct {
    char *name;    /* owned */
    BarKind kind;
    GArray *bars; /* Bar; owned */
} Row;

typedef struct {
    const BatchView *view;
    GPtrArray *rows; /* Row*; owned */
    gint64 until;    /* nothing that begins later is drawn */
    GString *out;
} Chart;

static void
row_free (gpointer data)
{
    Row *row = data;

    g_free (row->name);
    g_array_unref (row->bars);
    g_free (row);
}

static Row *
add_row (Chart *chart, BarKind kind, char *name)
{
    Row *row = g_new0 (Row, 1);

    *row = (Row){ name, kind, g_array_new (FALSE, FALSE, sizeof (Bar)) };
    g_ptr_array_add (chart->rows, row);
    return row;
}

static void
add_bar (Row *row, gint64 from, gint64 to, guint unit)
{
    Bar bar = { from, to, unit };
    Bar *last = row->bars->len == 0 ? NULL : &g_array_index (row->bars, Bar, row->bars->len - 1);

    if (last != NULL && last->unit == unit && last->to == from)
        last->to = MAX (to, from); /* one turn at a unit is one bar */
    else if (to > from)
        g_array_append_val (row->bars, bar);
}

/* ---- Rows ---- */

static void
fill_work (Chart *chart, guint technicians)
{
    guint first = chart->rows->len;

    for (guint i = 0; i < technicians; i++)
        add_row (chart, BAR_WORK, g_strdup_printf ("technician %u", i + 1));
    for (guint i = 0; i < chart->view->moments->len; i++) {
        const BatchMoment *moment = &g_array_index (chart->view->moments, BatchMoment, i);
        const BatchTask task = view_piece (chart->view, moment);

        if (task.begins <= chart->until && task.technician < technicians)
            add_bar (chart->rows->pdata[first + task.technician], task.begins, task.attended_until, moment->unit);
    }
}

static void
fill_places (Chart *chart, guint places)
{
    guint first = chart->rows->len;

    for (guint i = 0; i < places; i++)
        add_row (chart, BAR_PLACE, g_strdup_printf ("place %u", i + 1));
    for (guint i = 0; i < chart->view->order->len; i++) {
        guint index = g_array_index (chart->view->order, guint, i);
        const BatchUnit *unit = view_unit (chart->view, index);

        for (guint k = 0, end = 0; k < unit->tasks->len; k = end) {
            const BatchTask *task = view_task (unit, k);

            for (end = k + 1; end < unit->tasks->len && view_task (unit, end)->place == task->place;)
                end++;
            if (task->begins <= chart->until && task->place < places)
                add_bar (chart->rows->pdata[first + task->place], task->begins, view_task (unit, end - 1)->ends, index);
        }
    }
}

/* A row's name may be cut on a screen: of a lent part the unit that it is of comes first. Transfer full. */
static char *
part_row_name (const BatchView *view, const BatchPart *part)
{
    g_autofree char *name = batch_short_part (part->part, part->stepping);

    return part->from_unit < 0
               ? batch_part_words (view, part)
               : g_strdup_printf ("%s: %s", view_unit (view, (guint) part->from_unit)->unit->id, name);
}

static void
fill_parts (Chart *chart)
{
    const GPtrArray *parts = chart->view->batch->parts;

    for (guint i = 0; i < parts->len && chart->rows->len < MOST_BARS; i++) {
        const BatchPart *part = parts->pdata[i];
        Row *row = NULL;

        if ((part->owner != OWNER_LOAN && part->from_unit < 0) || part->stays->len == 0)
            continue;
        row = add_row (chart, BAR_PART, part_row_name (chart->view, part));
        for (guint s = 0; s < part->stays->len; s++) {
            const BatchStay *stay = &g_array_index (part->stays, BatchStay, s);

            const Window in = bench_stay (chart->view->report->question, chart->view->batch, stay);

            if (in.from <= chart->until)
                add_bar (row, in.from, MIN (in.to, chart->view->ends), stay->unit);
        }
    }
}

/* ---- Strips ---- */

/* A strip longer than a day would say too little: cut at midnights. */
static void
add_strips (GArray *strips, const BatchClock *clock, gint64 from, gint64 to)
{
    while (from < to) {
        gint64 midnight = from + TENTHS_IN_DAY - (clock->from_monday + from) % TENTHS_IN_DAY;
        Window strip = { from, to - from <= TENTHS_IN_DAY ? to : midnight };

        g_array_append_val (strips, strip);
        from = strip.to;
    }
}

/* Shifts; where there are none, days of the clock. Transfer full (GArray of Window). */
static GArray *
strips_of (const BatchView *view)
{
    const GArray *shifts = view->batch->timetable->calendar.shifts;
    GArray *strips = g_array_new (FALSE, FALSE, sizeof (Window));

    for (guint i = 0; i < shifts->len && g_array_index (shifts, Window, i).from < view->ends; i++) {
        const Window *shift = &g_array_index (shifts, Window, i);

        add_strips (strips, view->clock, shift->from, shift->to);
    }
    if (shifts->len == 0)
        add_strips (strips, view->clock, 0, view->ends);
    return strips;
}

static void
put_number (GString *out, const char *name, gint64 tenths)
{
    g_string_append_printf (out, "--%s:%" G_GINT64_FORMAT, name, tenths / 10);
    if (tenths % 10 != 0)
        g_string_append_printf (out, ".%d", (int) (tenths % 10));
}

static void
put_place (GString *out, const Window *strip, gint64 from, gint64 to)
{
    g_string_append (out, " style=\"");
    put_number (out, "b", MAX (from, strip->from) - strip->from);
    g_string_append_c (out, ';');
    put_number (out, "l", MIN (to, strip->to) - MAX (from, strip->from));
    g_string_append (out, "\"");
}

static double
paper_width (const Window *strip, const Bar *bar)
{
    gint64 length = MIN (bar->to, strip->to) - MAX (bar->from, strip->from);

    return PAPER_TRACK * (double) length / (double) (strip->to - strip->from);
}

/* On paper the id of a bar that is short for it stands upright; where there is no room for that either, it is left out. */
static gboolean
is_thin (const Chart *chart, const Window *strip, const Bar *bar)
{
    return paper_width (strip, bar) < PAPER_LETTER * (double) strlen (view_unit (chart->view, bar->unit)->unit->id);
}

static void
put_bar (const Chart *chart, const Row *row, const Window *strip, const Bar *bar)
{
    static const char *const classes[] = { "work", "held", "lent" };
    const BatchUnit *unit = view_unit (chart->view, bar->unit);
    g_autofree char *from = batch_time_words (chart->view->clock, bar->from);
    g_autofree char *to = batch_time_words (chart->view->clock, bar->to);

    g_string_append (chart->out, "<a ");
    batch_page_put_href (chart->view, bar->unit, chart->out);
    g_string_append_printf (chart->out, " class=\"%s%s%s\"", classes[row->kind], is_thin (chart, strip, bar) ? " thin" : "",
                            paper_width (strip, bar) < PAPER_LINE ? " bare" : "");
    put_place (chart->out, strip, bar->from, bar->to);
    g_string_append (chart->out, " title=\"");
    markup_put (chart->out, unit->unit->id);
    g_string_append (chart->out, ", ");
    markup_put (chart->out, from);
    g_string_append (chart->out, " to ");
    markup_put (chart->out, to);
    g_string_append (chart->out, "\">");
    markup_put (chart->out, unit->unit->id);
    g_string_append (chart->out, "</a>");
}

static gboolean
row_has_bars (const Row *row, const Window *strip)
{
    for (guint i = 0; i < row->bars->len; i++) {
        const Bar *bar = &g_array_index (row->bars, Bar, i);

        if (bar->from < strip->to && bar->to > strip->from)
            return TRUE;
    }
    return FALSE;
}

/* Whether the row has an id that stands upright on paper. */
static gboolean
is_tall (const Chart *chart, const Row *row, const Window *strip)
{
    for (guint i = 0; i < row->bars->len; i++) {
        const Bar *bar = &g_array_index (row->bars, Bar, i);

        if (bar->from < strip->to && bar->to > strip->from && is_thin (chart, strip, bar))
            return TRUE;
    }
    return FALSE;
}

static void
put_breaks (const Chart *chart, const Window *strip)
{
    const GArray *breaks = chart->view->batch->timetable->calendar.breaks;

    for (guint i = 0; i < breaks->len; i++) {
        const Window *one = &g_array_index (breaks, Window, i);

        if (one->from < strip->to && one->to > strip->from) {
            g_string_append (chart->out, "<i");
            put_place (chart->out, strip, one->from, one->to);
            g_string_append (chart->out, "></i>");
        }
    }
}

static void
put_row (const Chart *chart, const Row *row, const Window *strip)
{
    g_string_append (chart->out, "<b title=\"");
    markup_put (chart->out, row->name);
    g_string_append (chart->out, "\">");
    markup_put (chart->out, row->name);
    g_string_append_printf (chart->out, "</b><div class=\"track%s\">", is_tall (chart, row, strip) ? " tall" : "");
    put_breaks (chart, strip);
    for (guint i = 0; i < row->bars->len; i++) {
        const Bar *bar = &g_array_index (row->bars, Bar, i);

        if (bar->from < strip->to && bar->to > strip->from)
            put_bar (chart, row, strip, bar);
    }
    g_string_append (chart->out, "</div>\n");
}

static void
put_hours (const Chart *chart, const Window *strip)
{
    const BatchClock *clock = chart->view->clock;
    gint64 every = strip->to - strip->from > LONG_STRIP ? 2 * TENTHS_IN_HOUR : TENTHS_IN_HOUR;
    gint64 over = (clock->from_monday + strip->from) % every;
    gint64 first = over == 0 ? strip->from : strip->from + every - over;

    g_string_append (chart->out, "<b></b><div class=\"track hours\">");
    for (gint64 at = first; at < strip->to; at += every) {
        g_autofree char *hour = batch_hour_words (clock, at);

        g_string_append (chart->out, "<span");
        put_place (chart->out, strip, at, MIN (at + every, strip->to));
        g_string_append_printf (chart->out, ">%s</span>", hour);
    }
    g_string_append (chart->out, "</div>\n");
}

static void
put_strip (const Chart *chart, const Window *strip)
{
    g_autofree char *day = batch_day_words (chart->view->clock, strip->from);
    g_autofree char *from = batch_hour_words (chart->view->clock, strip->from);
    g_autofree char *to = batch_hour_words (chart->view->clock, strip->to);
    guint parts = 0;

    g_string_append_printf (chart->out, "<div class=\"strip\"><h3>%s, %s to %s</h3>\n<div class=\"scroll\">", day, from,
                            to);
    g_string_append (chart->out, "<div class=\"rows\" style=\"");
    put_number (chart->out, "n", strip->to - strip->from);
    g_string_append (chart->out, "\">\n");
    put_hours (chart, strip);
    for (guint i = 0; i < chart->rows->len; i++) {
        const Row *row = chart->rows->pdata[i];

        if (row->kind != BAR_PART || (row_has_bars (row, strip) && parts++ < MOST_PART_ROWS))
            put_row (chart, row, strip);
    }
    g_string_append (chart->out, "</div></div></div>\n");
}

static void
put_zoom (GString *out)
{
    static const char *const names[] = { "whole shift", "twice as wide", "4 times", "8 times" };

    g_string_append (out, "<div class=\"charts\"><span class=\"zoom\">zoom:</span>\n");
    for (guint i = 0; i < G_N_ELEMENTS (names); i++)
        g_string_append_printf (out,
                                "<input type=\"radio\" name=\"zoom\" id=\"zoom%u\"%s/><label for=\"zoom%u\">%s</label>\n",
                                i, i == 0 ? " checked=\"checked\"" : "", i, names[i]);
}

static void
put_strips (const Chart *chart)
{
    g_autoptr (GArray) strips = strips_of (chart->view);
    guint drawn = 0;

    for (guint i = 0; i < strips->len; i++) {
        const Window *strip = &g_array_index (strips, Window, i);
        gboolean busy = FALSE;

        if (strip->from > chart->until)
            break;
        for (guint r = 0; r < chart->rows->len && !busy; r++)
            busy = row_has_bars (chart->rows->pdata[r], strip);
        drawn++;
        if (busy)
            put_strip (chart, strip);
    }
    if (drawn < strips->len)
        g_string_append_printf (chart->out, "<p>%u later shifts are not drawn; the CSV has every task.</p>\n",
                                strips->len - drawn);
}

void
batch_page_put_chart (const BatchView *view, GString *out)
{
    g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (row_free);
    Chart chart = { view, rows, G_MAXINT64, out };
    const Shop *shop = view->report->question->shop;

    if (view->moments->len == 0)
        return;
    if (view->moments->len > MOST_BARS)
        chart.until = g_array_index (view->moments, BatchMoment, MOST_BARS).begins;
    fill_work (&chart, shop->technicians);
    fill_places (&chart, shop->stations);
    fill_parts (&chart);
    g_string_append (out, "<h2>Timetable</h2>\n<p>Grey: somebody is at work on it. White: the unit has the bench place, or the "
                          "part. Hatched: a break. A bar leads to the unit's sheet.<span class=\"paper\"> A bar that is too "
                          "short for the id of its unit has none here; the list of who does what when has every task.</span></p>\n");
    put_zoom (out);
    put_strips (&chart);
    g_string_append (out, "</div>\n");
}
