/* SPDX-License-Identifier: MIT */
/* `rungwise starts`: does this unit start, and if not, why not. */
#include "commands/fit.h"
#include "commands/load.h"
#include "commands/output.h"
#include "commands/resume.h"

/* `units`: Unit*. */
static Outcome
answer_units (const Options *options, const Loaded *loaded, const GPtrArray *units)
{
    g_autoptr (GPtrArray) stands = g_ptr_array_new_with_free_func ((GDestroyNotify) resumed_free); /* after records */
    g_autoptr (GPtrArray) answers = g_ptr_array_new_with_free_func ((GDestroyNotify) starts_answer_free);
    g_autofree char *text = NULL;
    Outcome outcome = OUTCOME_ANSWERED;

    for (guint i = 0; i < units->len; i++) {
        const Unit *unit = g_ptr_array_index (units, i);
        Resumed *resumed = NULL;
        Outcome read = resume_unit (loaded, unit, &resumed, NULL);

        if (read != OUTCOME_ANSWERED)
            return read;
        if (resumed != NULL)
            g_ptr_array_add (stands, resumed);
        StartsAnswer *answer = starts_find (loaded->library, resumed != NULL ? resumed->shop : loaded->shop,
                                            resumed != NULL ? resumed->unit : unit);

        outcome = outcome_worse_start (outcome, answer->outcome);
        g_ptr_array_add (answers, answer);
    }
    text = options->json ? report_starts_json (answers) : report_starts_text (answers, output_has_colour (options));
    return output_write (options, text, outcome);
}

static Outcome
starts (const Options *options)
{
    g_auto (Loaded) loaded = { 0 };
    g_autoptr (GPtrArray) one = g_ptr_array_new ();
    Outcome outcome = load_all (command_starts.name, options, &loaded);
    Unit *unit = NULL;

    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    if (loaded.library->units->len > 0 && options->fits == NULL && options->unit == NULL)
        return answer_units (options, &loaded, loaded.library->units);
    outcome = load_unit (command_starts.name, &loaded, options->unit, &unit);
    if (outcome == OUTCOME_ANSWERED && options->fits != NULL)
        outcome = fit_apply (command_starts.name, &loaded.library->book, options->fits, unit);
    g_ptr_array_add (one, unit);
    return outcome == OUTCOME_ANSWERED ? answer_units (options, &loaded, one) : outcome;
}

const Command command_starts = {
    .name = "starts",
    .bit = COMMAND_STARTS,
    .summary = "say whether a unit starts, and every rule that stands in the way",
    .arguments = "PATH...",
    .explains =
        "Answers: does this unit complete its power-on self-test as it stands, and if it stays dark, which rules does "
        "it "
        "break? Each broken rule comes with its sentence, the facts that break it, their places in the files, and the "
        "source. Warnings come last; they are never in the way.\n\n"
        "Three answers are kept apart. \"starts\": the facts say yes. \"does not start\": a fact says no. \"not known "
        "to "
        "start\": no fact says yes, so it may be tried but not planned with. Where releases are not all known, "
        "releases "
        "with the same answer are said together. With --fit the question is asked before the part is touched. Several "
        "units may be asked about at once; the exit status is that of the worst.",
    .example = "rungwise starts data/larkfield/book data/larkfield/shop.yaml \\\n"
               "    data/larkfield/units/01-dark-needs-a-loaner.yaml --fit cpu1=dorvan-4c:a1",
    .run = starts,
};
