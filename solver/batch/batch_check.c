/* SPDX-License-Identifier: MIT */
/* The whole replay of a batch. */
#include "batch/replay.h"

const Unit *
replayed_unit (const BatchUnit *unit)
{
    return unit->stands != NULL ? unit->stands : unit->unit;
}

const BatchMode *
replayed_mode (const Batch *batch, const BatchUnit *unit)
{
    return ((const BatchClass *) batch->classes->pdata[unit->class])->modes->pdata[unit->mode];
}

static char *
check_unit (const BatchQuestion *question, const Batch *batch, guint index)
{
    const BatchUnit *unit = batch->units->pdata[index];

    if (unit->unit != question->units->pdata[index] || unit->want != question->wants->pdata[index])
        return g_strdup_printf ("unit %u of the batch is not the one that was asked about", index + 1);
    if (unit->aside != ASIDE_NOT)
        return unit->tasks == NULL && unit->why != NULL
                   ? NULL
                   : g_strdup_printf ("%s is set aside, and has tasks or no reason", unit->unit->id);
    if (unit->class >= batch->classes->len ||
        unit->mode >= ((const BatchClass *) batch->classes->pdata[unit->class])->modes->len)
        return g_strdup_printf ("%s is of a class or a mode that there is not", unit->unit->id);
    if (unit->tasks == NULL || unit->tasks->len != replayed_mode (batch, unit)->steps->len)
        return g_strdup_printf ("%s does not have one task for each step", unit->unit->id);
    for (guint i = 0; i < unit->tasks->len; i++)
        if (g_array_index (unit->tasks, BatchTask, i).step != i)
            return g_strdup_printf ("%s: its tasks are not its steps in their order", unit->unit->id);
    return NULL;
}

char *
batch_check (const BatchQuestion *question, const Batch *batch)
{
    char *(*const parts[]) (const BatchQuestion *, const Batch *) = {
        replay_routes, replay_times,    replay_begun,    replay_under_way, replay_bench,
        replay_parts,  replay_withheld, replay_branches, replay_openings
    };
    char *wrong = NULL;

    if (batch->units->len != question->units->len)
        return g_strdup ("the batch does not have the units that were asked about");
    for (guint i = 0; i < batch->units->len && wrong == NULL; i++)
        wrong = check_unit (question, batch, i);
    for (guint i = 0; i < G_N_ELEMENTS (parts) && wrong == NULL; i++)
        wrong = parts[i](question, batch);
    return wrong;
}
