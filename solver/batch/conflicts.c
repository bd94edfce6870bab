/* SPDX-License-Identifier: MIT */
/* Everything, where a use begins within its task: then no order of tasks need give a best timetable. All begin as early as what is
 * known of them lets them; the first moment at which more is held than there is has to go one way or another, and each way is
 * followed. Docs/timetable.md, "Everything". */
#include "batch/conflicts.h"

#include <string.h>

/* ---- As early as it can be ---- */

static gboolean
push_edges (const Conflicts *all, gint64 *start)
{
    gboolean pushed = FALSE;
    for (guint i = 0; i < all->edges->len; i++) {
        const Edge *edge = &g_array_index (all->edges, Edge, i);
        if (start[edge->from] + edge->weight <= start[edge->to])
            continue;
        start[edge->to] = start[edge->from] + edge->weight;
        pushed = TRUE;
    }
    return pushed;
}

/* closed: some find nobody at work. FALSE: one of them can't begin any more. */
static gboolean
push_hours (const Conflicts *all, gint64 *start, gboolean *closed)
{
    const Flat *flat = all->flat;
    for (guint i = 0; i < flat->jobs; i++) {
        const FlatMode *mode = all->mode[i] == G_MAXUINT ? NULL : &flat->mode[all->mode[i]];
        for (guint k = mode == NULL ? 0 : mode->first; mode != NULL && k < mode->first + mode->tasks; k++) {
            const FlatTask *task = &flat->task[k];
            gint64 open = task->fixed >= 0
                              ? task->fixed
                              : calendar_earliest (flat->calendar, start[k], task->duration, task->attended);
            if (open < start[k] || open > all->latest)
                return FALSE;
            *closed |= open > start[k];
            start[k] = open;
        }
    }
    return TRUE;
}

/* FALSE too where the edges go round in a circle that each round makes longer: else each round settles one task for good. */
static gboolean
push_all (const Conflicts *all, gint64 *start)
{
    gboolean again = TRUE;
    for (guint rounds = 0; again && rounds <= all->tasks + 1; rounds++) {
        gboolean closed = FALSE;
        again = push_edges (all, start);
        if (!push_hours (all, start, &closed))
            return FALSE;
        again |= closed;
        rounds = closed ? 0 : rounds;
    }
    return !again;
}

static TimetableCost
cost_of (const Conflicts *all, const gint64 *start)
{
    const Flat *flat = all->flat;
    TimetableCost cost = { 0 };
    for (guint i = 0; i < flat->jobs; i++) {
        const FlatMode *mode = all->mode[i] == G_MAXUINT ? NULL : &flat->mode[all->mode[i]];
        gint64 end = 0;
        if (mode == NULL)
            continue;
        for (guint k = mode->first; k < mode->first + mode->tasks; k++)
            end = MAX (end, start[k] + flat->task[k].duration);
        cost.finish = MAX (cost.finish, end);
        cost.insertions += mode->insertions;
        cost.attended += mode->attended;
        if (flat->job[i].due >= 0 && end > flat->job[i].due)
            cost.lateness += (end - flat->job[i].due) * flat->job[i].weight;
    }
    return cost;
}

static gboolean
is_better (const Conflicts *all, const TimetableCost *cost)
{
    const Draft *best = all->search->best;
    return best->left_out > all->search->never_count || timetable_cost_compare (cost, &best->cost) < 0;
}

/* ---- The search ---- */

/* By beginning, each behind what it is after. */
static void
fill_list (const Conflicts *all, const gint64 *start, Draft *draft)
{
    const Flat *flat = all->flat;
    draft->count = 0;
    for (guint i = 0; i < flat->jobs; i++) {
        draft->mode[i] = all->mode[i];
        for (guint k = 0; all->mode[i] != G_MAXUINT && k < flat->mode[all->mode[i]].tasks; k++) {
            guint task = flat->order[flat->mode[all->mode[i]].first + k], at = draft->count++;
            for (; at > 0 && start[draft->list[at - 1]] > start[task]; at--)
                draft->list[at] = draft->list[at - 1];
            draft->list[at] = task;
        }
    }
    draft->left_out = all->search->never_count;
    memset (draft->keep, 0, flat->tasks);
}

static void
take_answer (const Conflicts *all, const gint64 *start, const TimetableCost *cost)
{
    Search *search = all->search;
    fill_list (all, start, search->best);
    search->best->cost = search->best->sought = *cost;
    search_note_starts (search, start);
}

/* What is later than the best, though nothing is late, is no better. */
static void
fill_latest (Conflicts *all)
{
    const Flat *flat = all->flat;
    const Calendar *calendar = flat->calendar;
    const Draft *best = all->search->best;
    gint64 latest = 0, work = 0;
    if (best->left_out == all->search->never_count && best->cost.lateness == 0) {
        all->latest = best->cost.finish;
        return;
    }
    for (guint i = 0; i < flat->tasks; i++) {
        latest = MAX (latest, MAX (flat->task[i].not_before, flat->task[i].fixed));
        work += flat->task[i].duration;
    }
    if (calendar->breaks->len > 0)
        latest = MAX (latest, g_array_index (calendar->breaks, Window, calendar->breaks->len - 1).to);
    if (calendar->shifts->len > 0)
        latest = MAX (latest, g_array_index (calendar->shifts, Window, calendar->shifts->len - 1).to);
    all->latest = latest + work;
}

/* were: beginnings without the edges that came last. */
static void
look (Conflicts *all, const gint64 *were)
{
    g_autofree gint64 *start = g_memdup2 (were, (all->flat->tasks + 1) * sizeof *start);
    g_autoptr (GArray) uses = g_array_new (FALSE, FALSE, sizeof (guint));
    guint edges = all->edges->len;
    gint64 moment;
    if (all->gave_up || (all->gave_up = all->left < all->tasks || search_is_over (all->search)))
        return;
    all->left -= all->tasks;
    fill_latest (all);
    if (!push_all (all, start))
        return;
    TimetableCost cost = cost_of (all, start);
    if (!is_better (all, &cost))
        return;
    if (!conflicts_find (all, start, uses, &moment)) {
        take_answer (all, start, &cost);
        return;
    }
    g_autoptr (GArray) ways = conflicts_ways_out (all, start, uses, moment);
    for (guint i = 0; i < ways->len; i++) {
        const Way *way = &g_array_index (ways, Way, i);
        g_array_append_val (all->edges, way->edge);
        look (all, start);
        g_array_set_size (all->edges, all->edges->len - 1);
        g_array_append_val (all->edges, way->instead); /* this way was tried: the next ones are without it */
    }
    g_array_set_size (all->edges, edges);
}

static void
add_job (Conflicts *all, guint job)
{
    const Flat *flat = all->flat;
    const FlatMode *mode = &flat->mode[all->mode[job]];
    guint twin = all->twin[job];
    all->tasks += mode->tasks;
    search_add_held (all->search, all->mode[job], all->held, all->gains);
    for (guint k = mode->first; k < mode->first + mode->tasks; k++) {
        for (guint i = 0; i < flat->task[k].befores; i++) {
            guint before = flat_befores (flat, &flat->task[k])[i];
            Edge edge = { before, k, flat->task[before].duration };
            g_array_append_val (all->edges, edge);
        }
    }
    /* Of two jobs that are the same in everything the first begins first. */
    if (twin != G_MAXUINT && all->mode[twin] - flat->job[twin].first == all->mode[job] - flat->job[job].first) {
        Edge edge = { flat->order[flat->mode[all->mode[twin]].first], flat->order[mode->first], 0 };
        g_array_append_val (all->edges, edge);
    }
}

/* With all modes chosen. */
static void
look_at_modes (Conflicts *all)
{
    const Flat *flat = all->flat;
    g_autofree gint64 *start = g_new0 (gint64, flat->tasks + 1);
    g_array_set_size (all->edges, 0);
    g_array_set_size (all->held, 0);
    g_array_set_size (all->gains, 0);
    all->tasks = 0;
    for (guint i = 0; i < flat->tasks; i++)
        start[i] = flat->task[i].fixed >= 0 ? flat->task[i].fixed : MAX (flat->task[i].head, 0);
    for (guint i = 0; i < flat->jobs; i++) {
        if (all->mode[i] != G_MAXUINT)
            add_job (all, i);
    }
    look (all, start);
}

static void
choose_modes (Conflicts *all, guint job)
{
    const Flat *flat = all->flat;
    while (job < flat->jobs && all->search->never[job])
        job++;
    if (job == flat->jobs) {
        look_at_modes (all);
        return;
    }
    guint twin = all->twin[job];
    guint least = twin != G_MAXUINT ? all->mode[twin] - flat->job[twin].first : 0;
    for (guint m = least; m < flat->job[job].modes && !all->gave_up; m++) {
        all->mode[job] = flat->job[job].first + m;
        if (flat->mode[all->mode[job]].shortest_end != NEVER)
            choose_modes (all, job + 1);
    }
    all->mode[job] = G_MAXUINT;
}

void
search_conflicts (Search *search, guint64 most_placed)
{
    const Flat *flat = search->flat;
    g_autofree guint *mode = g_new (guint, flat->jobs + 1), *twin = g_new (guint, flat->jobs + 1);
    g_autoptr (GArray) edges = g_array_new (FALSE, FALSE, sizeof (Edge));
    g_autoptr (GArray) held = g_array_new (FALSE, FALSE, sizeof (HeldUse));
    g_autoptr (GArray) gains = g_array_new (FALSE, FALSE, sizeof (HeldUse));
    Conflicts all = {
        .search = search, .flat = flat, .edges = edges, .held = held, .gains = gains, .left = most_placed
    };
    all.mode = mode;
    all.twin = twin;
    flat_fill_twins (flat, search->never, twin);
    for (guint i = 0; i < flat->jobs; i++)
        mode[i] = G_MAXUINT;
    choose_modes (&all, 0);
    search->tried += (most_placed - all.left) / MAX (flat->tasks, 1);
    search->all_proved = !all.gave_up && search->best->left_out == search->never_count;
}
