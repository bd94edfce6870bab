/* SPDX-License-Identifier: MIT */
/* The overview of a batch for a terminal. */
#include "reports/batch_changes.h"
#include "reports/batch_sheet.h"
#include "reports/route_text.h"

#define MOST_SITUATIONS 40
#define MOST_IDS        8
#define MOST_DAYS       10
#define MOST_UNITS      24 /* of a technician's day that are named */
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
    return words->len == 1 ? g_strdup ("nothing to do") : g_strjoinv ("; ", (char **) words->pdata);
}

static const char *
claim_of (const BatchMode *mode)
{
    if (mode->answer->claim == CLAIM_BRANCHES)
        return ", worst case of a plan with branches";
    return mode->claim == CLAIM_PROVED_SHORTEST ? ", proved" : ", best found";
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

    paper_label (paper, 2, 5, label, MARK_STRONG "%s" MARK_PLAIN ": %s; becomes %s", units, view_situation (view, way->class), wanted);
    paper_say (paper, 5, 7, "%s, %s (%s attended)%s%s: %s", count, minutes, attended, claim_of (way->mode),
               way->number == 0 ? "" : ", one that spares what is scarce", steps);
    paper_say (paper, 5, 7, "%s", ids);
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

/* ---- Days ---- */

/* What one technician begins on one day, units in order of time. */
typedef struct {
    guint technician;
    GString *words;
    guint units, last;
} Round;

static void
round_free (gpointer data)
{
    Round *one = data;

    g_string_free (one->words, TRUE);
    g_free (one);
}

static void
add_to_round (const BatchView *view, const BatchMoment *moment, GPtrArray *rounds)
{
    const BatchUnit *unit = view_unit (view, moment->unit);
    const BatchTask *task = view_task (unit, moment->step);
    Round *one = NULL;

    for (guint i = 0; i < rounds->len && one == NULL; i++)
        if (((Round *) rounds->pdata[i])->technician == task->technician)
            one = rounds->pdata[i];
    if (one == NULL) {
        one = g_new0 (Round, 1);
        *one = (Round){ task->technician, g_string_new (NULL), 0, G_MAXUINT };
        g_ptr_array_add (rounds, one);
    }
    if (one->last == moment->unit)
        return;
    one->last = moment->unit;
    if (++one->units > MOST_UNITS)
        return;
    g_autofree char *hour = batch_hour_words (view->clock, task->begins);
    g_string_append_printf (one->words, "%s%s\u00a0%s", one->words->len == 0 ? "" : ", ", hour, unit->unit->id);
}

static int
compare_rounds (gconstpointer left, gconstpointer right)
{
    const Round *one = *(Round *const *) left, *other = *(Round *const *) right;

    return one->technician < other->technician ? -1 : one->technician > other->technician;
}

static void
say_rounds (Paper *paper, GPtrArray *rounds)
{
    g_ptr_array_sort (rounds, compare_rounds);
    for (guint i = 0; i < rounds->len; i++) {
        const Round *one = rounds->pdata[i];
        g_autofree char *number = batch_number_words (one->technician);
        g_autofree char *label = one->technician == G_MAXUINT ? g_strdup ("nobody needed:")
                                                              : g_strdup_printf ("technician %s:", number);
        g_autofree char *more =
            one->units > MOST_UNITS ? g_strdup_printf (" and %u more turns", one->units - MOST_UNITS) : g_strdup ("");

        paper_label (paper, 4, 6, label, "%s%s", one->words->str, more);
    }
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
    say_rounds (paper, rounds);
    return index;
}

static void
say_days (Paper *paper, const BatchView *view)
{
    guint index = 0, days = 0;

    if (view->moments->len == 0)
        return;
    paper_blank (paper);
    paper_say (paper, 0, 2, MARK_STRONG "Who begins what when" MARK_PLAIN);
    while (index < view->moments->len && days++ < MOST_DAYS)
        index = say_day (paper, view, index);
    if (index < view->moments->len)
        paper_say (paper, 2, 4, "and so on: the page and the CSV have every task");
}

/* ---- Loaners ---- */

static char *
travel_words (const BatchView *view, const BatchPart *part)
{
    g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

    for (guint i = 0; i < part->stays->len && i < MOST_UNITS; i++) {
        const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);
        g_autofree char *from = batch_time_words (view->clock, stay->from);

        g_ptr_array_add (words, g_strdup_printf ("%s %s", view_unit (view, stay->unit)->unit->id, from));
    }
    if (part->stays->len > MOST_UNITS)
        g_ptr_array_add (words, g_strdup_printf ("%u more", part->stays->len - MOST_UNITS));
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
    batch_say_changes (paper, view);
    say_situations (paper, view);
    say_days (paper, view);
    say_loaners (paper, view);
    return paper_finish (paper);
}
