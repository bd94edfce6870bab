/* SPDX-License-Identifier: MIT */
/* What a batch says of units that stand open between two steps, and of loaners that are in a unit over the end of a shift.
 *
 * That who works on a unit checks its isolation, whoever left it: common practice, no source. */
#include "reports/batch_left_open.h"

#include "reports/batch_aside.h"
#include "reports/route_text.h"

#define MOST_IDS     8
#define MOST_LOANERS 8

/* ---- A unit's sheet ---- */

/* Behind the last step: the start, where that is a task of its own. */
static LeftOpen
left_open (const BatchView *view, const BatchUnit *unit, guint step)
{
    return step < unit->tasks->len ? batch_left_open (view->report->question, view->batch, unit, step)
                                   : batch_left_open_at_start (view->report->question, view->batch, unit);
}

void
batch_say_left_open (Paper *paper, const BatchView *view, const BatchUnit *unit, guint step)
{
    const LeftOpen left = left_open (view, unit, step);
    g_autofree char *since = batch_time_words (view->clock, left.since);
    g_autoptr (GArray) cautions = NULL;

    if (!left.open)
        return;
    if (left.left_by != G_MAXUINT)
        paper_say (paper, 0, 2,
                   MARK_CAUTION
                   "Handed over from technician %u" MARK_PLAIN
                   ": see for yourself that the unit is isolated before you reach in. Your shop's own rules "
                   "for a hand-over come first.",
                   left.left_by + 1);
    if (left.over_shift_end) {
        paper_say (paper, 0, 2,
                   MARK_CAUTION "Open since %s, over the end of a shift" MARK_PLAIN
                                ": take this as an opening of its own. Isolate the unit again before you reach in.",
                   since);
        cautions = cautions_of_opening_again (view->report->question->library->cautions);
        route_text_cautions (paper, 2, cautions);
    } else if (left.left_by == G_MAXUINT) {
        paper_say (paper, 0, 2,
                   MARK_CAUTION "Open since %s with nobody at it" MARK_PLAIN
                                ": see that the unit is still isolated before you reach in.",
                   since);
    }
}

void
batch_say_leave_open (Paper *paper, const BatchView *view, const BatchUnit *unit, guint step)
{
    const LeftOpen left = left_open (view, unit, step + 1);

    if (!left.open || view_task (unit, step)->done)
        return;
    gboolean is_last = step + 1 == unit->tasks->len;
    const BatchTask piece = batch_piece (view_task (unit, is_last ? step : step + 1), is_last), *next = &piece;
    g_autofree char *until = batch_time_words (view->clock, next->begins);
    g_autofree char *who = left.left_by == G_MAXUINT ? g_strdup ("it is gone on with")
                                                     : g_strdup_printf ("technician %u goes on", next->technician + 1);

    paper_say (paper, 0, 2,
               MARK_CAUTION
               "Leave it safe" MARK_PLAIN
               ": the unit stays open until %s%s, when %s. Cover empty sockets, keep every supply unplugged and "
               "secured, mark the unit%s. Your shop's own rules come first.",
               until, left.over_shift_end ? ", over the end of a shift" : "", who,
               left.left_by == G_MAXUINT ? "" : ", and say what is out or loose");
}

/* ---- The overview ---- */

typedef struct {
    guint over_shift_end, handed_over; /* openings */
    GPtrArray *over_ids, *handed_ids;  /* of their units, each once; owned */
} Counts;

static void
note_id (GPtrArray *ids, const BatchUnit *unit)
{
    if (ids->len == 0 || ids->pdata[ids->len - 1] != (gpointer) unit->unit->id)
        g_ptr_array_add (ids, (gpointer) unit->unit->id);
}

/* An opening that is left twice counts once. */
static void
count_unit (const BatchView *view, guint index, Counts *counts)
{
    const BatchUnit *unit = view_unit (view, index);
    const GArray *walked = view_way (view, unit)->mode->walk->walked;
    gboolean over = FALSE, handed = FALSE;

    for (guint i = 0; i <= unit->tasks->len; i++) {
        const LeftOpen left = left_open (view, unit, i);

        if (i < walked->len && g_array_index (walked, WalkedStep, i).opens)
            over = handed = FALSE;
        if (left.open && left.over_shift_end && !over) {
            over = TRUE;
            counts->over_shift_end++;
            note_id (counts->over_ids, unit);
        }
        if (left.open && left.left_by != G_MAXUINT && !handed) {
            handed = TRUE;
            counts->handed_over++;
            note_id (counts->handed_ids, unit);
        }
    }
}

static void
say_openings (Paper *paper, guint count, const GPtrArray *of, const char *one, const char *several)
{
    g_autofree char *openings = words_count (count, "opening", "openings");
    g_autofree char *ids = batch_some_ids (of, MOST_IDS);

    if (count > 0)
        paper_say (paper, 0, 2,
                   MARK_CAUTION "%s" MARK_PLAIN " %s: %s; the sheets say how to leave %s and how to go on.", openings,
                   count == 1 ? one : several, ids, count == 1 ? "it" : "them");
}

gboolean
batch_stay_is_over_shift_end (const BatchView *view, const BatchStay *stay)
{
    return stay->to != G_MAXINT64 && batch_over_shift_end (view->report->question, stay->from, stay->to - 1);
}

/* "dorvan-8 a1 #1 in LK-2003 and LK-2010", from now on; NULL: in none. Transfer full. */
static char *
loaner_stays_in (const BatchView *view, const BatchPart *part)
{
    const BatchQuestion *question = view->report->question;
    gint64 now = question->published != NULL ? question->now : 0;
    g_autoptr (GPtrArray) units = g_ptr_array_new ();
    g_autofree char *name = batch_part_words (view, part);
    g_autofree char *ids = NULL;

    for (guint i = 0; i < part->stays->len; i++) {
        BatchStay stay = g_array_index (part->stays, BatchStay, i);

        stay.from = MAX (stay.from, now);
        if (stay.to > stay.from && batch_stay_is_over_shift_end (view, &stay))
            note_id (units, view_unit (view, stay.unit));
    }
    if (units->len == 0)
        return NULL;
    ids = batch_some_ids (units, MOST_IDS);
    return g_strdup_printf ("%s in %s", name, ids);
}

static void
say_loaners (Paper *paper, const BatchView *view)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
    guint count = 0;

    for (guint i = 0; i < view->batch->parts->len; i++) {
        const BatchPart *part = view->batch->parts->pdata[i];
        char *one = part->owner == OWNER_LOAN || part->from_unit >= 0 ? loaner_stays_in (view, part) : NULL;

        if (one == NULL)
            continue;
        if (count++ < MOST_LOANERS)
            g_ptr_array_add (words, one);
        else
            g_free (one);
    }
    if (count > MOST_LOANERS)
        g_ptr_array_add (words, g_strdup_printf ("%u more", count - MOST_LOANERS));
    g_ptr_array_add (words, NULL);
    if (count > 0) {
        g_autofree char *parts = words_count (count, "lent part stays", "lent parts stay");
        g_autofree char *all = g_strjoinv ("; ", (char **) words->pdata);

        paper_say (paper, 0, 2, "%s in a unit over the end of a shift: %s.", parts, all);
    }
}

void
batch_say_openings (Paper *paper, const BatchView *view)
{
    Counts counts = { 0, 0, g_ptr_array_new (), g_ptr_array_new () };

    for (guint i = 0; i < view->order->len; i++)
        count_unit (view, g_array_index (view->order, guint, i), &counts);
    say_openings (paper, counts.over_shift_end, counts.over_ids, "stays open over the end of a shift",
                  "stay open over the end of a shift");
    say_openings (paper, counts.handed_over, counts.handed_ids, "changes hands", "change hands");
    say_loaners (paper, view);
    g_ptr_array_unref (counts.over_ids);
    g_ptr_array_unref (counts.handed_ids);
}

/* ---- JSON ---- */

json_t *
batch_left_open_json (const BatchView *view, const BatchUnit *unit, guint step)
{
    const LeftOpen left = left_open (view, unit, step);
    json_t *object = left.open ? json_object () : NULL;

    if (!left.open)
        return NULL;
    json_object_set_new (object, "since", json_number ((double) left.since / 10.0));
    json_object_set_new (object, "over-shift-end", json_boolean (left.over_shift_end));
    if (left.left_by != G_MAXUINT)
        json_object_set_new (object, "left-by", json_integer (left.left_by + 1));
    return object;
}
