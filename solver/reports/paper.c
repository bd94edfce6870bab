/* SPDX-License-Identifier: MIT */
/* Wrapping, cleaning and colouring of text. */
#include "reports/paper.h"

#include "reports/markup.h"

#include <string.h>

static guint paper_width = PAPER_WIDTH;

struct Paper {
    GString *out; /* owned */
    guint width;  /* columns */
    gboolean colour;
    gboolean page;   /* paragraphs of HTML */
    gboolean gap;    /* page: an empty line was asked for */
    gboolean marked; /* page: a mark is open */
};

void
paper_set_width (guint columns)
{
    paper_width = CLAMP (columns, PAPER_NARROWEST, PAPER_WIDTH);
}

Paper *
paper_new (gboolean colour)
{
    Paper *paper = g_new0 (Paper, 1);

    paper->out = g_string_new (NULL);
    paper->width = paper_width;
    paper->colour = colour;
    return paper;
}

Paper *
paper_new_plain (guint columns)
{
    Paper *paper = paper_new (FALSE);

    paper->width = columns;
    return paper;
}

Paper *
paper_new_page (void)
{
    Paper *paper = paper_new (FALSE);

    paper->page = TRUE;
    return paper;
}

static gboolean
is_mark (gunichar character)
{
    return character >= 0x02 && character <= 0x06;
}

/* The escape sequence for a mark (ECMA-48, "SGR - Select Graphic Rendition"). */
static const char *
mark_escape (gunichar mark)
{
    static const char *const escapes[] = { "\033[1m", "\033[33m", "\033[32m", "\033[31m", "\033[0m" };

    return escapes[mark - 0x02];
}

static guint
character_columns (gunichar character)
{
    if (is_mark (character) || g_unichar_iszerowidth (character))
        return 0;
    return g_unichar_iswide (character) ? 2 : 1;
}

guint
paper_columns (const char *text)
{
    guint columns = 0;

    for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
        columns += character_columns (g_utf8_get_char (at));
    return columns;
}

/* Elements never nest and never stay open, whatever marks a text has. */
static void
put_page_mark (Paper *paper, gunichar mark)
{
    static const char *const classes[] = { "strong", "caution", "good", "bad" };

    if (paper->marked)
        g_string_append (paper->out, "</b>");
    paper->marked = mark != (gunichar) *MARK_PLAIN;
    if (paper->marked)
        g_string_append_printf (paper->out, "<b class=\"%s\">", classes[mark - (gunichar) *MARK_STRONG]);
}

static void
put_word (Paper *paper, const char *word)
{
    for (const char *at = word; *at != '\0'; at = g_utf8_next_char (at)) {
        gunichar character = g_utf8_get_char (at);

        if (paper->page) {
            if (is_mark (character))
                put_page_mark (paper, character);
            else
                markup_put_character (paper->out, character);
        } else if (is_mark (character)) {
            if (paper->colour)
                g_string_append (paper->out, mark_escape (character));
        } else {
            g_string_append_unichar (paper->out, g_unichar_iscntrl (character) ? '?' : character);
        }
    }
}

static void
put_blanks (Paper *paper, guint count)
{
    while (count-- > 0)
        g_string_append_c (paper->out, ' ');
}

/* Sets `text` from column `column` on, which is where the paper stands. */
static void
wrap (Paper *paper, guint column, guint hang, const char *text)
{
    g_auto (GStrv) words = g_strsplit_set (text, " \n\r\t", -1);
    gboolean line_is_empty = TRUE;

    for (char **word = words; *word != NULL; word++) {
        guint columns = paper_columns (*word);

        if (**word == '\0')
            continue;
        if (!line_is_empty && column + 1 + columns > paper->width) {
            g_string_append_c (paper->out, '\n');
            put_blanks (paper, hang);
            column = hang;
        } else if (!line_is_empty) {
            g_string_append_c (paper->out, ' ');
            column++;
        }
        put_word (paper, *word);
        column += columns;
        line_is_empty = FALSE;
    }
    g_string_append_c (paper->out, '\n');
}

static void
put_paragraph (Paper *paper, guint indent, const char *label, const char *text)
{
    g_string_append_printf (paper->out, "<p class=\"i%u%s\">", indent, paper->gap ? " gap" : "");
    paper->gap = FALSE;
    if (label != NULL) {
        put_word (paper, label);
        g_string_append_c (paper->out, ' ');
    }
    put_word (paper, text);
    if (paper->marked)
        put_page_mark (paper, *MARK_PLAIN);
    g_string_append (paper->out, "</p>\n");
}

static char *
format_valid (const char *format, va_list list)
{
    g_autofree char *text = g_strdup_vprintf (format, list);

    return g_utf8_make_valid (text, -1);
}

void
paper_say (Paper *paper, guint indent, guint hang, const char *format, ...)
{
    g_autofree char *text = NULL;
    va_list list;

    va_start (list, format);
    text = format_valid (format, list);
    va_end (list);
    if (paper->page) {
        put_paragraph (paper, indent, NULL, text);
        return;
    }
    put_blanks (paper, indent);
    wrap (paper, indent, hang, text);
}

void
paper_label (Paper *paper, guint indent, guint hang, const char *label, const char *format, ...)
{
    g_autofree char *text = NULL;
    g_autofree char *valid_label = g_utf8_make_valid (label, -1);
    guint column = indent + paper_columns (valid_label) + 1;
    va_list list;

    va_start (list, format);
    text = format_valid (format, list);
    va_end (list);
    if (paper->page) {
        put_paragraph (paper, indent, valid_label, text);
        return;
    }
    put_blanks (paper, indent);
    put_word (paper, valid_label);
    put_blanks (paper, column < hang ? hang - column + 1 : 1);
    wrap (paper, MAX (column, hang), hang, text);
}

void
paper_blank (Paper *paper)
{
    gsize length = paper->out->len;

    if (paper->page) {
        paper->gap = length > 0;
        return;
    }
    if (length == 0 || (length >= 2 && memcmp (paper->out->str + length - 2, "\n\n", 2) == 0))
        return;
    g_string_append_c (paper->out, '\n');
}

char *
paper_finish (Paper *paper)
{
    char *text = g_string_free (paper->out, FALSE);

    g_free (paper);
    return text;
}
