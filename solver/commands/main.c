/* SPDX-License-Identifier: MIT */
/* Hands the command line over to a command. */
#include "commands/command.h"
#include "commands/output.h"

#include <stdarg.h>
#include <stdio.h>

const Command *const *
command_each (void)
{
    static const Command *const commands[] = { &command_plan,   &command_explain, &command_batch, &command_starts, &command_walk,
                                               &command_record, &command_files,   &command_pool,  NULL };

    return commands;
}

const Command *
command_find (const char *name)
{
    for (const Command *const *command = command_each (); *command != NULL; command++)
        if (g_str_equal ((*command)->name, name))
            return *command;
    return NULL;
}

Outcome
usage_error (const char *command, const char *expected, const char *format, ...)
{
    va_list list;

    fprintf (stderr, "rungwise%s%s: ", command == NULL ? "" : " ", command == NULL ? "" : command);
    va_start (list, format);
    vfprintf (stderr, format, list);
    va_end (list);
    fprintf (stderr, "\n  expected %s\n", expected);
    return OUTCOME_BAD_USAGE;
}

static Outcome
run_command (const Command *command, char **arguments)
{
    g_auto (Options) options = { 0 };
    g_autoptr (GError) error = NULL;

    if (!options_parse (command->bit, arguments, &options, &error)) {
        const char *nearest = option_nearest (command->bit, arguments);
        g_autofree char *expected =
            nearest == NULL
                ? g_strdup_printf ("the options and arguments that `rungwise help %s` lists", command->name)
                : g_strdup_printf ("the options and arguments that `rungwise help %s` lists; the nearest is --%s",
                                   command->name, nearest);

        return usage_error (command->name, expected, "%s", error->message);
    }
    if (options.help)
        return help_run (command->name);
    if (options.output == NULL)
        output_fit_terminal ();
    return command->run (&options);
}

/* `later`: what comes after the name, NULL-terminated. */
static Outcome
unknown_command (const char *name, char **later)
{
    g_autoptr (GPtrArray) known = g_ptr_array_new ();
    const char *nearest = NULL;
    g_autofree char *expected = NULL;

    for (char **word = later; *word != NULL; word++)
        if (command_find (*word) != NULL)
            return usage_error (NULL, "the command, then its options and PATHs: `rungwise help` lists the commands",
                                "the command comes first: rungwise %s ... %s", *word, name);
    for (const Command *const *command = command_each (); *command != NULL; command++)
        g_ptr_array_add (known, (gpointer) (*command)->name);
    g_ptr_array_add (known, (gpointer) "help");
    g_ptr_array_add (known, NULL);
    nearest = text_nearest (name, (const char *const *) known->pdata);
    expected = nearest == NULL ? g_strdup ("a command that `rungwise help` lists")
                               : g_strdup_printf ("a command that `rungwise help` lists; the nearest is %s", nearest);
    return usage_error (NULL, expected, "no command is called \"%s\"", name);
}

int
main (int argc, char **argv)
{
    const Command *command = NULL;

    if (argc < 2)
        return (int) usage_error (NULL, "a command: `rungwise help` lists them", "no command is given");
    if (g_str_equal (argv[1], "--help") || g_str_equal (argv[1], "-h") || g_str_equal (argv[1], "help"))
        return (int) help_run (argc > 2 ? argv[2] : NULL);
    if (g_str_equal (argv[1], "--version"))
        return (int) help_run ("version");
    command = command_find (argv[1]);
    return (int) (command == NULL ? unknown_command (argv[1], argv + 2) : run_command (command, argv + 1));
}
