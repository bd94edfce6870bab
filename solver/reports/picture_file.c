/* SPDX-License-Identifier: MIT */
/* A picture as a file of its own, for A4 landscape. */
#include "reports/picture_file.h"

#include "reports/markup.h"

#define MARGIN 14 /* between strips */
#define EDGE   12 /* around the whole */

/* A4 landscape between margins of 6 mm, as the style sheet in the image asks for them. */
#define PAGE_HEIGHT 748
#define PAGE_TOP    8

void
image_put_paragraph (Image *image, const char *text, int size, InkStyle style)
{
    g_autoptr (GPtrArray) lines = ink_wrap (text, PICTURE_LANDSCAPE_WIDTH, size, style, G_MAXUINT);

    for (guint i = 0; i < lines->len; i++) {
        image->y += size + 4;
        ink_text (image->out, 0, image->y - 4, PICTURE_LANDSCAPE_WIDTH, size, style, g_ptr_array_index (lines, i));
    }
}

/* Where the end of an A4 page would cut it and need not, it goes on the next page, below a dotted line. */
void
image_put_drawing (Image *image, const Drawing *drawing)
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

/* The paragraphs hang by two columns; that undone, they are wrapped anew, so that the picture does not depend on how wide
 * somebody's terminal is. */
void
image_put_head (Image *image, Paper *paper)
{
    g_auto (GStrv) lines = NULL;
    g_autoptr (GString) text = NULL;
    g_autofree char *said = paper_finish (paper);

    text = g_string_new (said);
    g_string_replace (text, "\n  ", " ", 0);
    lines = g_strsplit (text->str, "\n", -1);
    for (guint i = 0; lines[i] != NULL; i++)
        if (*lines[i] != '\0')
            image_put_paragraph (image, lines[i], i == 0 ? 16 : 12, i == 0 ? INK_BOLD : INK_PLAIN);
    image->y += 4;
}

/* The root, drawn to scale: 96 pixels to the inch. */
char *
image_finish (const Image *image, const char *title, const char *describes)
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
