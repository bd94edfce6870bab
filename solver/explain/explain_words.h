/* SPDX-License-Identifier: MIT */
/* Words that explanations are made of. Functions that return `char *` transfer full. */
#ifndef RUNGWISE_EXPLAIN_WORDS_H
#define RUNGWISE_EXPLAIN_WORDS_H

#include "book/book.h"

/* "dorvan-8 a1" */
char *explain_part (const Part *part, const char *stepping);
/* "hold elvane-14", "be empty", "hold a part with generation = elvane and cores >= 12" */
char *explain_want_slot (const WantSlot *want);
/* "heat sinks" */
const char *explain_kinds (PartKind kind);

#endif
