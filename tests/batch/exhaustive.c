/* SPDX-License-Identifier: MIT */
/* At each moment at which something ends or opens, any set of tasks that may begin then begins; then on to the next such moment.
 * Where a use begins later than its task, what it waits for may end long after the task has to begin: such a task begins at any
 * time. Two ways to the same moment with the same things running and done differ in lateness alone: only the better one goes on. */
#include "exhaustive.h"

#include <string.h>

enum { NOT_BEGUN = -1, MOST_TASKS = 64 };

typedef struct {
    const Timetable *timetable;
    const gboolean *wanted;
    guint jobs, tasks[MOST_TASKS]; /* per job: the most tasks of a mode */
    guint mode[MOST_TASKS];
    gint64 start[MOST_TASKS][8];
    gint64 horizon; /* nothing begins later: it could begin sooner */
    TimetableCost best;
    gboolean found;
    GHashTable *seen; /* what is running and done -> the least lateness on the way there */
    guint64 states;
} World;

static const Mode *
mode_at (const World *world, guint job, guint mode)
{
    return g_ptr_array_index (((const Job *) g_ptr_array_index (world->timetable->jobs, job))->modes, mode);
}

static const Task *
task_at (const Mode *mode, guint task)
{
    return &g_array_index (mode->tasks, Task, task);
}

static gboolean
is_over (const World *world, const Mode *mode, guint job, guint task, gint64 now)
{
    gint64 start = world->start[job][task];
    return start != NOT_BEGUN && start + task_at (mode, task)->duration <= now;
}

static gboolean
begins_late (const Mode *mode, guint task)
{
    gboolean late = FALSE;
    for (guint i = 0; i < mode->spans->len; i++) {
        const Span *span = &g_array_index (mode->spans, Span, i);
        late |= span->first == task && span->lead > 0;
    }
    return late;
}

static gint64
span_begin (const World *world, guint job, const Span *span)
{
    gint64 start = world->start[job][span->first];
    return start == NOT_BEGUN ? G_MAXINT64 : start + span->lead;
}

static gint64
span_end (const World *world, const Mode *mode, guint job, const Span *span)
{
    gint64 start = world->start[job][span->last];
    return start == NOT_BEGUN ? G_MAXINT64 : start + task_at (mode, span->last)->duration - span->tail;
}

static gint64
gain_time (const World *world, const Mode *mode, guint job, const Gain *gain)
{
    gint64 start = world->start[job][gain->task];
    return start == NOT_BEGUN ? G_MAXINT64 : start + task_at (mode, gain->task)->duration - gain->early;
}

/* How much of a resource is left at this moment, of what has begun by now. */
static gint64
left_of (const World *world, guint resource, gint64 now)
{
    gint64 left = ((const Resource *) g_ptr_array_index (world->timetable->resources, resource))->capacity;
    for (guint j = 0; j < world->jobs; j++) {
        if (world->mode[j] == G_MAXUINT)
            continue;
        const Mode *mode = mode_at (world, j, world->mode[j]);
        for (guint i = 0; i < mode->spans->len; i++) {
            const Span *span = &g_array_index (mode->spans, Span, i);
            if (span->resource == resource && span_begin (world, j, span) <= now &&
                now < span_end (world, mode, j, span))
                left -= span->amount;
        }
        for (guint i = 0; i < mode->gains->len; i++) {
            const Gain *gain = &g_array_index (mode->gains, Gain, i);
            if (gain->resource == resource && gain_time (world, mode, j, gain) <= now)
                left += gain->amount;
        }
        for (guint k = 0; world->timetable->hands == (int) resource && k < mode->tasks->len; k++) {
            gint64 start = world->start[j][k];
            left -= start != NOT_BEGUN && start <= now && now < start + task_at (mode, k)->attended;
        }
    }
    return left;
}

static gboolean
is_open (const Calendar *calendar, const Task *task, gint64 now)
{
    gboolean open = calendar->shifts->len == 0;
    for (guint i = 0; i < calendar->shifts->len; i++) {
        const Window *shift = &g_array_index (calendar->shifts, Window, i);
        open |= shift->from <= now && now + task->duration <= shift->to;
    }
    for (guint i = 0; i < calendar->breaks->len; i++) {
        const Window *pause = &g_array_index (calendar->breaks, Window, i);
        open &= task->attended == 0 || !(now < pause->to && pause->from < now + task->attended);
    }
    return open;
}

static gboolean
may_begin (const World *world, guint job, guint mode_index, guint index, gint64 now)
{
    const Mode *mode = mode_at (world, job, mode_index);
    if (index >= mode->tasks->len || world->start[job][index] != NOT_BEGUN || !world->wanted[job] ||
        (world->mode[job] != G_MAXUINT && world->mode[job] != mode_index))
        return FALSE;
    const Task *task = task_at (mode, index);
    for (guint i = 0; task->after != NULL && i < task->after->len; i++) {
        if (!is_over (world, mode, job, g_array_index (task->after, guint, i), now))
            return FALSE;
    }
    return now >= task->not_before && is_open (&world->timetable->calendar, task, now);
}

static gboolean
nothing_is_short (const World *world, gint64 now)
{
    for (guint r = 0; r < world->timetable->resources->len; r++) {
        if (left_of (world, r, now) < 0)
            return FALSE;
    }
    return TRUE;
}

/* Everything has begun: what is yet to be held is there too. */
static gboolean
nothing_will_be_short (const World *world)
{
    for (guint j = 0; j < world->jobs; j++) {
        const Mode *mode = world->mode[j] == G_MAXUINT ? NULL : mode_at (world, j, world->mode[j]);
        for (guint i = 0; mode != NULL && i < mode->spans->len; i++) {
            const Span *span = &g_array_index (mode->spans, Span, i);
            if (left_of (world, span->resource, span_begin (world, j, span)) < 0)
                return FALSE;
        }
    }
    return TRUE;
}

static void
note_sooner (gint64 time, gint64 now, gint64 *next)
{
    if (time > now && time < *next)
        *next = time;
}

static void
note_uses (const World *world, const Mode *mode, guint job, gint64 now, gint64 *next)
{
    for (guint i = 0; i < mode->spans->len; i++) {
        note_sooner (span_begin (world, job, &g_array_index (mode->spans, Span, i)), now, next);
        note_sooner (span_end (world, mode, job, &g_array_index (mode->spans, Span, i)), now, next);
    }
    for (guint i = 0; i < mode->gains->len; i++)
        note_sooner (gain_time (world, mode, job, &g_array_index (mode->gains, Gain, i)), now, next);
}

/* When something next ends, opens or begins to be held. late: or the very next time, where a task that may begin at any is left. */
static gint64
next_moment (const World *world, gint64 now, gboolean late)
{
    const Calendar *calendar = &world->timetable->calendar;
    gint64 next = G_MAXINT64;
    for (guint i = 0; i < calendar->shifts->len; i++)
        note_sooner (g_array_index (calendar->shifts, Window, i).from, now, &next);
    for (guint i = 0; i < calendar->breaks->len; i++)
        note_sooner (g_array_index (calendar->breaks, Window, i).to, now, &next);
    for (guint j = 0; j < world->jobs; j++) {
        const Job *job = g_ptr_array_index (world->timetable->jobs, j);
        for (guint m = 0; m < job->modes->len; m++) {
            const Mode *mode = mode_at (world, j, m);
            if (world->mode[j] == m)
                note_uses (world, mode, j, now, &next);
            for (guint k = 0; k < mode->tasks->len; k++) {
                gint64 start = world->start[j][k];
                gboolean open = world->wanted[j] && (world->mode[j] == G_MAXUINT || world->mode[j] == m);
                note_sooner (task_at (mode, k)->not_before, now, &next);
                if (late && open && start == NOT_BEGUN && begins_late (mode, k) && now < world->horizon)
                    note_sooner (now + 1, now, &next);
                if (world->mode[j] != m || start == NOT_BEGUN)
                    continue;
                note_sooner (start + task_at (mode, k)->duration, now, &next);
                note_sooner (start + task_at (mode, k)->attended, now, &next);
            }
        }
    }
    return next;
}

/* The cost of what has begun. settled: the lateness of jobs all of which has begun; whole: that is every job. */
static TimetableCost
cost_so_far (const World *world, gint64 *settled, gboolean *whole)
{
    TimetableCost cost = { 0 };
    *settled = 0;
    *whole = TRUE;
    for (guint j = 0; j < world->jobs; j++) {
        const Job *job = g_ptr_array_index (world->timetable->jobs, j);
        gint64 end = 0;
        gboolean all = TRUE;
        if (world->mode[j] == G_MAXUINT) {
            *whole &= !world->wanted[j];
            continue;
        }
        const Mode *mode = mode_at (world, j, world->mode[j]);
        cost.insertions += mode->insertions;
        for (guint k = 0; k < mode->tasks->len; k++) {
            cost.attended += task_at (mode, k)->attended;
            all &= world->start[j][k] != NOT_BEGUN;
            if (world->start[j][k] != NOT_BEGUN)
                end = MAX (end, world->start[j][k] + task_at (mode, k)->duration);
        }
        cost.finish = MAX (cost.finish, end);
        *whole &= all;
        gint64 lateness = job->due >= 0 && end > job->due ? (end - job->due) * job->weight : 0;
        cost.lateness += lateness;
        *settled += all ? lateness : 0;
    }
    return cost;
}

/* What is running and done, from this moment on; what is over is over, whenever. */
static char *
describe (const World *world, gint64 now)
{
    GString *text = g_string_new (NULL);
    g_string_append_printf (text, "%" G_GINT64_FORMAT, now);
    for (guint j = 0; j < world->jobs; j++) {
        g_string_append_printf (text, "|%d", (int) world->mode[j]);
        for (guint k = 0; world->mode[j] != G_MAXUINT && k < world->tasks[j]; k++) {
            const Mode *mode = mode_at (world, j, world->mode[j]);
            if (k < mode->tasks->len && is_over (world, mode, j, k, now))
                g_string_append (text, ",+");
            else
                g_string_append_printf (text, ",%" G_GINT64_FORMAT, world->start[j][k]);
        }
    }
    return g_string_free (text, FALSE);
}

/* FALSE: the same was reached before, no later. */
static gboolean
is_news (World *world, gint64 now, gint64 lateness)
{
    char *key = describe (world, now);
    gint64 *before = g_hash_table_lookup (world->seen, key);
    if (before != NULL && *before <= lateness) {
        g_free (key);
        return FALSE;
    }
    g_hash_table_insert (world->seen, key, g_memdup2 (&lateness, sizeof lateness));
    return TRUE;
}

static void at_moment (World *world, gint64 now, guint from);

/* Nothing more begins now. */
static void
go_on (World *world, gint64 now)
{
    gboolean whole;
    gint64 settled;
    TimetableCost cost = cost_so_far (world, &settled, &whole);
    if (whole && nothing_will_be_short (world) && (!world->found || timetable_cost_compare (&cost, &world->best) < 0)) {
        world->best = cost;
        world->found = TRUE;
    }
    cost.insertions = 0;
    cost.attended = 0;
    gint64 next = next_moment (world, now, TRUE);
    if (whole || next == G_MAXINT64 || (world->found && timetable_cost_compare (&cost, &world->best) > 0))
        return;
    if (is_news (world, next, settled))
        at_moment (world, next, 0);
}

/* Every set of tasks that may begin now, those from number `from` on still to be decided. */
static void
at_moment (World *world, gint64 now, guint from)
{
    guint number = 0;
    gboolean any = now == 0 || next_moment (world, now - 1, FALSE) == now;
    world->states++;
    if (from == 0 && !nothing_is_short (world, now))
        return;
    for (guint j = 0; j < world->jobs; j++) {
        const Job *job = g_ptr_array_index (world->timetable->jobs, j);
        for (guint m = 0; m < job->modes->len; m++) {
            for (guint k = 0; k < mode_at (world, j, m)->tasks->len; k++, number++) {
                guint before = world->mode[j];
                if (number < from || !may_begin (world, j, m, k, now) ||
                    !(any || begins_late (mode_at (world, j, m), k)))
                    continue;
                world->mode[j] = m;
                world->start[j][k] = now;
                if (nothing_is_short (world, now))
                    at_moment (world, now, number + 1);
                world->mode[j] = before;
                world->start[j][k] = NOT_BEGUN;
            }
        }
    }
    go_on (world, now);
}

/* One after another all is done by then. */
static gint64
last_begin (const Timetable *timetable)
{
    const GArray *shifts = timetable->calendar.shifts, *breaks = timetable->calendar.breaks;
    gint64 latest = 0, work = 0;
    for (guint j = 0; j < timetable->jobs->len; j++) {
        const Job *job = g_ptr_array_index (timetable->jobs, j);
        for (guint m = 0; m < job->modes->len; m++) {
            const Mode *mode = g_ptr_array_index (job->modes, m);
            for (guint k = 0; k < mode->tasks->len; k++) {
                latest = MAX (latest, task_at (mode, k)->not_before);
                work += task_at (mode, k)->duration;
            }
        }
    }
    if (breaks->len > 0)
        latest = MAX (latest, g_array_index (breaks, Window, breaks->len - 1).to);
    return shifts->len > 0 ? g_array_index (shifts, Window, shifts->len - 1).to : latest + work;
}

gboolean
try_everything (const Timetable *timetable, const gboolean *wanted, TimetableCost *best, guint64 *states)
{
    g_autofree World *world = g_new0 (World, 1);
    world->timetable = timetable;
    world->wanted = wanted;
    world->jobs = timetable->jobs->len;
    world->horizon = last_begin (timetable);
    world->seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
    for (guint j = 0; j < world->jobs; j++) {
        const Job *job = g_ptr_array_index (timetable->jobs, j);
        world->mode[j] = G_MAXUINT;
        for (guint m = 0; m < job->modes->len; m++)
            world->tasks[j] = MAX (world->tasks[j], mode_at (world, j, m)->tasks->len);
        for (guint k = 0; k < G_N_ELEMENTS (world->start[j]); k++)
            world->start[j][k] = NOT_BEGUN;
    }
    at_moment (world, 0, 0);
    *best = world->best;
    *states = world->states;
    g_hash_table_unref (world->seen);
    return world->found;
}
