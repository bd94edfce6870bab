/* SPDX-License-Identifier: MIT */
/* A return in words: what its two files share. */
#ifndef RUNGWISE_EXPLAIN_RETURNS_WORDS_H
#define RUNGWISE_EXPLAIN_RETURNS_WORDS_H

#include "explain/diagnosis_parts.h"

typedef struct {
    const DiagnosisQuestion *question;
    const Diagnosis *diagnosis;
    const Fitted *part;
    ReturnBlock *block;
    const char *slot; /* its name */
} Saying;

/* Components whose release has to be read, "system and controller"; "" for none. Transfer full. */
char *saying_unknown_components (const Saying *saying);
/* Where no look is left that finds anything: "No look is left to make, which leaves: a damaged board." NULL: some is.
 * Transfer full. */
char *saying_what_is_left (const Saying *saying);
/* Fills `tried`, `rules_out` and `left` in. */
void return_block_list (const Saying *saying);

#endif
