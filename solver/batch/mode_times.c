/* SPDX-License-Identifier: MIT */
/* What each step of a mode takes in the timetable, and what is held from step to step. */
#include "batch/plan.h"

static void
add_attended (StepTime *time, double minutes)
{
    time->duration += tenths (minutes);
    time->attended += tenths (minutes);
}

/* Of a plan with branches: a start that is tried, or a page that is read, is attended, and stands in front of the step that
 * comes next; where none does, with the last one. */
static void
add_readings (GArray *times, const BatchMode *mode)
{
    for (guint i = 0; mode->branching != NULL && i < mode->branching->readings->len; i++) {
        const BatchReading *reading = &g_array_index (mode->branching->readings, BatchReading, i);

        add_attended (&g_array_index (times, StepTime, MIN (reading->before, times->len - 1)), reading->minutes);
    }
}

GArray *
mode_times (const BatchMode *mode, const Shop *shop)
{
    GArray *times = g_array_new (FALSE, TRUE, sizeof (StepTime));
    guint starts = 0;

    for (guint i = 0; i < mode->steps->len; i++) {
        const WalkedStep *walked = &g_array_index (mode->walk->walked, WalkedStep, i);
        StepTime time = { tenths (walked->minutes), tenths (walked->attended) };

        starts += walked->needs_start ? 1 : 0;
        add_attended (&time,
                      (walked->opens ? shop->opening_minutes : 0) + (walked->needs_start ? shop->start_minutes : 0));
        g_array_append_val (times, time);
    }
    if (times->len == 0)
        return times;
    if (mode->walk->starts > starts)
        add_attended (&g_array_index (times, StepTime, times->len - 1), shop->start_minutes);
    add_readings (times, mode);
    return times;
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
