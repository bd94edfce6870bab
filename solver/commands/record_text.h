/* SPDX-License-Identifier: MIT */
/* Record text: an entry of a bench record as YAML, from what a command line says. Whether it makes sense is the loader's to
 * say, which reads it back before it is kept. */
#ifndef RUNGWISE_RECORD_TEXT_H
#define RUNGWISE_RECORD_TEXT_H

#include "commands/command.h"

/* Appends `text`, which is UTF-8, as a YAML value that reads back as the same text. */
void record_append_text (GString *yaml, const char *text);

/* Appends the entry, its dash in `column` (from 1). `book` tells a part's name from its stepping. OUTCOME_ANSWERED, or
 * OUTCOME_BAD_USAGE after a complaint. */
Outcome record_append_entry (GString *yaml, const Options *options, const Book *book, guint column);

#endif
