/* SPDX-License-Identifier: MIT */
/* What became different for each unit of a published batch, and what was taken for granted. */
#include "batch/changes_why.h"
#include "batch/found.h"
#include "batch/records.h"

BatchReplan *
batch_replan_new (guint units)
{
    BatchReplan *replan = g_new0 (BatchReplan, 1);

    replan->under_way = g_array_new (FALSE, FALSE, sizeof (BatchUnderWay));
    replan->lost = g_array_new (FALSE, FALSE, sizeof (BatchLost));
    replan->found = g_array_new (FALSE, FALSE, sizeof (BatchFound));
    replan->found_from = g_new0 (guint, units + 1);
    replan->changes = g_new0 (BatchChange, units + 1);
    return replan;
}

void
batch_replan_free (BatchReplan *replan)
{
    if (replan == NULL)
        return;
    g_array_unref (replan->under_way);
    g_array_unref (replan->lost);
    g_array_unref (replan->found);
    g_free (replan->found_from);
    g_free (replan->changes);
    g_free (replan);
}

/* ---- Whether it is this batch, and now ---- */

static gint64
published_end (const BatchPublished *published)
{
    gint64 end = 0;

    for (guint i = 0; i < published->units->len; i++) {
        const PublishedUnit *unit = published->units->pdata[i];

        for (guint k = 0; k < unit->tasks->len; k++)
            end = MAX (end, g_array_index (unit->tasks, PublishedTask, k).ends);
    }
    return end;
}

static void
say_now (Planning *planning)
{
    const BatchQuestion *question = planning->question;
    gint64 end = planning->batch->replan->published_end;
    g_autofree char *over = batch_time_words (&question->clock, end);
    g_autofree char *made = batch_time_words (&question->clock, question->published->made);

    if (end > 0 && question->now > end)
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("now is after the last task of the published timetable, which ends %s: what no "
                             "record speaks of counts as done",
                             over));
    if (question->now < question->published->made)
        g_ptr_array_add (planning->batch->said,
                         g_strdup_printf ("now is before the moment that the published timetable was planned for, %s: "
                                          "records and times up to then are taken for true all the same",
                                          made));
}

static void
say_shop (Planning *planning)
{
    const BatchPublished *published = planning->question->published;
    const Shop *shop = planning->question->shop;

    if (published->shop != NULL && shop->name != NULL && strcmp (published->shop, shop->name) != 0)
        g_ptr_array_add (planning->batch->said,
                         g_strdup_printf ("the published timetable is of shop \"%s\", and this run "
                                          "is given shop \"%s\"",
                                          published->shop, shop->name));
    if (published->places > 0 && (published->technicians != shop->technicians || published->places != shop->stations))
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("the published timetable is for %u technicians and %u bench places, this one is "
                             "for %u and %u",
                             published->technicians, published->places, shop->technicians, shop->stations));
}

static void
say_gone (Planning *planning)
{
    enum { MOST_NAMED = 8 };
    const GPtrArray *gone = planning->question->published->gone;
    GString *ids = g_string_new (NULL);

    for (guint i = 0; i < gone->len && i < MOST_NAMED; i++)
        g_string_append_printf (ids, "%s%s", i > 0 ? ", " : "", (const char *) gone->pdata[i]);
    if (gone->len > MOST_NAMED)
        g_string_append_printf (ids, " and %u more", gone->len - MOST_NAMED);
    if (gone->len > 0)
        g_ptr_array_add (
            planning->batch->said,
            g_strdup_printf ("%s: in the published timetable and not in this run; what %s not to be seen here",
                             ids->str, gone->len == 1 ? "it holds is" : "they hold is"));
    g_string_free (ids, TRUE);
}

void
replan_take (Planning *planning)
{
    planning->batch->replan = batch_replan_new (planning_units (planning));
    planning->batch->replan->published_end = published_end (planning->question->published);
    say_now (planning);
    say_shop (planning);
    say_gone (planning);
    records_count (planning);
}

/* ---- What is done, by whom it is said ---- */

static void
count_done (Planning *planning, guint unit)
{
    BatchReplan *replan = planning->batch->replan;
    const UnitPlan *plan = &planning->plans[unit];
    const BatchUnit *of = planning_unit (planning, unit);
    guint by_clock = 0, recorded = 0;

    for (guint i = 0; of->earlier != NULL && i < of->earlier->len; i++)
        by_clock += ((const BatchEarlier *) of->earlier->pdata[i])->done;
    for (guint i = 0; of->aside == ASIDE_NOT && i < of->tasks->len; i++) {
        const BatchTask *task = &g_array_index (of->tasks, BatchTask, i);

        by_clock += task->by_clock ? 1 : 0;
        recorded += task->done && !task->by_clock ? 1 : 0;
    }
    replan->clock_units += by_clock > 0 ? 1 : 0;
    replan->clock_steps += by_clock;
    replan->recorded_steps += recorded;
    if (of->aside == ASIDE_NOT && plan->under_way >= 0) {
        BatchUnderWay one = { unit, plan->done, !plan->has_record };
        g_array_append_val (replan->under_way, one);
    }
}

/* ---- Unit by unit ---- */

static const BatchTask *
task_now (const Planning *planning, guint unit, guint step)
{
    return &g_array_index (planning_unit (planning, unit)->tasks, BatchTask, step);
}

static guint
part_number_now (const Planning *planning, const BatchTask *task)
{
    return task->part >= 0 ? ((const BatchPart *) planning->batch->parts->pdata[task->part])->number : 0;
}

/* Steps of a route that is not gone on with, which were still to be done. */
static void
count_given_up (const Planning *planning, const PublishedUnit *published, BatchChange *change)
{
    for (guint i = published->tasks->len; i-- > 0;) {
        const PublishedTask *was = &g_array_index (published->tasks, PublishedTask, i);

        if (was->ends > planning->question->now) {
            change->moved += was->start.apart && was->start.step_ends > planning->question->now ? 2 : 1;
            change->first = i;
        }
    }
}

static ChangeWhy
why_left (const UnitPlan *plan)
{
    return !plan->anew || plan->refused ? LEFT_REFUSED : plan->wants_lost != G_MAXUINT ? LEFT_LOST : LEFT_RECORD;
}

static gboolean
start_moved (const LastStart *was, const LastStart *is)
{
    return is->apart != was->apart || is->begins != was->begins;
}

static void
compare_tasks (const Planning *planning, guint unit, BatchChange *change)
{
    const GArray *published = planning->plans[unit].published->tasks;

    for (guint i = published->len; i-- > 0;) {
        const PublishedTask *was = &g_array_index (published, PublishedTask, i);
        const BatchTask *is = task_now (planning, unit, i);
        gboolean elsewhere = is->technician != was->technician || is->place != was->place ||
                             is->start.technician != was->start.technician ||
                             part_number_now (planning, is) != was->part_number;
        guint moved = (is->begins != was->begins ? 1 : 0) + (start_moved (&was->start, &is->start) ? 1 : 0);

        if (is->done || (moved == 0 && !elsewhere))
            continue;
        if (moved > 0) {
            change->kind = CHANGE_TIMES;
            change->moved += moved;
            change->first = i;
        } else if (change->kind == CHANGE_NONE) {
            change->kind = CHANGE_NUMBERS;
            change->first = i;
        }
    }
}

static BatchChange
change_of (const Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];
    const BatchUnit *of = planning_unit (planning, unit);
    gboolean was = plan->published != NULL && plan->published->tasks->len > 0;
    BatchChange change = { was ? plan->published : NULL, .kind = CHANGE_NONE, .by = G_MAXUINT, .part = -1,
                           .lost = G_MAXUINT };

    if (!was) {
        change.kind = of->aside == ASIDE_NOT ? CHANGE_NEW : CHANGE_NONE;
    } else if (of->aside != ASIDE_NOT) {
        change.kind = CHANGE_ASIDE;
        count_given_up (planning, plan->published, &change);
    } else if (plan->anew || plan->keeps < 0 || of->mode != (guint) plan->keeps) {
        change.kind = CHANGE_ROUTE;
        change.why = why_left (plan);
        change.lost = plan->wants_lost;
        count_given_up (planning, plan->published, &change);
    } else {
        compare_tasks (planning, unit, &change);
    }
    return change;
}

/* A start at the end that is a task of its own counts as one. */
static guint
published_tasks (const PublishedUnit *published)
{
    const GArray *tasks = published != NULL ? published->tasks : NULL;

    return tasks == NULL || tasks->len == 0
               ? 0
               : tasks->len + (g_array_index (tasks, PublishedTask, tasks->len - 1).start.apart ? 1 : 0);
}

void
replan_compare (Planning *planning)
{
    Batch *batch = planning->batch;
    BatchReplan *replan = batch->replan;
    Reasons *reasons = reasons_new (planning);

    found_collect (planning);
    g_autofree gboolean *fresh = found_fresh (batch);
    for (guint i = 0; i < planning_units (planning); i++) {
        BatchChange *change = &replan->changes[i];

        *change = change_of (planning, i);
        /* What the words mean nobody knows before a person has read them: it is not as it was. */
        if (change->kind == CHANGE_NONE && fresh[i])
            change->kind = CHANGE_FOUND;
        if (change->kind == CHANGE_TIMES)
            reasons_find (reasons, i, change);
        batch->moved += change->moved;
        replan->changed += change->kind != CHANGE_NONE ? 1 : 0;
        replan->published += published_tasks (planning->plans[i].published);
        count_done (planning, i);
    }
    reasons_free (reasons);
}
