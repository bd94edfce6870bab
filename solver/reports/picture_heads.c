/* SPDX-License-Identifier: MIT */
/* What stands over the bars of a strip: power, steps, whether the unit starts, ways back. */
#include "reports/picture_strip.h"

/* ---- Power ---- */

static gboolean
same_power (const PictureColumn *left, const PictureColumn *right)
{
    return left->count > 0 && left->power == right->power && left->opening == right->opening;
}

static char *
power_words (const Picture *picture, const PictureColumn *column)
{
    switch (column->power) {
    case STEP_POWER_OFF:
        return g_strdup_printf ("opening %u of %u: off, mains out", column->opening, picture->openings);
    case STEP_POWER_HOST:
        return g_strdup ("host running");
    case STEP_POWER_STANDBY:
        return g_strdup ("standby power");
    }
    g_assert_not_reached ();
}

/* A bracket over the columns first..end-1; an opening's is heavy and has feet, the others' are thin lines. */
static void
put_bracket (const Strip *strip, guint first, guint end, const GPtrArray *words, int bottom)
{
    int left = strip_x (strip, first) + 3, right = strip_x (strip, end) - 3;
    gboolean opening = picture_column (strip->picture, first)->power == STEP_POWER_OFF;

    strip_put_lines (strip->out, words, left + 2, bottom - 6 - (int) words->len * STRIP_LINE, right - left, STRIP_SMALL,
                     opening ? INK_BOLD : INK_PLAIN);
    ink_line (strip->out, left, bottom - 4, right, bottom - 4, opening ? 5 : 1);
    if (opening) {
        ink_line (strip->out, left, bottom - 4, left, bottom + 4, 5);
        ink_line (strip->out, right, bottom - 4, right, bottom + 4, 5);
    }
}

/* The words over the columns that are powered like `first`; `*end`: behind the last of these. Transfer full. */
static GPtrArray *
power_lines (const Strip *strip, guint first, guint *end)
{
    const PictureColumn *column = picture_column (strip->picture, first);
    g_autofree char *words = power_words (strip->picture, column);

    for (*end = first + 1; *end < strip->to && same_power (column, picture_column (strip->picture, *end));)
        ++*end;
    return ink_wrap (words, strip_x (strip, *end) - strip_x (strip, first) - 10, STRIP_SMALL, INK_BOLD,
                     STRIP_MOST_LINES);
}

void
strip_draw_power (Strip *strip)
{
    guint most = 0;
    int bottom = 0;

    for (guint first = strip->from + 1, end = first; first < strip->to; first = end) {
        g_autoptr (GPtrArray) lines = power_lines (strip, first, &end);

        most = MAX (most, lines->len);
    }
    bottom = strip->y + (int) most * STRIP_LINE + 8;
    for (guint first = strip->from + 1, end = first; first < strip->to; first = end) {
        g_autoptr (GPtrArray) lines = power_lines (strip, first, &end);

        put_bracket (strip, first, end, lines, bottom);
    }
    strip->y = bottom + 6;
}

/* ---- Heads, starts, ways back ---- */

/* Returns the bottom. */
static int
draw_head (const Strip *strip, guint index, int top)
{
    const PictureColumn *column = picture_column (strip->picture, index);
    gboolean repeated = index == strip->from && index > 0;
    g_autofree char *words = repeated ? picture_state_words (column) : g_strdup (column->head);
    g_autoptr (GPtrArray) lines =
        ink_wrap (words, strip->width - 2 * STRIP_PAD, STRIP_SMALL, INK_PLAIN, STRIP_MOST_LINES);
    int x = strip_x (strip, index) + STRIP_PAD;

    if (!repeated && column->count > 0)
        ink_text (strip->out, x, top + STRIP_LINE - 1, strip->width - 2 * STRIP_PAD, 14, INK_BOLD, column->number);
    return strip_put_lines (strip->out, lines, x, top + STRIP_LINE + 2, strip->width - 2 * STRIP_PAD, STRIP_SMALL,
                            column->count == 0 || repeated ? INK_ITALIC : INK_PLAIN);
}

void
strip_draw_heads (Strip *strip)
{
    int bottom = strip->y;

    strip_put_label (strip, strip->y + 2, "step");
    for (guint i = strip->from; i < strip->to; i++) {
        int end = draw_head (strip, i, strip->y); /* not inside MAX, which would draw it twice */

        bottom = MAX (bottom, end);
    }
    strip->y = bottom + 6;
}

void
picture_draw_sign (GString *out, PictureSign sign, int x, int y)
{
    g_autofree char *points = NULL;

    switch (sign) {
    case SIGN_STARTS: /* points on, open */
        points = g_strdup_printf ("%d,%d %d,%d %d,%d", x - 5, y - 6, x + 6, y, x - 5, y + 6);
        break;
    case SIGN_DARK: /* filled */
        points = g_strdup_printf ("%d,%d %d,%d %d,%d %d,%d", x - 5, y - 5, x + 5, y - 5, x + 5, y + 5, x - 5, y + 5);
        break;
    case SIGN_DEPENDS: /* open */
        points = g_strdup_printf ("%d,%d %d,%d %d,%d %d,%d", x, y - 6, x + 6, y, x, y + 6, x - 6, y);
        break;
    default: /* on its base, filled */
        points = g_strdup_printf ("%d,%d %d,%d %d,%d", x, y - 6, x + 6, y + 5, x - 6, y + 5);
        break;
    }
    ink_figure (out, points, sign != SIGN_STARTS && sign != SIGN_DEPENDS);
}

void
strip_draw_signs (Strip *strip)
{
    guint most = 1;

    strip_put_label (strip, strip->y + 2, "unit");
    for (guint i = strip->from; i < strip->to; i++) {
        PictureSign sign = picture_column (strip->picture, i)->sign;
        int x = strip_x (strip, i) + STRIP_PAD, width = strip->width - 2 * STRIP_PAD - 18;
        g_autoptr (GPtrArray) lines = ink_wrap (picture_sign_words (sign), width, STRIP_TEXT, INK_BOLD, 2);

        picture_draw_sign (strip->out, sign, x + 6, strip->y + 9);
        strip_put_lines (strip->out, lines, x + 18, strip->y + 2, width, STRIP_TEXT, INK_BOLD);
        most = MAX (most, lines->len);
    }
    strip->y += (int) most * STRIP_LINE + 8;
}

/* What stands in the row of ways back: "NO RETURN", "2 steps"; NULL: nothing. Transfer full. */
static char *
back_of (const PictureColumn *column)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new ();

    if (column->no_return)
        g_ptr_array_add (words, (gpointer) "NO RETURN");
    if (column->binds_part)
        g_ptr_array_add (words, (gpointer) "PART BOUND");
    if (column->back != NULL)
        g_ptr_array_add (words, column->back);
    g_ptr_array_add (words, NULL);
    return words->len == 1 ? NULL : g_strjoinv ("; ", (char **) words->pdata);
}

static gboolean
says_ways_back (const Picture *picture)
{
    for (guint i = 0; i < picture->columns->len; i++) {
        g_autofree char *words = back_of (picture_column (picture, i));

        if (words != NULL)
            return TRUE;
    }
    return FALSE;
}

void
strip_draw_backs (Strip *strip)
{
    int lowest = strip->y + STRIP_LINE;

    if (!says_ways_back (strip->picture))
        return;
    strip_put_label (strip, strip->y, "way back");
    for (guint i = strip->from; i < strip->to; i++) {
        const PictureColumn *column = picture_column (strip->picture, i);
        g_autofree char *words = i == strip->from ? NULL : back_of (column);
        InkStyle style = column->no_return || column->binds_part ? INK_BOLD : INK_PLAIN;
        g_autoptr (GPtrArray) lines = NULL;
        int end = 0;

        if (words == NULL)
            continue;
        lines = ink_wrap (words, strip->width - 2 * STRIP_PAD, STRIP_SMALL, style, STRIP_MOST_LINES);
        end = strip_put_lines (strip->out, lines, strip_x (strip, i) + STRIP_PAD + 2, strip->y,
                               strip->width - 2 * STRIP_PAD, STRIP_SMALL, style);
        lowest = MAX (lowest, end);
    }
    strip->y = lowest + 6;
}
