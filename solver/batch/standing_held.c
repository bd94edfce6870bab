/* SPDX-License-Identifier: MIT */
/* Which numbered loaners are in a unit that leaves its route: what the sheet called them by which they were fitted. */
#include "batch/standing.h"

/* What it held as that route began is called by its removal; 0: not known. */
static guint
number_at_first (const UnitPlan *plan, guint slot)
{
    for (guint i = 0; plan->published != NULL && i < plan->published->tasks->len; i++) {
        const PublishedTask *task = &g_array_index (plan->published->tasks, PublishedTask, i);

        if (task->step.kind != STEP_WRITE && task->step.slot == slot)
            return task->step.kind == STEP_REMOVE ? task->part_number : 0;
    }
    return 0;
}

static void
apply (guint *held, const Step *step, guint number)
{
    if (step->kind != STEP_WRITE)
        held[step->slot] = step->kind == STEP_FIT && step->owner == OWNER_LOAN ? number : 0;
}

/* Transfer full. */
static guint *
numbers_at_first (const UnitPlan *plan)
{
    guint n_slots = plan->unit->board->slots->len;
    guint *held = g_new0 (guint, n_slots + 1);

    for (guint s = 0; s < n_slots; s++)
        if (plan->unit->fitted[s].part != NULL && plan->unit->fitted[s].owner == OWNER_LOAN)
            held[s] = plan->held != NULL ? plan->held[s] : number_at_first (plan, s);
    return held;
}

void
standing_hold_by_time (Planning *planning, guint unit)
{
    UnitPlan *plan = &planning->plans[unit];
    guint *held = numbers_at_first (plan);

    for (guint i = 0; plan->published != NULL && i < MIN (plan->done, plan->published->tasks->len); i++) {
        const PublishedTask *task = &g_array_index (plan->published->tasks, PublishedTask, i);

        apply (held, &task->step, task->part_number);
    }
    g_free (plan->held);
    plan->held = held;
}

/* A step that failed once was done with another part, if it was. */
guint *
standing_held_by_entries (const Standing *standing, guint from)
{
    const UnitPlan *plan = &standing->planning->plans[standing->unit];
    const GArray *tasks = standing->published->tasks;
    guint *held = numbers_at_first (plan);
    g_autofree gboolean *failed = g_new0 (gboolean, tasks->len + 1);

    for (guint i = from; i < standing->record->entries->len; i++) {
        const RecordEntry *entry = standing->record->entries->pdata[i];
        const PublishedTask *task = entry->number > 0 && entry->number <= tasks->len
                                        ? &g_array_index (tasks, PublishedTask, entry->number - 1)
                                        : NULL;

        if (entry->outcome == ENTRY_DONE)
            apply (held, task != NULL ? &task->step : &entry->step,
                   task != NULL && !failed[entry->number - 1] ? task->part_number : 0);
        if (task != NULL && entry->outcome == ENTRY_FAILED)
            failed[entry->number - 1] = TRUE;
        for (guint s = 0; entry->looked_at != NULL && s < plan->unit->board->slots->len; s++)
            if (entry->looked_at[s] && entry->fitted[s].part == NULL)
                held[s] = 0;
    }
    return held;
}
