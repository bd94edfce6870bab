/* SPDX-License-Identifier: MIT */
/* What a batch says of units that gave their bench place up and go on at another one.
 *
 * How an open unit is moved: common practice, no source. */
#include "reports/batch_moves.h"

#include "batch/bench.h"
#include "reports/batch_aside.h"

#define MOST_IDS 8

void
batch_say_move (Paper *paper, const BatchView *view, const BatchUnit *unit, guint step)
{
    const PlaceMove move = bench_move (view->report->question, view->batch, unit, step);

    if (!move.moves)
        return;
    paper_say (paper, 0, 2, MARK_CAUTION "From here on at bench place %u" MARK_PLAIN "; it was at bench place %u.%s",
               move.to + 1, move.from + 1,
               !move.open ? ""
                          : " It was left open: with every supply unplugged, close it or cover it before you lift it, "
                            "carry it without power on it, and see there that it is isolated before you reach in. Your "
                            "shop's own rules for lifting and moving come first.");
}

void
batch_say_moves (Paper *paper, const BatchView *view)
{
    g_autoptr (GPtrArray) ids = g_ptr_array_new (), open = g_ptr_array_new ();

    for (guint i = 0; i < view->order->len; i++) {
        const BatchUnit *unit = view_unit (view, g_array_index (view->order, guint, i));

        for (guint k = 0; k < unit->tasks->len; k++) {
            const PlaceMove move = bench_move (view->report->question, view->batch, unit, k);

            if (move.moves)
                g_ptr_array_add (ids, (gpointer) unit->unit->id);
            if (move.open)
                g_ptr_array_add (open, (gpointer) unit->unit->id);
        }
    }
    g_autofree char *some = batch_some_ids (ids, MOST_IDS);
    g_autofree char *opened = batch_some_ids (open, MOST_IDS);
    g_autofree char *units = words_count (ids->len, "unit moves", "units move");

    if (ids->len > 0)
        paper_say (paper, 0, 2,
                   MARK_CAUTION "%s" MARK_PLAIN " to another bench place: %s%s%s; the sheets say at which "
                                "step, and how.",
                   units, some, open->len > 0 ? "; left open: " : "", open->len > 0 ? opened : "");
}

char *
batch_place_words (const BatchUnit *unit)
{
    GString *words = g_string_new (NULL);

    for (guint i = 0; i < unit->tasks->len; i++) {
        g_autofree char *number = batch_number_words (view_task (unit, i)->place);

        if (i > 0 && view_task (unit, i)->place == view_task (unit, i - 1)->place)
            continue;
        if (i == 0)
            g_string_append (words, number);
        else
            g_string_append_printf (words, ", from step %u on %s", i + 1, number);
    }
    if (words->len == 0)
        g_string_append (words, "-");
    return g_string_free (words, FALSE);
}
