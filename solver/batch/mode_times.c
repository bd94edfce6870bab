/* SPDX-License-Identifier: MIT */
/* What each step of a mode takes in the timetable, and what is held from step to step. */
#include "batch/plan.h"

static void
add_attended (StepTime *time, gint64 length)
{
    time->duration += length;
    time->attended += length;
}

/* Of a plan with branches: a start that is tried, or a page that is read, is attended, and stands in front of the step that
 * comes next. Returns what those behind the last step take. */
static gint64
add_readings (GArray *times, const BatchMode *mode)
{
    gint64 behind = 0;

    for (guint i = 0; mode->branching != NULL && i < mode->branching->readings->len; i++) {
        const BatchReading *reading = &g_array_index (mode->branching->readings, BatchReading, i);

        if (reading->before < times->len)
            add_attended (&g_array_index (times, StepTime, reading->before), tenths (reading->minutes));
        else
            behind += tenths (reading->minutes);
    }
    return behind;
}

/* `behind`: of the start at the end and of what is read there. */
static GArray *
times_of_steps (const BatchMode *mode, const Shop *shop, gint64 *behind)
{
    GArray *times = g_array_new (FALSE, TRUE, sizeof (StepTime));
    guint starts = 0;

    for (guint i = 0; i < mode->steps->len; i++) {
        const WalkedStep *walked = &g_array_index (mode->walk->walked, WalkedStep, i);
        StepTime time = { tenths (walked->minutes), tenths (walked->attended) };

        starts += walked->needs_start ? 1 : 0;
        add_attended (&time, tenths ((walked->opens ? shop->opening_minutes : 0) +
                                     (walked->needs_start ? shop->start_minutes : 0)));
        g_array_append_val (times, time);
    }
    *behind = add_readings (times, mode) + (mode->walk->starts > starts ? tenths (shop->start_minutes) : 0);
    return times;
}

/* A start belongs to somebody who sees it: when the last step runs by itself, nobody may be there as it ends. */
static gboolean
ends_attended (const GArray *times)
{
    const StepTime *last = &g_array_index (times, StepTime, times->len - 1);

    return last->attended == last->duration;
}

GArray *
mode_times (const BatchMode *mode, const Shop *shop)
{
    gint64 behind = 0;
    GArray *times = times_of_steps (mode, shop, &behind);

    if (times->len > 0 && ends_attended (times))
        add_attended (&g_array_index (times, StepTime, times->len - 1), behind);
    return times;
}

gint64
mode_last_start (const BatchMode *mode, const Shop *shop)
{
    gint64 behind = 0;
    g_autoptr (GArray) times = times_of_steps (mode, shop, &behind);

    return times->len > 0 && !ends_attended (times) ? behind : 0;
}

const LastStart *
plan_published_start (const UnitPlan *plan)
{
    const GArray *tasks = plan->published != NULL && plan->keeps >= 0 ? plan->published->tasks : NULL;
    const PublishedTask *last =
        tasks != NULL && tasks->len > 0 ? &g_array_index (tasks, PublishedTask, tasks->len - 1) : NULL;

    return last != NULL && last->start.apart ? &last->start : NULL;
}

/* ---- Parts in slots ---- */

static Holding *
find_open (GArray *holdings, guint slot)
{
    for (guint i = holdings->len; i-- > 0;) {
        Holding *holding = &g_array_index (holdings, Holding, i);

        if (holding->slot == slot)
            return holding->remove == G_MAXUINT ? holding : NULL;
    }
    return NULL;
}

static void
add_holding (const Planning *planning, GArray *holdings, guint slot, const Held *held, guint fit)
{
    int pool = planning_pool (planning, held->owner, held->part, held->stepping, held->bound);
    Holding holding = { held->owner, (guint) pool, slot, fit, G_MAXUINT };

    if (pool >= 0)
        g_array_append_val (holdings, holding);
}

GArray *
mode_holdings (const Planning *planning, const Unit *unit, const GArray *steps)
{
    GArray *holdings = g_array_new (FALSE, FALSE, sizeof (Holding));

    for (guint s = 0; s < unit->board->slots->len; s++) {
        Held held = { unit->fitted[s].part, unit->fitted[s].stepping, unit->fitted[s].owner, unit->fitted[s].bound };

        if (held.part != NULL && held.owner != OWNER_UNIT)
            add_holding (planning, holdings, s, &held, G_MAXUINT);
    }
    for (guint i = 0; i < steps->len; i++) {
        const Step *step = &g_array_index (steps, Step, i);
        Held held = { step->part, step->stepping, step->owner, step->bound };
        Holding *open = step->kind == STEP_REMOVE ? find_open (holdings, step->slot) : NULL;

        if (open != NULL)
            open->remove = i;
        else if (step->kind == STEP_FIT && step->owner != OWNER_UNIT)
            add_holding (planning, holdings, step->slot, &held, i);
    }
    return holdings;
}
