/* SPDX-License-Identifier: MIT */
/* The numbers at the head of a batch: for text and page. */
#include "reports/batch_changes.h"
#include "reports/batch_late.h"
#include "reports/batch_left_open.h"
#include "reports/batch_moves.h"
#include "reports/batch_sheet.h"

static void
say_units (Paper *paper, const BatchView *view)
{
    const Batch *batch = view->batch;
    g_autofree char *units = words_count (batch->units->len, "unit", "units");
    g_autofree char *classes = words_count (batch->classes->len, "situation", "situations");
    g_autofree char *rows = words_count (batch_count_rows (view->report), "row", "rows");
    GString *text = g_string_new (NULL);
    const char *shop = view->report->question->shop->name;

    g_string_append_printf (text, MARK_STRONG "%s in %s" MARK_PLAIN "%s%s: %u planned", units, classes,
                            shop == NULL ? "" : ", ", shop == NULL ? "" : shop, view->planned);
    if (batch->unsure > 0)
        g_string_append_printf (text, ", " MARK_BAD "%u of them may turn out to have no way" MARK_PLAIN, batch->unsure);
    if (batch->aside > 0)
        g_string_append_printf (text, ", " MARK_BAD "%u set aside" MARK_PLAIN, batch->aside);
    if (batch_count_rows (view->report) > 0)
        g_string_append_printf (text, ", " MARK_BAD "%s of a table left out" MARK_PLAIN, rows);
    paper_say (paper, 0, 2, "%s. Timetable %s.", text->str, view->mark);
    g_string_free (text, TRUE);
}

static void
say_finish (Paper *paper, const BatchView *view)
{
    const Schedule *schedule = view->batch->schedule;
    gint64 first = view->moments->len == 0 ? 0 : g_array_index (view->moments, BatchMoment, 0).begins;
    g_autofree char *begins = batch_time_words (view->clock, first); /* the shift may begin later than the batch */
    g_autofree char *ends = batch_time_words (view->clock, view->ends);
    g_autofree char *least = batch_time_words (view->clock, schedule->bound.finish);
    g_autofree char *gap = batch_span_words (view->ends - schedule->bound.finish);

    if (schedule->proved)
        paper_say (paper, 0, 2, "From %s to %s; " MARK_GOOD "proved best" MARK_PLAIN ".", begins, ends);
    else if (view->ends <= schedule->bound.finish)
        paper_say (paper, 0, 2, "From %s to %s; proved: no timetable ends earlier.", begins, ends);
    else
        paper_say (paper, 0, 2, "From %s to %s; the best found, not proved: none ends before %s, %s earlier.", begins,
                   ends, least, gap);
}

static void
say_work (Paper *paper, const BatchView *view)
{
    const Schedule *schedule = view->batch->schedule;
    const Shop *shop = view->report->question->shop;
    g_autofree char *insertions = words_count ((guint) schedule->cost.insertions, "insertion", "insertions");
    g_autofree char *attended = batch_length_words (schedule->cost.attended);
    g_autofree char *hands = words_count (shop->technicians, "technician", "technicians");
    g_autofree char *places = words_count (shop->stations, "bench place", "bench places");

    paper_say (paper, 0, 2, "%s and %s; %s into sockets, %s of attended work.", hands, places, insertions, attended);
}

/* What the book's minutes of a write cover, where anything is written. */
static void
say_writes (Paper *paper, const BatchView *view)
{
    gboolean any = FALSE;

    for (guint w = 0; w < view->ways->len && !any; w++) {
        const GArray *steps = ((const BatchWay *) view->ways->pdata[w])->mode->steps;

        for (guint i = 0; i < steps->len; i++)
            any |= g_array_index (steps, Step, i).kind == STEP_WRITE;
    }
    if (any)
        paper_say (paper, 0, 2, "A write lasts until its release has taken effect, restart included, as the book has it. Time to read "
                                "releases back before a unit leaves the bench is not planned.");
}

static void
say_changes (Paper *paper, const BatchView *view)
{
    const Batch *batch = view->batch;

    batch_say_replan (paper, view);
    for (guint i = 0; i < batch->said->len; i++)
        paper_say (paper, 0, 2, MARK_BAD "Look at this" MARK_PLAIN ": %s", (const char *) batch->said->pdata[i]);
    if (batch->schedule->stopped)
        paper_say (paper, 0, 2, "Stopped before the end: this is the best until then.");
}

void
batch_say_head (Paper *paper, const BatchView *view)
{
    say_units (paper, view);
    if (view->planned > 0) {
        say_finish (paper, view);
        batch_say_late (paper, view);
        say_work (paper, view);
        say_writes (paper, view);
        batch_say_lent (paper, view);
        batch_say_openings (paper, view);
        batch_say_moves (paper, view);
    }
    say_changes (paper, view);
}

/* ---- Set aside ---- */

#define MOST_IDS 12

/* Of a class without a route, the first smallest set of facts that forbid one. */
static void
say_facts (Paper *paper, const BatchClass *class)
{
    const NoRoute *none = class->none;
    const GArray *set = none == NULL || none->sets->len == 0 ? NULL : none->sets->pdata[0];

    for (guint i = 0; set != NULL && i < set->len; i++) {
        const BlockingFact *fact = none->facts->pdata[g_array_index (set, guint, i)];

        paper_say (paper, 4, 6, "%s", fact->says);
    }
}

/* What helps with units that are set aside for this reason; NULL: what is said of them is all. */
static const char *
advice (Aside aside)
{
    switch (aside) {
    case ASIDE_NO_ROUTE:
        return "No route: `rungwise plan` with the same paths and --unit with its id says what stands in the way, and what would "
               "open one.";
    case ASIDE_NOT_FOUND:
        return "Not found within the effort: `rungwise plan` with the same paths, --unit with its id and --effort looks for longer.";
    case ASIDE_READ_FIRST:
        return "To be read first: `rungwise plan` with the same paths and --unit with its id says what to read.";
    case ASIDE_NO_STOCK:
        return "No stock: the units before it take what there is. `rungwise plan` of one unit knows nothing of the others, and would "
               "take it from them; with --published and the JSON of this run it says so.";
    case ASIDE_RECORD:
        return "A record that can't be gone by, or none where one is needed: put it right or write it, and run again with the same "
               "--published.";
    case ASIDE_NO_TIME:
    case ASIDE_NOT:
        break;
    }
    return NULL;
}

/* Once for each reason. */
static void
say_advice (Paper *paper, const GPtrArray *groups)
{
    guint said = 0; /* a bit for each reason */

    for (guint i = 0; i < groups->len; i++) {
        Aside aside = ((const AsideGroup *) groups->pdata[i])->aside;

        if ((said & 1u << aside) == 0 && advice (aside) != NULL)
            paper_say (paper, 2, 4, "%s", advice (aside));
        said |= 1u << aside;
    }
}

void
batch_say_aside (Paper *paper, const BatchView *view)
{
    g_autoptr (GPtrArray) groups = batch_aside_groups (view);
    g_autoptr (GArray) missing = batch_missing (view);

    for (guint i = 0; i < groups->len; i++) {
        const AsideGroup *group = groups->pdata[i];
        g_autofree char *ids = batch_some_ids (group->units, MOST_IDS);

        paper_say (paper, 2, 4, "%s: %s", ids, group->why);
        say_facts (paper, view->batch->classes->pdata[group->class]);
    }
    for (guint i = 0; i < missing->len; i++) {
        const Missing *one = &g_array_index (missing, Missing, i);
        g_autofree char *units = words_count (one->units, "unit", "units");

        paper_say (paper, 2, 4, "would help %s: %s", units, one->says);
    }
    say_advice (paper, groups);
}
