/* SPDX-License-Identifier: MIT */
/* Clock: the moments that a batch's command line names. */
#ifndef RUNGWISE_CLOCK_H
#define RUNGWISE_CLOCK_H

#include "commands/command.h"

/* When a batch begins: `begin` ("2034-03-06T07:00"), or where that is NULL the shop's first shift of a week without a date.
 * OUTCOME_ANSWERED, or OUTCOME_BAD_USAGE after a complaint; `clock` is then empty. Free its `begin`. */
Outcome clock_begin (const char *begin, const Shop *shop, BatchClock *clock);
/* A moment of `--now`, from the beginning on, in tenths of a minute: written as batch_time_words() writes it. */
Outcome clock_now (const char *now, const BatchClock *clock, gint64 *tenths);

#endif
