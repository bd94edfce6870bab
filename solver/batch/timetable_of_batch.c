/* SPDX-License-Identifier: MIT */
/* A batch as a timetable: docs/batch.md, "From a route to the timetable". */
#include "batch/plan.h"

/* One job while it is made. */
typedef struct {
    Planning *planning;
    Mapping *mapping;
    guint unit;
    const UnitPlan *plan;
    const BatchMode *mode;
    guint first;    /* step of the mode that its first task begins with */
    guint skip;     /* tasks before that: the marker, or none */
    GArray *blocks; /* Block; owned; one per task behind those */
    GArray *times;  /* StepTime; owned; of all the mode's steps */
    Mode *made;
} Making;

void
mapping_free (Mapping *mapping)
{
    if (mapping == NULL)
        return;
    g_free (mapping->resource_of_pool);
    g_array_unref (mapping->unit_of_job);
    g_ptr_array_unref (mapping->modes_of_job);
    g_free (mapping);
}

gint64
planning_begin (const Planning *planning)
{
    return planning->question->published != NULL ? planning->question->now : 0;
}

static gboolean
holds_loaners (const Unit *unit)
{
    for (guint s = 0; s < unit->board->slots->len; s++)
        if (unit->fitted[s].part != NULL && unit->fitted[s].owner == OWNER_LOAN)
            return TRUE;
    return FALSE;
}

gboolean
plan_has_marker (const Planning *planning, guint unit, const BatchMode *mode)
{
    const UnitPlan *plan = &planning->plans[unit];

    return plan->done < mode->steps->len && plan->under_way < 0 &&
           (plan->done > 0 || plan->unit != planning_unit (planning, unit)->unit || holds_loaners (plan->unit));
}

/* ---- Tasks ---- */

static gint64
published_begin (const Making *making, guint step)
{
    const PublishedUnit *published = making->plan->published;
    gboolean same = published != NULL && making->plan->keeps >= 0 && step < published->tasks->len;

    return same ? g_array_index (published->tasks, PublishedTask, step).begins : -1;
}

/* Whoever has seen the last step's end has not seen the start: it may be still to come, at its published time. */
static void
place_last_start (const Making *making, Task *task)
{
    const LastStart *published = plan_published_start (making->plan);

    task->published = published != NULL ? published->begins : -1;
    if (published != NULL && making->plan->under_way >= 0 && making->plan->done + 1 == making->mode->steps->len &&
        published->begins < planning_begin (making->planning))
        task->fixed = published->begins;
}

static void
add_task (const Making *making, const Block *block)
{
    gboolean begun = block->first == making->plan->done && making->plan->under_way >= 0;
    guint index = timetable_add_task (making->made, block->duration,
                                      begun && making->plan->no_hand ? 0 : block->attended);
    Task *task = &g_array_index (making->made->tasks, Task, index);

    task->not_before = planning_begin (making->planning);
    task->published = published_begin (making, block->first);
    if (block->first == making->plan->done)
        task->fixed = making->plan->under_way;
    if (block->steps == 0)
        place_last_start (making, task);
    if (index > 0)
        timetable_add_after (making->made, index, index - 1);
}

static void
add_marker (const Making *making)
{
    guint index = timetable_add_task (making->made, 0, 0);

    g_array_index (making->made->tasks, Task, index).fixed = planning_begin (making->planning);
}

/* ---- What is held ---- */

/* The task of a step; what lies before the first one began before the timetable does. */
static guint
task_of_step (const Making *making, guint step)
{
    return step == G_MAXUINT || step < making->first ? 0 : block_of_step (making->blocks, step) + making->skip;
}

/* How long after the beginning of its task a step begins, or (end) before its end it is over; less than all of the task. */
static gint64
part_of_task (const Making *making, guint step, gboolean end)
{
    if (step == G_MAXUINT || step < making->first)
        return 0;
    const Block *block = &g_array_index (making->blocks, Block, block_of_step (making->blocks, step));
    gint64 part = 0;

    for (guint i = end ? step + 1 : block->first; i < (end ? block->first + block->steps : step); i++)
        part += g_array_index (making->times, StepTime, i).duration;
    return MIN (part, MAX (block->duration - 1, 0));
}

static gint64
task_duration (const Making *making, guint task)
{
    return g_array_index (making->made->tasks, Task, task).duration;
}

/* From the beginning of the step that fits it to the end of the one that takes it out. */
static void
add_loaner (const Making *making, const Holding *holding)
{
    Span *span = timetable_add_span (making->made, making->mapping->resource_of_pool[holding->pool], 1,
                                     task_of_step (making, holding->fit), task_of_step (making, holding->remove));

    span->lead = part_of_task (making, holding->fit, FALSE);
    span->tail = part_of_task (making, holding->remove, TRUE);
    if (span->first == span->last) /* steps that take no time: something is left between them all the same */
        span->tail = CLAMP (task_duration (making, span->last) - span->lead - 1, 0, span->tail);
}

static void
add_loaners (const Making *making)
{
    g_autoptr (GArray) holdings = mode_holdings (making->planning, making->plan->unit, making->mode->steps);

    for (guint i = 0; i < holdings->len; i++) {
        const Holding *holding = &g_array_index (holdings, Holding, i);

        if (holding->owner == OWNER_LOAN && holding->remove != G_MAXUINT && holding->remove >= making->first)
            add_loaner (making, holding);
    }
}

/* Nobody holds a place for a unit that waits to be worked on again; nor is one counted for what is let be, up to its end. This span is
 * the job's first one. */
static void
add_place (const Making *making)
{
    gboolean from_marker =
        making->skip > 0 && !making->plan->parked && (making->plan->done > 0 || making->plan->has_record);
    guint first = from_marker ? 0 : making->skip, last = making->made->tasks->len - 1;

    if (making->plan->no_place && first == last)
        timetable_add_span (making->made, making->mapping->beside, 1, first, last);
    else
        timetable_add_span (making->made, making->mapping->places, 1, making->plan->no_place ? first + 1 : first, last);
}

static void
add_gifts (const Making *making, const ModeDraws *draws)
{
    for (guint i = 0; i < draws->gives->len; i++) {
        const Give *give = &g_array_index (draws->gives, Give, i);
        guint resource = making->mapping->resource_of_pool[give->pool];

        if (give->step >= making->first && resource != G_MAXUINT &&
            !gift_is_lost (making->planning, give->pool, making->unit, give->step))
            timetable_add_gain (making->made, resource, 1, task_of_step (making, give->step))->early =
                part_of_task (making, give->step, TRUE);
    }
}

static void
add_mode (Making *making, Job *job, guint mode)
{
    const BatchMode *of = class_mode (planning_class (making->planning, making->plan->class), mode);

    making->mode = of;
    making->made = timetable_add_mode (job);
    making->made->insertions = of->walk->insertions;
    making->first = making->plan->done;
    making->skip = plan_has_marker (making->planning, making->unit, of) ? 1 : 0;
    if (making->skip > 0)
        add_marker (making);
    making->blocks = unit_blocks (making->planning, making->unit, of, making->mapping->stretch);
    making->times = mode_times (of, making->planning->shop);
    for (guint i = 0; i < making->blocks->len; i++)
        add_task (making, &g_array_index (making->blocks, Block, i));
    add_place (making);
    add_loaners (making);
    add_gifts (making, planning_draws (making->planning, making->plan->class, mode));
    g_clear_pointer (&making->blocks, g_array_unref);
    g_clear_pointer (&making->times, g_array_unref);
}

/* ---- Which modes are open ---- */

static gboolean
draws_are_within (const GArray *draws, const GArray *whole)
{
    for (guint i = 0; i < draws->len; i++) {
        const Draw *draw = &g_array_index (draws, Draw, i);
        gboolean found = FALSE;

        for (guint k = 0; k < whole->len; k++) {
            const Draw *other = &g_array_index (whole, Draw, k);
            found |= other->pool == draw->pool && other->amount >= draw->amount;
        }
        if (!found)
            return FALSE;
    }
    return TRUE;
}

static const Pool *
pool_at (const Planning *planning, guint pool)
{
    return &g_array_index (planning->pools, Pool, pool);
}

/* What it borrows of gifts is given earlier in the order of ranks than what it gives. */
static gboolean
borrows_below_gifts (const Planning *planning, const ModeDraws *draws)
{
    int borrowed = 0, given = G_MAXINT;

    for (guint i = 0; i < draws->lent->len; i++) {
        const Draw *draw = &g_array_index (draws->lent, Draw, i);

        if (pool_at (planning, draw->pool)->lot.count < draw->amount)
            borrowed = MAX (borrowed, pool_at (planning, draw->pool)->rank);
    }
    for (guint i = 0; i < draws->gives->len; i++)
        given = MIN (given, pool_at (planning, g_array_index (draws->gives, Give, i).pool)->rank);
    return borrowed == 0 || borrowed < given;
}

/* Those that get by with the stock that is kept for the unit's own mode; that one first. Transfer full. */
static GArray *
open_modes (const Planning *planning, guint unit, gboolean by_rank)
{
    const UnitPlan *plan = &planning->plans[unit];
    const BatchClass *class = planning_class (planning, plan->class);
    guint kept = (guint) plan->mode;
    const ModeDraws *draws = planning_draws (planning, plan->class, kept);
    GArray *open = g_array_new (FALSE, FALSE, sizeof (guint));

    g_array_append_val (open, kept);
    if (plan->keeps >= 0 || plan_has_marker (planning, unit, class_mode (class, kept)))
        return open;
    for (guint m = 0; m < class->modes->len; m++) {
        const ModeDraws *other = planning_draws (planning, plan->class, m);

        if (m != kept && other->possible && draws_are_within (other->stock, draws->stock) &&
            (!by_rank || borrows_below_gifts (planning, other)))
            g_array_append_val (open, m);
    }
    if (by_rank && open->len > 1 && !borrows_below_gifts (planning, draws))
        g_array_remove_index (open, 0);
    return open;
}

static void
add_job (Planning *planning, Mapping *mapping, guint unit, gboolean by_rank)
{
    const UnitPlan *plan = &planning->plans[unit];
    Making making = { .planning = planning, .mapping = mapping, .unit = unit, .plan = plan };
    GArray *open = open_modes (planning, unit, by_rank);
    Job *job = timetable_add_job (planning->batch->timetable);

    /* What was due before is late from the first moment on: to the timetable it is due then. The lateness that this leaves out is
     * the same for every timetable. */
    job->due = plan->due == BATCH_NOT_DUE ? -1 : MAX (plan->due, 0);
    job->weight = MAX (plan->unit->priority, 1);
    for (guint i = 0; i < open->len; i++)
        add_mode (&making, job, g_array_index (open, guint, i));
    g_array_index (planning->batch->job_of_unit, guint, unit) = mapping->unit_of_job->len;
    g_array_append_val (mapping->unit_of_job, unit);
    g_ptr_array_add (mapping->modes_of_job, open);
}

/* ---- The whole ---- */

static void
add_resources (Planning *planning, Mapping *mapping)
{
    Timetable *timetable = planning->batch->timetable;

    mapping->hands = timetable_add_resource (timetable, "technicians", MAX (planning->shop->technicians, 1));
    mapping->places = timetable_add_resource (timetable, "bench places", MAX (planning->shop->stations, 1));
    timetable->hands = (int) mapping->hands;
    mapping->beside = G_MAXUINT;
    for (guint i = 0; i < planning_units (planning) && mapping->beside == G_MAXUINT; i++)
        if (planning->plans[i].no_place)
            mapping->beside = timetable_add_resource (timetable, "no bench place", planning_units (planning));
    mapping->resource_of_pool = g_new (guint, planning->pools->len + 1);
    for (guint i = 0; i < planning->pools->len; i++) {
        const Lot *lot = &pool_at (planning, i)->lot;
        g_autofree char *name = g_strdup_printf ("%s %s", lot->part->name, lot->stepping != NULL ? lot->stepping : "");

        mapping->resource_of_pool[i] =
            lot->owner == OWNER_LOAN
                ? timetable_add_resource (timetable, g_strstrip (name), lot->count + planning_given (planning, i))
                : G_MAXUINT;
    }
}

/* Four times what one pair of hands would take: a task of a good half of what lies between two breaks leaves the rest idle. */
static gint64
work_in_all (const Planning *planning)
{
    const Timetable *timetable = planning->batch->timetable;
    gint64 work = 0;

    for (guint i = 0; i < timetable->jobs->len; i++) {
        const Job *job = timetable->jobs->pdata[i];
        gint64 most = 0;

        for (guint m = 0; m < job->modes->len; m++) {
            const Mode *mode = job->modes->pdata[m];
            gint64 length = 0;

            for (guint t = 0; t < mode->tasks->len; t++)
                length += g_array_index (mode->tasks, Task, t).duration;
            most = MAX (most, length);
        }
        work += most;
    }
    return 4 * work + planning_begin (planning);
}

static gboolean
is_to_be_done (const Planning *planning, guint unit)
{
    const UnitPlan *plan = &planning->plans[unit];

    return planning_unit (planning, unit)->aside == ASIDE_NOT &&
           plan->done < class_mode (planning_class (planning, plan->class), (guint) plan->mode)->steps->len;
}

Mapping *
timetable_of_batch (Planning *planning, gboolean by_rank)
{
    Batch *batch = planning->batch;
    Mapping *mapping = g_new0 (Mapping, 1);
    g_autofree guint *order = planning_order (planning);

    g_clear_pointer (&batch->timetable, timetable_free);
    batch->timetable = timetable_new ();
    mapping->stretch = planning_stretch (planning);
    mapping->unit_of_job = g_array_new (FALSE, FALSE, sizeof (guint));
    mapping->modes_of_job = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
    add_resources (planning, mapping);
    for (guint i = 0; i < planning_units (planning); i++) {
        g_array_index (batch->job_of_unit, guint, order[i]) = G_MAXUINT;
        if (is_to_be_done (planning, order[i]))
            add_job (planning, mapping, order[i], by_rank);
    }
    calendar_fill (&batch->timetable->calendar, planning->shop, &planning->question->clock, work_in_all (planning));
    return mapping;
}
