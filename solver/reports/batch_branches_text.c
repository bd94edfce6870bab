/* SPDX-License-Identifier: MIT */
/* Units whose way depends on what is read, in the overview of a batch. */
#include "reports/batch_branches.h"

#include <math.h>

#include "reports/batch_sheet.h"

#define MOST_IDS  12
#define MOST_WAYS 40

GPtrArray *
batch_open_ids (const BatchView *view, const BatchWay *way)
{
    GPtrArray *ids = g_ptr_array_new ();

    for (guint i = 0; i < view->order->len; i++) {
        const BatchUnit *unit = view_unit (view, g_array_index (view->order, guint, i));

        if (unit->open && view_way (view, unit) == way)
            g_ptr_array_add (ids, (gpointer) unit->unit->id);
    }
    return ids;
}

gboolean
batch_has_open (const BatchView *view)
{
    for (guint i = 0; i < view->order->len; i++)
        if (view_unit (view, g_array_index (view->order, guint, i))->open)
            return TRUE;
    return FALSE;
}

static void
say_no_way (Paper *paper, const BatchWay *way, const char *ids)
{
    g_autofree char *releases = batch_no_way_releases (way);
    g_autofree char *shows = releases == NULL ? NULL : batch_no_way_shows (way);

    if (releases == NULL)
        return;
    paper_say (paper, 2, 4,
               MARK_BAD "%s: no way for %s" MARK_PLAIN ". That shows %s. Stop there: the sheet says how to set "
                        "the unit aside. Then ask `rungwise explain` with what was read.",
               ids, releases, shows);
}

/* What the timetable has is the longest way. */
static void
say_what_depends (Paper *paper, const BatchWay *way, guint number, const char *ids)
{
    const GPtrArray *labels = way->words->labels;
    guint common = way->mode->branching->common;

    if (way->mode->steps->len == 0)
        paper_say (paper, 2, 4,
                   "%s: not in the timetable; it is read, and what is done then is on the sheet of situation %u.", ids,
                   number);
    else if (common == way->mode->steps->len)
        paper_say (paper, 2, 4,
                   "%s: what comes after the steps in the timetable depends on what is read (situation %u).", ids,
                   number);
    else
        paper_say (paper, 2, 4,
                   "%s: from step %u (%s) on, the timetable has the longest way. If something else is read, go by the "
                   "sheet of "
                   "situation %u, and plan the batch anew with the record.",
                   ids, common + 1, (const char *) labels->pdata[common], number);
}

static void
say_lots (Paper *paper, const BatchWay *way, const GArray *lots, const char *ids)
{
    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index (lots, Lot, i);
        g_autofree char *part = batch_short_part (lot->part, lot->stepping);
        g_autofree char *when = batch_lot_condition (way, lot);

        if (lot->owner == OWNER_LOAN)
            paper_say (paper, 2, 4, "%s: each may also need %u %s from the loan shelf, %s; not in the timetable.", ids,
                       lot->count, part, when);
        else
            paper_say (paper, 2, 4, "%s: kept in the stock for each as well: %u %s, taken only %s.", ids, lot->count,
                       part, when);
    }
}

static void
say_way (Paper *paper, const BatchView *view, guint index)
{
    const BatchWay *way = view->ways->pdata[index];
    g_autoptr (GPtrArray) open = way->words == NULL ? g_ptr_array_new () : batch_open_ids (view, way);
    g_autofree char *ids = batch_some_ids (open, MOST_IDS);

    if (open->len == 0)
        return;
    say_no_way (paper, way, ids);
    say_what_depends (paper, way, index + 1, ids);
    say_lots (paper, way, way->mode->branching->lent, ids);
    say_lots (paper, way, way->mode->branching->stock, ids);
    if (way->mode->branching->longer > 0)
        paper_say (paper, 2, 4, "%s: another way may take up to %.0f min longer than the timetable has.", ids,
                   ceil (way->mode->branching->longer));
}

void
batch_say_branches (Paper *paper, const BatchView *view)
{
    for (guint i = 0; i < view->ways->len && i < MOST_WAYS; i++)
        say_way (paper, view, i);
    if (view->ways->len > MOST_WAYS)
        paper_say (paper, 2, 4, "What depends on what is read in further situations is on their units' sheets.");
}
