/* SPDX-License-Identifier: MIT */
/* What was found at the bench, in the words of those who found it. */
#include "reports/batch_found.h"

#include "reports/page_parts.h"

enum { MOST_FOUND = 12 };

/* NULL: a first plan. */
static const GArray *
all_found (const BatchView *view)
{
    return view->batch->replan != NULL ? view->batch->replan->found : NULL;
}

static const BatchFound *
found_at (const GArray *all, guint index)
{
    return &g_array_index (all, BatchFound, index);
}

/* ---- One of them ---- */

/* "07:41", with the day where that is another one than that of now; without a date as the record has it. Transfer full. */
static char *
time_words (const BatchView *view, const BatchFound *found)
{
    if (found->time == G_MININT64)
        return g_strdup (found->entry->time);
    return batch_day (view->clock, found->time) == batch_day (view->clock, view->report->question->now)
               ? batch_hour_words (view->clock, found->time)
               : batch_time_words (view->clock, found->time);
}

/* "step 3"; where no sheet that holds has the step, what it was, too. Transfer full. */
static char *
step_words (const BatchView *view, const BatchFound *found)
{
    const Board *board = view_unit (view, found->unit)->unit->board;
    g_autofree char *what = found->step == NULL ? NULL : words_step (board, found->step);

    if (found->entry->number == 0)
        return g_strdup_printf ("beside the sheet (%s)", what);
    if (!found->left)
        return g_strdup_printf ("step %u", found->entry->number);
    return g_strdup_printf ("step %u of a route that it has left%s%s%s", found->entry->number, what == NULL ? "" : " (",
                            what == NULL ? "" : what, what == NULL ? "" : ")");
}

/* "step 3, failed, 08:22, mk: a pin is bent". Transfer full. */
static char *
found_words (const BatchView *view, const BatchFound *found)
{
    g_autofree char *step = step_words (view, found);
    g_autofree char *time = time_words (view, found);

    return g_strdup_printf ("%s, %s, %s, %s: %s", step, entry_outcome_name (found->entry->outcome), time,
                            found->entry->initials, found->entry->found);
}

gboolean
batch_has_found (const BatchView *view, guint unit)
{
    const BatchReplan *replan = view->batch->replan;

    return replan != NULL && replan->found_from[unit] < replan->found_from[unit + 1];
}

/* Nothing is left to do, and nothing to be read; its record says so. */
static gboolean
counts_as_finished (const BatchUnit *unit)
{
    gboolean finished = unit->aside == ASIDE_NOT && !unit->open;

    for (guint i = 0; finished && i < unit->tasks->len; i++)
        finished = view_task (unit, i)->done && !view_task (unit, i)->by_clock;
    return finished;
}

static gboolean
is_last_of_unit (const GArray *all, guint index)
{
    return index + 1 == all->len || found_at (all, index + 1)->unit != found_at (all, index)->unit;
}

/* ---- All of them ---- */

static void
say_list (Paper *paper, const BatchView *view, guint most)
{
    const GArray *all = all_found (view);

    paper_say (paper, 2, 4,
               MARK_CAUTION "Look before you go on" MARK_PLAIN
                            ": the program does not understand these words, and has planned by the outcomes alone.");
    for (guint i = 0; i < all->len && i < most; i++) {
        const BatchFound *found = found_at (all, i);
        const BatchUnit *unit = view_unit (view, found->unit);
        g_autofree char *words = found_words (view, found);
        gboolean finished = is_last_of_unit (all, i) && counts_as_finished (unit);

        paper_say (paper, 2, 4, "%s, %s%s", unit->unit->id, words,
                   finished ? " (By its record nothing is left to do: it counts as finished.)" : "");
    }
    if (all->len > most)
        paper_say (paper, 2, 4, "and %u more: the page and the JSON have them all", all->len - most);
}

void
batch_say_found (Paper *paper, const BatchView *view)
{
    const GArray *all = all_found (view);

    if (all == NULL || all->len == 0)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "What was found" MARK_PLAIN);
    say_list (paper, view, MOST_FOUND);
}

void
batch_page_put_found (const BatchView *view, GString *out)
{
    const GArray *all = all_found (view);
    Paper *paper = NULL;

    if (all == NULL || all->len == 0)
        return;
    g_string_append (out, "<h2>What was found</h2>\n");
    paper = paper_new_page ();
    say_list (paper, view, all->len);
    page_put_paper (paper, out);
}

/* ---- A unit's sheet ---- */

/* So many were said. */
static guint
say_of_unit (Paper *paper, const BatchView *view, const BatchUnit *unit, const char *whose)
{
    const BatchReplan *replan = view->batch->replan;
    guint said = 0, end = replan != NULL ? replan->found_from[unit->index + 1] : 0;

    for (guint i = replan != NULL ? replan->found_from[unit->index] : 0; i < end; i++) {
        g_autofree char *words = found_words (view, found_at (replan->found, i));
        paper_say (paper, 0, 2, MARK_CAUTION "Found so far%s" MARK_PLAIN ": %s", whose, words);
        said++;
    }
    return said;
}

/* Of units whose own parts it is still to be fitted with. */
static guint
say_of_lenders (Paper *paper, const BatchView *view, const BatchUnit *unit)
{
    guint said = 0;

    for (guint i = 0; i < unit->tasks->len; i++) {
        const BatchTask *task = view_task (unit, i);
        const BatchPart *part = task->part >= 0 ? view->batch->parts->pdata[task->part] : NULL;

        if (task->done || part == NULL || part->from_unit < 0 || view_step (view, unit, task)->kind != STEP_FIT)
            continue;
        const BatchUnit *lender = view_unit (view, (guint) part->from_unit);
        g_autofree char *name = batch_short_part (part->part, part->stepping);
        g_autofree char *whose = g_strdup_printf (" on %s, which lends it %s", lender->unit->id, name);
        said += say_of_unit (paper, view, lender, whose);
    }
    return said;
}

/* A unit that counts as finished is not looked at again unless its record says otherwise. */
static void
say_if_it_does_not_run (Paper *paper, const BatchView *view, const BatchUnit *unit)
{
    const BatchTask *last = unit->tasks->len == 0 ? NULL : view_task (unit, unit->tasks->len - 1);

    if (last == NULL || !counts_as_finished (unit))
        return;
    if (view_step (view, unit, last)->kind == STEP_WRITE)
        paper_say (
            paper, 0, 2,
            "All of it counts as done. If the unit does not run, record step %u as failed, and plan the batch anew.",
            last->step + 1);
    else
        paper_say (paper, 0, 2,
                   "All of it counts as done. If the unit does not run, ask `rungwise explain` with the record. A part "
                   "that proves "
                   "bad: record that it was taken out (--do 'remove SLOT'), then the step that fitted it as failed, "
                   "and plan the "
                   "batch anew.");
}

void
batch_page_put_sheet_found (const BatchView *view, const BatchUnit *unit, GString *out)
{
    Paper *paper = paper_new_page ();
    guint said = say_of_unit (paper, view, unit, "") + say_of_lenders (paper, view, unit);

    if (said == 0) {
        g_free (paper_finish (paper));
        return;
    }
    paper_say (
        paper, 0, 2,
        "Look before you go on: the program does not understand these words, and has planned by the outcomes alone.");
    say_if_it_does_not_run (paper, view, unit);
    g_string_append (out, "<div class=\"mind\">");
    page_put_paper (paper, out);
    g_string_append (out, "</div>\n");
}

/* ---- JSON ---- */

static json_t *
json_one (const BatchView *view, const BatchFound *found)
{
    const Board *board = view_unit (view, found->unit)->unit->board;
    g_autofree char *what = found->step == NULL ? NULL : words_step (board, found->step);
    json_t *object = json_object ();

    json_object_set_new (object, "entry", json_integer (found->number));
    if (found->entry->number > 0)
        json_object_set_new (object, "step", json_integer (found->entry->number));
    json_set_text (object, "what", what);
    if (found->left)
        json_object_set_new (object, "of-left-route", json_true ());
    json_set_text (object, "outcome", entry_outcome_name (found->entry->outcome));
    json_set_text (object, "words", found->entry->found);
    json_set_text (object, "time", found->entry->time);
    json_set_text (object, "initials", found->entry->initials);
    if (found->fresh)
        json_object_set_new (object, "new", json_true ());
    return object;
}

json_t *
batch_json_found (const BatchView *view, guint unit)
{
    const BatchReplan *replan = view->batch->replan;
    json_t *list = NULL;

    if (!batch_has_found (view, unit))
        return NULL;
    list = json_array ();
    for (guint i = replan->found_from[unit]; i < replan->found_from[unit + 1]; i++)
        json_array_append_new (list, json_one (view, found_at (replan->found, i)));
    return list;
}
