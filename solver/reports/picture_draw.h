/* SPDX-License-Identifier: MIT */
/* Drawing a picture as strips of a given width. For picture*.c and page*.c only. */
#ifndef RUNGWISE_PICTURE_DRAW_H
#define RUNGWISE_PICTURE_DRAW_H

#include "reports/picture_model.h"

/* Pixels at 96 to the inch: what A4 holds between margins of 10 mm. */
#define PICTURE_PORTRAIT_WIDTH  718
#define PICTURE_LANDSCAPE_WIDTH 1046

/* One strip: the elements, from y = 0 on, without the <svg> around them. */
typedef struct {
    GString *out; /* owned */
    int height;
} Drawing;

void drawing_free (Drawing *drawing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Drawing, drawing_free)

/* The columns, as many in a strip as fit; each strip but the first begins with the state in which the one before ends.
 * Transfer full (GPtrArray of Drawing*). */
GPtrArray *picture_draw_strips (const Picture *picture, int width);

/* What the signs in this picture mean. Transfer full. */
Drawing *picture_draw_legend (const Picture *picture, int width);

/* The sign and its words, the middle of the sign at (x, y); `width` is for the words. */
void picture_draw_sign (GString *out, PictureSign sign, int x, int y);

#endif
