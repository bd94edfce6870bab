/* SPDX-License-Identifier: MIT */
/* Units that go on at another bench place after a replan (docs/batch.md, "When it goes wrong"); for batch_*.c only. */
#ifndef RUNGWISE_BATCH_MOVES_H
#define RUNGWISE_BATCH_MOVES_H

#include "reports/batch_view.h"
#include "reports/paper.h"

/* Above the step: at which place it goes on, and how to move a unit that stands open. Nothing where it does not move. */
void batch_say_move (Paper *paper, const BatchView *view, const BatchUnit *unit, guint step);
/* Of the whole batch: how many units move, and which. Nothing where none do. */
void batch_say_moves (Paper *paper, const BatchView *view);
/* "3"; of a unit that moves "3, from step 4 on 2"; "-" without tasks. Transfer full. */
char *batch_place_words (const BatchUnit *unit);

#endif
