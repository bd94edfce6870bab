/* SPDX-License-Identifier: MIT */
/* Numbers that were published stay: who does it, at which place, with which loaner.
 *
 * Uses of a resource lie in lanes, one per number, and from any moment on at which two lanes are free they may change
 * places: what follows in both goes along. So each use in turn brings the number that it had into its lane, if that is free. */
#include "batch/bench.h"
#include "batch/plan.h"

typedef struct {
    gint64 from, to;
    guint resource, wished; /* G_MAXUINT: any */
    guint *number;          /* borrowed from the assignment */
    const guint *like;      /* the number of an earlier use, wished before that; NULL: none; borrowed likewise */
    guint held;             /* since before the timetable begins; 2: by a unit that stands open; 0: not */
} Use;

static int
compare_uses (gconstpointer a, gconstpointer b)
{
    const Use *left = a, *right = b;
    if (left->resource != right->resource)
        return left->resource < right->resource ? -1 : 1;
    if (left->from != right->from)
        return left->from < right->from ? -1 : 1;
    /* What is in a unit already keeps its number before one that is fitted at that moment gets it; any will do for the rest. */
    if (left->held != right->held)
        return left->held > right->held ? -1 : 1;
    return (left->wished == G_MAXUINT) - (right->wished == G_MAXUINT);
}

static void
add_use (GArray *uses, const Schedule *schedule, const Mode *mode, guint job, const Span *span, guint *number,
         guint wished, guint held)
{
    const gint64 *start = schedule->start[job];
    Use use = { start[span->first] + span->lead,
                start[span->last] + g_array_index (mode->tasks, Task, span->last).duration - span->tail,
                span->resource,
                wished,
                number,
                NULL,
                held };

    if (use.to > use.from)
        g_array_append_val (uses, use);
}

static const PublishedTask *
published_task (const UnitPlan *plan, guint step)
{
    return plan->published != NULL && plan->keeps >= 0 && step < plan->published->tasks->len
               ? &g_array_index (plan->published->tasks, PublishedTask, step)
               : NULL;
}

static guint
wished_loaner (const Planning *planning, const UnitPlan *plan, const Holding *holding)
{
    const PublishedTask *was = published_task (plan, holding->fit != G_MAXUINT ? holding->fit : holding->remove);

    if (holding->fit == G_MAXUINT && plan->held != NULL)
        return lane_of_number (planning, holding->pool, plan->held[holding->slot]);
    return was != NULL ? lane_of_number (planning, holding->pool, was->part_number) : G_MAXUINT;
}

/* Where it is, if it is on the bench; else where it was published to go on. */
static guint
wished_place (const Planning *planning, const UnitPlan *plan)
{
    const PublishedTask *next = published_task (plan, plan->done);
    gboolean on_the_bench = unit_has_begun (plan) && !plan->parked && plan->under_way < 0;

    if (next != NULL && !on_the_bench)
        return next->place;
    return unit_has_begun (plan) ? bench_last_place (plan->published, plan->done, planning->question->now) : G_MAXUINT;
}

static guint
holds_place (const UnitPlan *plan)
{
    gboolean held = !plan->parked && (plan->done > 0 || plan->has_record);

    return !held ? 0 : plan->stands_open ? 2 : 1;
}

static void
add_span_uses (const Planning *planning, const Mapping *mapping, const Assignment *assignment, guint job, GArray *uses)
{
    guint index = g_array_index (mapping->unit_of_job, guint, job), at = 1;
    const UnitPlan *plan = &planning->plans[index];
    const Schedule *schedule = planning->batch->schedule;
    const Mode *mode = ((Job *) planning->batch->timetable->jobs->pdata[job])->modes->pdata[schedule->mode[job]];
    guint used = g_array_index ((GArray *) mapping->modes_of_job->pdata[job], guint, schedule->mode[job]);
    g_autoptr (GArray) holdings =
        mode_holdings (planning, plan->unit, class_mode (planning_class (planning, plan->class), used)->steps);

    add_use (uses, schedule, mode, job, &g_array_index (mode->spans, Span, 0), &assignment->span_units[job][0][0],
             wished_place (planning, plan), holds_place (plan));
    for (guint i = 0; i < holdings->len; i++) {
        const Holding *holding = &g_array_index (holdings, Holding, i);

        if (holding->owner != OWNER_LOAN || holding->remove == G_MAXUINT || holding->remove < plan->done)
            continue;
        add_use (uses, schedule, mode, job, &g_array_index (mode->spans, Span, at), &assignment->span_units[job][at][0],
                 wished_loaner (planning, plan, holding), holding->fit == G_MAXUINT || holding->fit < plan->done ? 1 : 0);
        at++;
    }
}

/* Who was to do it; G_MAXUINT: nobody, or it was not published. */
static guint
published_hand (const UnitPlan *plan, const Block *block)
{
    const PublishedTask *was = published_task (plan, block->first);
    const LastStart *start = block->steps == 0 ? plan_published_start (plan) : NULL;

    return start != NULL ? start->technician : was != NULL ? was->technician : G_MAXUINT;
}

static void
add_hand_uses (const Planning *planning, const Mapping *mapping, const Assignment *assignment, guint job, GArray *uses)
{
    guint index = g_array_index (mapping->unit_of_job, guint, job);
    const UnitPlan *plan = &planning->plans[index];
    const Schedule *schedule = planning->batch->schedule;
    const Mode *mode = ((Job *) planning->batch->timetable->jobs->pdata[job])->modes->pdata[schedule->mode[job]];
    guint used = g_array_index ((GArray *) mapping->modes_of_job->pdata[job], guint, schedule->mode[job]);
    g_autoptr (GArray) blocks =
        unit_blocks (planning, index, class_mode (planning_class (planning, plan->class), used), mapping->stretch);
    guint skip = mode->tasks->len - blocks->len;
    const guint *before = NULL;

    for (guint i = 0; i < blocks->len; i++) {
        const Block *block = &g_array_index (blocks, Block, i);
        guint wished = published_hand (plan, block);
        gint64 from = schedule->start[job][skip + i];
        Use use = { from,
                    from + block->attended,
                    mapping->hands,
                    wished,
                    &assignment->task_hand[job][skip + i],
                    block->goes_on || wished == G_MAXUINT ? before : NULL,
                    0 };

        if (use.to > use.from) {
            g_array_append_val (uses, use);
            before = use.number;
        }
    }
}

/* The lanes of one resource: what each is called from here on, and until when what is so called is in use. */
static void
rename_lanes (GArray *uses, guint from, guint to, guint lanes)
{
    g_autofree guint *name = g_new (guint, lanes + 1);
    g_autofree gint64 *busy_until = g_new0 (gint64, lanes + 1);

    for (guint i = 0; i < lanes; i++)
        name[i] = i;
    for (guint u = from; u < to; u++) {
        Use *use = &g_array_index (uses, Use, u);
        guint lane = *use->number, wished = use->like != NULL ? *use->like : use->wished;

        if (lane >= lanes)
            continue;
        if (wished < lanes && wished != name[lane] && busy_until[wished] <= use->from) {
            guint other = 0;

            while (name[other] != wished)
                other++;
            name[other] = name[lane];
            name[lane] = wished;
        }
        *use->number = name[lane];
        busy_until[name[lane]] = use->to;
    }
}

/* What is given later on is numbered as it is given: only what there is at first changes its lanes. */
void
numbers_keep (Planning *planning, const Mapping *mapping, Assignment *assignment)
{
    const Timetable *timetable = planning->batch->timetable;
    g_autoptr (GArray) uses = g_array_new (FALSE, FALSE, sizeof (Use));

    g_hash_table_remove_all (planning->given); /* from here on nobody is held back or set aside any more */
    for (guint j = 0; j < planning->batch->schedule->jobs; j++)
        if (planning->batch->schedule->mode[j] != G_MAXUINT) {
            add_span_uses (planning, mapping, assignment, j, uses);
            add_hand_uses (planning, mapping, assignment, j, uses);
        }
    g_array_sort (uses, compare_uses);
    for (guint from = 0, to = 0; from < uses->len; from = to) {
        guint resource = g_array_index (uses, Use, from).resource;

        while (to < uses->len && g_array_index (uses, Use, to).resource == resource)
            to++;
        rename_lanes (uses, from, to, ((Resource *) timetable->resources->pdata[resource])->capacity);
    }
}
