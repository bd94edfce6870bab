/* SPDX-License-Identifier: MIT */
/* What became different in a batch that was planned anew, in words. */
#include "reports/batch_changes.h"

#include "batch/bench.h"
#include "reports/batch_found.h"

const PublishedUnit *
batch_published_unit (const BatchView *view, guint index)
{
    return view->batch->replan != NULL ? view->batch->replan->changes[index].published : NULL;
}

const char *
batch_sheet_still_holds (const BatchView *view, guint index)
{
    const BatchUnit *unit = view_unit (view, index);
    const PublishedUnit *was = NULL;

    if (view->batch->replan == NULL || view->batch->replan->changes[index].kind != CHANGE_NONE ||
        unit->aside != ASIDE_NOT)
        return NULL;
    was = batch_published_unit (view, index);
    return was != NULL ? was->sheet : NULL;
}

const BatchTask *
batch_step_now (const BatchView *view, guint index, guint step)
{
    ChangeKind kind = view->batch->replan->changes[index].kind;

    return kind == CHANGE_TIMES || kind == CHANGE_NUMBERS || kind == CHANGE_FOUND ? view_task (view_unit (view, index), step) : NULL;
}

gboolean
batch_step_changed (const BatchView *view, guint index, guint step)
{
    const PublishedUnit *published = batch_published_unit (view, index);
    const PublishedTask *was = &g_array_index (published->tasks, PublishedTask, step);
    const BatchTask *is = batch_step_now (view, index, step);
    guint number = 0;

    if (is == NULL)
        return was->ends > view->report->question->now;
    number = is->part >= 0 ? ((const BatchPart *) view->batch->parts->pdata[is->part])->number : 0;
    return !is->done && (is->begins != was->begins || is->start.apart != was->start.apart ||
                         is->start.begins != was->start.begins || is->start.technician != was->start.technician ||
                         is->technician != was->technician || is->place != was->place ||
                         number != was->part_number);
}

char *
batch_replaced_words (const BatchView *view)
{
    const BatchPublished *published = view->report->question->published;
    g_autofree char *made = batch_time_words (view->clock, published->made);

    return published->mark == NULL ? g_strdup_printf ("of %s", made)
                                   : g_strdup_printf ("%s of %s", published->mark, made);
}

char *
batch_lost_words (const BatchLost *lost)
{
    g_autofree char *name = batch_short_part (lost->part, lost->stepping);
    g_autofree char *number =
        lost->of != NULL     ? g_strdup_printf (" of %s", lost->of)
        : lost->number > 0 ? g_strdup_printf (" #%u", lost->number)
                           : g_strdup (" (its number is not known)");

    return g_strdup_printf ("%s%s%s%s, %s: set aside in %s (%s:%u:%u)", name, lost->bound == NULL ? "" : " bound to ",
                            lost->bound == NULL ? "" : lost->bound, number,
                            lost->of != NULL ? "lent on" : words_owner (lost->owner), lost->unit, lost->at.file,
                            lost->at.line, lost->at.column);
}

/* ---- Why ---- */

/* The hour alone on the day of the moment. Transfer full. */
static char *
time_words (const BatchView *view, gint64 time)
{
    gboolean today = batch_day (view->clock, time) == batch_day (view->clock, view->report->question->now);

    return today ? batch_hour_words (view->clock, time) : batch_time_words (view->clock, time);
}

/* "LK-2007 has #1 from 09:10 to 10:05"; empty where nobody is known to have it. Transfer full. */
static char *
holder_words (const BatchView *view, const BatchChange *change, const char *what)
{
    g_autofree char *from = time_words (view, MAX (change->from, 0));
    g_autofree char *to = time_words (view, change->to);

    if (change->by == G_MAXUINT)
        return g_strdup ("");
    return g_strdup_printf (": %s has %s from %s to %s", view_unit (view, change->by)->unit->id, what, from, to);
}

/* Transfer full. */
static char *
part_words (const BatchView *view, guint index, const BatchChange *change)
{
    const PublishedUnit *was = batch_published_unit (view, index);
    const Step *step = &g_array_index (was->tasks, PublishedTask, change->about).step;
    const BatchPart *part = change->part >= 0 ? view->batch->parts->pdata[change->part] : NULL;
    g_autofree char *name = batch_short_part (step->part, step->stepping);
    g_autofree char *has = part != NULL ? batch_part_words (view, part) : g_strdup ("one");
    g_autofree char *holder = holder_words (view, change, has);

    return g_strdup_printf ("no %s is free for its published time%s", name, holder);
}

/* Transfer full. */
static char *
failed_words (const BatchView *view, guint step, gint64 failed)
{
    g_autofree char *time = failed != G_MININT64 ? time_words (view, failed) : NULL;

    return g_strdup_printf ("step %u failed by its record%s%s, and is still to be done", step + 1,
                            time != NULL ? " at " : "", time != NULL ? time : "");
}

/* "step 2", "the start behind step 2". Transfer full. */
static char *
step_words (guint step, gboolean start)
{
    return g_strdup_printf ("%sstep %u", start ? "the start behind " : "", step + 1);
}

/* Of a step that is not done, and did not fail. Static. */
static const char *
what_became_of (const BatchChange *change)
{
    return change->tried != NULL && change->tried->outcome == ENTRY_SKIPPED ? "was skipped" : "has not been done";
}

/* Transfer full; NULL: nothing is known for certain. */
static char *
why_moved (const BatchView *view, guint index, const BatchChange *change)
{
    g_autofree char *holder = holder_words (view, change, "one");
    gint64 failed = G_MININT64;
    g_autofree char *about = step_words (change->about, change->about_start);

    switch (change->why) {
    case MOVED_BEHIND:
        if (bench_step_failed (view->report->question, view_unit (view, index), change->about, &failed))
            return failed_words (view, change->about, failed);
        return g_strdup_printf ("step %u was to begin before now, and %s", change->about + 1, what_became_of (change));
    case MOVED_PART:
        return part_words (view, index, change);
    case MOVED_PLACE:
        return g_strdup_printf ("no bench place is free for its published time%s", holder);
    case MOVED_HAND:
        return g_strdup_printf ("no technician is free for %s at its published time%s", about, holder);
    case MOVED_SHIFT:
        return g_strdup_printf ("%s at its published time is not within a shift, or runs into a break", about);
    default:
        return NULL;
    }
}

static char *
why_left (const BatchView *view, const BatchChange *change)
{
    g_autofree char *lost = change->why == LEFT_LOST
                                ? batch_lost_words (&g_array_index (view->batch->replan->lost, BatchLost, change->lost))
                                : NULL;

    if (change->why == LEFT_LOST)
        return g_strdup_printf ("a new route, since its old one needs what is out of use: %s", lost);
    return g_strdup (
        change->why == LEFT_RECORD
            ? "a new route, since its record departs from the old one"
            : "a new route, since the old one does not lead there with the book and the shop as they are now");
}

/* A start at the end that is a task of its own now, was one, or comes at another time. */
static gboolean
start_moves (const PublishedUnit *was, const BatchUnit *unit)
{
    const LastStart *before = &g_array_index (was->tasks, PublishedTask, was->tasks->len - 1).start;
    const LastStart *now = &view_task (unit, unit->tasks->len - 1)->start;

    return before->apart != now->apart || before->begins != now->begins;
}

/* Its steps are where they were. */
static char *
only_start_words (const BatchView *view, const PublishedUnit *was, const BatchUnit *unit, const char *why)
{
    const PublishedTask *before = &g_array_index (was->tasks, PublishedTask, was->tasks->len - 1);
    const BatchTask *now = view_task (unit, unit->tasks->len - 1);
    g_autofree char *from = time_words (view, before->start.begins);
    g_autofree char *to = time_words (view, now->start.begins);

    if (!before->start.apart || !now->start.apart)
        return g_strdup_printf ("the start behind step %u is %s", unit->tasks->len,
                                now->start.apart ? "a task of its own now" : "part of that step now");
    return g_strdup_printf ("the start behind step %u moves from %s to %s%s%s", unit->tasks->len, from, to,
                            why == NULL ? "" : "; ", why == NULL ? "" : why);
}

static char *
times_words (const BatchView *view, guint index, const BatchChange *change)
{
    const BatchUnit *unit = view_unit (view, index);
    const PublishedUnit *was = batch_published_unit (view, index);
    g_autofree char *from = time_words (view, g_array_index (was->tasks, PublishedTask, change->first).begins);
    g_autofree char *to = time_words (view, view_task (unit, change->first)->begins);
    g_autofree char *why = why_moved (view, index, change);
    guint moved = change->moved - (start_moves (was, unit) ? 1 : 0);
    g_autofree char *steps = words_count (moved, "step moves", "steps move");

    if (moved == 0)
        return only_start_words (view, was, unit, why);
    return g_strdup_printf ("%s%s, %s%u from %s to %s%s%s", steps,
                            moved < change->moved ? " and the start behind the last one" : "",
                            moved > 1 ? "the first, step " : "step ", change->first + 1, from, to,
                            why == NULL ? "" : "; ", why == NULL ? "" : why);
}

char *
batch_change_words (const BatchView *view, guint index)
{
    const BatchChange *change = &view->batch->replan->changes[index];

    switch (change->kind) {
    case CHANGE_FOUND:
        return g_strdup_printf ("nothing moves, but %s says in words what was found: look before going on",
                                batch_has_found (view, index) ? "its record" : "the record of a unit that lends to it");
    case CHANGE_NUMBERS:
        return g_strdup ("its times stay; another technician, bench place or numbered part");
    case CHANGE_TIMES:
        return times_words (view, index, change);
    case CHANGE_ROUTE:
        return why_left (view, change);
    case CHANGE_ASIDE:
        return g_strdup_printf ("set aside now: %s", view_unit (view, index)->why);
    case CHANGE_NEW:
        return g_strdup ("new: that timetable has no tasks of it");
    default:
        return g_strdup ("as it was");
    }
}
