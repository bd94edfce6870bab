/* SPDX-License-Identifier: MIT */
/* Measuring, wrapping and drawing. */
#include "reports/picture_ink.h"

#include "reports/markup.h"

#include <string.h>

/* In hundredths of the font size, by classes of characters; rounded up from a wide sans-serif font. */
static int
character_hundredths (gunichar character)
{
    if (g_unichar_iszerowidth (character))
        return 0;
    if (character > 0x7F)
        return g_unichar_iswide (character) ? 105 : 80;
    if (strchr ("ijl.,:;|!'` ", (int) character) != NULL)
        return 34;
    if (strchr ("-()[]frt/", (int) character) != NULL)
        return 42;
    if (strchr ("mwMW@%&", (int) character) != NULL)
        return 100;
    return g_ascii_isupper (character) || strchr ("=<>+#~^", (int) character) != NULL ? 80 : 65;
}

int
ink_width (const char *text, int size, InkStyle style)
{
    int hundredths = 0;

    for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
        hundredths += character_hundredths (g_utf8_get_char (at));
    if (style & INK_BOLD)
        hundredths += hundredths / 9;
    return (hundredths * size + 99) / 100;
}

/* How many bytes of `text` fit in one line: up to the last blank, else the last hyphen or point, else what there is
 * room for, at least one character. */
static gsize
bytes_that_fit (const char *text, int width, int size, InkStyle style)
{
    gsize blank = 0, joint = 0, any = 0;

    for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at)) {
        const char *next = g_utf8_next_char (at);
        g_autofree char *line = g_strndup (text, (gsize) (next - text));

        if (*at == ' ')
            blank = (gsize) (at - text);
        if (ink_width (line, size, style) > width && any > 0)
            return blank > 0 ? blank : joint > 0 ? joint : any;
        any = (gsize) (next - text);
        if (*at == '-' || *at == '.' || *at == '/')
            joint = any;
    }
    return strlen (text);
}

/* Shortens the line until an ellipsis fits behind it. Takes `line`. Transfer full. */
static char *
with_ellipsis (char *line, int width, int size, InkStyle style)
{
    for (;;) {
        char *shown = g_strconcat (line, "…", NULL);
        char *last = g_utf8_find_prev_char (line, line + strlen (line));

        if (last == NULL || ink_width (shown, size, style) <= width) {
            g_free (line);
            return shown;
        }
        *last = '\0';
        g_free (shown);
    }
}

GPtrArray *
ink_wrap (const char *text, int width, int size, InkStyle style, guint most)
{
    GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
    g_autofree char *valid = g_strstrip (g_utf8_make_valid (text, -1));
    const char *rest = valid;

    while (*rest != '\0') {
        gsize bytes = bytes_that_fit (rest, width, size, style);
        char *line = g_strndup (rest, bytes);

        rest += bytes;
        while (*rest == ' ')
            rest++;
        if (lines->len + 1 == most && *rest != '\0') {
            g_ptr_array_add (lines, with_ellipsis (line, width, size, style));
            break;
        }
        g_ptr_array_add (lines, line);
    }
    return lines;
}

void
ink_text (GString *out, int x, int y, int width, int size, InkStyle style, const char *text)
{
    g_string_append_printf (out, "<text class=\"ink\" fill=\"#000\" x=\"%d\" y=\"%d\" font-size=\"%d\"", x, y, size);
    if (style & INK_BOLD)
        g_string_append (out, " font-weight=\"bold\"");
    if (style & INK_ITALIC)
        g_string_append (out, " font-style=\"italic\"");
    if (width > 0 && ink_width (text, size, style) > width)
        g_string_append_printf (out, " textLength=\"%d\" lengthAdjust=\"spacingAndGlyphs\"", width);
    g_string_append_c (out, '>');
    markup_put (out, text);
    g_string_append (out, "</text>\n");
}

void
ink_line (GString *out, int x1, int y1, int x2, int y2, int half_pixels)
{
    g_string_append_printf (out,
                            "<line class=\"line\" stroke=\"#000\" stroke-width=\"%d.%d\" x1=\"%d\" y1=\"%d\" x2=\"%d\" "
                            "y2=\"%d\"/>\n",
                            half_pixels / 2, half_pixels % 2 * 5, x1, y1, x2, y2);
}

void
ink_dotted (GString *out, int x1, int y1, int x2, int y2)
{
    g_string_append_printf (out,
                            "<line class=\"line\" stroke=\"#000\" stroke-width=\"0.5\" stroke-dasharray=\"1 3\" "
                            "x1=\"%d\" y1=\"%d\" x2=\"%d\" y2=\"%d\"/>\n",
                            x1, y1, x2, y2);
}

void
ink_box (GString *out, int x, int y, int width, int height, InkBox box)
{
    static const char *const paints[] = {
        "class=\"clear line\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"1\"",
        "class=\"shade\" fill=\"#ddd\"",
        "class=\"ink\" fill=\"#000\"",
        "class=\"clear line\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"1\" stroke-dasharray=\"4 3\"",
    };

    g_string_append_printf (out, "<rect %s x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\"/>\n", paints[box], x, y, width,
                            height);
}

void
ink_figure (GString *out, const char *points, gboolean black)
{
    g_string_append_printf (out, "<polygon %s stroke=\"#000\" stroke-width=\"1.5\" points=\"%s\"/>\n",
                            black ? "class=\"ink line\" fill=\"#000\"" : "class=\"clear line\" fill=\"#fff\"", points);
}
