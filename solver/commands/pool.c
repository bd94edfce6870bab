/* SPDX-License-Identifier: MIT */
/* `rungwise pool`: what libsolv is given for a question, to read and to replay. */
#include "commands/load.h"
#include "commands/output.h"

#include "packages/packages.h"

#include <stdio.h>

static Outcome
replay (const Options *options)
{
    g_autoptr (GError) error = NULL;
    g_autoptr (GPtrArray) installed = NULL;
    g_autoptr (GString) text = g_string_new (NULL);
    gboolean solved = FALSE;

    if (options->paths != NULL && options->paths[0] != NULL)
        return usage_error (command_pool.name, "name the case with --replay and nothing else",
                            "a case stands in one file, and %s is named beside it", options->paths[0]);
    const char *const read[] = { options->replay, NULL };
    if (load_output_is_safe (command_pool.name, options, read) != OUTCOME_ANSWERED)
        return OUTCOME_BAD_USAGE;
    if (!packages_replay (options->replay, &solved, &installed, &error)) {
        fprintf (stderr, "%s\n  expected a file that rungwise pool has written\n", error->message);
        return OUTCOME_BAD_INPUT;
    }
    if (!solved)
        g_string_append (text, "Refuted: no set of packages does what the job asks.\n");
    for (guint i = 0; i < installed->len; i++)
        g_string_append_printf (text, "%s\n", (const char *) g_ptr_array_index (installed, i));
    return output_write (options, text->str, solved ? OUTCOME_ANSWERED : OUTCOME_REFUTED);
}

static Outcome
pool (const Options *options)
{
    g_auto (Loaded) loaded = { 0 };
    g_autofree char *reason = NULL;
    Unit *unit = NULL;
    Want *want = NULL;

    if (options->replay != NULL)
        return replay (options);
    Outcome outcome = load_all (command_pool.name, options, &loaded);
    if (outcome == OUTCOME_ANSWERED)
        outcome = load_unit (command_pool.name, &loaded, options->unit, &unit);
    if (outcome == OUTCOME_ANSWERED)
        outcome = load_want (command_pool.name, &loaded, unit, TRUE, &want);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    g_autofree char *text = route_packages (loaded.library, loaded.shop, unit, want, (guint) options->layers,
                                            (guint) options->steps, &reason);
    if (text == NULL) {
        g_autofree char *line = g_strconcat ("There is no pool: ", reason, ".\n", NULL);
        return output_write (options, line, OUTCOME_NO_ROUTE);
    }
    return output_write (options, text, OUTCOME_ANSWERED);
}

const Command command_pool = {
    .name = "pool",
    .bit = COMMAND_POOL,
    .summary = "write what libsolv is given for a question, or replay such a file",
    .arguments = "PATH...",
    .explains =
        "Answers: which packages, provides, requires and job does the solver see? Written as one text file in "
        "libsolv's "
        "own case format, with remarks that say what each name and version stands for. Other programs that read that "
        "format replay it too.\n\n"
        "The question is the one that plan would be asked; --layers and --steps say how much work the packages are "
        "unrolled over. With --replay nothing but that file is read: the solver runs, and what it installs is printed, "
        "or that the case is refuted.",
    .example = "rungwise pool data/larkfield/book data/larkfield/shop.yaml \\\n"
               "    data/larkfield/units/04-controller-writes-it.yaml --steps 1",
    .run = pool,
};
