/* SPDX-License-Identifier: MIT */
/* The picture of a route: as a file of its own for A4 landscape, or as pieces for the page. */
#include "reports/picture.h"

#include "reports/markup.h"
#include "reports/picture_draw.h"
#include "reports/picture_ink.h"
#include "reports/route_text.h"

#define MARGIN 14 /* between strips */
#define EDGE   12 /* around the whole */

/* A4 landscape between margins of 6 mm, as the style sheet in the image asks for them. */
#define PAGE_HEIGHT 748
#define PAGE_TOP    8

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

typedef struct {
    GString *out;
    int y;
} Image;

static void
put_paragraph (Image *image, const char *text, int size, InkStyle style)
{
    g_autoptr (GPtrArray) lines = ink_wrap (text, PICTURE_LANDSCAPE_WIDTH, size, style, G_MAXUINT);

    for (guint i = 0; i < lines->len; i++) {
        image->y += size + 4;
        ink_text (image->out, 0, image->y - 4, PICTURE_LANDSCAPE_WIDTH, size, style, g_ptr_array_index (lines, i));
    }
}

/* Where the end of an A4 page would cut it and need not, it goes on the next page, below a dotted line. */
static void
put_drawing (Image *image, const Drawing *drawing)
{
    int on_page = (image->y + EDGE) % PAGE_HEIGHT;

    if (on_page + drawing->height > PAGE_HEIGHT && drawing->height + PAGE_TOP <= PAGE_HEIGHT) {
        image->y += PAGE_HEIGHT - on_page + PAGE_TOP;
        ink_dotted (image->out, 0, image->y - PAGE_TOP, PICTURE_LANDSCAPE_WIDTH, image->y - PAGE_TOP);
    }
    g_string_append_printf (image->out, "<g transform=\"translate(0,%d)\">\n", image->y);
    g_string_append_len (image->out, drawing->out->str, (gssize) drawing->out->len);
    g_string_append (image->out, "</g>\n");
    image->y += drawing->height + MARGIN;
}

/* Head and claim as the text sheet has them. Its paragraphs hang by two columns; that undone, they are wrapped anew, so
 * that the picture does not depend on how wide somebody's terminal is. */
static void
put_head (Image *image, const RouteReport *report, const RouteAccount *account)
{
    Paper *paper = paper_new (FALSE);
    g_auto (GStrv) lines = NULL;
    g_autoptr (GString) text = NULL;
    g_autofree char *said = NULL;

    route_text_head (paper, report);
    if (account == NULL)
        route_text_facts (paper, report, account);
    else
        route_text_claim (paper, report->answer);
    said = paper_finish (paper);
    text = g_string_new (said);
    g_string_replace (text, "\n  ", " ", 0);
    lines = g_strsplit (text->str, "\n", -1);
    for (guint i = 0; lines[i] != NULL; i++)
        if (*lines[i] != '\0')
            put_paragraph (image, lines[i], i == 0 ? 16 : 12, i == 0 ? INK_BOLD : INK_PLAIN);
    image->y += 4;
}

/* The root, drawn to scale: 96 pixels to the inch. */
static char *
finish (const Image *image, const char *title, const char *describes)
{
    int width = PICTURE_LANDSCAPE_WIDTH + 2 * EDGE, height = image->y + 2 * EDGE;
    GString *file = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");

    g_string_append_printf (file,
                            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" "
                            "aria-labelledby=\"title describes\" width=\"%d\" height=\"%d\" "
                            "viewBox=\"-%d -%d %d %d\" font-family=\"sans-serif\">\n"
                            "<style>@page{size:A4 landscape;margin:6mm}</style>\n<title id=\"title\">",
                            width, height, EDGE, EDGE, width, height);
    markup_put (file, title);
    g_string_append (file, "</title>\n<desc id=\"describes\">");
    markup_put (file, describes);
    g_string_append_printf (file, "</desc>\n<rect fill=\"#fff\" x=\"-%d\" y=\"-%d\" width=\"%d\" height=\"%d\"/>\n",
                            EDGE, EDGE, width, height);
    g_string_append_len (file, image->out->str, (gssize) image->out->len);
    g_string_append (file, "</svg>\n");
    return g_string_free (file, FALSE);
}

static char *
draw_file (const RouteReport *report, const RouteAccount *account, const Picture *picture)
{
    g_autofree char *title =
        g_strdup_printf ("Unit %s, board %s, revision %s", report->unit->id, report->unit->board->name,
                         (const char *) g_ptr_array_index (report->unit->board->revisions, report->unit->revision));
    g_autoptr (GPtrArray) strips = picture_draw_strips (picture, PICTURE_LANDSCAPE_WIDTH);
    g_autoptr (Drawing) legend = picture_draw_legend (picture, PICTURE_LANDSCAPE_WIDTH);
    g_autoptr (GString) out = g_string_new (NULL);
    Image image = { out, 0 };

    put_head (&image, report, account);
    for (guint i = 0; i < strips->len; i++)
        put_drawing (&image, g_ptr_array_index (strips, i));
    if (picture->stays != NULL)
        put_paragraph (&image, picture->stays, 12, INK_PLAIN);
    image.y += 6;
    put_drawing (&image, legend);
    return finish (&image, title, picture->describes);
}

char *
report_route_svg (const RouteReport *report)
{
    g_autoptr (RouteAccount) account = NULL;
    g_autoptr (Picture) picture = NULL;

    if (report->answer->steps == NULL)
        return NULL;
    if (report->answer->steps->len > 0)
        account = route_account_new (report->library, report->shop, report->unit, report->want, report->answer->steps);
    picture = picture_new (report, account);
    return draw_file (report, account, picture);
}
