/* SPDX-License-Identifier: MIT */
/* `rungwise explain`: why a unit stays dark, and what to do about it. */
#include "commands/fit.h"
#include "commands/load.h"
#include "commands/output.h"
#include "commands/patience.h"
#include "commands/resume.h"

#include "check/resume_bench.h"

#include <string.h>

#define NO_SLOT (-1)

/* Everything that is asked about one unit. */
typedef struct {
    Resumed *resumed;   /* owned, nullable */
    GPtrArray *records; /* const Record*; owned */
    Bench *fitted;      /* owned; with the parts that are only asked about; NULL without --fit */
    Unit *unit;
    Unit *before; /* the unit without them; NULL without --fit */
    Shop *shop;
    Want *want;
    const Seen *seen;
    int suspect;
} Asked;

static void
asked_clear (Asked *asked)
{
    g_clear_pointer (&asked->fitted, bench_free);
    g_clear_pointer (&asked->records, g_ptr_array_unref);
    g_clear_pointer (&asked->resumed, resumed_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Asked, asked_clear)

/* ---- What the files and the command line ask ---- */

/* Of this unit, or of no unit by name; the files hold no two of one unit. */
static const Seen *
seen_of_unit (const Loaded *loaded, const Unit *unit)
{
    const GPtrArray *seens = loaded->library->seens;

    for (guint i = 0; i < seens->len; i++) {
        const Seen *seen = g_ptr_array_index (seens, i);

        if (seen->board != unit->board)
            continue; /* of another unit out of a table */
        if (seen->unit == NULL || g_str_equal (seen->unit, unit->id))
            return seen;
    }
    return NULL;
}

static Outcome
choose_suspect (const Options *options, Asked *asked)
{
    const Board *board = asked->unit->board;

    asked->suspect = NO_SLOT;
    if (options->return_slot == NULL)
        return OUTCOME_ANSWERED;
    asked->suspect = board_find_slot (board, options->return_slot);
    if (asked->suspect < 0)
        return usage_error (command_explain.name, "a slot of the unit's board",
                            "--return %s: board %s has no such slot", options->return_slot, board->name);
    if (asked->unit->fitted[asked->suspect].part == NULL)
        return usage_error (command_explain.name, "a slot that holds the part that may be sent back",
                            "--return %s: the slot is empty", options->return_slot);
    return OUTCOME_ANSWERED;
}

/* The unit as records leave it, with the parts in it that are only asked about. */
static Outcome
choose_unit (const Options *options, const Loaded *loaded, Asked *asked)
{
    Unit *as_it_came = NULL;
    Outcome outcome = load_unit (command_explain.name, loaded, options->unit, &as_it_came);

    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    asked->records = g_ptr_array_new ();
    outcome = resume_unit (loaded, as_it_came, &asked->resumed, asked->records);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    asked->unit = asked->resumed != NULL ? asked->resumed->unit : as_it_came;
    asked->shop = asked->resumed != NULL ? asked->resumed->shop : loaded->shop;
    if (options->fits == NULL)
        return OUTCOME_ANSWERED;
    asked->before = asked->unit;
    asked->fitted = bench_new (asked->unit, asked->shop);
    asked->unit = asked->fitted->unit;
    return fit_apply (command_explain.name, &loaded->library->book, options->fits, asked->unit);
}

static Outcome
choose_all (const Options *options, const Loaded *loaded, Asked *asked)
{
    Outcome outcome = choose_unit (options, loaded, asked);

    if (outcome == OUTCOME_ANSWERED)
        outcome = load_want (command_explain.name, loaded, asked->unit, FALSE, &asked->want);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    asked->seen = seen_of_unit (loaded, asked->unit);
    return choose_suspect (options, asked);
}

/* ---- The answer ---- */

/* As a shell takes it as one word. Transfer full. */
static char *
shell_word (const char *text)
{
    for (const char *at = text; *at != '\0'; at++)
        if (!g_ascii_isalnum (*at) && strchr ("-_./:=+,@%", *at) == NULL)
            return g_shell_quote (text);
    return g_strdup (text);
}

/* An option with its value; nothing where it is not given. */
static void
add_option (GStrvBuilder *words, const char *name, const char *value)
{
    g_autofree char *word = value == NULL ? NULL : shell_word (value);
    g_autofree char *option = value == NULL ? NULL : g_strconcat ("--", name, " ", word, NULL);

    if (option != NULL)
        g_strv_builder_add (words, option);
}

/* What plan is asked with for the same files: each entry an option with its value, or a path. Transfer full. */
static char **
words_to_plan (const Options *options)
{
    g_autoptr (GStrvBuilder) words = g_strv_builder_new ();

    for (char **path = options->paths; *path != NULL; path++) {
        g_autofree char *word = shell_word (*path);

        g_strv_builder_add (words, word);
    }
    for (char **want = options->wants; want != NULL && *want != NULL; want++)
        add_option (words, "want", *want);
    add_option (words, "unit", options->unit);
    add_option (words, "published", options->published);
    add_option (words, "objective", options->objective);
    add_option (words, "rules-only", options->rules_only);
    return g_strv_builder_end (words);
}

static Diagnosis *
diagnose (const Options *options, const Loaded *loaded, const Asked *asked)
{
    gboolean timed = options->effort_seconds > 0 && options->states == 0;
    g_auto (Patience) patience = { 0 };
    const RouteOptions limits = {
        .objective = options_objective (options),
        .familiar = asked->resumed != NULL ? asked->resumed->left : NULL,
        .search_states = (guint64) (timed ? G_MAXINT64 : options->states), /* with --effort, the time alone decides */
        .go_on = patience_goes_on,
        .go_on_data = &patience,
    };
    const DiagnosisQuestion question = {
        .library = loaded->library,
        .shop = asked->shop,
        .unit = asked->unit,
        .before = asked->before,
        .want = asked->want,
        .seen = asked->seen,
        .asked_only = options->fits != NULL,
        .suspect = asked->suspect,
        .options = &limits,
    };

    patience_begin (&patience, options->effort_seconds);
    Diagnosis *diagnosis = diagnosis_find (&question);
    patience_end (&patience);
    return diagnosis;
}

static Outcome
explain (const Options *options)
{
    g_auto (Loaded) loaded = { 0 };
    g_auto (Asked) asked = { 0 };
    Outcome outcome = load_all (command_explain.name, options, &loaded);

    if (outcome == OUTCOME_ANSWERED)
        outcome = choose_all (options, &loaded, &asked);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    g_autoptr (Diagnosis) diagnosis = diagnose (options, &loaded, &asked);
    g_auto (GStrv) again = words_to_plan (options);
    const ExplainReport report = {
        .library = loaded.library,
        .shop = asked.shop,
        .unit = asked.unit,
        .want = asked.want,
        .seen = asked.seen,
        .records = asked.records,
        .before = asked.before,
        .asked = (const char *const *) options->fits,
        .again = (const char *const *) again,
        .diagnosis = diagnosis,
    };
    g_autofree char *text = options->json   ? report_explain_json (&report)
                            : options->html ? report_explain_html (&report)
                                            : report_explain_text (&report, output_has_colour (options));
    return output_write (options, text, explain_outcome (diagnosis));
}

const Command command_explain = {
    .name = "explain",
    .bit = COMMAND_EXPLAIN,
    .summary = "say why a unit stays dark, what to do about it, and what to look at first",
    .arguments = "PATH...",
    .explains =
        "Answers: the new processor is in and the unit stays dark: a bad part, a bad board, or just old firmware? "
        "First "
        "the verdict: it can't start like this, or no rule is broken and the cause is physical, or it depends on a "
        "release that is not known. Then what was seen and what that means, what is enough to keep it dark, how to "
        "read "
        "what is not known, the ways out with their steps, and the physical causes in the order in which to look for "
        "them, with the minutes each takes. Last, a text to paste into a return form.\n\n"
        "The PATHs are the book, the shop and one unit; what was seen stands in a file (docs/files.md, \"Seen\") or "
        "comes from --seen, what is wanted in a file or from --want; neither has to be there. Bench records are taken "
        "into account. With --fit the question is asked before the part is bought.",
    .example = "rungwise explain data/larkfield/book data/larkfield/shop.yaml \\\n"
               "    tests/cases/files/wren-unit.yaml --seen dark-minutes=15 --seen fans=turning",
    .run = explain,
};
