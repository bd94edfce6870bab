/* SPDX-License-Identifier: MIT */
/* A timetable as it hangs on the wall. */
#include "batch/found.h"

static void
published_unit_free (gpointer data)
{
    PublishedUnit *unit = data;

    g_array_unref (unit->tasks);
    g_clear_pointer (&unit->earlier, g_ptr_array_unref);
    g_free (unit);
}

BatchPublished *
batch_published_new (void)
{
    BatchPublished *published = g_new0 (BatchPublished, 1);

    published->units = g_ptr_array_new_with_free_func (published_unit_free);
    published->by_id = g_hash_table_new (g_str_hash, g_str_equal);
    published->lost = g_array_new (FALSE, FALSE, sizeof (PublishedLost));
    published->parts = g_array_new (FALSE, FALSE, sizeof (PublishedPart));
    published->gone = g_ptr_array_new_with_free_func (g_free);
    return published;
}

void
batch_published_free (BatchPublished *published)
{
    if (published == NULL)
        return;
    g_hash_table_unref (published->by_id);
    g_ptr_array_unref (published->units);
    g_array_unref (published->lost);
    g_array_unref (published->parts);
    g_ptr_array_unref (published->gone);
    g_free (published);
}

PublishedUnit *
batch_published_add (BatchPublished *published, const char *id)
{
    PublishedUnit *unit = g_new0 (PublishedUnit, 1);

    unit->unit = g_intern_string (id);
    unit->tasks = g_array_new (FALSE, TRUE, sizeof (PublishedTask));
    g_ptr_array_add (published->units, unit);
    if (!g_hash_table_contains (published->by_id, unit->unit))
        g_hash_table_insert (published->by_id, (gpointer) unit->unit, unit);
    return unit;
}

GPtrArray *
earlier_copy (const GPtrArray *earlier)
{
    GPtrArray *copy = g_ptr_array_new_with_free_func (batch_earlier_free);

    for (guint i = 0; i < earlier->len; i++) {
        const BatchEarlier *one = earlier->pdata[i];
        BatchEarlier *other = g_new0 (BatchEarlier, 1);

        other->steps = g_array_copy (one->steps);
        other->entries = one->entries;
        other->done = one->done;
        g_ptr_array_add (copy, other);
    }
    return copy;
}

static void
publish_parts (const Batch *batch, BatchPublished *published)
{
    for (guint i = 0; i < batch->parts->len; i++) {
        const BatchPart *part = batch->parts->pdata[i];
        PublishedPart one = { NULL, part->part, part->stepping, part->bound, g_intern_string (part->serial), part->number,
                              part->from_step };

        if (part->owner != OWNER_UNIT)
            continue;
        one.unit = g_intern_string (((const BatchUnit *) batch->units->pdata[part->from_unit])->unit->id);
        g_array_append_val (published->parts, one);
    }
}

BatchPublished *
batch_publish (const Batch *batch)
{
    BatchPublished *published = batch_published_new ();

    for (guint i = 0; batch->replan != NULL && i < batch->replan->lost->len; i++) {
        const BatchLost *lost = &g_array_index (batch->replan->lost, BatchLost, i);
        PublishedLost one = { lost->unit, lost->entry, lost->number, lost->of, lost->of_step, lost->part, lost->stepping, lost->bound };

        g_array_append_val (published->lost, one);
    }
    for (guint i = 0; i < batch->units->len; i++) {
        const BatchUnit *unit = batch->units->pdata[i];
        PublishedUnit *out = batch_published_add (published, unit->unit->id);

        out->found = batch->replan != NULL ? found_last_shown (batch->replan, i) : 0;
        if (unit->earlier != NULL)
            out->earlier = earlier_copy (unit->earlier);
        for (guint k = 0; unit->aside == ASIDE_NOT && k < unit->tasks->len; k++) {
            const BatchTask *task = &g_array_index (unit->tasks, BatchTask, k);
            const BatchMode *mode = ((const BatchClass *) batch->classes->pdata[unit->class])->modes->pdata[unit->mode];
            const BatchPart *part = task->part >= 0 ? batch->parts->pdata[task->part] : NULL;
            PublishedTask one = { g_array_index (mode->steps, Step, k),
                                  task->begins,
                                  task->attended_until,
                                  task->ends,
                                  task->technician,
                                  task->place,
                                  part != NULL ? part->number : 0,
                                  task->start };
            g_array_append_val (out->tasks, one);
        }
    }
    publish_parts (batch, published);
    return published;
}
