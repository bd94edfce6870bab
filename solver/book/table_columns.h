/* SPDX-License-Identifier: MIT */
/* What the columns of a table of units say: docs/batch.md, "Units as rows". */
#ifndef RUNGWISE_TABLE_COLUMNS_H
#define RUNGWISE_TABLE_COLUMNS_H

#include "book/loader.h"

typedef enum {
    COLUMN_UNIT,
    COLUMN_BOARD,
    COLUMN_REVISION,
    COLUMN_NOTE,
    COLUMN_BECOMES,
    COLUMN_DUE,
    COLUMN_PRIORITY,
    COLUMN_OWN_PARTS_STAY,
    COLUMN_MADE,
    COLUMN_WRITTEN_SINCE,
    COLUMN_FAILED,
    COLUMN_THING, /* a slot or component: which of the two may differ from board to board */
    COLUMN_FLOOR,
    COLUMN_LABEL,
    COLUMN_SERIAL,
    COLUMN_INSERTIONS,
    COLUMN_BLANK, /* no name: its cells have to be blank */
} ColumnRole;

#define COLUMN_LAST_NEEDED COLUMN_REVISION /* from the first on */

typedef struct {
    ColumnRole role;
    const char *name;  /* interned, as the column is called; with COLUMN_THING and after it as the book writes it */
    const char *thing; /* interned; COLUMN_THING and after it: the slot or component; NULL otherwise */
} Column;

/* The columns of a header (GArray of Column), one per cell. NULL after a complaint. Transfer full. */
GArray *columns_read (Loader *loader, const TableRow *header);

#endif
