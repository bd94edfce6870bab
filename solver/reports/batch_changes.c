/* SPDX-License-Identifier: MIT */
/* What a batch that was planned anew went by, and what it changed, for the overview. */
#include "reports/batch_changes.h"

#include "reports/batch_aside.h"

enum { MOST_CHANGED = 12, MOST_NAMED = 8, MOST_LOST = 12 };

/* An order is changed so that the batch is no later than it was published to be: whether it is. */
static void
say_end (Paper *paper, const BatchView *view)
{
    gint64 was = view->batch->replan->published_end;
    g_autofree char *ended = batch_time_words (view->clock, was);
    g_autofree char *gap = batch_span_words (was > view->ends ? was - view->ends : view->ends - was);

    if (view->batch->moved == 0 || view->planned == 0)
        return;
    if (was == view->ends)
        paper_say (paper, 0, 2, "It ends when it was published to end.");
    else
        paper_say (paper, 0, 2, "It was published to end %s: it ends %s %s.", ended, gap,
                   was > view->ends ? "earlier" : "later");
}

static void
say_moved (Paper *paper, const BatchView *view)
{
    const BatchReplan *replan = view->batch->replan;
    g_autofree char *now = batch_time_words (view->clock, view->report->question->now);
    g_autofree char *replaced = batch_replaced_words (view);
    g_autofree char *units = words_count (replan->changed, "unit", "units");

    paper_say (paper, 0, 2,
               MARK_STRONG "Planned anew at %s" MARK_PLAIN
                           "; replaces timetable %s: %u of the %u published tasks moved.",
               now, replaced, view->batch->moved, replan->published);
    say_end (paper, view);
    if (replan->changed == 0)
        paper_say (paper, 0, 2, "Nothing changed for any unit: the sheets that were printed still hold.");
    else
        paper_say (paper, 0, 2,
                   "Something changed for %s; what it is and why stands below. The sheets of the others still "
                   "hold.",
                   units);
}

static void
say_records (Paper *paper, const BatchView *view)
{
    const BatchReplan *replan = view->batch->replan;
    g_autofree char *units = words_count (replan->records, "unit has", "units have");
    g_autofree char *entries = words_count (replan->entries, "entry", "entries");
    g_autofree char *files = words_count (replan->files, "file", "files");
    g_autofree char *steps =
        words_count (replan->recorded_steps, "step of today's routes is", "steps of today's routes are");

    if (replan->records == 0)
        paper_say (paper, 0, 2, "Records: none among the files.");
    else
        paper_say (paper, 0, 2, "Records: %s one, %s in %s; by them %s done.", units, entries, files, steps);
    if (replan->clock_units > 0) {
        g_autofree char *taken = words_count (replan->clock_steps, "step counts", "steps count");
        g_autofree char *of = words_count (replan->clock_units, "unit", "units");

        paper_say (paper, 0, 2,
                   MARK_STRONG "By the clock alone" MARK_PLAIN ": %s as done in %s without a record, because the "
                               "timetable says so. Look whether it is so before going on.",
                   taken, of);
    }
}

/* What is under way may be written, and wait for its start. */
static gboolean
waits_for_start (const BatchView *view, const BatchUnderWay *one)
{
    const LastStart *start = &view_task (view_unit (view, one->unit), one->step)->start;
    gint64 now = view->report->question->now;

    return start->apart && start->step_ends <= now && start->begins >= now;
}

/* Ids with their steps, those of records or those of the clock alone. Transfer full (GPtrArray of char*). */
static GPtrArray *
under_way (const BatchView *view, gboolean by_clock)
{
    const GArray *all = view->batch->replan->under_way;
    GPtrArray *words = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < all->len; i++) {
        const BatchUnderWay *one = &g_array_index (all, BatchUnderWay, i);

        if (one->by_clock == by_clock)
            g_ptr_array_add (words,
                             g_strdup_printf ("%s step %u%s", view_unit (view, one->unit)->unit->id, one->step + 1,
                                              waits_for_start (view, one) ? " (its start is still to come)" : ""));
    }
    return words;
}

static void
say_under_way (Paper *paper, const BatchView *view)
{
    g_autoptr (GPtrArray) recorded = under_way (view, FALSE);
    g_autoptr (GPtrArray) clock = under_way (view, TRUE);
    g_autofree char *some = batch_some_ids (recorded, MOST_NAMED);
    g_autofree char *others = batch_some_ids (clock, MOST_NAMED);

    if (recorded->len > 0)
        paper_say (paper, 0, 2, "Taken to be under way, with a record of all before it: %s.", some);
    if (clock->len > 0)
        paper_say (paper, 0, 2, "Taken to be under way by the clock alone: %s.", others);
}

static void
say_lost (Paper *paper, const BatchView *view)
{
    const GArray *lost = view->batch->replan->lost;

    for (guint i = 0; i < lost->len && i < MOST_LOST; i++) {
        g_autofree char *words = batch_lost_words (&g_array_index (lost, BatchLost, i));

        paper_say (paper, 0, 2, MARK_BAD "Out of use" MARK_PLAIN ": %s.", words);
    }
    if (lost->len > MOST_LOST)
        paper_say (paper, 0, 2, "and %u more parts are out of use: the JSON has them all", lost->len - MOST_LOST);
}

void
batch_say_replan (Paper *paper, const BatchView *view)
{
    if (view->batch->replan == NULL)
        return;
    say_moved (paper, view);
    say_records (paper, view);
    say_under_way (paper, view);
    say_lost (paper, view);
}

/* ---- The list ---- */

/* Those whose times stay are named together at the end. */
static GPtrArray *
renumbered (const BatchView *view)
{
    GPtrArray *ids = g_ptr_array_new ();

    for (guint i = 0; i < view->batch->units->len; i++)
        if (view->batch->replan->changes[i].kind == CHANGE_NUMBERS)
            g_ptr_array_add (ids, (gpointer) view_unit (view, i)->unit->id);
    return ids;
}

static guint
say_units (Paper *paper, const BatchView *view, gboolean with_routes, guint said)
{
    for (guint i = 0; i < view->batch->units->len; i++) {
        ChangeKind kind = view->batch->replan->changes[i].kind;

        if (kind == CHANGE_NONE || kind == CHANGE_NUMBERS || (kind != CHANGE_TIMES) != with_routes)
            continue;
        if (said++ >= MOST_CHANGED)
            continue;
        g_autofree char *words = batch_change_words (view, i);
        paper_say (paper, 2, 4, "%s: %s", view_unit (view, i)->unit->id, words);
    }
    return said;
}

void
batch_say_changes (Paper *paper, const BatchView *view)
{
    g_autoptr (GPtrArray) others = NULL;
    g_autofree char *replaced = NULL;
    guint said = 0;

    if (view->batch->replan == NULL || view->batch->replan->changed == 0)
        return;
    others = renumbered (view);
    replaced = batch_replaced_words (view);
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "What has changed against timetable %s" MARK_PLAIN, replaced);
    said = say_units (paper, view, FALSE, say_units (paper, view, TRUE, 0));
    if (said > MOST_CHANGED)
        paper_say (paper, 2, 4, "and %u more: the page and the JSON have them all", said - MOST_CHANGED);
    if (others->len > 0) {
        g_autofree char *ids = batch_some_ids (others, MOST_NAMED);

        paper_say (paper, 2, 4, "%s: the times stay; another technician, bench place or numbered part", ids);
    }
}
