/* SPDX-License-Identifier: MIT */
/* Where something stands in a JSON text, for complaints: jansson tells that of what it cannot read, but not of what it has read. */
#ifndef RUNGWISE_JSON_PLACE_H
#define RUNGWISE_JSON_PLACE_H

#include "text/text.h"

/* `path`: keys and places in lists, from 0, with '\n' between them: "units\n3\ntasks". The place of that value, or of the nearest
 * one around it that is there. `text` must be well-formed JSON. Cost: linear in the text. */
Mark json_place (const char *file, const char *text, const char *path);

#endif
