/* SPDX-License-Identifier: MIT */
/* Commands: one file each; main only hands over to one of them.
 *
 * Owns:   the command line, the environment, standard output and error, the exit status.
 * Calls:  reports and, through it, everything else.
 * Never:  decides anything about units or routes.
 * Method: docs/commands.md, which `rungwise help markdown` prints. */
#ifndef RUNGWISE_COMMAND_H
#define RUNGWISE_COMMAND_H

#include "commands/options.h"
#include "reports/reports.h"

typedef struct {
    const char *name;
    guint bit;             /* CommandBit, as in the option table */
    const char *summary;   /* one line */
    const char *arguments; /* after the options: "PATH..." */
    const char *explains;  /* what it answers and what it needs; paragraphs parted by an empty line */
    const char *example;   /* a command line on the demo shop; long ones go on after a backslash */
    Outcome (*run) (const Options *options);
} Command;

extern const Command command_plan, command_explain, command_starts, command_walk, command_record, command_files, command_pool,
    command_batch;

/* All commands, NULL-terminated, in the order in which help lists them. */
const Command *const *command_each (void);
/* NULL when there is none of that name. */
const Command *command_find (const char *name);

/* `rungwise help [TOPIC]`: prints to standard output, or complains. */
Outcome help_run (const char *topic);
/* Says that the command line is wrong, and what would be right. */
Outcome usage_error (const char *command, const char *expected, const char *format, ...) G_GNUC_PRINTF (3, 4);

#endif
