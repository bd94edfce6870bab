/* SPDX-License-Identifier: MIT */
/* `rungwise batch`: an ordered plan for many units. */
#include "commands/batch_files.h"
#include "commands/clock.h"
#include "commands/load.h"
#include "commands/output.h"
#include "commands/patience.h"

#include <stdio.h>
#include <string.h>

/* Everything that a run is about. */
typedef struct {
    Loaded loaded;
    GPtrArray *wants; /* Want*, one per unit; owned container */
    BatchClock clock;
    BatchPublished *published; /* owned; NULL: a first plan */
    gint64 now;
    GPtrArray *left_out; /* BatchLeftRow*; owned; NULL: not read yet */
} Run;

static void
run_clear (Run *run)
{
    g_clear_pointer (&run->published, batch_published_free);
    g_clear_pointer (&run->wants, g_ptr_array_unref);
    g_clear_pointer (&run->left_out, g_ptr_array_unref);
    g_clear_pointer (&run->clock.begin, g_date_time_unref);
    loaded_clear (&run->loaded);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Run, run_clear)

/* ---- Files ---- */

static Outcome
load_files (const Options *options, Run *run)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Complaints) in_rows = complaints_new ();
    const char *const *paths = (const char *const *) options->paths;
    Outcome outcome = OUTCOME_ANSWERED;

    if (paths == NULL || paths[0] == NULL)
        return usage_error (command_batch.name, "PATH...: files or folders of the book, the shop, the units, what they become",
                            "no file or folder is named");
    outcome = batch_files_are_safe (options, paths);
    if (outcome != OUTCOME_ANSWERED)
        return outcome;
    outcome = load_rows (command_batch.name, options, paths, complaints, in_rows, &run->loaded);
    if (complaints_count (in_rows) > 0)
        load_complain (in_rows);
    if (outcome == OUTCOME_BAD_INPUT)
        return load_complain (complaints);
    if (outcome == OUTCOME_ANSWERED)
        run->left_out = batch_rows_left_out (run->loaded.library, in_rows);
    return complaints_count (in_rows) > 0 && options->strict ? OUTCOME_BAD_INPUT : outcome;
}

static Outcome
find_wants (Run *run)
{
    const Library *library = run->loaded.library;

    if (library->units->len == 0 && run->left_out->len > 0)
        return OUTCOME_BAD_INPUT;
    if (library->units->len == 0)
        return usage_error (command_batch.name, "files of units, or a table of them (docs/batch.md)", "the files hold no unit");
    run->wants = g_ptr_array_new ();
    for (guint i = 0; i < library->units->len; i++) {
        const Unit *unit = library->units->pdata[i];
        g_autofree char *why = NULL;
        const Want *want = library_want_for_unit (library, unit, &why);

        if (want == NULL)
            return usage_error (command_batch.name, "a want for each unit (docs/batch.md, \"What each becomes\")", "%s",
                                why == NULL ? unit->id : why);
        g_ptr_array_add (run->wants, (gpointer) want);
    }
    return OUTCOME_ANSWERED;
}

/* ---- Times ---- */

static Outcome
read_published (const Options *options, const char *text, Run *run)
{
    g_autoptr (Complaints) complaints = complaints_new ();

    complaints_add_text (complaints, options->published, text, strlen (text));
    run->published = batch_published_read (options->published, text, &run->loaded.library->book,
                                           run->loaded.library->units, &run->clock, complaints);
    return run->published == NULL ? load_complain (complaints) : OUTCOME_ANSWERED;
}

static Outcome
due_has_a_date (const Run *run)
{
    const GPtrArray *units = run->loaded.library->units;

    for (guint i = 0; run->clock.begin == NULL && i < units->len; i++) {
        const Unit *unit = units->pdata[i];

        if (unit->due != NULL)
            return usage_error (command_batch.name, "the date and time at which the batch begins: --begin 2034-03-06T07:00",
                                "%s is due %s, and nothing says when the batch begins", unit->id, unit->due);
    }
    return OUTCOME_ANSWERED;
}

/* What is no batch at all is said before its times are asked for. FALSE after a complaint. */
static gboolean
read_begin (const Options *options, const char *text, char **begin)
{
    g_autoptr (Complaints) complaints = complaints_new ();

    complaints_add_text (complaints, options->published, text, strlen (text));
    if (batch_published_begin (options->published, text, begin, complaints))
        return TRUE;
    load_complain (complaints);
    return FALSE;
}

/* A batch that is planned anew begins when the published one does. */
static Outcome
set_times (const Options *options, Run *run)
{
    g_autofree char *text = NULL;
    g_autofree char *begin = g_strdup (options->begin);
    g_autoptr (GError) error = NULL;
    const char *const read[] = { options->published, NULL };
    Outcome outcome = OUTCOME_ANSWERED;

    if ((options->published == NULL) != (options->now == NULL))
        return usage_error (command_batch.name, "both of them, or neither: --published FILE --now TIME",
                            "--%s is given without --%s", options->now == NULL ? "published" : "now",
                            options->now == NULL ? "now" : "published");
    if (options->published != NULL) {
        outcome = batch_files_are_safe (options, read);
        if (outcome != OUTCOME_ANSWERED)
            return outcome;
        if (!g_file_get_contents (options->published, &text, NULL, &error)) {
            fprintf (stderr, "%s\n  expected the JSON that `rungwise batch` has written\n", error->message);
            return OUTCOME_BAD_INPUT;
        }
        if (begin == NULL && !read_begin (options, text, &begin))
            return OUTCOME_BAD_INPUT;
    }
    outcome = clock_begin (begin, run->loaded.shop, &run->clock);
    if (outcome == OUTCOME_ANSWERED)
        outcome = due_has_a_date (run);
    if (outcome == OUTCOME_ANSWERED && options->now != NULL)
        outcome = clock_now (options->now, &run->clock, &run->now);
    return outcome != OUTCOME_ANSWERED || text == NULL ? outcome : read_published (options, text, run);
}

/* ---- The answer ---- */

typedef struct {
    const TimetableCost *best, *bound;
    const BatchClock *clock;
} Progress;

static char *
say_progress (gconstpointer work)
{
    const Progress *progress = work;
    g_autofree char *best = batch_time_words (progress->clock, progress->best->finish);
    g_autofree char *bound = batch_time_words (progress->clock, progress->bound->finish);

    return g_strdup_printf ("timetable: ends %s, none before %s", best, bound);
}

typedef struct {
    Patience *patience;
    const BatchClock *clock;
    double effort_seconds; /* 0: no limit, or it runs already */
} Watched;

static gboolean
goes_on (const TimetableCost *best, const TimetableCost *bound, gpointer data)
{
    Watched *watched = data;
    const Progress progress = { best, bound, watched->clock };

    if (watched->effort_seconds > 0)
        patience_limit (watched->patience, watched->effort_seconds);
    watched->effort_seconds = 0;
    return patience_goes_on_with (watched->patience, say_progress, &progress);
}

static Outcome
write_answer (const Options *options, const BatchReport *report, Outcome outcome)
{
    g_autoptr (BatchView) view = batch_view_new (report);
    g_autofree char *text = options->json   ? report_batch_json (view)
                            : options->html ? report_batch_html (view, 0)
                            : options->csv  ? g_strdup (report_batch_csv (view))
                                            : report_batch_text (view, output_has_colour (options));
    Outcome written = options->folder == NULL ? outcome : batch_files_write (options, view, outcome);

    return written == OUTCOME_CANNOT_WRITE ? written : output_write (options, text, outcome);
}

static Outcome
plan_batch (const Options *options, Run *run)
{
    g_auto (Patience) patience = { 0 };
    Watched watched = { &patience, &run->clock, options->effort_seconds };
    const RouteOptions limits = { .objective = options_objective (options),
                                  .go_on = patience_goes_on,
                                  .go_on_data = &patience };
    const BatchQuestion question = {
        .library = run->loaded.library,
        .shop = run->loaded.shop,
        .units = run->loaded.library->units,
        .wants = run->wants,
        .route = &limits,
        .schedule = { .seed = (guint64) MAX (options->seed, 1),
                      .most_tried = options->effort_seconds > 0 ? G_MAXUINT64 : 0, /* then the time alone decides */
                      .go_on = goes_on,
                      .go_on_data = &watched },
        .clock = run->clock,
        .published = run->published,
        .now = run->now,
    };

    patience_begin (&patience, 0); /* the effort is the timetable's: every unit gets its route */
    g_autoptr (Batch) batch = batch_plan (&question);
    gboolean by_hand = patience_end (&patience);
    const BatchReport report = { &question, batch, run->left_out };
    Outcome outcome = batch_outcome (batch, run->left_out->len, by_hand);

    if (batch->wrong != NULL) {
        fprintf (stderr,
                 "rungwise batch: own fault: the check refused what this program found, so it is not shown. Keep the files "
                 "and report it.\n  %s\n",
                 batch->wrong);
        return outcome;
    }
    return write_answer (options, &report, outcome);
}

static Outcome
batch (const Options *options)
{
    g_auto (Run) run = { 0 };
    Outcome outcome = load_files (options, &run);

    if (outcome == OUTCOME_ANSWERED)
        outcome = find_wants (&run);
    if (outcome == OUTCOME_ANSWERED)
        outcome = set_times (options, &run);
    return outcome == OUTCOME_ANSWERED ? plan_batch (options, &run) : outcome;
}

const Command command_batch = {
    .name = "batch",
    .bit = COMMAND_BATCH,
    .summary = "plan a pallet of units: who does what when, and where each part goes",
    .arguments = "PATH...",
    .explains =
        "Answers: many units, few loaners, few bench places, a shift: in which order is the work done, by whom, where does "
        "each loaner go, and what is to be taken from stock? Each situation is planned once, stock and lent parts are shared "
        "out, and the timetable is checked step by step before it is shown, with what is proved of it.\n\n"
        "The PATHs are the book, the shop with its shifts, what the units become, and the units: files of theirs, or a table "
        "with a row a unit, whose name ends in .csv (docs/batch.md). A row with a mistake is left out and said; a unit that "
        "cannot be done is set aside with its reason; the others are planned, and the exit status says so.\n\n"
        "With --folder the page with a sheet for each unit, the table and the JSON are written at once. When it goes wrong at "
        "the bench, --published, --now and the bench records plan the rest anew, moving as little as can be.",
    .example = "rungwise batch data/larkfield/book data/larkfield/batch data/larkfield/batch/pallet.csv \\\n"
               "    --begin 2034-03-06T07:00",
    .run = batch,
};
