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
    const Held *held;    /* per slot, before the step */
    guint recovery;      /* METHOD_BIT mask; writes only */
    gboolean binds_part; /* fits: as in WalkedStep */
} CautionMoment;

/* The words that apply at a step, without those for what stands above it. */
CautionWords caution_words_of_moment (const CautionMoment *moment);
/* The words for the top of a route; for an opening, which may follow a write through the controller; for the first power
 * of either kind after an opening; for a start after work on parts; for a write by clip. */
CautionWords caution_words_of_route (void);
CautionWords caution_words_of_opening (gboolean after_controller_write);
CautionWords caution_words_of_power_up (void);
CautionWords caution_words_of_start (void);
CautionWords caution_words_of_clip (void);

/* The slot of the heat sink that lies on a slot and is in (`held`: per slot), so that it has to come off for work below
 * it; -1: none. */
int sink_on_slot (const Board *board, const Held *held, guint slot);

/* A caution where it is due. */
typedef struct {
    const Caution *caution; /* borrowed from the library */
    gboolean in_full;       /* it was not due before in this route, or is to be said in full every time */
} DueCaution;

/* Adds to `due` (GArray of DueCaution) each caution of the list that one of the words calls for, in the order of the
 * list, once, without those in `but` (nullable). `said` (a set of Caution*) remembers which were due before. */
void cautions_choose (const GPtrArray *cautions, CautionWords words, GHashTable *said, const GArray *but, GArray *due);

/* Those of an opening that is not the first: by their ids, but for what is said in full every time. Transfer full (GArray of DueCaution). */
GArray *cautions_of_opening_again (const GPtrArray *cautions);

#endif
