/* SPDX-License-Identifier: MIT */
/* The rows of a strip: a bar for as long as a slot or component stays as it is. */
#include "reports/picture_strip.h"

#define TAG_SIZE STRIP_SMALL

/* Where the bar that begins at `first` ends: before the next column that changes the row. */
static guint
end_of_bar (const Strip *strip, const PictureRow *row, guint first)
{
    guint end = first + 1;

    while (end < strip->to && !picture_cell (row, end)->changed)
        end++;
    return end;
}

static gboolean
is_emphasised (const Strip *strip, const PictureRow *row, guint column)
{
    return picture_cell (row, column)->changed && column > strip->from;
}

static InkStyle
style_of (const Strip *strip, const PictureRow *row, guint column)
{
    return (is_emphasised (strip, row, column) ? INK_BOLD : INK_PLAIN) |
           (picture_cell (row, column)->empty ? INK_ITALIC : INK_PLAIN);
}

static int
tag_width (const char *tag)
{
    return ink_width (tag, TAG_SIZE, INK_BOLD) + 8;
}

/* How wide the text of a bar may be: to its end, or to the first wall across it. */
static int
text_width (const Strip *strip, guint first, guint end)
{
    guint at = first + 1;

    while (at < end && !picture_column (strip->picture, at)->no_return)
        at++;
    return (int) (at - first) * strip->width - 2 * STRIP_PAD - STRIP_EDGE - 2;
}

/* The text in a bar. `beside`: the tag has room behind the first line. */
static GPtrArray *
wrap_cell (const Strip *strip, const PictureRow *row, guint first, guint end, gboolean *beside)
{
    const PictureCell *cell = picture_cell (row, first);
    InkStyle style = style_of (strip, row, first);
    int width = text_width (strip, first, end);
    GPtrArray *lines = ink_wrap (cell->text, width, STRIP_TEXT, style, STRIP_MOST_LINES);

    *beside = cell->tag != NULL && lines->len == 1 &&
              ink_width (cell->text, STRIP_TEXT, style) + STRIP_PAD + tag_width (cell->tag) <= width;
    return lines;
}

static int
row_height (const Strip *strip, const PictureRow *row)
{
    guint most = 1;

    for (guint first = strip->from, end = first; first < strip->to; first = end) {
        gboolean beside = FALSE;
        g_autoptr (GPtrArray) lines = NULL;

        end = end_of_bar (strip, row, first);
        lines = wrap_cell (strip, row, first, end, &beside);
        most = MAX (most, lines->len + (picture_cell (row, first)->tag != NULL && !beside ? 1 : 0));
    }
    return (int) most * STRIP_LINE + 10;
}

/* "LENT" in a frame. */
static void
draw_tag (GString *out, const char *tag, int x, int y)
{
    ink_box (out, x, y, tag_width (tag), STRIP_LINE - 1, BOX_CLEAR);
    ink_text (out, x + 4, y + STRIP_LINE - 4, tag_width (tag) - 8, TAG_SIZE, INK_BOLD, tag);
}

static void
draw_bar (const Strip *strip, const PictureRow *row, guint first, guint end, int height)
{
    const PictureCell *cell = picture_cell (row, first);
    gboolean beside = FALSE, lent = g_strcmp0 (cell->tag, "LENT") == 0;
    g_autoptr (GPtrArray) lines = wrap_cell (strip, row, first, end, &beside);
    int x = strip_x (strip, first) + 1, width = (int) (end - first) * strip->width - 2, top = strip->y + 2;
    int text = x + STRIP_EDGE + STRIP_PAD - 2, bottom = 0;

    ink_box (strip->out, x, top, width, height - 4, cell->empty ? BOX_DASHED : BOX_CLEAR);
    if (is_emphasised (strip, row, first)) {
        ink_box (strip->out, x + 1, top + 1, strip->width - 4, height - 6, BOX_SHADED);
        ink_box (strip->out, x, top, STRIP_EDGE, height - 4, BOX_BLACK);
    }
    if (lent)
        ink_line (strip->out, x, top + height - 6, x + width, top + height - 6, 6);
    bottom = strip_put_lines (strip->out, lines, text, top + 2, width - STRIP_EDGE - STRIP_PAD, STRIP_TEXT,
                              style_of (strip, row, first));
    if (cell->tag != NULL && beside)
        draw_tag (strip->out, cell->tag,
                  text + ink_width (g_ptr_array_index (lines, 0), STRIP_TEXT, style_of (strip, row, first)) + STRIP_PAD,
                  top + 2);
    else if (cell->tag != NULL)
        draw_tag (strip->out, cell->tag, text, bottom + 1);
}

static void
draw_row (Strip *strip, const PictureRow *row)
{
    int height = row_height (strip, row);

    strip_put_label (strip, strip->y + 4, row->name);
    for (guint first = strip->from, end = first; first < strip->to; first = end) {
        end = end_of_bar (strip, row, first);
        draw_bar (strip, row, first, end, height);
    }
    strip->y += height;
}

/* Parts above, firmware below, each under a word of its own. */
void
strip_draw_rows (Strip *strip)
{
    const GPtrArray *rows = strip->picture->rows;

    for (guint i = 0; i < rows->len; i++) {
        const PictureRow *row = g_ptr_array_index (rows, i);
        const PictureRow *previous = i == 0 ? NULL : g_ptr_array_index (rows, i - 1);

        if (previous == NULL || previous->is_firmware != row->is_firmware) {
            ink_text (strip->out, 0, strip->y + STRIP_SMALL, STRIP_LABELS, STRIP_SMALL, INK_ITALIC,
                      row->is_firmware ? "firmware" : "parts");
            strip->y += STRIP_LINE;
        }
        draw_row (strip, row);
    }
}
