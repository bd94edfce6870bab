/* SPDX-License-Identifier: MIT */
/* What stands beside the steps, looked up. */
#include "reports/beside.h"

#define WORN_PERCENT 90

const WayBack *
report_way_back (const RouteReport *report, guint index)
{
    const GArray *ways = report->answer->ways_back;

    return ways == NULL || index >= ways->len ? NULL : &g_array_index (ways, WayBack, index);
}

const Fallback *
report_fallback (const RouteReport *report, guint index)
{
    return report->fallbacks == NULL || index >= report->fallbacks->len
               ? NULL
               : &g_array_index (report->fallbacks, Fallback, index);
}

/* By elimination there is nothing to do. */
static gboolean
is_worth_after (const LookFirst *look, const Step *step)
{
    return step->kind == STEP_FIT && !look->by_elimination && (look->after & (1u << step->part->kind)) != 0;
}

GPtrArray *
looks_after (const Library *library, const Step *step)
{
    GPtrArray *looks = g_ptr_array_new ();

    for (guint i = 0; i < library->looks->len; i++)
        if (is_worth_after (library->looks->pdata[i], step))
            g_ptr_array_add (looks, library->looks->pdata[i]);
    return looks;
}

GPtrArray *
looks_of_steps (const Library *library, const GArray *steps)
{
    GPtrArray *looks = g_ptr_array_new ();

    for (guint l = 0; l < library->looks->len; l++) {
        gboolean due = FALSE;

        for (guint i = 0; i < steps->len; i++)
            due |= is_worth_after (library->looks->pdata[l], &g_array_index (steps, Step, i));
        if (due)
            g_ptr_array_add (looks, library->looks->pdata[l]);
    }
    return looks;
}

GArray *
socket_counts (const Unit *unit, const State *last)
{
    GArray *counts = g_array_new (FALSE, FALSE, sizeof (SocketCount));

    for (guint s = 0; s < unit->board->slots->len; s++) {
        const Attribute *rated = attribute_find (board_slot (unit->board, s)->attributes, "rated-insertions");
        SocketCount count = { .slot = s };

        if (rated == NULL)
            continue;
        count.counted = unit->counted != NULL && unit->counted[s];
        count.had = count.counted ? unit->insertions[s] : 0;
        count.after = count.had + last->fittings[s];
        count.rated = (guint) rated->number;
        count.worn = (guint64) count.after * 100 >= (guint64) count.rated * WORN_PERCENT;
        g_array_append_val (counts, count);
    }
    return counts;
}

GArray *
components_with_equal_images (const RouteReport *report, const State *last)
{
    GArray *equal = g_array_new (FALSE, FALSE, sizeof (guint));
    const GArray *steps = report->answer->steps;

    for (guint c = 0; c < last->board->components->len; c++) {
        const Component *component = board_component (last->board, c);
        int spare = component->spare == NULL ? -1 : board_find_component (last->board, component->spare);

        if (spare >= 0 && !last->failed[spare] && last->releases[spare] == last->releases[c] &&
            steps_write_component (last->board, steps, steps->len, c))
            g_array_append_val (equal, c);
    }
    return equal;
}
