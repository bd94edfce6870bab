/* SPDX-License-Identifier: MIT */
/* An SVG file being drawn: paragraphs and drawings, one under the other. For picture*.c and branches*.c only. */
#ifndef RUNGWISE_PICTURE_FILE_H
#define RUNGWISE_PICTURE_FILE_H

#include "reports/paper.h"
#include "reports/picture_draw.h"
#include "reports/picture_ink.h"

typedef struct {
    GString *out;
    int y; /* pixels from the top, where the next thing goes */
} Image;

void image_put_paragraph (Image *image, const char *text, int size, InkStyle style);
/* Where the end of an A4 page would cut it and need not, it goes on the next page, below a dotted line. */
void image_put_drawing (Image *image, const Drawing *drawing);
/* What is on the paper, which is freed; its first line larger. */
void image_put_head (Image *image, Paper *paper);
/* The whole file. Transfer full. */
char *image_finish (const Image *image, const char *title, const char *describes);

#endif
