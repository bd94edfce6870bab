/* SPDX-License-Identifier: MIT */
/* Everything, where a use begins within its task: then no order of tasks need give a best timetable. All begin as early as what is
 * known of them lets them; the first moment at which more is held than there is has to go one way or another, and each way is
 * followed. Docs/timetable.md, "Everything". */
#include "batch/conflicts.h"

#include <string.h>

/* start[to] is at least start[from] + weight. */
typedef struct {
    guint from, to;
    gint64 weight;
} Edge;

/* One way out of a moment with too little: the edge, and the opposite of it for the ways behind this one. */
typedef struct {
    Edge edge, instead;
    gint64 push; /* by how much it delays, for a start */
} Way;

typedef struct {
    Search *search;
    const Flat *flat;
    GArray *edges; /* Edge */
    GArray *held;  /* HeldUse, of the modes chosen */
    GArray *gains; /* HeldUse; `first` is what gives it, from `back` after its beginning on */
    guint *mode;   /* per job; G_MAXUINT: left out */
    guint *twin;
    guint tasks;   /* of the modes chosen */
    guint64 left;  /* tasks that may still be placed */
    gint64 latest; /* no beginning of a timetable that counts is later */
    gboolean gave_up;
} Conflicts;

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

/* ---- The first moment with too little ---- */

static gint64
begin_of (const HeldUse *use, const gint64 *start)
{
    return start[use->first] + use->lead;
}

static gint64
end_of (const HeldUse *use, const gint64 *start)
{
    return start[use->last] + use->back;
}

static gint64
there_is (const Conflicts *all, guint resource, const gint64 *start, gint64 at)
{
    gint64 there = all->flat->capacity[resource];
    for (guint i = 0; i < all->gains->len; i++) {
        const HeldUse *gain = &g_array_index (all->gains, HeldUse, i);
        there += gain->resource == resource && end_of (gain, start) <= at ? gain->amount : 0;
    }
    return there;
}

/* Fills in which uses of the resource go on at the moment; returns how much they hold. */
static gint64
held_at (const Conflicts *all, guint resource, const gint64 *start, gint64 at, GArray *uses)
{
    gint64 sum = 0;
    g_array_set_size (uses, 0);
    for (guint i = 0; i < all->held->len; i++) {
        const HeldUse *use = &g_array_index (all->held, HeldUse, i);
        if (use->resource != resource || begin_of (use, start) > at || end_of (use, start) <= at)
            continue;
        g_array_append_val (uses, i);
        sum += use->amount;
    }
    return sum;
}

/* As few as are too many: any that the rest is too many without goes. */
static void
drop_needless (const Conflicts *all, GArray *uses, gint64 sum, gint64 there)
{
    for (guint i = uses->len; i-- > 0;) {
        gint64 amount = g_array_index (all->held, HeldUse, g_array_index (uses, guint, i)).amount;
        if (sum - amount <= there)
            continue;
        sum -= amount;
        g_array_remove_index (uses, i);
    }
}

/* FALSE: there is enough of all at every moment. */
static gboolean
find_conflict (const Conflicts *all, const gint64 *start, GArray *uses, gint64 *moment)
{
    guint resource = G_MAXUINT;
    *moment = NEVER;
    for (guint i = 0; i < all->held->len; i++) {
        const HeldUse *use = &g_array_index (all->held, HeldUse, i);
        gint64 at = begin_of (use, start);
        if (at >= *moment || end_of (use, start) <= at ||
            held_at (all, use->resource, start, at, uses) <= there_is (all, use->resource, start, at))
            continue;
        *moment = at;
        resource = use->resource;
    }
    if (resource == G_MAXUINT)
        return FALSE;
    gint64 sum = held_at (all, resource, start, *moment, uses);
    drop_needless (all, uses, sum, there_is (all, resource, start, *moment));
    return TRUE;
}

/* ---- The ways out of it ---- */

/* What is given back (or gained) after the beginning of one task is there when the use begins. */
static void
add_way (GArray *ways, const HeldUse *gives, const HeldUse *takes, const gint64 *start)
{
    gint64 weight = gives->back - takes->lead;
    Way way = { { gives->last, takes->first, weight },
                { takes->first, gives->last, 1 - weight },
                end_of (gives, start) - begin_of (takes, start) };
    g_array_append_val (ways, way);
}

static int
compare_ways (gconstpointer a, gconstpointer b)
{
    const Way *left = a, *right = b;
    return (left->push > right->push) - (left->push < right->push);
}

/* One of those uses is over when another begins, or something more is gained by then. */
static GArray *
ways_out (const Conflicts *all, const gint64 *start, const GArray *uses, gint64 moment)
{
    GArray *ways = g_array_new (FALSE, FALSE, sizeof (Way));
    for (guint k = 0; k < uses->len; k++) {
        const HeldUse *takes = &g_array_index (all->held, HeldUse, g_array_index (uses, guint, k));
        for (guint i = 0; i < uses->len; i++) {
            if (i != k)
                add_way (ways, &g_array_index (all->held, HeldUse, g_array_index (uses, guint, i)), takes, start);
        }
        for (guint i = 0; i < all->gains->len; i++) {
            const HeldUse *gain = &g_array_index (all->gains, HeldUse, i);
            if (gain->resource == takes->resource && end_of (gain, start) > moment)
                add_way (ways, gain, takes, start);
        }
    }
    g_array_sort (ways, compare_ways);
    return ways;
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
    if (!find_conflict (all, start, uses, &moment)) {
        take_answer (all, start, &cost);
        return;
    }
    g_autoptr (GArray) ways = ways_out (all, start, uses, moment);
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
