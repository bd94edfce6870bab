/* SPDX-License-Identifier: MIT */
/* Draws strips, and decides how wide their columns are. */
#include "reports/picture_strip.h"

#define NARROWEST 84 /* of a column */
#define WIDEST    132

void
drawing_free (Drawing *drawing)
{
    if (drawing == NULL)
        return;
    if (drawing->out != NULL)
        g_string_free (drawing->out, TRUE);
    g_free (drawing);
}

int
strip_put_lines (GString *out, const GPtrArray *lines, int x, int y, int width, int size, InkStyle style)
{
    for (guint i = 0; i < lines->len; i++)
        ink_text (out, x, y + (int) (i + 1) * STRIP_LINE - 3, width, size, style, g_ptr_array_index (lines, i));
    return y + (int) lines->len * STRIP_LINE;
}

void
strip_put_label (const Strip *strip, int y, const char *name)
{
    g_autoptr (GPtrArray) lines = ink_wrap (name, STRIP_LABELS - STRIP_PAD, STRIP_TEXT, INK_BOLD, 1);

    strip_put_lines (strip->out, lines, 0, y, STRIP_LABELS - STRIP_PAD, STRIP_TEXT, INK_BOLD);
}

/* Dotted between the columns; a no-return step is a wall in front of its column. */
static void
draw_walls (const Strip *strip, int top)
{
    for (guint i = strip->from + 1; i < strip->to; i++) {
        int x = strip_x (strip, i);

        if (picture_column (strip->picture, i)->no_return) {
            ink_line (strip->out, x - 2, top, x - 2, strip->y, 6);
            ink_line (strip->out, x + 2, top, x + 2, strip->y, 2);
        }
    }
}

static void
draw_dots (const Strip *strip, int top, int bottom)
{
    for (guint i = strip->from; i < strip->to; i++)
        ink_dotted (strip->out, strip_x (strip, i), top, strip_x (strip, i), bottom);
}

static Drawing *
draw_strip (const Picture *picture, guint from, guint to, int width)
{
    Drawing *drawing = g_new0 (Drawing, 1);
    Strip strip = { picture, g_string_new (NULL), from, to, width, 0 };
    int heads = 0;

    if (to > from + 1)
        strip_draw_power (&strip);
    heads = strip.y;
    strip_draw_heads (&strip);
    strip_draw_signs (&strip);
    strip_draw_backs (&strip);
    draw_dots (&strip, heads, strip.y);
    ink_line (strip.out, 0, strip.y, strip_x (&strip, to), strip.y, 2);
    strip.y += 3;
    strip_draw_rows (&strip);
    draw_walls (&strip, heads);
    drawing->out = strip.out;
    drawing->height = strip.y + 2;
    return drawing;
}

static int
longest_word (const char *text)
{
    g_auto (GStrv) words = g_strsplit (text, " ", -1);
    int longest = 0;

    for (char **word = words; *word != NULL; word++)
        longest = MAX (longest, ink_width (*word, STRIP_TEXT, INK_BOLD));
    return longest;
}

/* Wide enough for the longest name of a part or release, within reason. */
static int
column_width (const Picture *picture)
{
    int widest = NARROWEST;

    for (guint i = 0; i < picture->rows->len; i++) {
        const PictureRow *row = g_ptr_array_index (picture->rows, i);

        for (guint j = 0; j < picture->columns->len; j++)
            widest = MAX (widest, longest_word (picture_cell (row, j)->text) + 2 * STRIP_PAD + STRIP_EDGE + 4);
    }
    return MIN (widest, WIDEST);
}

GPtrArray *
picture_draw_strips (const Picture *picture, int width)
{
    GPtrArray *strips = g_ptr_array_new_with_free_func ((GDestroyNotify) drawing_free);
    guint most =
        (guint) ((width - STRIP_LABELS) / column_width (picture)); /* columns in a strip, the repeated one too */
    guint new_columns = picture->columns->len - 1;
    guint count = MAX ((new_columns + most - 2) / (most - 1), 1);
    guint each = MAX ((new_columns + count - 1) / count, 1); /* the most that one of them has */
    int share = MIN ((width - STRIP_LABELS) / (int) (each + 1), WIDEST);

    for (guint i = 0; i < count; i++)
        g_ptr_array_add (strips,
                         draw_strip (picture, new_columns * i / count, new_columns * (i + 1) / count + 1, share));
    return strips;
}
