/* SPDX-License-Identifier: MIT */
/* A numbered loaner is in one unit at a time: records come before the clock. docs/batch.md, "When it goes wrong". */
#include "batch/bench.h"
#include "batch/standing.h"

/* A loaner that a unit has had, or has, by what is taken to be done. */
typedef struct {
    guint unit, fit; /* step of the published route; fit G_MAXUINT: it was set aside in that unit */
    gint64 from, to; /* as published; G_MAXINT64: it is still there */
} Had;

typedef struct {
    Planning *planning;
    GHashTable *claims; /* "part stepping bound number" -> GArray of Had; owned */
} Numbers;

static const PublishedTask *
task_at (const UnitPlan *plan, guint step)
{
    return &g_array_index (plan->published->tasks, PublishedTask, step);
}

/* Steps that are done or under way. */
static guint
begun (const UnitPlan *plan)
{
    return plan->done + (plan->under_way >= 0 ? 1 : 0);
}

static gint64
end_of_claim (const UnitPlan *plan, guint fit)
{
    guint slot = task_at (plan, fit)->step.slot;

    for (guint i = fit + 1; i < plan->done; i++)
        if (task_at (plan, i)->step.kind == STEP_REMOVE && task_at (plan, i)->step.slot == slot)
            return task_at (plan, i)->ends;
    return G_MAXINT64;
}

static GArray *
claims_on (Numbers *numbers, const Part *part, const char *stepping, const char *bound, guint number)
{
    g_autofree char *key =
        g_strdup_printf ("%p %p %p %u", (const void *) part, (const void *) stepping, (const void *) bound, number);
    GArray *claims = g_hash_table_lookup (numbers->claims, key);

    if (claims == NULL) {
        claims = g_array_new (FALSE, FALSE, sizeof (Had));
        g_hash_table_insert (numbers->claims, g_steal_pointer (&key), claims);
    }
    return claims;
}

/* NULL: nobody else has had it then. What broke may have come out earlier than published: of what is over by the clock only what
 * begins later is doubtful. What is still in the unit is not the one that broke. */
static const Had *
find_conflict (const GArray *claims, const Had *claim, gboolean by_clock)
{
    for (guint i = 0; i < claims->len; i++) {
        const Had *other = &g_array_index (claims, Had, i);

        if (other->fit == G_MAXUINT ? claim->to == G_MAXINT64 || (by_clock && claim->from >= other->from)
                                    : other->unit != claim->unit && other->from < claim->to && claim->from < other->to)
            return other;
    }
    return NULL;
}

/* By the clock alone: it can't have had it, so it waits in front of the step that fits it. */
static void
wait_in_front (Planning *planning, const Had *claim, const Had *other)
{
    UnitPlan *plan = &planning->plans[claim->unit];
    const PublishedTask *task = task_at (plan, claim->fit);

    g_ptr_array_add (
        planning->batch->said,
        g_strdup_printf (
            "%s: by the timetable alone it was to have %s #%u by now, which %s %s; it is taken to wait in front of "
            "step %u",
            plan->unit->id, task->step.part->name, task->part_number,
            other->fit == G_MAXUINT ? "was set aside in" : "was then in", planning->plans[other->unit].unit->id,
            claim->fit + 1));
    plan->done = claim->fit;
    plan->under_way = -1;
}

/* Two records have it: one of the two was given another one of the kind, and nobody wrote down which. The later one goes on
 * from where it stands, with whichever is free. */
static void
go_on_from_there (Planning *planning, const Had *claim, const Had *other)
{
    UnitPlan *plan = &planning->plans[claim->unit];
    const PublishedTask *task = task_at (plan, claim->fit);

    g_ptr_array_add (
        planning->batch->said,
        g_strdup_printf ("%s: by its record it has had %s #%u, which %s %s: it was given another one, and is planned "
                         "on from where it stands",
                         plan->unit->id, task->step.part->name, task->part_number,
                         other->fit == G_MAXUINT ? "was set aside in" : "was then in",
                         planning->plans[other->unit].unit->id));
    guint slot = task->step.slot;
    standing_leave_at_step (planning, claim->unit);
    if (claim->to == G_MAXINT64)
        plan->held[slot] = 0; /* some other one */
}

static void
claim_for_unit (Numbers *numbers, guint unit)
{
    Planning *planning = numbers->planning;
    UnitPlan *plan = &planning->plans[unit];

    for (guint i = 0; !plan->anew && i < begun (plan); i++) {
        const PublishedTask *task = task_at (plan, i);
        Had claim = { unit, i, task->begins, 0 };
        GArray *claims = NULL;
        const Had *other = NULL;

        if (task->step.kind != STEP_FIT || task->step.owner != OWNER_LOAN || task->part_number == 0)
            continue;
        claim.to = end_of_claim (plan, i);
        claims = claims_on (numbers, task->step.part, task->step.stepping, task->step.bound, task->part_number);
        other = find_conflict (claims, &claim, !plan->has_record);
        if (other == NULL)
            g_array_append_val (claims, claim);
        else if (plan->has_record)
            go_on_from_there (planning, &claim, other);
        else
            wait_in_front (planning, &claim, other);
    }
}

/* What is in a unit that has left its route is nobody else's now; of two that have one by their records nobody knows which. */
static void
claim_for_slots (Numbers *numbers, guint unit)
{
    const Planning *planning = numbers->planning;
    UnitPlan *plan = &planning->plans[unit];

    for (guint s = 0; s < plan->unit->board->slots->len; s++) {
        const Fitted *in = &plan->unit->fitted[s];
        Had claim = { unit, 0, planning->question->now, G_MAXINT64 };
        GArray *claims = NULL;

        if (in->part == NULL || in->owner != OWNER_LOAN || plan->held[s] == 0)
            continue;
        gint64 since = bench_fitted_since (planning->question, planning_unit (planning, unit), s);
        claim.from = since != G_MININT64 ? MIN (since, claim.from) : claim.from;
        claims = claims_on (numbers, in->part, in->stepping, in->bound, plan->held[s]);
        if (find_conflict (claims, &claim, FALSE) != NULL)
            plan->held[s] = 0;
        else
            g_array_append_val (claims, claim);
    }
}

/* What broke is nobody's from then on. */
static void
claim_lost (Numbers *numbers)
{
    Planning *planning = numbers->planning;
    const GArray *lost = planning->batch->replan->lost;

    for (guint i = 0; i < lost->len; i++) {
        const BatchLost *one = &g_array_index (lost, BatchLost, i);
        Had had = { 0, G_MAXUINT, one->time, G_MAXINT64 };

        if (one->owner != OWNER_LOAN || one->number == 0 || one->time == G_MININT64)
            continue;
        while (strcmp (planning_unit (planning, had.unit)->unit->id, one->unit) != 0)
            had.unit++;
        g_array_append_val (claims_on (numbers, one->part, one->stepping, one->bound, one->number), had);
    }
}

static int
compare_first_begins (gconstpointer a, gconstpointer b, gpointer data)
{
    const Planning *planning = data;
    guint left = *(const guint *) a, right = *(const guint *) b;
    gint64 one = task_at (&planning->plans[left], 0)->begins, other = task_at (&planning->plans[right], 0)->begins;

    if (one != other)
        return one < other ? -1 : 1;
    return (left > right) - (left < right);
}

void
standing_settle_numbers (Planning *planning)
{
    Numbers numbers = { planning,
                        g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_array_unref) };
    g_autoptr (GArray) order = g_array_new (FALSE, FALSE, sizeof (guint));

    for (guint i = 0; i < planning_units (planning); i++) {
        const UnitPlan *plan = &planning->plans[i];

        if (plan->published != NULL && plan->published->tasks->len > 0 && !plan->anew &&
            planning_unit (planning, i)->aside == ASIDE_NOT)
            g_array_append_val (order, i);
    }
    g_array_sort_with_data (order, compare_first_begins, planning);
    claim_lost (&numbers);
    for (guint i = 0; i < planning_units (planning); i++)
        if (planning->plans[i].held != NULL && planning_unit (planning, i)->aside == ASIDE_NOT)
            claim_for_slots (&numbers, i);
    for (int records = 1; records >= 0; records--)
        for (guint i = 0; i < order->len; i++) {
            guint unit = g_array_index (order, guint, i);

            if (planning->plans[unit].has_record == records)
                claim_for_unit (&numbers, unit);
        }
    g_hash_table_unref (numbers.claims);
}
