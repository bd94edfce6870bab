/* SPDX-License-Identifier: MIT */
/* Lines, boxes and text as SVG. Lengths are whole pixels, 96 to the inch. Ink is drawn with presentation attributes, so that
 * any viewer shows it; the class names beside them let a page turn the colours around for a dark screen. */
#ifndef RUNGWISE_PICTURE_INK_H
#define RUNGWISE_PICTURE_INK_H

#include <glib.h>

typedef enum { INK_PLAIN = 0, INK_BOLD = 1, INK_ITALIC = 2 } InkStyle;

/* How wide a text comes out at the most, whatever plain sans-serif font the viewer has: by the widths of a wide one. */
int ink_width (const char *text, int size, InkStyle style);

/* The lines that a text makes in `width`: broken at blanks, then after hyphens and points, then anywhere. What is over
 * after `most` lines is cut, with an ellipsis. Transfer full (GPtrArray of char*). */
GPtrArray *ink_wrap (const char *text, int width, int size, InkStyle style, guint most);

/* `y` is the base line. A text wider than `width` (0: any) is squeezed into it. */
void ink_text (GString *out, int x, int y, int width, int size, InkStyle style, const char *text);
/* `thickness` in half pixels. */
void ink_line (GString *out, int x1, int y1, int x2, int y2, int half_pixels);
void ink_dotted (GString *out, int x1, int y1, int x2, int y2);
typedef enum { BOX_CLEAR, BOX_SHADED, BOX_BLACK, BOX_DASHED } InkBox;
void ink_box (GString *out, int x, int y, int width, int height, InkBox box);
/* A closed figure through points given as SVG has them: "0,0 5,5 0,10". */
void ink_figure (GString *out, const char *points, gboolean black);

#endif
