/* SPDX-License-Identifier: MIT */
/* `rungwise files`: checks files alone. */
#include "commands/load.h"
#include "commands/output.h"

static Outcome
files (const Options *options)
{
    g_auto (Loaded) loaded = { 0 };
    Outcome outcome = load_all (command_files.name, options, &loaded);
    g_autofree char *text = NULL;

    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    text = report_files_text (loaded.library);
    return output_write (options, text, OUTCOME_ANSWERED);
}

const Command command_files = {
    .name = "files",
    .bit = COMMAND_FILES,
    .summary = "check files, and say everything that is wrong in them",
    .arguments = "PATH...",
    .explains = "Answers: are these files in order? Every mistake is said with file, line and column, the line itself, "
                "and what "
                "would be right there, all in one run. Files without a mistake are counted on one line.\n\n"
                "Wants and written routes are about one unit, so name them together with its file.",
    .example = "rungwise files data/larkfield/book data/larkfield/shop.yaml",
    .run = files,
};
