/* SPDX-License-Identifier: MIT */
/* One thing that was seen, as documents, signs and command lines all say it. */
#ifndef RUNGWISE_READ_OBSERVATION_H
#define RUNGWISE_READ_OBSERVATION_H

#include "book/evidence.h"
#include "book/loader.h"

/* The word of a kind that has words, interned: other-image, power-light, fans, beeps. NULL after a complaint. */
const char *read_seen_word (Loader *loader, SeenKind kind, const Node *node);
/* The value of a key that stands alone: dark-minutes to post-code. FALSE after a complaint. */
gboolean read_single (Loader *loader, SeenKind kind, const Node *node, Observation *out);
/* A look that was done, and what it found: `nothing` or one of its causes. FALSE after a complaint. */
gboolean read_looked (Loader *loader, const Node *look_node, const Node *found_node, Observation *out);

#endif
