/* SPDX-License-Identifier: MIT */
/* The overview of a batch for a terminal. */
#include "batch/bench.h"
#include "reports/batch_branches.h"
#include "reports/batch_changes.h"
#include "reports/batch_found.h"
#include "reports/batch_left_open.h"
#include "reports/batch_rows.h"
#include "reports/batch_sheet.h"
#include "reports/route_text.h"

#define MOST_SITUATIONS 40
#define MOST_IDS        8
#define MOST_STAYS      24
#define MOST_LOANERS    40

/* ---- Situations ---- */

static GPtrArray *
ids_of_way (const BatchView *view, const BatchWay *way)
{
    GPtrArray *ids = g_ptr_array_new ();

    for (guint i = 0; i < view->order->len; i++) {
        const BatchUnit *unit = view_unit (view, g_array_index (view->order, guint, i));

        if (view_way (view, unit) == way)
            g_ptr_array_add (ids, (gpointer) unit->unit->id);
    }
    return ids;
}

static char *
steps_of_way (const BatchWay *way)
{
    const Board *board = way->of->unit->board;
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < way->mode->steps->len; i++)
        g_ptr_array_add (words, words_step (board, &g_array_index (way->mode->steps, Step, i)));
    g_ptr_array_add (words, NULL);
    if (words->len == 1)
        return g_strdup (way->words != NULL ? "no step; it is read" : "nothing to do");
    return g_strjoinv ("; ", (char **) words->pdata);
}

/* Transfer full. */
static char *
claim_of (const BatchMode *mode)
{
    double read = 0;

    if (mode->branching == NULL)
        return g_strdup (mode->claim == CLAIM_PROVED_SHORTEST ? ", proved" : ", best found");
    for (guint i = 0; i < mode->branching->readings->len; i++)
        read += g_array_index (mode->branching->readings, BatchReading, i).minutes;
    g_autofree char *minutes = words_minutes (read);
    return g_strdup_printf (" and %s to read what it has, worst case of a plan with branches", minutes);
}

static void
say_way (Paper *paper, const BatchView *view, guint index)
{
    const BatchWay *way = view->ways->pdata[index];
    const Walk *walk = way->mode->walk;
    g_autoptr (GPtrArray) all = ids_of_way (view, way);
    g_autofree char *ids = batch_some_ids (all, MOST_IDS);
    g_autofree char *wanted = words_want (way->of->unit->board, way->of->want);
    g_autofree char *units = words_count (way->units, "unit", "units");
    g_autofree char *steps = steps_of_way (way);
    g_autofree char *count = words_count (walk->steps, "step", "steps");
    g_autofree char *minutes = words_minutes (walk->minutes);
    g_autofree char *attended = words_number (walk->attended);
    g_autofree char *label = g_strdup_printf ("%u.", index + 1);
    g_autofree char *claim = claim_of (way->mode);
    g_autofree char *differs = batch_mode_difference (view, way);
    g_autoptr (GPtrArray) borrow = batch_borrow_from_units (view, way);
    g_autofree char *borrowers = batch_some_ids (borrow, MOST_IDS);

    paper_label (paper, 2, 5, label, MARK_STRONG "%s" MARK_PLAIN ": %s; becomes %s", units, view_situation (view, way->class), wanted);
    paper_say (paper, 5, 7, "%s, %s (%s attended)%s%s: %s", count, minutes, attended, claim,
               differs == NULL ? "" : differs, steps);
    paper_say (paper, 5, 7, "%s", ids);
    if (borrow->len > 0)
        paper_say (paper, 5, 7, "with a part that another unit lends, not from the loan shelf: %s", borrowers);
}

static void
say_situations (Paper *paper, const BatchView *view)
{
    if (view->ways->len == 0)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "Situations and their routes" MARK_PLAIN);
    for (guint i = 0; i < view->ways->len && i < MOST_SITUATIONS; i++)
        say_way (paper, view, i);
    if (view->ways->len > MOST_SITUATIONS)
        paper_say (paper, 2, 4, "and %u more: the page and the JSON have them all", view->ways->len - MOST_SITUATIONS);
}

/* ---- Loaners ---- */

static char *
travel_words (const BatchView *view, const BatchPart *part)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < part->stays->len && i < MOST_STAYS; i++) {
        const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);
        const Window window = bench_stay (view->report->question, view->batch, stay);
        g_autofree char *from = batch_time_words (view->clock, window.from);

        g_ptr_array_add (words, g_strdup_printf ("%s %s%s", view_unit (view, stay->unit)->unit->id, from,
                                                 batch_stay_is_over_shift_end (view, stay)
                                                     ? " (in it over the end of a shift)"
                                                     : ""));
    }
    if (part->stays->len > MOST_STAYS)
        g_ptr_array_add (words, g_strdup_printf ("%u more", part->stays->len - MOST_STAYS));
    if (part->from_unit >= 0) {
        g_autofree char *back = batch_time_words (view->clock, batch_part_is_back (part));
        const char *id = view_unit (view, (guint) part->from_unit)->unit->id;

        g_ptr_array_add (words, g_strdup_printf ("back with %s %s", id, back));
    }
    g_ptr_array_add (words, NULL);
    return g_strjoinv (", ", (char **) words->pdata);
}

static gboolean
travels (const BatchPart *part)
{
    return part->stays->len > 0 && (part->owner == OWNER_LOAN || part->from_unit >= 0);
}

static void
say_loaners (Paper *paper, const BatchView *view)
{
    guint said = 0;

    for (guint i = 0; i < view->batch->parts->len; i++) {
        const BatchPart *part = view->batch->parts->pdata[i];
        g_autofree char *name = batch_part_words (view, part);
        g_autofree char *words = travels (part) ? travel_words (view, part) : NULL;

        if (words == NULL || ++said > MOST_LOANERS)
            continue;
        if (said == 1) {
            paper_blank (paper);
            paper_say (paper, 0, 2, MARK_STRONG "Where loaners and lent parts go" MARK_PLAIN);
        }
        paper_say (paper, 2, 4, "%s: %s", name, words);
    }
    if (said > MOST_LOANERS)
        paper_say (paper, 2, 4, "and %u more: the page and the JSON have them all", said - MOST_LOANERS);
}

char *
report_batch_text (const BatchView *view, gboolean colour)
{
    Paper *paper = paper_new (colour);

    batch_say_head (paper, view);
    if (view->batch->aside > 0) {
        paper_blank (paper);
        paper_say (paper, 0, 2, MARK_BAD "Set aside" MARK_PLAIN);
        batch_say_aside (paper, view);
    }
    if (batch_has_open (view)) {
        paper_blank (paper);
        paper_say (paper, 0, 2, MARK_STRONG "Depends on what is read" MARK_PLAIN);
        batch_say_branches (paper, view);
    }
    batch_say_rows (paper, view);
    batch_say_found (paper, view);
    batch_say_changes (paper, view);
    say_situations (paper, view);
    batch_say_days (paper, view);
    say_loaners (paper, view);
    return paper_finish (paper);
}
