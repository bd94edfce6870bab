/* SPDX-License-Identifier: MIT */
/* A plan with branches as a page: on paper each part with steps begins a sheet of its own, so that only those of the way that
 * is gone need to lie at the bench. */
#include "reports/branches_text.h"
#include "reports/markup.h"
#include "reports/page_parts.h"
#include "reports/picture.h"
#include "reports/route_text.h"

static void
put_overview (const PlanSheet *sheet, GString *out)
{
    Paper *paper = paper_new_page ();

    plan_text_facts (paper, sheet);
    plan_text_overview (paper, sheet);
    plan_text_cautions (paper, sheet);
    plan_text_record (paper, sheet);
    page_put_paper (paper, out);
}

static void
put_row (const PlanPart *next, GString *out)
{
    g_autofree char *condition = plan_part_condition (next);

    g_string_append (out, "<tr><td class=\"tick\"><span class=\"box\"></span></td><td>");
    markup_put (out, condition);
    g_string_append_printf (out, "</td><td><b class=\"strong\">part %s</b></td></tr>\n", next->letter);
}

/* The box at the end of a part: what to try or read, and a row to tick for each thing that may come of it. */
static void
put_reading (const PlanSheet *sheet, const PlanPart *part, GString *out)
{
    Paper *paper = NULL;

    if (part->branch->next->len == 0)
        return;
    g_string_append (out, "<div class=\"reading\">\n");
    paper = paper_new_page ();
    plan_text_reading (paper, sheet, part);
    page_put_paper (paper, out);
    g_string_append (out, "<table><thead><tr><th class=\"tick\">so</th><th>what is read</th><th>go on with</th></tr>"
                          "</thead><tbody>\n");
    for (guint i = 0; i < part->branch->next->len; i++)
        put_row (plan_part_of (part->all, part->branch->next->pdata[i]), out);
    g_string_append (out, "</tbody></table>\n");
    paper = paper_new_page ();
    plan_text_reading_else (paper, part);
    page_put_paper (paper, out);
    g_string_append (out, "<p class=\"found\">read:</p></div>\n");
}

static void
put_part_steps (const PlanPart *part, GString *out)
{
    page_put_parts (&part->report, part->account, out);
    g_string_append (out, "<h3>The states of this part</h3>\n");
    picture_put_in_page (&part->report, part->account, out);
    g_string_append (out, "<h3>Steps</h3>\n");
    page_put_steps (&part->report, part->account, out);
}

static void
put_part (const PlanSheet *sheet, const PlanPart *part, GString *out)
{
    g_autofree char *title = plan_part_title (part);
    gboolean begins_page = part->after != NULL && part->account != NULL;
    Paper *paper = NULL;

    g_string_append (out, begins_page ? "<section class=\"part\">\n<h2>" : "<section>\n<h2>");
    markup_put (out, title);
    g_string_append (out, "</h2>\n");
    paper = paper_new_page ();
    plan_text_part_facts (paper, part);
    page_put_paper (paper, out);
    if (part->account != NULL)
        put_part_steps (part, out);
    put_reading (sheet, part, out);
    paper = paper_new_page ();
    if (part->branch->then == THEN_GIVE_UP)
        plan_text_give_up (paper, part);
    plan_text_below (paper, part);
    page_put_paper (paper, out);
    g_string_append (out, "</section>\n");
}

static void
put_looks (const PlanSheet *sheet, GString *out)
{
    Paper *paper = paper_new_page ();

    plan_text_looks (paper, sheet);
    g_string_append (out, "<section>\n");
    page_put_paper (paper, out);
    g_string_append (out, "</section>\n");
}

void
page_put_branches (const RouteReport *report, GString *out)
{
    g_autoptr (PlanSheet) sheet = plan_sheet_new (report);

    put_overview (sheet, out);
    for (guint i = 0; i < sheet->parts->len; i++)
        put_part (sheet, plan_part (sheet, i), out);
    put_looks (sheet, out);
}
