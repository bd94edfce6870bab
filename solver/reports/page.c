/* SPDX-License-Identifier: MIT */
/* The bench sheet as one page: what the text sheet says, in the same words, with the picture, and room to write what was
 * done. It loads nothing and runs nothing. It is HTML that is XML too. */
#include "reports/markup.h"
#include "reports/page_parts.h"
#include "reports/page_style.h"
#include "reports/picture.h"
#include "reports/records_text.h"
#include "reports/route_text.h"

void
page_put_paper (Paper *paper, GString *out)
{
    g_autofree char *text = paper_finish (paper);

    g_string_append (out, text);
}

static void
put_top (const RouteReport *report, GString *out)
{
    Paper *paper = paper_new_page ();

    g_string_append (out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
                          "<meta name=\"viewport\" content=\"width=device-width\"/>\n"
                          "<meta name=\"color-scheme\" content=\"light dark\"/>\n<title>");
    markup_put (out, report->unit->id);
    g_string_append (out, ": bench sheet</title>\n<style>\n");
    g_string_append (out, page_style ());
    g_string_append (out, "</style>\n</head>\n<body>\n<h1>Bench sheet, ");
    markup_put (out, report->unit->id);
    g_string_append (out, "</h1>\n");
    route_text_head (paper, report);
    page_put_paper (paper, out);
}

/* ---- Steps ---- */

static void
put_above_step (const RouteReport *report, const RouteAccount *account, guint index, GString *out)
{
    Paper *paper = paper_new_page ();
    g_autofree char *text = NULL;

    route_text_above_step (paper, report, account, index);
    text = paper_finish (paper);
    if (*text != '\0')
        g_string_append_printf (out, "<tr class=\"power\"><td colspan=\"3\">\n%s</td></tr>\n", text);
}

/* Returns how many steps the row is about. */
static guint
put_step (const RouteReport *report, const RouteAccount *account, guint index, GString *out)
{
    Paper *paper = paper_new_page ();
    guint count = route_text_step (paper, report, account, index);

    g_string_append (out, "<tr class=\"step\"><td class=\"tick\"><span class=\"box\"></span></td><td>\n");
    page_put_paper (paper, out);
    g_string_append (out, "<p class=\"found\">found:</p></td><td></td></tr>\n");
    return count;
}

static void
put_last_start (const RouteReport *report, const RouteAccount *account, GString *out)
{
    Paper *paper = paper_new_page ();
    g_autofree char *text = NULL;

    route_text_last_start (paper, report, account);
    text = paper_finish (paper);
    if (*text != '\0')
        g_string_append_printf (out,
                                "<tr class=\"step\"><td class=\"tick\"><span class=\"box\"></span></td><td>\n%s"
                                "<p class=\"found\">found:</p></td><td></td></tr>\n",
                                text);
}

/* The head is repeated on every printed page; so it says which unit this is. */
void
page_put_steps (const RouteReport *report, const RouteAccount *account, GString *out)
{
    g_string_append (out, "<table><thead><tr><th class=\"tick\">done</th><th>");
    markup_put (out, report->unit->id);
    g_string_append (out, ", step</th><th class=\"time\">time, initials</th></tr></thead><tbody>\n");
    for (guint index = 0; index < account->steps->len;) {
        put_above_step (report, account, index, out);
        index += put_step (report, account, index, out);
    }
    put_last_start (report, account, out);
    g_string_append (out, "</tbody></table>\n");
}

/* ---- The whole ---- */

static void
put_facts (const RouteReport *report, const RouteAccount *account, GString *out)
{
    Paper *paper = paper_new_page ();

    route_text_facts (paper, report, account);
    if (account != NULL && account->top_cautions->len > 0)
        paper_blank (paper);
    if (account != NULL)
        route_text_cautions (paper, 0, account->top_cautions);
    page_put_paper (paper, out);
}

static void
put_below_steps (const RouteReport *report, const RouteAccount *account, GString *out)
{
    Paper *paper = paper_new_page ();

    g_string_append (out, "<h2>At the end</h2>\n");
    route_text_end (paper, report, account);
    route_text_before_it_leaves (paper, report, account, NULL);
    route_text_recovery (paper, report, account);
    route_text_looks (paper, report);
    records_text_going_on (paper, report);
    page_put_paper (paper, out);
    page_put_alternatives (report, out);
}

static void
put_route (const RouteReport *report, GString *out)
{
    g_autoptr (RouteAccount) account = NULL;

    if (report->answer->steps->len > 0)
        account = route_account_new (report->library, report->shop, report->unit, report->want, report->answer->steps);
    put_facts (report, account, out);
    if (account != NULL)
        page_put_parts (report, account, out);
    g_string_append (out, "<h2>The route as states</h2>\n");
    picture_put_in_page (report, account, out);
    if (account == NULL)
        return;
    g_string_append (out, "<h2>Steps</h2>\n");
    page_put_steps (report, account, out);
    put_below_steps (report, account, out);
}

void
page_put_answer (const RouteReport *report, GString *out)
{
    if (report->answer->claim == CLAIM_PROVED_SHORTEST || report->answer->claim == CLAIM_BEST_FOUND) {
        put_route (report, out);
    } else if (report->answer->claim == CLAIM_BRANCHES) {
        page_put_branches (report, out);
    } else {
        Paper *paper = paper_new_page ();

        route_text_without (paper, report);
        page_put_paper (paper, out);
    }
}

char *
report_route_html (const RouteReport *report)
{
    GString *out = g_string_new (NULL);

    put_top (report, out);
    page_put_answer (report, out);
    g_string_append (out, "</body>\n</html>\n");
    return g_string_free (out, FALSE);
}
