/* SPDX-License-Identifier: MIT */
/* Cautions: which of the shop's cautions are due at which step. Words: docs/files.md, "Cautions". */
#ifndef RUNGWISE_CAUTIONS_H
#define RUNGWISE_CAUTIONS_H

#include "check/check.h"

/* One bit per word that a caution's `when` may hold. */
typedef guint CautionWords;

/* 0 when the word is not one of those in docs/files.md. */
CautionWords caution_word (const char *word);

/* What happens at one step, as far as cautions go. */
typedef struct {
    const Board *board;
    const Step *step;
    const Held *held;                /* per slot, before the step */
    gboolean opens;                  /* first of a run of off-power steps */
    gboolean after_controller_write; /* opens, and the step before it was a write through the controller */
    guint recovery;                  /* METHOD_BIT mask; writes only */
} CautionMoment;

/* The words that apply at a step. */
CautionWords caution_words_of_moment (const CautionMoment *moment);
/* The words for the top of a route, and for a start after work on parts. */
CautionWords caution_words_of_route (void);
CautionWords caution_words_of_start (void);

/* A caution where it is due. */
typedef struct {
    const Caution *caution; /* borrowed from the library */
    gboolean in_full;       /* it was not due before in this route, or is to be said in full every time */
} DueCaution;

/* Adds to `due` (GArray of DueCaution) each caution of the list that one of the words calls for, in the order of the
 * list, once, without those in `but` (nullable). `said` (a set of Caution*) remembers which were due before. */
void cautions_choose (const GPtrArray *cautions, CautionWords words, GHashTable *said, const GArray *but, GArray *due);

#endif
