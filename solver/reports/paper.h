/* SPDX-License-Identifier: MIT */
/* Paper: text for a bench sheet or a terminal, wrapped, with marks that become colour or nothing; or paragraphs for a page.
 *
 * Whatever comes from a file is cleaned of control characters on its way out, so that a text in somebody's book cannot
 * drive the terminal. */
#ifndef RUNGWISE_PAPER_H
#define RUNGWISE_PAPER_H

#include <glib.h>

#define PAPER_WIDTH     100 /* columns, where nobody says otherwise */
#define PAPER_NARROWEST 60

/* Put around words in a text. They take no room, and are left out where there is no colour. */
#define MARK_STRONG  "\x02"
#define MARK_CAUTION "\x03"
#define MARK_GOOD    "\x04"
#define MARK_BAD     "\x05"
#define MARK_PLAIN   "\x06" /* ends any of them */

typedef struct Paper Paper;

/* How wide the papers are that are made from here on, in columns: at least PAPER_NARROWEST, at most PAPER_WIDTH; what is
 * beyond becomes the nearest of these. For the one place that knows the terminal. */
void paper_set_width (guint columns);

/* Transfer full; freed by paper_finish(). */
Paper *paper_new (gboolean colour);
/* The same without colour, `columns` wide whatever the terminal is. */
Paper *paper_new_plain (guint columns);
/* Paragraphs of HTML that is also XML: <p class="i2"> for an indent of 2, "gap" too after an empty line; marks become
 * <b class="strong">, "caution", "good", "bad". Nothing is wrapped. Transfer full; freed by paper_finish(). */
Paper *paper_new_page (void);

/* One paragraph: its first line starts at column `indent` (from 0), the further ones at `hang`. A word that is longer
 * than a line keeps whole, so that a file name or a digest can be copied. Line ends in the text count as blanks. */
void paper_say (Paper *paper, guint indent, guint hang, const char *format, ...) G_GNUC_PRINTF (4, 5);

/* The same, with a label in front of the first line; the text starts at `hang`, or after the label where that is
 * longer. */
void paper_label (Paper *paper, guint indent, guint hang, const char *label, const char *format, ...)
    G_GNUC_PRINTF (5, 6);

/* One empty line; never two in a row, and none at the top. */
void paper_blank (Paper *paper);

/* Frees the paper. Transfer full. */
char *paper_finish (Paper *paper);

/* Columns that `text` takes on a terminal; the marks take none. */
guint paper_columns (const char *text);

#endif
