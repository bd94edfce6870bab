/* SPDX-License-Identifier: MIT */
/* Reader: typed values out of nodes. Whatever is not as it should be is complained about here, once; the caller gets
 * NULL or FALSE and goes on. A NULL node (a key that is not there) gives NULL or FALSE without a complaint. */
#ifndef RUNGWISE_READER_H
#define RUNGWISE_READER_H

#include "book/loader.h"

typedef enum { KEY_OPTIONAL, KEY_REQUIRED } KeyNeed;

/* One map being read: every key has to be taken by somebody. */
typedef struct {
    Loader *loader;
    const Node *map;
    const char *what;   /* "this board", for complaints */
    gboolean *taken;    /* owned; per key of the map */
    GPtrArray *known;   /* const char*; owned */
    GPtrArray *missing; /* const char*; owned */
} MapReader;

/* FALSE, after a complaint, when the node is no map; map_end() is then not to be called. */
gboolean map_begin (MapReader *reader, Loader *loader, const Node *node, const char *what);
/* The value of a key; NULL when it is not there. */
const Node *map_take (MapReader *reader, const char *key, KeyNeed need);
/* Adds to the keys that are known, for the nearest name. */
void map_also_knows (MapReader *reader, const char *key);
/* Complains about keys that nobody took and about required ones that are missing. */
void map_end (MapReader *reader);
/* As map_end(), but reads past keys that nobody took. */
void map_end_reading_past (MapReader *reader);

/* The text of a scalar that is not blank. `key` is what complaints call it. Transfer none. */
const char *value_scalar (Loader *loader, const Node *node, const char *key, const char *expected);
const char *value_text (Loader *loader, const Node *node, const char *key); /* interned */
const char *value_name (Loader *loader, const Node *node, const char *key); /* interned */
const char *value_date (Loader *loader, const Node *node, const char *key); /* interned */
/* Date and time by ISO 8601, with the offset from UTC; interned. */
const char *value_time (Loader *loader, const Node *node, const char *key);
/* A date, or date and time in the shop's own time, without an offset; interned. */
const char *value_local_time (Loader *loader, const Node *node, const char *key);
/* A time of the day, in minutes. */
gboolean value_clock (Loader *loader, const Node *node, const char *key, guint *minutes);
gboolean value_number (Loader *loader, const Node *node, const char *key, double *out);
gboolean value_minutes (Loader *loader, const Node *node, const char *key, double *out);
gboolean value_whole (Loader *loader, const Node *node, const char *key, gint64 least, gint64 most, gint64 *out);
gboolean value_yes (Loader *loader, const Node *node, const char *key, gboolean *out);
/* Index in the NULL-terminated `words`; -1 otherwise. */
int value_word (Loader *loader, const Node *node, const char *key, const char *const *words);
/* Mask 1u << index over a list of words, or one word alone. FALSE when there was none that is right. */
gboolean value_words (Loader *loader, const Node *node, const char *key, const char *const *words, guint *out);
/* `FIRST .. LAST`, ends included. Splits into the two (transfer full); FALSE when it is no range. */
gboolean value_split_range (const char *text, char **first, char **last);
/* The items of a list (borrowed). */
const GPtrArray *value_list (Loader *loader, const Node *node, const char *key);
/* The items of a list, or the scalar alone, as Node* (transfer container). */
GPtrArray *value_list_or_one (Loader *loader, const Node *node, const char *key);
/* Distinct interned names of a list, or one name alone. Transfer full; NULL when nothing was right. */
GPtrArray *value_names (Loader *loader, const Node *node, const char *key);
/* Transfer full. */
Expr *value_expression (Loader *loader, const Node *node, const char *key, const char *implied_name);
/* Appends a Provide for each of a list of "name" or "name = version". */
void value_provides (Loader *loader, const Node *node, const char *key, GPtrArray *out);
/* Names of part kinds, methods and so on, NULL-terminated, in the order of their enums. */
const char *const *part_kind_words (void);
const char *const *method_words (void);
const char *const *owner_words (void);

/* The keys `source` and `checked`. */
void map_take_source (MapReader *reader, Source *out);

/* Complains of a node that is the wrong kind of thing: "minutes is a list". */
void complain_of_kind (Loader *loader, const Node *node, const char *key, const char *expected);

#endif
