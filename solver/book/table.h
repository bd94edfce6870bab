/* SPDX-License-Identifier: MIT */
/* Table: a text of comma-separated values as rows of cells, each with its place. The only file that knows libcsv.
 *
 * Source: RFC 4180; beside it what spreadsheets write: semicolons or tabs between cells, a byte order mark, LF alone. */
#ifndef RUNGWISE_TABLE_H
#define RUNGWISE_TABLE_H

#include "text/text.h"

typedef struct {
    char *text; /* owned; without its quotes, the spaces around it and an apostrophe in front */
    Mark at;    /* of its first character, a quote included; of an empty one, of where it would stand */
    gboolean quoted;
    guint skipped; /* characters before the text, but for a quote: spaces in quotes, an apostrophe */
} Cell;

/* A row with something in it. */
typedef struct {
    GArray *cells; /* Cell; owned */
    Mark at;
} TableRow;

/* All rows (GPtrArray of TableRow*), the header first; blank ones are left out. Between cells stands what the first line has
 * most of outside quotes: comma, semicolon or tab. After a complaint, the rows before the mistake. Transfer full. */
GPtrArray *table_read (const char *file, const char *text, gsize length, Complaints *complaints);

#endif
