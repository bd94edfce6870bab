/* SPDX-License-Identifier: MIT */
/* The details of a write on the bench sheet: the file, and what to do when it fails. */
#include "reports/route_sheet.h"

#define INDENT SHEET_DETAIL_INDENT

static void
say_file (const Sheet *sheet, const Release *release)
{
    if (release->file_name == NULL && release->sha256 == NULL && release->bytes < 0)
        return;
    if (release->bytes >= 0)
        paper_say (sheet->paper, INDENT, INDENT + 2, "file: %s, %" G_GINT64_FORMAT " bytes",
                   release->file_name == NULL ? "(name not stated)" : release->file_name, release->bytes);
    else if (release->file_name != NULL)
        paper_say (sheet->paper, INDENT, INDENT + 2, "file: %s", release->file_name);
    if (release->sha256 != NULL)
        paper_say (sheet->paper, INDENT, INDENT + 2, "SHA-256: %s", release->sha256);
}

/* "write system 2.1.0 ...; fit ..." Transfer full. */
static char *
steps_in_words (const Board *board, const GArray *steps)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < steps->len; i++)
        g_ptr_array_add (words, words_step (board, &g_array_index (steps, Step, i)));
    g_ptr_array_add (words, NULL);
    return g_strjoinv ("; ", (char **) words->pdata);
}

/* A method may recover a component without the book saying that it is written so: then nothing can be planned with it. */
static void
say_no_fallback (const Sheet *sheet, const StepAccount *step)
{
    const Component *component = board_component (sheet_board (sheet), step->step->component);
    gboolean stated = step->recovery == 0;

    for (int method = 0; method < METHOD_COUNT; method++)
        stated |= (step->recovery & METHOD_BIT (method)) != 0 && component->methods[method].there;
    paper_say (sheet->paper, INDENT + 2, INDENT + 4, "%s",
               stated ? "no order of steps leads from there to a unit that starts"
                      : "the book does not say how that is written, so the way on from there is not planned");
}

/* What to do once somebody has stopped and asked: from the state that the failed write leaves. */
static void
say_fallback (const Sheet *sheet, guint index)
{
    const Fallback *fallback = report_fallback (sheet->report, index);
    const char *goes_on = index + 1 < sheet->account->steps->len ? "go on behind this step" : "the route is done";
    g_autofree char *steps = NULL;

    if (fallback == NULL)
        return;
    if (fallback->kind == FALLBACK_NONE) {
        say_no_fallback (sheet, sheet_step (sheet, index));
        return;
    }
    if (fallback->kind == FALLBACK_OPEN) {
        paper_say (sheet->paper, INDENT + 2, INDENT + 4, "no way from there was found within the effort");
        return;
    }
    if (fallback->steps->len == 0) {
        paper_say (sheet->paper, INDENT + 2, INDENT + 4, "the unit starts all the same: write it again");
        return;
    }
    steps = steps_in_words (sheet_board (sheet), fallback->steps);
    paper_say (sheet->paper, INDENT + 2, INDENT + 4, "then: %s; %s%s", steps,
               fallback->proved ? "" : "not proved the shortest way; ",
               fallback->reaches_after ? goes_on : "the unit starts: plan on from there");
}

static void
say_if_it_fails (const Sheet *sheet, guint index)
{
    const StepAccount *step = sheet_step (sheet, index);
    g_autofree char *recovery = words_methods (step->recovery, step->recovery_takes_all ? "and" : "or");

    const Fallback *fallback = report_fallback (sheet->report, index);
    gboolean has_way = fallback != NULL && fallback->kind == FALLBACK_ROUTE && fallback->steps->len > 0;

    if (step->recovery == 0 && has_way)
        paper_say (sheet->paper, INDENT, INDENT + 2,
                   MARK_BAD "if it fails: no write recovers it as the unit stands" MARK_PLAIN
                            ": stop; do not cut power; ask before going on");
    else if (step->recovery != 0)
        paper_say (sheet->paper, INDENT, INDENT + 2,
                   "if it fails: recover by %s: stop; do not cut power; see Recovery at the end", recovery);
    else
        paper_say (sheet->paper, INDENT, INDENT + 2,
                   MARK_BAD "if it fails: no recovery here" MARK_PLAIN ": stop; do not cut power; ask before going on");
    say_fallback (sheet, index);
}

void
sheet_write_details (const Sheet *sheet, guint index)
{
    const StepAccount *step = sheet_step (sheet, index);
    const Component *component = board_component (sheet_board (sheet), step->step->component);
    const Release *release = component_release (component, step->step->release);

    if (step->step->method == METHOD_SPARE)
        paper_say (sheet->paper, INDENT, INDENT + 2, "no file: what the spare image holds is copied");
    else
        say_file (sheet, release);
    if (step->step->method == METHOD_JUMPER)
        paper_say (
            sheet->paper, INDENT, INDENT + 2,
            "with every cord out: set the recovery jumper, the medium in; then plug in and let the board read it. "
            "When the board shows that it is done, unplug every supply and put the jumper back");
    else
        paper_say (sheet->paper, INDENT, INDENT + 2, "takes effect: %s", words_effect (release->takes_effect));
    say_if_it_fails (sheet, index);
    if (release->clears_settings)
        paper_say (sheet->paper, INDENT, INDENT + 2, "clears the settings: note them before, set them again after");
}
