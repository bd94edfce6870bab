/* SPDX-License-Identifier: MIT */
/* Why a task did not stay at its published time: what another unit has then, in the timetable as it is now. That is a fact of
 * the two timetables and holds whatever the search did; where nothing is in the way, nothing is said. */
#include "batch/changes_why.h"

#include "batch/changes_given.h"
#include "batch/flat.h"
#include "batch/found.h"

/* One use of a technician, a place or a part of a pool. */
typedef struct {
    gint64 from, to;
    guint unit;
    int part; /* of Batch.parts; -1 */
} Busy;

/* In order of `from`. */
typedef struct {
    GArray *busy; /* Busy; owned */
    gint64 longest;
} Line;

struct Reasons {
    const Planning *planning;
    Line hands, places;
    Line *pools; /* owned; one per pool */
    PoolsGiven *given; /* owned */
};

static void
add_busy (Line *line, gint64 from, gint64 to, guint unit, int part)
{
    Busy busy = { from, to, unit, part };

    if (to > from)
        g_array_append_val (line->busy, busy);
    line->longest = MAX (line->longest, to - from);
}

static int
compare_busy (gconstpointer a, gconstpointer b)
{
    const Busy *left = a, *right = b;
    if (left->from != right->from)
        return left->from < right->from ? -1 : 1;
    return (left->unit > right->unit) - (left->unit < right->unit);
}

/* ---- Who uses what when ---- */

static gboolean
has_bench_work (const Planning *planning, guint unit)
{
    return planning_unit (planning, unit)->aside == ASIDE_NOT && planning_unit (planning, unit)->tasks->len > 0;
}

/* A place is held from now on where the unit is on the bench already. */
static void
add_unit (Reasons *reasons, guint unit)
{
    const Planning *planning = reasons->planning;
    const GArray *tasks = planning_unit (planning, unit)->tasks;
    const UnitPlan *plan = &planning->plans[unit];
    gint64 from = G_MAXINT64, to = 0;

    for (guint i = 0; i < tasks->len; i++) {
        const BatchTask *task = &g_array_index (tasks, BatchTask, i);

        if (task->done)
            continue;
        add_busy (&reasons->hands, task->begins, task->attended_until, unit, -1);
        if (task->start.apart)
            add_busy (&reasons->hands, task->start.begins, task->ends, unit, -1);
        from = MIN (from, task->begins);
        to = MAX (to, task->ends);
    }
    if (from < to)
        add_busy (&reasons->places, unit_has_begun (plan) && !plan->parked ? MIN (from, planning->question->now) : from,
                  to, unit, -1);
}

static int
pool_of_part (const Planning *planning, const BatchPart *part)
{
    return planning_pool (planning, part->owner == OWNER_STOCK ? OWNER_STOCK : OWNER_LOAN, part->part, part->stepping,
                          part->bound);
}

static void
add_parts (Reasons *reasons)
{
    const GPtrArray *parts = reasons->planning->batch->parts;

    for (guint p = 0; p < parts->len; p++) {
        const BatchPart *part = parts->pdata[p];
        int pool = part->owner != OWNER_STOCK ? pool_of_part (reasons->planning, part) : -1;

        for (guint i = 0; pool >= 0 && i < part->stays->len; i++) {
            const BatchStay *stay = &g_array_index (part->stays, BatchStay, i);
            add_busy (&reasons->pools[pool], stay->from, stay->to, stay->unit, (int) p);
        }
    }
}

Reasons *
reasons_new (const Planning *planning)
{
    Reasons *reasons = g_new0 (Reasons, 1);
    guint pools = planning->pools->len;

    reasons->planning = planning;
    reasons->given = pools_given_new (planning);
    reasons->hands.busy = g_array_new (FALSE, FALSE, sizeof (Busy));
    reasons->places.busy = g_array_new (FALSE, FALSE, sizeof (Busy));
    reasons->pools = g_new0 (Line, pools + 1);
    for (guint p = 0; p < pools; p++)
        reasons->pools[p].busy = g_array_new (FALSE, FALSE, sizeof (Busy));
    for (guint i = 0; i < planning_units (planning); i++)
        if (has_bench_work (planning, i))
            add_unit (reasons, i);
    add_parts (reasons);
    g_array_sort (reasons->hands.busy, compare_busy);
    g_array_sort (reasons->places.busy, compare_busy);
    for (guint p = 0; p < pools; p++)
        g_array_sort (reasons->pools[p].busy, compare_busy);
    return reasons;
}

void
reasons_free (Reasons *reasons)
{
    for (guint p = 0; p < reasons->planning->pools->len; p++)
        g_array_unref (reasons->pools[p].busy);
    g_free (reasons->pools);
    pools_given_free (reasons->given);
    g_array_unref (reasons->hands.busy);
    g_array_unref (reasons->places.busy);
    g_free (reasons);
}

/* ---- Whether it is free ---- */

static guint
first_from (const GArray *busy, gint64 time)
{
    guint low = 0, high = busy->len;

    while (low < high) {
        guint middle = (low + high) / 2;
        if (g_array_index (busy, Busy, middle).from < time)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Others that use it at the moment; `first`: the one that ends first. */
static guint
used_at (const Line *line, guint unit, gint64 moment, const Busy **first)
{
    guint used = 0;

    *first = NULL;
    for (guint i = first_from (line->busy, moment - line->longest);
         i < line->busy->len && g_array_index (line->busy, Busy, i).from <= moment; i++) {
        const Busy *one = &g_array_index (line->busy, Busy, i);

        if (one->unit == unit || one->to <= moment)
            continue;
        used++;
        if (*first == NULL || one->to < (*first)->to)
            *first = one;
    }
    return used;
}

/* What is looked for, of one line. */
typedef struct {
    const Line *line;
    ChangeWhy why;
    int pool;       /* -1: `capacity` it is */
    guint capacity; /* of hands and places */
} Wanted;

/* Sets what is in the way at the moment. FALSE: nothing is. */
static gboolean
is_taken (const Reasons *reasons, const Wanted *wanted, guint unit, gint64 moment, guint step, BatchChange *change)
{
    const Busy *first = NULL;
    guint used = used_at (wanted->line, unit, moment, &first);
    guint there = wanted->pool >= 0 ? pools_given_at (reasons->given, (guint) wanted->pool, moment) : wanted->capacity;

    if (used < there)
        return FALSE;
    change->why = wanted->why;
    change->about = step;
    change->by = first != NULL ? first->unit : G_MAXUINT;
    change->part = first != NULL ? first->part : -1;
    change->from = first != NULL ? first->from : moment;
    change->to = first != NULL ? first->to : moment;
    return TRUE;
}

/* At its beginning, or wherever another use begins in [from, to). */
static gboolean
is_taken_within (const Reasons *reasons, const Wanted *wanted, guint unit, gint64 from, gint64 to, guint step,
                 BatchChange *change)
{
    const GArray *busy = wanted->line->busy;

    if (from >= to)
        return FALSE;
    if (is_taken (reasons, wanted, unit, from, step, change))
        return TRUE;
    for (guint i = first_from (busy, from); i < busy->len && g_array_index (busy, Busy, i).from < to; i++)
        if (is_taken (reasons, wanted, unit, g_array_index (busy, Busy, i).from, step, change))
            return TRUE;
    return FALSE;
}

/* ---- One unit ---- */

static const PublishedTask *
was_at (const UnitPlan *plan, guint step)
{
    return &g_array_index (plan->published->tasks, PublishedTask, step);
}

static gboolean
wants_a_part (const Reasons *reasons, guint unit, BatchChange *change)
{
    const Planning *planning = reasons->planning;
    const UnitPlan *plan = &planning->plans[unit];
    const BatchMode *mode = class_mode (planning_class (planning, plan->class), planning_unit (planning, unit)->mode);
    g_autoptr (GArray) holdings = mode_holdings (planning, plan->unit, mode->steps);

    for (guint i = 0; i < holdings->len; i++) {
        const Holding *holding = &g_array_index (holdings, Holding, i);
        Wanted wanted = { &reasons->pools[holding->pool], MOVED_PART, (int) holding->pool, 0 };

        if (holding->owner != OWNER_LOAN || holding->remove == G_MAXUINT || holding->fit == G_MAXUINT ||
            holding->fit < plan->done)
            continue;
        if (is_taken_within (reasons, &wanted, unit, was_at (plan, holding->fit)->begins,
                             was_at (plan, holding->remove)->ends, holding->fit, change))
            return TRUE;
    }
    return FALSE;
}

static gboolean
wants_the_bench (const Reasons *reasons, guint unit, BatchChange *change)
{
    const Planning *planning = reasons->planning;
    const UnitPlan *plan = &planning->plans[unit];
    guint last = plan->published->tasks->len - 1;
    const Wanted place = { &reasons->places, MOVED_PLACE, -1, MAX (planning->shop->stations, 1) };
    const Wanted hands = { &reasons->hands, MOVED_HAND, -1, MAX (planning->shop->technicians, 1) };

    if (is_taken_within (reasons, &place, unit, was_at (plan, plan->done)->begins, was_at (plan, last)->ends,
                         plan->done, change))
        return TRUE;
    for (guint i = plan->done; i <= last; i++)
        if (is_taken_within (reasons, &hands, unit, was_at (plan, i)->begins, was_at (plan, i)->attended_until, i,
                             change))
            return TRUE;
    return FALSE;
}

/* The same of the start at the end, where that is a task of its own. */
static gboolean
wants_a_start (const Reasons *reasons, guint unit, BatchChange *change)
{
    const Planning *planning = reasons->planning;
    const UnitPlan *plan = &planning->plans[unit];
    guint last = plan->published->tasks->len - 1;
    const PublishedTask *was = was_at (plan, last);
    gint64 from = was->start.begins, length = was->ends - from;
    const Wanted hands = { &reasons->hands, MOVED_HAND, -1, MAX (planning->shop->technicians, 1) };

    if (!was->start.apart)
        return FALSE;
    if (!is_taken_within (reasons, &hands, unit, from, was->ends, last, change)) {
        if (calendar_earliest (&planning->batch->timetable->calendar, from, length, length) == from)
            return FALSE;
        change->why = MOVED_SHIFT;
        change->about = last;
    }
    change->about_start = TRUE;
    return TRUE;
}

static gboolean
wants_a_shift (const Reasons *reasons, guint unit, BatchChange *change)
{
    const UnitPlan *plan = &reasons->planning->plans[unit];
    const Calendar *calendar = &reasons->planning->batch->timetable->calendar;

    for (guint i = plan->done; i < plan->published->tasks->len; i++) {
        const PublishedTask *was = was_at (plan, i);
        gint64 length = (was->start.apart ? was->start.step_ends : was->ends) - was->begins;

        if (calendar_earliest (calendar, was->begins, length, was->attended_until - was->begins) == was->begins)
            continue;
        change->why = MOVED_SHIFT;
        change->about = i;
        return TRUE;
    }
    return FALSE;
}

void
reasons_find (const Reasons *reasons, guint unit, BatchChange *change)
{
    const UnitPlan *plan = &reasons->planning->plans[unit];
    const BatchTask *first = &g_array_index (planning_unit (reasons->planning, unit)->tasks, BatchTask, change->first);
    gint64 was = was_at (plan, change->first)->begins;

    change->why = MOVED_UNKNOWN;
    if (was == first->begins) { /* its start alone moved */
        wants_a_start (reasons, unit, change);
        return;
    }
    if (was < reasons->planning->question->now) {
        change->why = MOVED_BEHIND;
        change->about = change->first;
        change->tried = found_last_about (reasons->planning, unit, change->about + 1);
        return;
    }
    if (!wants_a_part (reasons, unit, change) && !wants_the_bench (reasons, unit, change) &&
        !wants_a_shift (reasons, unit, change))
        wants_a_start (reasons, unit, change);
}
