/* SPDX-License-Identifier: MIT */
/* Small helpers over jansson, shared by the JSON reports. Objects keep the order in which keys are set. */
#ifndef RUNGWISE_JSON_H
#define RUNGWISE_JSON_H

#include "reports/words.h"

#include <jansson.h>

/* Whole numbers come out without a fraction, others with one decimal (minutes have no more). */
json_t *json_number (double number);
/* Sets a text, nothing when it is NULL. */
void json_set_text (json_t *object, const char *key, const char *text);
/* {"file": ..., "line": ...}; nothing without a place. */
void json_set_place (json_t *object, const char *key, Mark at);
/* The texts of a METHOD_BIT mask, as a list. */
json_t *json_methods (guint mask);
/* {"system": "1.0.2", ...}: one release for each component. */
json_t *json_releases (const Board *board, const guint *releases);
/* {"unit": ..., "board": ..., "revision": ...} */
json_t *json_unit (const Unit *unit);
/* One broken rule, as the `starts` schema has it. */
json_t *json_broken (const Broken *broken);

/* The document as text with a line end; gives up the caller's reference. Transfer full. */
char *json_finish (json_t *document);

#endif
