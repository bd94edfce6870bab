/* SPDX-License-Identifier: MIT */
/* Units on the bench whose routes need a loaner that is out of use. */
#include "batch/standing.h"

/* The first of what is gone that is such a part; G_MAXUINT: none is. */
static guint
lost_that (const Planning *planning, const Step *fit)
{
    const GArray *lost = planning->batch->replan->lost;

    for (guint i = 0; fit->kind == STEP_FIT && i < lost->len; i++) {
        const BatchLost *one = &g_array_index (lost, BatchLost, i);

        if (one->owner == fit->owner && one->part == fit->part && one->stepping == fit->stepping &&
            one->bound == fit->bound)
            return i;
    }
    return G_MAXUINT;
}

/* What is left of its route can be done with what is on the shelf. */
static gboolean
rest_can_be_done (const Planning *planning, guint unit, const Shop *shelf, const GArray *steps)
{
    const UnitPlan *plan = &planning->plans[unit];
    guint done = plan->as_read != NULL ? plan->done : 0;
    g_autoptr (State) start = state_from_unit (plan->as_read != NULL ? plan->as_read : plan->unit, NULL);
    g_autoptr (GArray) rest = g_array_new (FALSE, TRUE, sizeof (Step));

    g_array_append_vals (rest, &g_array_index (steps, Step, done), steps->len - done);
    g_autoptr (Walk) walk =
        check_walk (planning->question->library, shelf, planning_unit (planning, unit)->want, start, rest);
    return walk->sound || walk->first_bad + done < plan->done;
}

void
standing_leave_if_lost (Planning *planning, guint unit, const GArray *lent)
{
    UnitPlan *plan = &planning->plans[unit];
    guint lost = G_MAXUINT;

    if (plan->done == 0 || plan->anew || planning_unit (planning, unit)->aside != ASIDE_NOT)
        return;
    g_autoptr (GArray) steps = standing_published_steps (plan->published);
    for (guint i = plan->done; i < steps->len; i++)
        lost = MIN (lost, lost_that (planning, &g_array_index (steps, Step, i)));
    if (lost == G_MAXUINT)
        return;
    g_autoptr (Shop) shelf = replan_shelf (planning->shop, lent);
    if (rest_can_be_done (planning, unit, shelf, steps))
        return;
    standing_leave_at_step (planning, unit);
    plan->wants_lost = lost;
}
