/* SPDX-License-Identifier: MIT */
/* A batch from its units to its checked timetable. */
#include "batch/records.h"

guint
planning_units (const Planning *planning)
{
    return planning->batch->units->len;
}

BatchUnit *
planning_unit (const Planning *planning, guint unit)
{
    return planning->batch->units->pdata[unit];
}

BatchClass *
planning_class (const Planning *planning, guint class)
{
    return planning->batch->classes->pdata[class];
}

BatchMode *
class_mode (const BatchClass *class, guint mode)
{
    return class->modes->pdata[mode];
}

const ModeDraws *
planning_draws (const Planning *planning, guint class, guint mode)
{
    return ((const GPtrArray *) planning->draws->pdata[class])->pdata[mode];
}

gboolean
unit_has_begun (const UnitPlan *plan)
{
    return plan->done > 0 || plan->under_way >= 0 || plan->has_record;
}

void
planning_set_aside (Planning *planning, guint unit, Aside aside, char *why)
{
    BatchUnit *of = planning_unit (planning, unit);

    g_return_if_fail (of->aside == ASIDE_NOT && aside != ASIDE_NOT);
    of->aside = aside;
    of->why = why;
    planning->batch->aside++;
}

/* ---- Order ---- */

static int
compare_order (gconstpointer a, gconstpointer b, gpointer data)
{
    const Planning *planning = data;
    guint left = *(const guint *) a, right = *(const guint *) b;
    const UnitPlan *one = &planning->plans[left], *other = &planning->plans[right];

    if (unit_has_begun (one) != unit_has_begun (other))
        return unit_has_begun (one) ? -1 : 1;
    if (one->due != other->due && (one->due == BATCH_NOT_DUE || other->due == BATCH_NOT_DUE))
        return one->due == BATCH_NOT_DUE ? 1 : -1;
    if (one->due != other->due)
        return one->due < other->due ? -1 : 1;
    if (one->unit->priority != other->unit->priority)
        return one->unit->priority > other->unit->priority ? -1 : 1;
    return (left > right) - (left < right);
}

guint *
planning_order (const Planning *planning)
{
    guint *order = g_new (guint, planning_units (planning) + 1);

    for (guint i = 0; i < planning_units (planning); i++)
        order[i] = i;
    g_qsort_with_data (order, (int) planning_units (planning), sizeof *order, compare_order, (gpointer) planning);
    return order;
}

/* ---- Memory ---- */

void
batch_earlier_free (gpointer data)
{
    BatchEarlier *earlier = data;

    g_array_unref (earlier->steps);
    g_free (earlier);
}

static void
batch_unit_free (gpointer data)
{
    BatchUnit *unit = data;

    g_free (unit->why);
    g_clear_pointer (&unit->tasks, g_array_unref);
    g_clear_pointer (&unit->earlier, g_ptr_array_unref);
    if (unit->stands != NULL)
        unit_free (unit->stands);
    g_free (unit);
}

static void
batch_part_free (gpointer data)
{
    g_array_unref (((BatchPart *) data)->stays);
    g_free (data);
}

void
batch_free (Batch *batch)
{
    if (batch == NULL)
        return;
    g_ptr_array_unref (batch->classes);
    g_ptr_array_unref (batch->units);
    g_ptr_array_unref (batch->parts);
    g_ptr_array_unref (batch->said);
    timetable_free (batch->timetable);
    schedule_free (batch->schedule);
    g_array_unref (batch->job_of_unit);
    batch_replan_free (batch->replan);
    g_free (batch->wrong);
    g_free (batch);
}

static Batch *
batch_new (const BatchQuestion *question)
{
    Batch *batch = g_new0 (Batch, 1);

    batch->classes = g_ptr_array_new_with_free_func (batch_class_free);
    batch->units = g_ptr_array_new_with_free_func (batch_unit_free);
    batch->parts = g_ptr_array_new_with_free_func (batch_part_free);
    batch->said = g_ptr_array_new_with_free_func (g_free);
    batch->job_of_unit = g_array_new (FALSE, TRUE, sizeof (guint));
    g_array_set_size (batch->job_of_unit, question->units->len);
    for (guint i = 0; i < question->units->len; i++) {
        BatchUnit *unit = g_new0 (BatchUnit, 1);

        unit->index = i;
        unit->unit = question->units->pdata[i];
        unit->want = question->wants->pdata[i];
        unit->due = unit_due (question->shop, &question->clock, unit->unit);
        g_ptr_array_add (batch->units, unit);
    }
    return batch;
}

static Planning *
planning_new (const BatchQuestion *question)
{
    Planning *planning = g_new0 (Planning, 1);

    planning->question = question;
    planning->batch = batch_new (question);
    planning->shop = shop_copy (question->shop);
    planning->plans = g_new0 (UnitPlan, question->units->len + 1);
    planning->pools = g_array_new (FALSE, TRUE, sizeof (Pool));
    planning->unmatched = g_hash_table_new (NULL, NULL);
    planning->gifts = g_array_new (FALSE, FALSE, sizeof (KnownGift));
    planning->gift_index = gift_index_new ();
    planning->lanes = g_ptr_array_new_with_free_func (gifts_free);
    planning->given = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_hash_table_unref);
    planning->draws = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
    for (guint i = 0; i < question->units->len; i++)
        planning->plans[i] = (UnitPlan){ .unit = question->units->pdata[i],
                                         .due = planning_unit (planning, i)->due,
                                         .under_way = -1,
                                         .keeps = -1,
                                         .wants_lost = G_MAXUINT,
                                         .mode = -1 };
    return planning;
}

static void
planning_free (Planning *planning)
{
    shop_free (planning->shop);
    for (guint i = 0; i < planning_units (planning); i++) {
        g_clear_pointer (&planning->plans[i].as_read, unit_free);
        g_free (planning->plans[i].as_read_held);
        g_free (planning->plans[i].held);
    }
    g_array_unref (planning->gifts);
    gift_index_free (planning->gift_index);
    g_ptr_array_unref (planning->lanes);
    g_hash_table_unref (planning->given);
    g_free (planning->plans);
    g_array_unref (planning->pools);
    g_ptr_array_unref (planning->draws);
    g_hash_table_unref (planning->unmatched);
    g_free (planning);
}

/* ---- Planning ---- */

static void
set_aside_without_route (Planning *planning)
{
    static const char *const whys[] = { [ASIDE_NO_ROUTE] = "there is no route",
                                        [ASIDE_NOT_FOUND] = "no route was found within the effort",
                                        [ASIDE_READ_FIRST] =
                                            "no plan serves every release that it may have: read first" };

    for (guint i = 0; i < planning_units (planning); i++) {
        const BatchClass *class = planning_class (planning, planning->plans[i].class);
        Aside aside = ASIDE_NOT_FOUND;

        if (class->modes->len > 0 || planning_unit (planning, i)->aside != ASIDE_NOT)
            continue;
        if (g_hash_table_contains (planning->unmatched, class)) {
            planning_set_aside (
                planning, i, ASIDE_NO_STOCK,
                g_strdup ("stock does not reach: no parts of one stepping for all sockets of the unit"));
            continue;
        }
        if (class->failed != NULL && class->failed->claim == CLAIM_NO_ROUTE)
            aside = ASIDE_NO_ROUTE;
        if (class->failed != NULL && class->failed->claim == CLAIM_READ_FIRST)
            aside = ASIDE_READ_FIRST;
        char *out = aside == ASIDE_NO_ROUTE ? gifts_out_words (planning, i) : NULL;
        planning_set_aside (planning, i, aside, out != NULL ? out : g_strdup (whys[aside]));
    }
}

Batch *
batch_plan (const BatchQuestion *question)
{
    Planning *planning = planning_new (question);
    Batch *batch = planning->batch;

    say_serials_given_twice (planning);
    if (question->published != NULL)
        replan_read (planning);
    else
        records_say_unused (planning);
    classes_make (planning);
    modes_find (planning);
    set_aside_without_route (planning);
    if (question->published != NULL)
        replan_keep_modes (planning);
    set_aside_without_route (planning);
    share_out (planning);
    if (question->published != NULL)
        replan_settle (planning);
    g_autoptr (Mapping) mapping = batch_schedule (planning);
    batch_take_over (planning, mapping);
    batch_find_open (planning);
    modes_find_ways_back (planning);
    if (question->published != NULL)
        replan_compare (planning);
    batch->wrong = timetable_check (batch->timetable, batch->schedule);
    if (batch->wrong == NULL)
        batch->wrong = batch_check (question, batch);
    planning_free (planning);
    return batch;
}
