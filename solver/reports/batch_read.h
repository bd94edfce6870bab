/* SPDX-License-Identifier: MIT */
/* Reading a published timetable; for batch_read*.c only. */
#ifndef RUNGWISE_BATCH_READ_H
#define RUNGWISE_BATCH_READ_H

#include "reports/batch_view.h"
#include "reports/json.h"

typedef struct {
    const char *file, *text;
    const Book *book;
    Complaints *complaints;
    json_t *document; /* owned */
    GString *path;    /* owned: of what is being read, as json_place() takes it */
} Reading;

/* Goes into a member or an entry; returns where to go back to. */
gsize reading_enter (Reading *reading, const char *key);
gsize reading_enter_at (Reading *reading, guint index);
void reading_leave (Reading *reading, gsize to);

/* Complains of what is being read; always FALSE. */
gboolean reading_wrong (Reading *reading, const char *expected, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* A member that has to be there, of that kind; NULL and FALSE after a complaint. */
const json_t *reading_list (Reading *reading, const json_t *object, const char *key);
const char *reading_words (Reading *reading, const json_t *object, const char *key);
gboolean reading_number (Reading *reading, const json_t *object, const char *key, guint least, guint *number);
/* Minutes, as tenths; not below 0. */
gboolean reading_tenths (Reading *reading, const json_t *object, const char *key, gint64 *tenths);

/* The mark, the moment, the shop and what is out of use. FALSE after a complaint. */
gboolean reading_head (Reading *reading, BatchPublished *published);
/* The last entry of the unit's record whose words it shows. FALSE after a complaint. */
gboolean reading_found (Reading *reading, const json_t *object, guint *last);
/* Eight digits that tell a timetable from another. */
gboolean reading_is_mark (const char *text);

/* The pulled parts that are lent on. FALSE after a complaint. */
gboolean reading_lent (Reading *reading, BatchPublished *published);
/* Which part it is: model, stepping, to whom it is bound. FALSE after a complaint. */
gboolean reading_part (Reading *reading, const json_t *object, Step *step);
/* The steps of a written route, `list` being at the path. NULL after a complaint. Transfer full (GArray of Step). */
GArray *reading_steps (Reading *reading, const json_t *list, const Board *board);

#endif
