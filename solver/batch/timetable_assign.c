/* SPDX-License-Identifier: MIT */
/* Which unit of a resource each use takes: uses in the order of their beginning, each the lowest numbers that are free; a task
 * the hand that did the task before it of the same job, where that is free. With capacities kept this never runs out, because
 * intervals need no more numbers than overlap at once: a new number is only taken where all are busy that were in use. */
#include "batch/timetable.h"

typedef struct {
    gint64 from, to;
    guint resource, amount;
    guint order;       /* in which it was collected: by job, spans before tasks */
    guint *units;      /* borrowed from the assignment: `amount` places */
    const guint *like; /* the number of an earlier use, taken if it is free; NULL: any; borrowed likewise */
} Use;

typedef struct {
    gint64 to;
    guint unit;
} Busy;

/* By resource, then beginning; ties as they were collected. */
static int
compare_uses (gconstpointer a, gconstpointer b)
{
    const Use *left = a, *right = b;
    if (left->resource != right->resource)
        return left->resource < right->resource ? -1 : 1;
    if (left->from != right->from)
        return left->from < right->from ? -1 : 1;
    return (left->order > right->order) - (left->order < right->order);
}

/* A heap of busy units by when they are free again, and one of free numbers: so ten thousand uses cost no more than a sort. */
static void
heap_rise (GArray *heap, guint at)
{
    Busy *items = (Busy *) (void *) heap->data;
    while (at > 0 && items[(at - 1) / 2].to > items[at].to) {
        Busy other = items[(at - 1) / 2];
        items[(at - 1) / 2] = items[at];
        items[at] = other;
        at = (at - 1) / 2;
    }
}

static void
heap_push (GArray *heap, Busy busy)
{
    g_array_append_val (heap, busy);
    heap_rise (heap, heap->len - 1);
}

static Busy
heap_pop (GArray *heap)
{
    Busy *items = (Busy *) (void *) heap->data, top = items[0];
    items[0] = items[heap->len - 1];
    g_array_set_size (heap, heap->len - 1);
    for (guint at = 0; 2 * at + 1 < heap->len;) {
        guint child = 2 * at + 1;
        child += child + 1 < heap->len && items[child + 1].to < items[child].to;
        if (items[at].to <= items[child].to)
            break;
        Busy other = items[child];
        items[child] = items[at];
        items[at] = other;
        at = child;
    }
    return top;
}

/* The number that is liked, out of the free ones; else the lowest. Linear in those that are free, which are no more than were
 * ever busy at once. */
static guint
take_free (GArray *free_units, const guint *like)
{
    guint at = 0;

    while (like != NULL && at < free_units->len && g_array_index (free_units, Busy, at).unit != *like)
        at++;
    if (like == NULL || at == free_units->len)
        return heap_pop (free_units).unit;
    g_array_index (free_units, Busy, at).to = -1; /* to the top, and off */
    heap_rise (free_units, at);
    return heap_pop (free_units).unit;
}

/* `free_units` is a heap too, its numbers standing in for times. */
static void
take_units (const Use *use, GArray *busy, GArray *free_units, guint *next)
{
    while (busy->len > 0 && g_array_index (busy, Busy, 0).to <= use->from) {
        Busy back = heap_pop (busy);
        heap_push (free_units, (Busy){ back.unit, back.unit });
    }
    for (guint i = 0; i < use->amount; i++) {
        if (use->from == use->to) { /* it takes no time, so it overlaps nothing */
            use->units[i] = i;
            continue;
        }
        use->units[i] = free_units->len > 0 ? take_free (free_units, use->like) : (*next)++;
        heap_push (busy, (Busy){ use->to, use->units[i] });
    }
}

static void
add_job_uses (const Timetable *timetable, const Mode *mode, const gint64 *start, guint **span_units, guint *hands,
              GArray *uses)
{
    for (guint i = 0; i < mode->spans->len; i++) {
        const Span *span = &g_array_index (mode->spans, Span, i);
        gint64 to = start[span->last] + g_array_index (mode->tasks, Task, span->last).duration - span->tail;
        Use use = { start[span->first] + span->lead, to, span->resource, span->amount, uses->len, span_units[i], NULL };
        g_array_append_val (uses, use);
    }
    const guint *before = NULL;
    for (guint i = 0; i < mode->tasks->len; i++) {
        const Task *task = &g_array_index (mode->tasks, Task, i);
        hands[i] = G_MAXUINT;
        Use use = { start[i], start[i] + task->attended, (guint) timetable->hands, 1, uses->len, &hands[i], before };
        if (timetable->hands >= 0 && task->attended > 0) {
            g_array_append_val (uses, use);
            before = &hands[i];
        }
    }
}

static void
assign_job (const Timetable *timetable, const Schedule *schedule, guint job, Assignment *assignment, GArray *uses)
{
    const Job *one = g_ptr_array_index (timetable->jobs, job);
    const Mode *mode = g_ptr_array_index (one->modes, schedule->mode[job]);
    guint units = 0;
    for (guint i = 0; i < mode->spans->len; i++)
        units += g_array_index (mode->spans, Span, i).amount;
    /* One block per job: the hands of its tasks, then the units of its spans. */
    guint *block = g_new0 (guint, mode->tasks->len + units + 1), *next = block + mode->tasks->len;
    guint **spans = g_new0 (guint *, mode->spans->len + 1);
    for (guint i = 0; i < mode->spans->len; i++) {
        spans[i] = next;
        next += g_array_index (mode->spans, Span, i).amount;
    }
    assignment->task_hand[job] = block;
    assignment->span_units[job] = spans;
    add_job_uses (timetable, mode, schedule->start[job], spans, block, uses);
}

Assignment *
timetable_assign (const Timetable *timetable, const Schedule *schedule)
{
    Assignment *assignment = g_new0 (Assignment, 1);
    g_autoptr (GArray) uses = g_array_new (FALSE, FALSE, sizeof (Use));
    g_autoptr (GArray) busy = g_array_new (FALSE, FALSE, sizeof (Busy));
    g_autoptr (GArray) free_units = g_array_new (FALSE, FALSE, sizeof (Busy));
    guint next = 0;
    assignment->jobs = schedule->jobs;
    assignment->task_hand = g_new0 (guint *, schedule->jobs + 1);
    assignment->span_units = g_new0 (guint **, schedule->jobs + 1);
    for (guint i = 0; i < schedule->jobs; i++) {
        if (schedule->mode[i] != G_MAXUINT)
            assign_job (timetable, schedule, i, assignment, uses);
    }
    g_array_sort (uses, compare_uses);
    for (guint i = 0; i < uses->len; i++) {
        const Use *use = &g_array_index (uses, Use, i);
        if (i == 0 || use[-1].resource != use->resource) {
            g_array_set_size (busy, 0);
            g_array_set_size (free_units, 0);
            next = 0;
        }
        take_units (use, busy, free_units, &next);
    }
    return assignment;
}

void
assignment_free (Assignment *assignment)
{
    if (assignment == NULL)
        return;
    for (guint i = 0; i < assignment->jobs; i++) {
        g_free (assignment->task_hand[i]);
        g_free (assignment->span_units[i]);
    }
    g_free (assignment->task_hand);
    g_free (assignment->span_units);
    g_free (assignment);
}
