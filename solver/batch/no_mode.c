/* SPDX-License-Identifier: MIT */
/* Why a class has no way, within bounds: a batch does not wait long for one of its classes. */
#include "batch/plan.h"

/* Of all classes together, about a second's work; a class that has begun is explained to its end, unless it passes MOST_OPENED. */
enum {
    MOST_OPENED = 200000, /* states */
    MOST_PLANS = 250,     /* planning runs: then a class without a way is said to have none, and no more */
    HEAVY_STATES = 20000, /* where the question itself took so many, each of the runs may: it is not explained */
};

typedef struct {
    const RouteOptions *asked; /* nullable */
    guint64 *opened, before;   /* by all classes; by those before this one */
} Bound;

static gboolean
go_on (const RouteProgress *progress, gpointer data)
{
    Bound *bound = data;

    *bound->opened = bound->before + progress->opened;
    if (*bound->opened > MOST_OPENED)
        return FALSE;
    return bound->asked == NULL || bound->asked->go_on == NULL ||
           bound->asked->go_on (progress, bound->asked->go_on_data);
}

static void
explain_none (Planning *planning, BatchClass *class, Shop *shelf)
{
    Bound bound = { planning->question->route, &planning->why_opened, planning->why_opened };
    RouteOptions options = { 0 };

    if (bound.asked != NULL)
        options = *bound.asked;
    options.go_on = go_on;
    options.go_on_data = &bound;
    /* Unit and want are changed while it works, and are again as they were when it returns. */
    class->none =
        no_route_explain (planning->question->library, shelf, (Unit *) class->unit, (Want *) class->want, &options);
    planning->why_plans += class->none->plans;
}

/* ---- Cheapest first ---- */

/* Less to search, then fewer things that can forbid a way; of equals the one with more units. */
static int
compare_work (gconstpointer a, gconstpointer b, gpointer data)
{
    const BatchClass *one = planning_class (data, *(const guint *) a),
                     *other = planning_class (data, *(const guint *) b);
    guint one_releases = 0, other_releases = 0;

    if (one->failed->searched != other->failed->searched)
        return one->failed->searched < other->failed->searched ? -1 : 1;
    for (guint i = 0; i < one->unit->board->components->len; i++)
        one_releases += board_component (one->unit->board, i)->releases->len;
    for (guint i = 0; i < other->unit->board->components->len; i++)
        other_releases += board_component (other->unit->board, i)->releases->len;
    if (one_releases != other_releases)
        return one_releases < other_releases ? -1 : 1;
    if (one->units != other->units)
        return one->units > other->units ? -1 : 1;
    return *(const guint *) a < *(const guint *) b ? -1 : 1;
}

void
classes_explain_none (Planning *planning)
{
    g_autoptr (GArray) without = g_array_new (FALSE, FALSE, sizeof (guint));

    for (guint i = 0; i < planning->batch->classes->len; i++) {
        const BatchClass *class = planning_class (planning, i);

        if (class->modes->len == 0 && class->failed != NULL && class->failed->claim == CLAIM_NO_ROUTE &&
            class->failed->searched <= HEAVY_STATES)
            g_array_append_val (without, i);
    }
    g_array_sort_with_data (without, compare_work, planning);
    for (guint i = 0; i < without->len; i++) {
        guint index = g_array_index (without, guint, i);

        if (planning->why_plans > MOST_PLANS || planning->why_opened > MOST_OPENED)
            return;
        g_autoptr (Shop) shelf = shelf_for_class (planning, index);
        explain_none (planning, planning_class (planning, index), shelf);
    }
}
