/* SPDX-License-Identifier: MIT */
/* Options: one table from which parsing, --help and docs/commands.md's lists are made. */
#ifndef RUNGWISE_OPTIONS_H
#define RUNGWISE_OPTIONS_H

#include "route/objective.h"

#include <glib.h>

typedef enum {
    COMMAND_PLAN = 1,
    COMMAND_STARTS = 2,
    COMMAND_WALK = 4,
    COMMAND_FILES = 8,
    COMMAND_POOL = 16,
    COMMAND_RECORD = 32,
    COMMAND_EXPLAIN = 64,
    COMMAND_BATCH = 128
} CommandBit;

typedef struct {
    char **wants;          /* owned, nullable */
    char **fits;           /* owned, nullable */
    char **seens;          /* owned, nullable */
    char *return_slot;     /* owned, nullable */
    char **paths;          /* owned, nullable */
    char *colour;          /* owned, nullable */
    char *output;          /* owned, nullable */
    char *rules_only;      /* owned, nullable */
    double effort_seconds; /* 0: not given */
    gint64 states;         /* 0: not given */
    int layers, steps;     /* 0: not given */
    char *replay;          /* owned, nullable */
    char *objective;       /* owned, nullable: one of the objectives' names */
    int alternatives;      /* 0: not given */
    int step;              /* 0: not given, or by its label */
    char *step_number;     /* owned, nullable: the same, as it was given; with --published also a label, "C1" */
    char *step_words;      /* owned, nullable: a step written out */
    char *outcome;         /* owned, nullable: done, failed or skipped */
    char *found;           /* owned, nullable */
    char **firmware;       /* owned, nullable */
    char **fitted;         /* owned, nullable */
    char *initials;        /* owned, nullable */
    char *time;            /* owned, nullable */
    char *unit;            /* owned, nullable */
    char *begin;           /* owned, nullable */
    char *published;       /* owned, nullable */
    char *now;             /* owned, nullable */
    char *folder;          /* owned, nullable */
    gint64 seed;           /* 0: not given */
    gboolean json, svg, html, csv;
    gboolean strict;
    gboolean help;
} Options;

void options_clear (Options *options);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* What --objective says; OBJECTIVE_STEPS where it is not given. */
Objective options_objective (const Options *options);

/* One option, as help says it. */
typedef struct {
    const char *name;     /* without the dashes */
    const char *argument; /* NULL: takes none */
    const char *says;
    guint commands; /* CommandBit mask */
} OptionText;

/* The option at `index`, NULL after the last. */
const OptionText *option_text (guint index);

/* Reads what follows the command's name: `arguments` is NULL-terminated, its first entry the command's name. FALSE with
 * an error that says what is wrong. */
gboolean options_parse (guint command, char **arguments, Options *options, GError **error);

/* The option nearest to the first of `arguments` that looks like one and is none of the command's; NULL: there is no such
 * argument, or nothing near it. Without the dashes. */
const char *option_nearest (guint command, char *const *arguments);

#endif
