/* SPDX-License-Identifier: MIT */
/* A strip being drawn; for picture_*.c only. */
#ifndef RUNGWISE_PICTURE_STRIP_H
#define RUNGWISE_PICTURE_STRIP_H

#include "reports/picture_draw.h"
#include "reports/picture_ink.h"

/* Sizes of type and rooms, in pixels. */
#define STRIP_TEXT       12 /* 9 pt on paper */
#define STRIP_SMALL      11
#define STRIP_LINE       14
#define STRIP_PAD        5
#define STRIP_LABELS     92 /* the column of slots and components */
#define STRIP_EDGE       4  /* of a cell that changes */
#define STRIP_MOST_LINES 3

typedef struct {
    const Picture *picture;
    GString *out;
    guint from, to; /* columns shown: from..to-1; with from > 0 the first one is repeated */
    int width;      /* of a column */
    int y;          /* how far it is drawn */
} Strip;

static inline int
strip_x (const Strip *strip, guint column)
{
    return STRIP_LABELS + (int) (column - strip->from) * strip->width;
}

/* Lines below one another from `y` on, which is their top; returns their bottom. */
int strip_put_lines (GString *out, const GPtrArray *lines, int x, int y, int width, int size, InkStyle style);
/* What a row is about, in front of it. */
void strip_put_label (const Strip *strip, int y, const char *name);

/* Each draws from strip->y on, and moves it down. Power brackets; step numbers and words; whether the unit starts; ways
 * back. */
void strip_draw_power (Strip *strip);
void strip_draw_heads (Strip *strip);
void strip_draw_signs (Strip *strip);
void strip_draw_backs (Strip *strip);
/* Slots and components. */
void strip_draw_rows (Strip *strip);

#endif
