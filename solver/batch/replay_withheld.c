/* SPDX-License-Identifier: MIT */
/* Replay of what is kept for units whose records can't be gone by: no numbered part from stock that the published timetable has for such a
 * unit is given to another one. */
#include "batch/replay.h"

static gboolean
is_that_part (const BatchPart *part, const PublishedTask *task)
{
    const Step *step = &task->step;

    return step->kind == STEP_FIT && step->owner == OWNER_STOCK && part->owner == OWNER_STOCK &&
           part->part == step->part && part->stepping == step->stepping && part->bound == step->bound &&
           part->number == task->part_number;
}

static char *
check_unit (const Batch *batch, const PublishedUnit *published)
{
    for (guint k = 0; published != NULL && k < published->tasks->len; k++)
        for (guint p = 0; p < batch->parts->len; p++) {
            const BatchPart *part = batch->parts->pdata[p];

            if (part->stays->len > 0 && is_that_part (part, &g_array_index (published->tasks, PublishedTask, k)))
                return g_strdup_printf (
                    "%s #%u may be in %s, which is set aside for its record, and another unit gets it",
                    part->part->name, part->number, published->unit);
        }
    return NULL;
}

char *
replay_withheld (const BatchQuestion *question, const Batch *batch)
{
    char *wrong = NULL;

    for (guint i = 0; question->published != NULL && i < batch->units->len && wrong == NULL; i++) {
        const BatchUnit *unit = batch->units->pdata[i];

        if (unit->aside == ASIDE_RECORD)
            wrong = check_unit (batch, batch_published_find (question->published, unit->unit->id));
    }
    return wrong;
}
