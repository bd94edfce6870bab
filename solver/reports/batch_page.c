/* SPDX-License-Identifier: MIT */
/* A batch as one page: what to pick, who does what, where parts go, and a sheet for each unit. It loads nothing and runs nothing; zoom
 * is a row of radio buttons and the style sheet. It is HTML that is XML too. */
#include "reports/batch_branches.h"
#include "reports/batch_changes.h"
#include "reports/batch_found.h"
#include "reports/batch_rows.h"
#include "reports/batch_sheet.h"
#include "reports/markup.h"
#include "reports/page_style.h"
#include "reports/route_text.h"

#define MOST_ASIDE 40 /* ids at the head */

/* What every page begins with; the mark of its timetable follows. */
static const char head[] = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
                           "<meta name=\"viewport\" content=\"width=device-width\"/>\n"
                           "<meta name=\"color-scheme\" content=\"light dark\"/>\n<title>Batch, timetable ";

gboolean
batch_page_begins_so (const char *text)
{
    return g_str_has_prefix (text, head);
}

static void
put_top (const BatchView *view, guint page, GString *out)
{
    g_string_append (out, head);
    markup_put (out, view->mark);
    g_string_append (out, "</title>\n<style>\n");
    g_string_append (out, page_style ());
    g_string_append (out, batch_page_style ());
    g_string_append (out, "</style>\n</head>\n<body>\n<h1>");
    g_string_append (out, page == 0 ? "Batch" : "Batch, further sheets");
    g_string_append (out, "</h1>\n");
    Paper *paper = paper_new_page ();
    batch_say_head (paper, view);
    page_put_paper (paper, out);
}

/* ---- Set aside ---- */

/* Why there is no route, in full, once for each class. */
static void
put_reasons (const BatchView *view, const AsideGroup *group, GString *out)
{
    const BatchClass *class = view->batch->classes->pdata[group->class];
    const RouteReport report = { .library = view->report->question->library,
                                 .shop = view->report->question->shop,
                                 .unit = class->unit,
                                 .want = class->want,
                                 .answer = class->failed,
                                 .none = class->none };
    Paper *paper = paper_new_page ();

    route_text_without (paper, &report);
    page_put_paper (paper, out);
}

static void
put_aside (const BatchView *view, GString *out)
{
    g_autoptr (GPtrArray) groups = batch_aside_groups (view);
    Paper *paper = NULL;

    if (groups->len == 0)
        return;
    g_string_append (out, "<h2 id=\"aside\">Set aside</h2>\n");
    paper = paper_new_page ();
    batch_say_aside (paper, view);
    page_put_paper (paper, out);
    for (guint i = 0; i < groups->len; i++) {
        const AsideGroup *group = groups->pdata[i];
        const BatchClass *class = view->batch->classes->pdata[group->class];

        if (class->failed == NULL || class->modes->len > 0)
            continue;
        g_string_append (out, "<h3>");
        markup_put (out, group->units->pdata[0]);
        if (group->units->len > 1)
            g_string_append_printf (out, " and %u like it", group->units->len - 1);
        g_string_append (out, "</h3>\n");
        put_reasons (view, group, out);
    }
}

/* Only who; why stands behind the timetable and the work. */
static void
put_aside_line (const BatchView *view, GString *out)
{
    g_autoptr (GPtrArray) ids = g_ptr_array_new ();
    g_autofree char *some = NULL;

    for (guint i = 0; i < view->batch->units->len; i++)
        if (view_unit (view, i)->aside != ASIDE_NOT)
            g_ptr_array_add (ids, (gpointer) view_unit (view, i)->unit->id);
    if (ids->len == 0)
        return;
    some = batch_some_ids (ids, MOST_ASIDE);
    g_string_append (out, "<p><b class=\"bad\">Set aside</b>: ");
    markup_put (out, some);
    g_string_append (out, "; <a href=\"#aside\">why</a> stands behind the work.</p>\n");
}

static void
put_rows (const BatchView *view, GString *out)
{
    Paper *paper = paper_new_page ();

    batch_say_rows (paper, view); /* nothing where there are none */
    page_put_paper (paper, out);
}

static void
put_branches (const BatchView *view, GString *out)
{
    Paper *paper = NULL;

    if (!batch_has_open (view))
        return;
    g_string_append (out, "<h2>Depends on what is read</h2>\n");
    paper = paper_new_page ();
    batch_say_branches (paper, view);
    page_put_paper (paper, out);
}

/* ---- Sheets ---- */

static guint
first_sheet (guint page)
{
    return page * BATCH_MOST_SHEETS;
}

static guint
last_sheet (const BatchView *view, guint page)
{
    return MIN (first_sheet (page) + BATCH_MOST_SHEETS, view->order->len);
}

static void
put_sheets_note (const BatchView *view, guint page, GString *out)
{
    if (batch_pages (view) > 1)
        g_string_append_printf (out,
                                "<p class=\"gap\"><b class=\"strong\">Page %u of %u</b>: the sheets of units %u to %u of "
                                "%u, in the order of work. With --folder the pages lie beside each other.</p>\n",
                                page + 1, batch_pages (view), first_sheet (page) + 1, last_sheet (view, page),
                                view->order->len);
}

static ModeSheet *
sheet_of_way (BatchView *view, const BatchWay *way)
{
    ModeSheet *sheet = g_hash_table_lookup (view->sheets, way);

    if (sheet == NULL) {
        sheet = mode_sheet_new (view, way);
        g_hash_table_insert (view->sheets, (gpointer) way, sheet);
    }
    return sheet;
}

/* First the units, then the routes that they go by. */
static void
put_sheets (BatchView *view, guint page, GString *out)
{
    g_autoptr (GHashTable) here = g_hash_table_new (NULL, NULL);

    for (guint i = first_sheet (page); i < last_sheet (view, page); i++) {
        guint index = g_array_index (view->order, guint, i);
        const BatchWay *way = view_way (view, view_unit (view, index));

        g_hash_table_add (here, (gpointer) way);
        batch_page_put_unit (view, index, sheet_of_way (view, way), out);
    }
    for (guint i = 0; i < view->ways->len; i++)
        if (g_hash_table_contains (here, view->ways->pdata[i]))
            batch_page_put_mode (view, sheet_of_way (view, view->ways->pdata[i]), out);
}

guint
batch_pages (const BatchView *view)
{
    return MAX ((view->order->len + BATCH_MOST_SHEETS - 1) / BATCH_MOST_SHEETS, 1);
}

char *
report_batch_html (BatchView *view, guint page)
{
    GString *out = g_string_new (NULL);

    put_top (view, page, out);
    put_sheets_note (view, page, out);
    if (page == 0) {
        put_aside_line (view, out);
        batch_page_put_found (view, out);
        batch_page_put_changes (view, out);
        batch_page_put_chart (view, out);
        batch_page_put_pick_list (view, out);
        batch_page_put_work (view, out);
        put_branches (view, out);
        batch_page_put_travels (view, out);
        put_aside (view, out);
        put_rows (view, out);
        batch_page_put_situations (view, out);
    }
    put_sheets (view, page, out);
    g_string_append (out, "</body>\n</html>\n");
    return g_string_free (out, FALSE);
}
