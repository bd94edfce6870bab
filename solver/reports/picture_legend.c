/* SPDX-License-Identifier: MIT */
/* What the signs of a picture mean: those that are in it. */
#include "reports/picture_draw.h"
#include "reports/picture_ink.h"

#define TEXT   11
#define HEIGHT 20
#define SIGN   30 /* room for a sign before its words */
#define GAP    16

typedef struct {
    GString *out;
    int width; /* of the whole */
    int x, y;
} Legend;

/* Room for one entry, in a new line where this one is full; the sign goes into the first SIGN pixels. */
static void
put_words (Legend *legend, const char *words)
{
    int width = SIGN + ink_width (words, TEXT, INK_PLAIN);

    ink_text (legend->out, legend->x + SIGN, legend->y + 14, legend->width - SIGN, TEXT, INK_PLAIN, words);
    legend->x += width + GAP;
}

/* An entry that is all words. */
static void
put_alone (Legend *legend, const char *words)
{
    int width = ink_width (words, TEXT, INK_PLAIN);

    if (legend->x > 0 && legend->x + width > legend->width) {
        legend->x = 0;
        legend->y += HEIGHT;
    }
    ink_text (legend->out, legend->x + 2, legend->y + 14, legend->width, TEXT, INK_PLAIN, words);
    legend->x += width + GAP;
}

static void
make_room (Legend *legend, const char *words)
{
    if (legend->x > 0 && legend->x + SIGN + ink_width (words, TEXT, INK_PLAIN) > legend->width) {
        legend->x = 0;
        legend->y += HEIGHT;
    }
}

static void
add_signs (Legend *legend, const Picture *picture)
{
    static const char *const means[SIGN_COUNT] = {
        "the unit starts in this state",
        "it does not start",
        "depends on the release that it has",
        "must not be started: it may do damage",
        "must not be plugged in: it may do damage",
    };
    gboolean there[SIGN_COUNT] = { FALSE };

    for (guint i = 0; i < picture->columns->len; i++)
        there[picture_column (picture, i)->sign] = TRUE;
    for (int sign = 0; sign < SIGN_COUNT; sign++) {
        if (!there[sign])
            continue;
        make_room (legend, means[sign]);
        picture_draw_sign (legend->out, (PictureSign) sign, legend->x + 12, legend->y + 10);
        put_words (legend, means[sign]);
    }
}

static gboolean
has_tag (const Picture *picture, const char *tag)
{
    for (guint i = 0; i < picture->rows->len; i++)
        for (guint j = 0; j < picture->columns->len; j++)
            if (g_strcmp0 (picture_cell (g_ptr_array_index (picture->rows, i), j)->tag, tag) == 0)
                return TRUE;
    return FALSE;
}

static void
add_changed (Legend *legend, const Picture *picture)
{
    static const char *const changed = "changed in this step; a bar lasts as long as it stays so";

    if (picture->rows->len == 0)
        return;
    make_room (legend, changed);
    ink_box (legend->out, legend->x + 2, legend->y + 3, 22, 14, BOX_SHADED);
    ink_box (legend->out, legend->x + 2, legend->y + 3, 4, 14, BOX_BLACK);
    put_words (legend, changed);
}

static void
add_tags (Legend *legend, const Picture *picture)
{
    static const char *const lent = "LENT: a loaner, goes back to the shelf";
    static const char *const stock = "STOCK: from the shop's stock, not the unit's own";
    static const char *const failed = "FAILED: the last write of it failed";

    if (has_tag (picture, "LENT")) {
        make_room (legend, lent);
        ink_box (legend->out, legend->x + 2, legend->y + 3, 22, 14, BOX_CLEAR);
        ink_line (legend->out, legend->x + 2, legend->y + 16, legend->x + 24, legend->y + 16, 6);
        put_words (legend, lent);
    }
    if (has_tag (picture, "STOCK"))
        put_alone (legend, stock);
    if (has_tag (picture, "FAILED"))
        put_alone (legend, failed);
}

static void
add_opening (Legend *legend, const Picture *picture)
{
    static const char *const opening = "one opening: cover off, every cord out unless a step says otherwise";

    if (picture->openings == 0)
        return;
    make_room (legend, opening);
    ink_line (legend->out, legend->x + 2, legend->y + 7, legend->x + 24, legend->y + 7, 5);
    ink_line (legend->out, legend->x + 3, legend->y + 7, legend->x + 3, legend->y + 15, 5);
    ink_line (legend->out, legend->x + 23, legend->y + 7, legend->x + 23, legend->y + 15, 5);
    put_words (legend, opening);
}

static void
add_ways_back (Legend *legend, const Picture *picture)
{
    static const char *const wall = "NO RETURN: past this wall the unit can't be brought back to how it last started";
    static const char *const bound = "PART BOUND: once started here the part is bound for good";
    static const char *const back = "way back: the fewest steps back to how it last started; at most: so many are enough";
    gboolean no_return = FALSE, binds = FALSE, ways = FALSE;

    for (guint i = 0; i < picture->columns->len; i++) {
        no_return |= picture_column (picture, i)->no_return;
        binds |= picture_column (picture, i)->binds_part;
        ways |= picture_column (picture, i)->back != NULL;
    }
    if (no_return) {
        make_room (legend, wall);
        ink_line (legend->out, legend->x + 10, legend->y + 2, legend->x + 10, legend->y + 18, 6);
        ink_line (legend->out, legend->x + 14, legend->y + 2, legend->x + 14, legend->y + 18, 2);
        put_words (legend, wall);
    }
    if (binds)
        put_alone (legend, bound);
    if (ways)
        put_alone (legend, back);
}

Drawing *
picture_draw_legend (const Picture *picture, int width)
{
    Drawing *drawing = g_new0 (Drawing, 1);
    Legend legend = { g_string_new (NULL), width, 0, 0 };

    add_signs (&legend, picture);
    add_changed (&legend, picture);
    add_tags (&legend, picture);
    add_opening (&legend, picture);
    add_ways_back (&legend, picture);
    drawing->out = legend.out;
    drawing->height = legend.y + HEIGHT;
    return drawing;
}
