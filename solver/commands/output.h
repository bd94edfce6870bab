/* SPDX-License-Identifier: MIT */
/* Output: an answer to standard output or to a file, whole or not at all. */
#ifndef RUNGWISE_OUTPUT_H
#define RUNGWISE_OUTPUT_H

#include "commands/options.h"
#include "reports/outcome.h"

/* Whether to colour what goes where the options say. Reads NO_COLOR. */
gboolean output_has_colour (const Options *options);

/* Writes `text` where the options say, and complains when that fails. Returns `outcome`, or OUTCOME_CANNOT_WRITE. */
Outcome output_write (const Options *options, const char *text, Outcome outcome);

#endif
