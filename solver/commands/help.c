/* SPDX-License-Identifier: MIT */
/* Help: the tables of commands, options and exit statuses, as text for a terminal and as docs/commands.md. */
#include "commands/output.h"
#include "commands/command.h"
#include "reports/paper.h"

#include <string.h>

#define OPTION_HANG 6

static void
say_paragraphs (Paper *paper, const char *text)
{
    g_auto (GStrv) paragraphs = g_strsplit (text, "\n\n", -1);

    for (char **paragraph = paragraphs; *paragraph != NULL; paragraph++) {
        paper_say (paper, 0, 0, "%s", *paragraph);
        paper_blank (paper);
    }
}

/* Line by line as it stands, so that it can be copied into a shell. */
static void
say_example (Paper *paper, const char *example)
{
    g_auto (GStrv) lines = g_strsplit (example, "\n", -1);

    for (char **line = lines; *line != NULL; line++)
        paper_say (paper, line == lines ? 2 : 6, 6, "%s", *line);
}

static char *
option_heading (const OptionText *option)
{
    return option->argument == NULL ? g_strdup_printf ("--%s", option->name)
                                    : g_strdup_printf ("--%s %s", option->name, option->argument);
}

static gboolean
outcome_is_of (const OutcomeRow *row, const char *command)
{
    g_auto (GStrv) names = NULL;

    if (g_str_equal (row->commands, "all"))
        return TRUE;
    names = g_strsplit (row->commands, ", ", -1);
    return g_strv_contains ((const char *const *) names, command);
}

static void
say_outcomes (Paper *paper, const char *command)
{
    guint count = 0;
    const OutcomeRow *rows = outcome_each (&count);

    paper_say (paper, 0, 0, "Exit status:");
    for (guint i = 0; i < count; i++) {
        g_autofree char *status = g_strdup_printf ("%d", (int) rows[i].outcome);

        if (command == NULL || outcome_is_of (&rows[i], command))
            paper_label (paper, 2, OPTION_HANG, status, "%s", rows[i].sentence);
    }
}

static char *
command_help (const Command *command)
{
    Paper *paper = paper_new (FALSE);

    paper_say (paper, 0, 2, "rungwise %s [options] %s", command->name, command->arguments);
    paper_blank (paper);
    say_paragraphs (paper, command->explains);
    paper_say (paper, 0, 0, "Options:");
    for (guint i = 0; option_text (i) != NULL; i++) {
        g_autofree char *heading = option_heading (option_text (i));

        if ((option_text (i)->commands & command->bit) == 0)
            continue;
        paper_say (paper, 2, 2, "%s", heading);
        paper_say (paper, OPTION_HANG, OPTION_HANG, "%s", option_text (i)->says);
    }
    paper_blank (paper);
    paper_say (paper, 0, 0, "Example, from the folder of the source:");
    say_example (paper, command->example);
    paper_blank (paper);
    say_outcomes (paper, command->name);
    return paper_finish (paper);
}

static char *
overview (void)
{
    Paper *paper = paper_new (FALSE);

    paper_say (paper, 0, 0, "rungwise COMMAND [options] PATH...");
    paper_blank (paper);
    paper_say (
        paper, 0, 0,
        "Works out how a server on the bench gets from the firmware and processors that it has to those that are "
        "wanted: which parts to borrow, what to write, in which order, so that it can always be started again.");
    paper_blank (paper);
    paper_say (paper, 0, 0, "Commands:");
    for (const Command *const *command = command_each (); *command != NULL; command++)
        paper_label (paper, 2, 10, (*command)->name, "%s", (*command)->summary);
    paper_label (paper, 2, 10, "help", "COMMAND: what it answers, its options, an example, its exit statuses");
    paper_blank (paper);
    paper_say (
        paper, 0, 0,
        "Also: rungwise help exits (all exit statuses), rungwise help markdown (all of this, as docs/commands.md "
        "has it), rungwise --version.");
    paper_blank (paper);
    paper_say (paper, 0, 0, "Try it, from the folder of the source:");
    say_example (paper, command_plan.example);
    return paper_finish (paper);
}

static char *
exits (void)
{
    Paper *paper = paper_new (FALSE);

    say_outcomes (paper, NULL);
    return paper_finish (paper);
}

/* A cell of a Markdown table must not hold a bare bar. */
static void
append_cell (GString *text, const char *cell)
{
    for (const char *at = cell; *at != '\0'; at++) {
        if (*at == '|')
            g_string_append_c (text, '\\');
        g_string_append_c (text, *at);
    }
}

static void
append_row (GString *text, const char *left, const char *right)
{
    g_string_append (text, "| `");
    append_cell (text, left);
    g_string_append (text, "` | ");
    append_cell (text, right);
    g_string_append (text, " |\n");
}

static void
append_command (GString *text, const Command *command)
{
    g_string_append_printf (text, "\n## %s\n\n```text\nrungwise %s [options] %s\n```\n\n%s\n", command->name,
                            command->name, command->arguments, command->explains);
    g_string_append (text, "\n| option | meaning |\n|---|---|\n");
    for (guint i = 0; option_text (i) != NULL; i++) {
        g_autofree char *heading = option_heading (option_text (i));

        if (option_text (i)->commands & command->bit)
            append_row (text, heading, option_text (i)->says);
    }
    g_string_append_printf (text, "\nExample:\n\n```sh\n%s\n```\n", command->example);
}

static void
append_outcomes (GString *text)
{
    guint count = 0;
    const OutcomeRow *rows = outcome_each (&count);

    g_string_append (text, "\n## Exit status\n\n| status | commands | meaning |\n|---|---|---|\n");
    for (guint i = 0; i < count; i++)
        g_string_append_printf (text, "| %d | %s | %s |\n", (int) rows[i].outcome, rows[i].commands, rows[i].sentence);
}

static char *
markdown (void)
{
    GString *text = g_string_new ("# The commands\n\n");

    g_string_append (
        text,
        "Made by `rungwise help markdown` from the tables in `solver/commands/` and `solver/reports/outcome.c`; a "
        "test\n"
        "holds this page against them. Answers go to standard output, complaints to standard error.\n\n"
        "Every command reads all PATHs that are named, files or folders, and the rules: those of `--rules-only`, else\n"
        "of `RUNGWISE_RULES` in the environment, else those that were installed with the program. What each document "
        "is, "
        "it\n"
        "says itself (docs/files.md).\n");
    for (const Command *const *command = command_each (); *command != NULL; command++)
        append_command (text, *command);
    append_outcomes (text);
    return g_string_free (text, FALSE);
}

static char *
help_text (const char *topic)
{
    const Command *command = topic == NULL ? NULL : command_find (topic);

    if (topic == NULL)
        return overview ();
    if (command != NULL)
        return command_help (command);
    if (g_str_equal (topic, "exits"))
        return exits ();
    if (g_str_equal (topic, "markdown"))
        return markdown ();
    if (g_str_equal (topic, "version"))
        return g_strdup ("rungwise " RUNGWISE_VERSION "\n");
    return NULL;
}

Outcome
help_run (const char *topic)
{
    Options to_standard_output = { 0 };
    g_autofree char *text = NULL;

    output_fit_terminal ();
    text = help_text (topic);
    if (text == NULL)
        return usage_error ("help", "a command, exits or markdown", "there is no help about \"%s\"", topic);
    return output_write (&to_standard_output, text, OUTCOME_ANSWERED);
}
