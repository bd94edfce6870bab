/* SPDX-License-Identifier: MIT */
/* The picture of a route: as a file of its own for A4 landscape, or as pieces for the page. */
#include "reports/picture.h"

#include "reports/branches_picture.h"
#include "reports/markup.h"
#include "reports/picture_file.h"
#include "reports/route_text.h"

/* ---- As pieces ---- */

static void
put_piece (GString *out, const Drawing *drawing, int width, const char *title, const char *describes)
{
    g_string_append_printf (out, "<svg role=\"img\" width=\"%d\" height=\"%d\" viewBox=\"0 0 %d %d\">\n<title>", width,
                            drawing->height, width, drawing->height);
    markup_put (out, title);
    g_string_append (out, "</title>\n");
    if (describes != NULL) {
        g_string_append (out, "<desc>");
        markup_put (out, describes);
        g_string_append (out, "</desc>\n");
    }
    g_string_append_len (out, drawing->out->str, (gssize) drawing->out->len);
    g_string_append (out, "</svg>\n");
}

void
picture_put_in_page (const RouteReport *report, const RouteAccount *account, GString *out)
{
    g_autoptr (Picture) picture = picture_new (report, account);
    g_autoptr (GPtrArray) strips = picture_draw_strips (picture, PICTURE_PORTRAIT_WIDTH);
    g_autoptr (Drawing) legend = picture_draw_legend (picture, PICTURE_PORTRAIT_WIDTH);

    g_string_append (out, "<div class=\"strips\">\n");
    for (guint i = 0; i < strips->len; i++) {
        g_autofree char *title = g_strdup_printf ("States of the unit, strip %u of %u", i + 1, strips->len);

        put_piece (out, g_ptr_array_index (strips, i), PICTURE_PORTRAIT_WIDTH, title,
                   i == 0 ? picture->describes : NULL);
    }
    if (picture->stays != NULL) {
        g_string_append (out, "<p>");
        markup_put (out, picture->stays);
        g_string_append (out, "</p>\n");
    }
    put_piece (out, legend, PICTURE_PORTRAIT_WIDTH, "What the signs mean", NULL);
    g_string_append (out, "</div>\n");
}

/* ---- As a file ---- */

/* Head and claim as the text sheet has them. */
static Paper *
head_of (const RouteReport *report, const RouteAccount *account)
{
    Paper *paper = paper_new (FALSE);

    route_text_head (paper, report);
    if (account == NULL)
        route_text_facts (paper, report, account);
    else
        route_text_claim (paper, report->answer);
    return paper;
}

char *
picture_title (const RouteReport *report)
{
    return g_strdup_printf ("Unit %s, board %s, revision %s", report->unit->id, report->unit->board->name,
                            (const char *) g_ptr_array_index (report->unit->board->revisions, report->unit->revision));
}

static char *
draw_file (const RouteReport *report, const RouteAccount *account, const Picture *picture)
{
    g_autofree char *title = picture_title (report);
    g_autoptr (GPtrArray) strips = picture_draw_strips (picture, PICTURE_LANDSCAPE_WIDTH);
    g_autoptr (Drawing) legend = picture_draw_legend (picture, PICTURE_LANDSCAPE_WIDTH);
    g_autoptr (GString) out = g_string_new (NULL);
    Image image = { out, 0 };

    image_put_head (&image, head_of (report, account));
    for (guint i = 0; i < strips->len; i++)
        image_put_drawing (&image, g_ptr_array_index (strips, i));
    if (picture->stays != NULL)
        image_put_paragraph (&image, picture->stays, 12, INK_PLAIN);
    image.y += 6;
    image_put_drawing (&image, legend);
    return image_finish (&image, title, picture->describes);
}

char *
report_route_svg (const RouteReport *report)
{
    g_autoptr (RouteAccount) account = NULL;
    g_autoptr (Picture) picture = NULL;

    if (report->answer->claim == CLAIM_BRANCHES)
        return branches_svg (report);
    if (report->answer->steps == NULL)
        return NULL;
    if (report->answer->steps->len > 0)
        account = route_account_new (report->library, report->shop, report->unit, report->want, report->answer->steps);
    picture = picture_new (report, account);
    return draw_file (report, account, picture);
}
