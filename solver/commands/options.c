/* SPDX-License-Identifier: MIT */
/* The option table, and parsing through GLib's option parser. */
#include "commands/options.h"

#include <string.h>

#include "text/text.h"

#define NOT_GIVEN (-1000000) /* no sane value of any option that takes a number */

typedef struct {
    OptionText text;
    GOptionArg type;
    gsize offset; /* of its value in Options */
} OptionRow;

#define PLANS   COMMAND_PLAN
#define EXPLAIN COMMAND_EXPLAIN
#define POOLS   COMMAND_POOL
#define ENDS    (COMMAND_PLAN | COMMAND_EXPLAIN | COMMAND_WALK | COMMAND_POOL | COMMAND_BATCH)
#define ANSWERS (COMMAND_PLAN | COMMAND_EXPLAIN | COMMAND_STARTS | COMMAND_WALK | COMMAND_BATCH)
#define RECORDS COMMAND_RECORD
#define BATCH   COMMAND_BATCH
#define ALL     (ANSWERS | COMMAND_FILES | COMMAND_POOL | COMMAND_RECORD)

static const OptionRow rows[] = {
    { { "want", "ITEM",
        "what the unit should become, beside what a want in the files says: cpu1=elvane-8c, 'system>=2.1.0', "
        "cpu2=empty, keep=logic; may be given several times",
        ENDS },
      G_OPTION_ARG_STRING_ARRAY,
      G_STRUCT_OFFSET (Options, wants) },
    { { "fit", "SLOT=PART[:STEPPING]",
        "ask about the unit as it would be with this part in this slot (SLOT=empty: with nothing in it); may be given "
        "several times",
        COMMAND_STARTS | COMMAND_EXPLAIN },
      G_OPTION_ARG_STRING_ARRAY,
      G_STRUCT_OFFSET (Options, fits) },
    { { "seen", "ITEM",
        "what was seen of the unit while it stayed dark, beside what the files say: dark-minutes=15, fans=turning, "
        "event=07/04, started-with=cpu1=dorvan-8:a1, looked=contacts (docs/files.md, \"Seen\", has them all); may be "
        "given several times",
        EXPLAIN },
      G_OPTION_ARG_STRING_ARRAY,
      G_STRUCT_OFFSET (Options, seens) },
    { { "return", "SLOT",
        "the slot of the part that may be sent back, for the text of the return form; without this every fitted "
        "processor is looked at",
        EXPLAIN },
      G_OPTION_ARG_STRING,
      G_STRUCT_OFFSET (Options, return_slot) },
    { { "effort", "SECONDS",
        "stop looking after so long, and show the best route until then with what is proved of it; without this, the "
        "effort is counted in states, so that one input gives one answer. For a batch: so long after the first timetable, which every unit that has a route is in",
        PLANS | EXPLAIN | BATCH },
      G_OPTION_ARG_DOUBLE,
      G_STRUCT_OFFSET (Options, effort_seconds) },
    { { "states", "N", "most states that the search opens before it gives up; the default suits one unit",
        PLANS | EXPLAIN },
      G_OPTION_ARG_INT64,
      G_STRUCT_OFFSET (Options, states) },
    { { "layers", "N", "unroll the packages over so many layers of work; the default is the fewest possible", POOLS },
      G_OPTION_ARG_INT,
      G_STRUCT_OFFSET (Options, layers) },
    { { "steps", "N", "allow so many steps at most; without it any number", POOLS },
      G_OPTION_ARG_INT,
      G_STRUCT_OFFSET (Options, steps) },
    { { "replay", "FILE", "solve the case in this file, and print what is installed", POOLS },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, replay) },
    { { "rules-only", "PATH",
        "go by these rules and cautions and leave out all that come with the program; RUNGWISE_RULES in the "
        "environment does the same. A shop's own rules that are to be added need no option: name their file among the "
        "PATHs",
        ALL },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, rules_only) },
    { { "objective", "WHAT",
        "what the route is to have least of: steps (then insertions, then minutes), handling (insertions, openings, "
        "steps, minutes) or time (minutes, insertions, steps); the default is steps",
        PLANS | EXPLAIN | BATCH },
      G_OPTION_ARG_STRING,
      G_STRUCT_OFFSET (Options, objective) },
    { { "alternatives", "N",
        "show up to N routes that differ in what they need: which loaner, which method, whether the unit is opened",
        PLANS },
      G_OPTION_ARG_INT,
      G_STRUCT_OFFSET (Options, alternatives) },
    /* What goes into a file is taken as bytes: GLib would convert text from the locale, which is never set. */
    { { "step", "N",
        "the number, in the route, of the step that was done, tried or skipped; with --published also what the unit's sheet "
        "calls it, such as C1",
        RECORDS },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, step_number) },
    { { "do", "WORDS",
        "what was done where that is no step of the route: 'remove cpu1', 'fit cpu1=dorvan-8:a1 from loan' (own, loan "
        "or stock), 'write system=1.4.0 by host' (any method of a book)",
        RECORDS },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, step_words) },
    { { "outcome", "WHAT",
        "done (as written; the default), failed (tried, and it came out otherwise: --found says how) or skipped (not "
        "tried). A part that is in is done, also where the unit stays dark with it",
        RECORDS },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, outcome) },
    { { "found", "TEXT", "what was found, in words", RECORDS },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, found) },
    { { "firmware", "COMPONENT=RELEASE",
        "a release that was read: one, several that it may be such as '1.0|1.2', a range such as '2 .. 4', or unknown; may be given "
        "several times", RECORDS },
      G_OPTION_ARG_FILENAME_ARRAY,
      G_STRUCT_OFFSET (Options, firmware) },
    { { "fitted", "SLOT=PART[:STEPPING][ from OWNER]",
        "a part that was found in a slot (SLOT=empty: nothing was); whose it is where it is not the unit's own: 'from "
        "loan', 'from stock'; may be given several times",
        RECORDS },
      G_OPTION_ARG_FILENAME_ARRAY,
      G_STRUCT_OFFSET (Options, fitted) },
    { { "initials", "XX", "who did it; always needed", RECORDS },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, initials) },
    { { "time", "TIME", "when, by ISO 8601 with the offset from UTC, as in 2034-03-05T09:41+01:00; the default is now",
        RECORDS },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, time) },
    { { "unit", "ID",
        "which unit is meant; needed only where the files hold several, as a table does. Mistakes in rows of others are then "
        "said, and end nothing",
        PLANS | EXPLAIN | COMMAND_STARTS | COMMAND_WALK | POOLS | RECORDS },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, unit) },
    { { "strict", NULL, "plan nothing when a row of a table has a mistake; without this the other rows are planned", BATCH },
      G_OPTION_ARG_NONE,
      G_STRUCT_OFFSET (Options, strict) },
    { { "begin", "TIME",
        "when the batch begins, by the shop's own clock, as in 2034-03-06T07:00; needed where a unit says when it is "
        "due. The default is the first shift of a week without a date",
        BATCH },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, begin) },
    { { "seed", "N", "try other timetables than with another N, a whole number from 1; the default is 1", BATCH },
      G_OPTION_ARG_INT64,
      G_STRUCT_OFFSET (Options, seed) },
    { { "published", "FILE",
        "the JSON of a batch's last run. For batch: plan the rest anew from --now on, with what the bench records among the "
        "PATHs say, and move as few of its tasks as can be. For the others: the steps of a unit's record are those of its "
        "sheet",
        PLANS | EXPLAIN | COMMAND_STARTS | RECORDS | BATCH },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, published) },
    { { "now", "TIME",
        "with --published, the moment from which on tasks may be moved: 2034-03-06T09:30, or for a batch without a date "
        "'Mon 09:30', 'Tue+1 09:30' in the second week",
        BATCH },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, now) },
    { { "folder", "DIR",
        "write batch.html (and batch-2.html, ... for many units), timetable.csv and batch.json into this folder, which is "
        "made where it is not there, each whole or not at all; never over a file that is read",
        BATCH },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, folder) },
    { { "svg", NULL, "print the route as a strip of states, an SVG image", PLANS },
      G_OPTION_ARG_NONE,
      G_STRUCT_OFFSET (Options, svg) },
    { { "html", NULL,
        "print the sheet as one page for a browser or a printer, with the strip of states where there is a route to "
        "draw, and boxes to tick; of a batch, the first of its pages",
        PLANS | EXPLAIN | BATCH },
      G_OPTION_ARG_NONE,
      G_STRUCT_OFFSET (Options, html) },
    { { "csv", NULL, "print the timetable as a table, a row a task", BATCH },
      G_OPTION_ARG_NONE,
      G_STRUCT_OFFSET (Options, csv) },
    { { "json", NULL,
        "print the answer as JSON (docs/route-json.md; for explain docs/explain-json.md, for batch docs/batch-json.md)",
        ANSWERS },
      G_OPTION_ARG_NONE,
      G_STRUCT_OFFSET (Options, json) },
    { { "output", "FILE",
        "write the answer to FILE, whole or not at all, instead of standard output; never over a file that is read",
        ANSWERS | COMMAND_POOL },
      G_OPTION_ARG_FILENAME,
      G_STRUCT_OFFSET (Options, output) },
    { { "colour", "WHEN",
        "auto (on a terminal, unless NO_COLOR is set or TERM is dumb), always or never; colour never says anything "
        "that words don't",
        ANSWERS },
      G_OPTION_ARG_STRING,
      G_STRUCT_OFFSET (Options, colour) },
    { { "help", NULL, "print what the command answers, its options and its exit statuses; -h does the same", ALL },
      G_OPTION_ARG_NONE,
      G_STRUCT_OFFSET (Options, help) },
};

void
options_clear (Options *options)
{
    g_strfreev (options->wants);
    g_strfreev (options->fits);
    g_strfreev (options->seens);
    g_free (options->return_slot);
    g_strfreev (options->paths);
    g_free (options->colour);
    g_free (options->output);
    g_free (options->rules_only);
    g_free (options->replay);
    g_free (options->objective);
    g_free (options->step_number);
    g_free (options->step_words);
    g_free (options->outcome);
    g_free (options->found);
    g_strfreev (options->firmware);
    g_strfreev (options->fitted);
    g_free (options->initials);
    g_free (options->time);
    g_free (options->unit);
    g_free (options->begin);
    g_free (options->published);
    g_free (options->now);
    g_free (options->folder);
    *options = (Options){ 0 };
}

const OptionText *
option_text (guint index)
{
    return index < G_N_ELEMENTS (rows) ? &rows[index].text : NULL;
}

/* GLib's entries for the options that a command takes, the paths last. Transfer full. */
static GOptionEntry *
entries_of_command (guint command, Options *options)
{
    GOptionEntry *entries = g_new0 (GOptionEntry, G_N_ELEMENTS (rows) + 2);
    guint count = 0;

    for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
        if ((rows[i].text.commands & command) == 0)
            continue;
        entries[count].long_name = rows[i].text.name;
        entries[count].short_name = g_str_equal (rows[i].text.name, "help") ? 'h' : 0;
        entries[count].arg = rows[i].type;
        entries[count].arg_data = (char *) options + rows[i].offset;
        count++;
    }
    entries[count].long_name = G_OPTION_REMAINING;
    entries[count].arg = G_OPTION_ARG_FILENAME_ARRAY;
    entries[count].arg_data = &options->paths;
    return entries;
}

const char *
option_nearest (guint command, char *const *arguments)
{
    g_autoptr (GPtrArray) known = g_ptr_array_new ();

    for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
        if (rows[i].text.commands & command)
            g_ptr_array_add (known, (gpointer) rows[i].text.name);
    g_ptr_array_add (known, NULL);
    for (char *const *argument = arguments; *argument != NULL; argument++) {
        g_autofree char *name = NULL;

        if (g_str_equal (*argument, "--"))
            return NULL;
        if (!g_str_has_prefix (*argument, "--"))
            continue;
        name = g_strndup (*argument + 2, strcspn (*argument + 2, "="));
        if (!g_strv_contains ((const char *const *) known->pdata, name))
            return text_nearest (name, (const char *const *) known->pdata);
    }
    return NULL;
}

Objective
options_objective (const Options *options)
{
    for (int o = 0; options->objective != NULL && o < OBJECTIVE_COUNT; o++)
        if (g_str_equal (options->objective, objective_name ((Objective) o)))
            return (Objective) o;
    return OBJECTIVE_STEPS;
}

static gboolean
options_are_sane (const Options *options, GError **error)
{
    static const char *const colours[] = { "auto", "always", "never", NULL };
    static const char *const outcomes[] = { "done", "failed", "skipped", NULL };

    if (options->colour != NULL && !g_strv_contains (colours, options->colour)) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--colour is auto, always or never, not \"%s\"",
                     options->colour);
        return FALSE;
    }
    if (options->objective != NULL && !g_str_equal (options->objective, objective_name (options_objective (options)))) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                     "--objective is steps, handling or time, not \"%s\"", options->objective);
        return FALSE;
    }
    if (options->alternatives <= 0 && options->alternatives != NOT_GIVEN) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--alternatives is a whole number from 1, not %d",
                     options->alternatives);
        return FALSE;
    }
    if (options->json + options->svg + options->html + options->csv > 1) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--json, --svg, --html and --csv: one at a time");
        return FALSE;
    }
    if (options->layers < 0 || options->steps < 0) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--layers and --steps are whole numbers from 1");
        return FALSE;
    }
    if (options->outcome != NULL && !g_strv_contains (outcomes, options->outcome)) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                     "--outcome is done, failed or skipped, not \"%s\"", options->outcome);
        return FALSE;
    }
    if (options->states <= 0 && options->states != NOT_GIVEN) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--states is a whole number from 1, not %lld",
                     (long long) options->states);
        return FALSE;
    }
    if (options->seed <= 0 && options->seed != NOT_GIVEN) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--seed is a whole number from 1, not %lld",
                     (long long) options->seed);
        return FALSE;
    }
    if (!(options->effort_seconds > 0) && options->effort_seconds != NOT_GIVEN) {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--effort is a number of seconds above 0, not %g",
                     options->effort_seconds);
        return FALSE;
    }
    return TRUE;
}

/* "B1": what a sheet with branches calls a step of a part. */
static gboolean
is_label_of_part (const char *said)
{
    gsize letters = strspn (said, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");
    gsize digits = strspn (said + letters, "0123456789");

    return letters > 0 && digits > 0 && said[letters + digits] == '\0';
}

static gboolean
read_step_number (Options *options, GError **error)
{
    const char *said = options->step_number;
    guint64 number = 0;

    if (said == NULL)
        return TRUE;
    if (g_ascii_string_to_unsigned (said, 10, 1, G_MAXINT, &number, NULL)) {
        options->step = (int) number;
        return TRUE;
    }
    if (is_label_of_part (said) && options->published != NULL)
        return TRUE; /* the timetable knows which one it is */
    g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--step is a whole number from 1, not %s%s", said,
                 !is_label_of_part (said) ? ""
                 : *said == 'A' && !g_ascii_isalpha (said[1])
                     ? ": the steps of part A go by their numbers alone, A1 is step 1"
                     : ": of a plan with branches only the steps of part A go by number. Plan again with the record, "
                       "with --json, and record that plan's steps by its numbers, in a record of its own; or say what "
                       "was done with --do");
    return FALSE;
}

gboolean
options_parse (guint command, char **arguments, Options *options, GError **error)
{
    g_autofree GOptionEntry *entries = entries_of_command (command, options);
    g_autoptr (GOptionContext) context = g_option_context_new (NULL);
    g_auto (GStrv) left = g_strdupv (arguments);

    options->states = NOT_GIVEN;
    options->seed = NOT_GIVEN;
    options->alternatives = NOT_GIVEN;
    options->effort_seconds = NOT_GIVEN;
    g_option_context_set_help_enabled (context, FALSE);
    g_option_context_add_main_entries (context, entries, NULL);
    if (!g_option_context_parse_strv (context, &left, error) || !read_step_number (options, error) ||
        !options_are_sane (options, error))
        return FALSE;
    options->states = MAX (options->states, 0);
    options->seed = MAX (options->seed, 0);
    options->alternatives = MAX (options->alternatives, 0);
    options->effort_seconds = MAX (options->effort_seconds, 0);
    return TRUE;
}
