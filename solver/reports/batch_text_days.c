/* SPDX-License-Identifier: MIT */
/* The days of a batch in its overview: which technician begins what when. */
#include "reports/batch_branches.h"
#include "reports/batch_sheet.h"

#define SMALL_BATCH 60 /* units: of so few every turn is said */
#define MOST_DAYS   10 /* of more units */
#define MOST_TURNS  24 /* ... of a technician's day */

/* Steps of one unit that a technician begins one after the other, with none of another unit between; or a start that is a task of
 * its own, which has no steps. */
typedef struct {
    guint unit;
    gint64 begins;
    GArray *steps; /* guint, from 0, rising; owned */
} Turn;

/* What one technician begins on one day. */
typedef struct {
    guint technician;
    GArray *turns; /* Turn, in order of time; owned */
} Round;

static void
turn_clear (gpointer data)
{
    g_array_unref (((Turn *) data)->steps);
}

static void
round_free (gpointer data)
{
    Round *one = data;

    g_array_unref (one->turns);
    g_free (one);
}

static Round *
round_of (GPtrArray *rounds, guint technician)
{
    Round *fresh = NULL;

    for (guint i = 0; i < rounds->len; i++)
        if (((Round *) rounds->pdata[i])->technician == technician)
            return rounds->pdata[i];
    fresh = g_new0 (Round, 1);
    *fresh = (Round){ technician, g_array_new (FALSE, FALSE, sizeof (Turn)) };
    g_array_set_clear_func (fresh->turns, turn_clear);
    g_ptr_array_add (rounds, fresh);
    return fresh;
}

static void
add_to_round (const BatchView *view, const BatchMoment *moment, GPtrArray *rounds)
{
    const BatchTask task = view_piece (view, moment);
    GArray *turns = round_of (rounds, task.technician)->turns;

    if (turns->len == 0 || moment->is_start || g_array_index (turns, Turn, turns->len - 1).unit != moment->unit) {
        Turn fresh = { moment->unit, task.begins, g_array_new (FALSE, FALSE, sizeof (guint)) };

        g_array_append_val (turns, fresh);
    }
    if (!moment->is_start)
        g_array_append_val (g_array_index (turns, Turn, turns->len - 1).steps, task.step);
}

static int
compare_rounds (gconstpointer left, gconstpointer right)
{
    const Round *one = *(Round *const *) left, *other = *(Round *const *) right;

    return one->technician < other->technician ? -1 : one->technician > other->technician;
}

/* What a step is called on the unit's sheet: "3"; in a plan with branches "C2". */
static void
put_step_name (const BatchWay *way, guint step, GString *words)
{
    if (way->words == NULL)
        g_string_append_printf (words, "%u", step + 1);
    else
        g_string_append (words, way->words->labels->pdata[step]);
}

/* Whether the sheet goes on counting from the step before: of a plan with branches each part begins anew. */
static gboolean
counts_on (const BatchWay *way, guint step)
{
    const BatchBranching *branching = way->mode->branching;

    return way->words == NULL ||
           g_array_index (branching->legs, guint, step) == g_array_index (branching->legs, guint, step - 1);
}

/* "07:00 LK-2003 1-2,4", "09:10 LK-2008 A1,C1-C2", "07:14 LK-2007 start": a turn keeps together on its line. */
static void
put_turn (const BatchView *view, const Turn *turn, GString *words)
{
    g_autofree char *hour = batch_hour_words (view->clock, turn->begins);
    const BatchUnit *unit = view_unit (view, turn->unit);
    const BatchWay *way = view_way (view, unit);

    g_string_append_printf (words, "%s%s\u00a0%s\u00a0", words->len == 0 ? "" : "; ", hour, unit->unit->id);
    if (turn->steps->len == 0)
        g_string_append (words, "start");
    for (guint i = 0, to = 0; i < turn->steps->len; i = to + 1) {
        guint first = g_array_index (turn->steps, guint, i), last = first;

        for (to = i; to + 1 < turn->steps->len && g_array_index (turn->steps, guint, to + 1) == last + 1 &&
                     counts_on (way, last + 1);
             last++)
            to++;
        g_string_append (words, i == 0 ? "" : ",");
        put_step_name (way, first, words);
        g_string_append (words, last > first ? "-" : "");
        if (last > first)
            put_step_name (way, last, words);
    }
}

static void
say_round (Paper *paper, const BatchView *view, const Round *one)
{
    GString *words = g_string_new (NULL);
    guint most = view->planned <= SMALL_BATCH ? one->turns->len : MIN (one->turns->len, MOST_TURNS);
    g_autofree char *number = batch_number_words (one->technician);
    g_autofree char *label =
        one->technician == G_MAXUINT ? g_strdup ("nobody needed:") : g_strdup_printf ("technician %s:", number);

    for (guint i = 0; i < most; i++)
        put_turn (view, &g_array_index (one->turns, Turn, i), words);
    if (most < one->turns->len)
        g_string_append_printf (words, "; and %u more turns: the page and the CSV have every task",
                                one->turns->len - most);
    paper_label (paper, 4, 6, label, "%s", words->str);
    g_string_free (words, TRUE);
}

static void
say_rounds (Paper *paper, const BatchView *view, GPtrArray *rounds)
{
    g_ptr_array_sort (rounds, compare_rounds);
    for (guint i = 0; i < rounds->len; i++)
        say_round (paper, view, rounds->pdata[i]);
}

/* Says the day that the moment at `index` is in; returns the first of the next day. */
static guint
say_day (Paper *paper, const BatchView *view, guint index)
{
    const BatchMoment *first = &g_array_index (view->moments, BatchMoment, index);
    gint64 day = batch_day (view->clock, first->begins);
    g_autofree char *name = batch_day_words (view->clock, first->begins);
    g_autoptr (GPtrArray) rounds = g_ptr_array_new_with_free_func (round_free);

    paper_say (paper, 2, 4, "%s", name);
    for (; index < view->moments->len; index++) {
        const BatchMoment *moment = &g_array_index (view->moments, BatchMoment, index);

        if (batch_day (view->clock, moment->begins) != day)
            break;
        add_to_round (view, moment, rounds);
    }
    say_rounds (paper, view, rounds);
    return index;
}

static guint
count_days (const BatchView *view, guint index)
{
    gint64 day = -1;
    guint days = 0;

    for (; index < view->moments->len; index++) {
        gint64 here = batch_day (view->clock, g_array_index (view->moments, BatchMoment, index).begins);

        days += here != day ? 1 : 0;
        day = here;
    }
    return days;
}

void
batch_say_days (Paper *paper, const BatchView *view)
{
    guint index = 0, days = 0, most = view->planned <= SMALL_BATCH ? G_MAXUINT : MOST_DAYS;

    if (view->moments->len == 0)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "Who begins what when" MARK_PLAIN ": time, unit, its steps");
    while (index < view->moments->len && days++ < most)
        index = say_day (paper, view, index);
    if (index < view->moments->len) {
        g_autofree char *more = words_count (count_days (view, index), "more day", "more days");

        paper_say (paper, 2, 4, "and %s: the page and the CSV have every task", more);
    }
}
