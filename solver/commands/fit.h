/* SPDX-License-Identifier: MIT */
/* Fit: `--fit SLOT=PART[:STEPPING]`, a change to a unit that is only asked about. */
#ifndef RUNGWISE_FIT_H
#define RUNGWISE_FIT_H

#include "commands/command.h"

/* Changes what the unit holds, item by item. OUTCOME_ANSWERED, or OUTCOME_BAD_USAGE after a complaint. */
Outcome fit_apply (const char *command, const Book *book, char *const *items, Unit *unit);

#endif
