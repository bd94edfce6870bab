/* SPDX-License-Identifier: MIT */
/* An independent reading of a schedule: plain loops over the model, nothing that the search uses. */
#include "batch/timetable.h"

typedef struct {
    gint64 at, amount; /* what becomes more (or less) in use at that moment */
    guint resource, job;
} Change;

static const Mode *
mode_of (const Timetable *timetable, const Schedule *schedule, guint job)
{
    const Job *one = g_ptr_array_index (timetable->jobs, job);
    return schedule->mode[job] < one->modes->len ? g_ptr_array_index (one->modes, schedule->mode[job]) : NULL;
}

static gint64
end_of (const Mode *mode, const gint64 *start, guint task)
{
    return start[task] + g_array_index (mode->tasks, Task, task).duration;
}

static gboolean
lies_in_a_shift (const Calendar *calendar, gint64 from, gint64 to)
{
    /* Shifts are many where jobs are many: the last one that begins by `from` is looked for by halving. */
    guint low = 0, high = calendar->shifts->len;
    if (high == 0)
        return TRUE;
    while (low < high) {
        guint middle = (low + high) / 2;
        if (g_array_index (calendar->shifts, Window, middle).from <= from)
            low = middle + 1;
        else
            high = middle;
    }
    return low > 0 && to <= g_array_index (calendar->shifts, Window, low - 1).to;
}

/* The first break that [from, to) overlaps; NULL: none. */
static const Window *
break_in (const Calendar *calendar, gint64 from, gint64 to)
{
    guint low = 0, high = calendar->breaks->len;
    while (low < high) {
        guint middle = (low + high) / 2;
        if (g_array_index (calendar->breaks, Window, middle).to <= from)
            low = middle + 1;
        else
            high = middle;
    }
    if (from >= to || low == calendar->breaks->len)
        return NULL;
    const Window *window = &g_array_index (calendar->breaks, Window, low);
    return window->from < to ? window : NULL;
}

static char *
check_hours (const Timetable *timetable, const Task *task, gint64 start)
{
    if (start < task->not_before)
        return g_strdup_printf ("begins at %" G_GINT64_FORMAT ", and must not before %" G_GINT64_FORMAT, start,
                                task->not_before);
    if (!lies_in_a_shift (&timetable->calendar, start, start + task->duration))
        return g_strdup_printf ("runs from %" G_GINT64_FORMAT " to %" G_GINT64_FORMAT ", not within one shift", start,
                                start + task->duration);
    const Window *pause = break_in (&timetable->calendar, start, start + task->attended);
    if (pause != NULL)
        return g_strdup_printf ("is attended from %" G_GINT64_FORMAT " to %" G_GINT64_FORMAT
                                ", over the break at %" G_GINT64_FORMAT,
                                start, start + task->attended, pause->from);
    return NULL;
}

static char *
check_task (const Timetable *timetable, const Mode *mode, const gint64 *start, guint index)
{
    const Task *task = &g_array_index (mode->tasks, Task, index);
    if (start[index] < 0)
        return g_strdup ("begins before the batch does");
    for (guint i = 0; task->after != NULL && i < task->after->len; i++) {
        guint after = g_array_index (task->after, guint, i);
        if (start[index] < end_of (mode, start, after))
            return g_strdup_printf ("begins at %" G_GINT64_FORMAT ", before task %u ends at %" G_GINT64_FORMAT,
                                    start[index], after + 1, end_of (mode, start, after));
    }
    if (task->fixed < 0)
        return check_hours (timetable, task, start[index]);
    if (start[index] != task->fixed)
        return g_strdup_printf ("begins at %" G_GINT64_FORMAT ", but it began at %" G_GINT64_FORMAT, start[index],
                                task->fixed);
    return NULL;
}

static char *
check_jobs (const Timetable *timetable, const Schedule *schedule)
{
    guint left_out = 0;
    for (guint i = 0; i < timetable->jobs->len; i++) {
        const Mode *mode = mode_of (timetable, schedule, i);
        if (mode == NULL && schedule->mode[i] != G_MAXUINT)
            return g_strdup_printf ("job %u is done in a way that does not exist", i + 1);
        left_out += mode == NULL;
        for (guint k = 0; mode != NULL && k < mode->tasks->len; k++) {
            g_autofree char *wrong = check_task (timetable, mode, schedule->start[i], k);
            if (wrong != NULL)
                return g_strdup_printf ("job %u: task %u %s", i + 1, k + 1, wrong);
        }
    }
    if (left_out != schedule->left_out)
        return g_strdup_printf ("%u jobs are left out, not %u", left_out, schedule->left_out);
    return NULL;
}

static void
add_use (GArray *changes, guint resource, guint job, gint64 from, gint64 to, gint64 amount)
{
    Change begin = { from, amount, resource, job }, end = { to, -amount, resource, job };
    if (from >= to)
        return;
    g_array_append_val (changes, begin);
    g_array_append_val (changes, end);
}

static void
add_changes (const Timetable *timetable, const Mode *mode, guint job, const gint64 *start, GArray *changes)
{
    for (guint i = 0; i < mode->spans->len; i++) {
        const Span *span = &g_array_index (mode->spans, Span, i);
        add_use (changes, span->resource, job, start[span->first] + span->lead,
                 end_of (mode, start, span->last) - span->tail, span->amount);
    }
    for (guint i = 0; i < mode->gains->len; i++) {
        const Gain *gain = &g_array_index (mode->gains, Gain, i);
        Change more = { end_of (mode, start, gain->task) - gain->early, -(gint64) gain->amount, gain->resource, job };
        g_array_append_val (changes, more);
    }
    for (guint i = 0; timetable->hands >= 0 && i < mode->tasks->len; i++)
        add_use (changes, (guint) timetable->hands, job, start[i],
                 start[i] + g_array_index (mode->tasks, Task, i).attended, 1);
}

/* By resource, then time; at one moment what is given back comes first. */
static int
compare_changes (gconstpointer a, gconstpointer b)
{
    const Change *left = a, *right = b;
    if (left->resource != right->resource)
        return left->resource < right->resource ? -1 : 1;
    if (left->at != right->at)
        return left->at < right->at ? -1 : 1;
    return (left->amount > right->amount) - (left->amount < right->amount);
}

static char *
check_capacity (const Timetable *timetable, const Schedule *schedule)
{
    g_autoptr (GArray) changes = g_array_new (FALSE, FALSE, sizeof (Change));
    gint64 used = 0;
    for (guint i = 0; i < timetable->jobs->len; i++) {
        const Mode *mode = mode_of (timetable, schedule, i);
        if (mode != NULL)
            add_changes (timetable, mode, i, schedule->start[i], changes);
    }
    g_array_sort (changes, compare_changes);
    for (guint i = 0; i < changes->len; i++) {
        const Change *change = &g_array_index (changes, Change, i);
        const Resource *resource = g_ptr_array_index (timetable->resources, change->resource);
        if (i == 0 || change[-1].resource != change->resource)
            used = 0;
        used += change->amount;
        if (change->amount > 0 && used > (gint64) resource->capacity)
            return g_strdup_printf ("job %u: at %" G_GINT64_FORMAT " there is not enough of %s", change->job + 1,
                                    change->at, resource->name);
    }
    return NULL;
}

/* Of one job, whatever mode it is done in. */
static guint64
count_moved (const Job *job, guint mode_used, const gint64 *start)
{
    guint64 moved = 0;
    for (guint m = 0; m < job->modes->len; m++) {
        const Mode *mode = g_ptr_array_index (job->modes, m);
        for (guint k = 0; k < mode->tasks->len; k++) {
            gint64 published = g_array_index (mode->tasks, Task, k).published;
            moved += published >= 0 && (m != mode_used || start[k] != published);
        }
    }
    return moved;
}

static void
add_cost (const Job *job, const Mode *mode, const gint64 *start, TimetableCost *cost)
{
    gint64 end = 0;
    for (guint k = 0; k < mode->tasks->len; k++) {
        end = MAX (end, end_of (mode, start, k));
        cost->attended += g_array_index (mode->tasks, Task, k).attended;
    }
    cost->finish = MAX (cost->finish, end);
    cost->insertions += mode->insertions;
    if (job->due >= 0 && end > job->due)
        cost->lateness += (end - job->due) * job->weight;
}

static char *
check_cost (const Timetable *timetable, const Schedule *schedule)
{
    TimetableCost cost = { 0 };
    for (guint i = 0; i < timetable->jobs->len; i++) {
        const Job *job = g_ptr_array_index (timetable->jobs, i);
        const Mode *mode = mode_of (timetable, schedule, i);
        cost.moved += count_moved (job, schedule->mode[i], schedule->start[i]);
        if (mode != NULL)
            add_cost (job, mode, schedule->start[i], &cost);
    }
    if (timetable_cost_compare (&cost, &schedule->cost) != 0)
        return g_strdup_printf ("the cost is %" G_GINT64_FORMAT " late, ends at %" G_GINT64_FORMAT
                                ", %" G_GUINT64_FORMAT " moved, %" G_GUINT64_FORMAT " insertions, %" G_GINT64_FORMAT
                                " attended: not what the schedule says",
                                cost.lateness, cost.finish, cost.moved, cost.insertions, cost.attended);
    return NULL;
}

char *
timetable_check (const Timetable *timetable, const Schedule *schedule)
{
    if (schedule->jobs != timetable->jobs->len)
        return g_strdup_printf ("the schedule has %u jobs, the timetable %u", schedule->jobs, timetable->jobs->len);
    char *wrong = check_jobs (timetable, schedule);
    if (wrong == NULL)
        wrong = check_capacity (timetable, schedule);
    return wrong != NULL ? wrong : check_cost (timetable, schedule);
}
