/* SPDX-License-Identifier: MIT */
/* What no timetable can be better than. Each part by itself. Docs/timetable.md, "Bound". */
#include "batch/search.h"

#include <math.h>

enum { MOST_THRESHOLDS = 64, MOST_LOOKS = 3000000 };

/* Work on one resource: not before `head`, and with `tail` after it. */
typedef struct {
    gint64 head, tail, work;
    guint mode;
} Piece;

/* The pieces of one resource, by job, then mode; either those that lie within shifts, or with all that is held at any hour. */
typedef struct {
    const Flat *flat;
    GArray *pieces; /* Piece */
    gboolean in_shifts, hands;
    gint64 most; /* of the resource, ever */
} Load;

/* The longest way from the beginning of `from` to the end of each task after it; -1: not after it. */
static void
fill_ways (const Flat *flat, const FlatMode *mode, guint from, gint64 *way)
{
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        const FlatTask *task = &flat->task[flat->order[i]];
        gint64 longest = flat->order[i] == from ? 0 : -1;
        for (guint k = 0; k < task->befores; k++)
            longest = MAX (longest, way[flat_befores (flat, task)[k] - mode->first]);
        way[flat->order[i] - mode->first] = longest < 0 ? -1 : longest + task->duration;
    }
}

/* Whether the task closes a span like it: how long before its own end, at most and at least. */
static gboolean
closes_span (const Flat *flat, const FlatTask *task, const FlatUse *open, gint64 *most, gint64 *least)
{
    const FlatUse *close = flat_closes (flat, task);
    gboolean closes = FALSE;
    for (guint i = 0; i < task->closes; i++) {
        gint64 rest = task->duration - close[i].lead;
        if (close[i].resource != open->resource || close[i].amount != open->amount)
            continue;
        *most = closes ? MAX (*most, rest) : rest;
        *least = closes ? MIN (*least, rest) : rest;
        closes = TRUE;
    }
    return closes;
}

/* A span over several tasks. Which of the tasks that close one like it is its own is not noted: the nearest counts. */
static void
add_span (Load *load, const FlatMode *mode, guint first, const FlatUse *open)
{
    const Flat *flat = load->flat;
    g_autofree gint64 *way = g_new (gint64, mode->tasks);
    Piece piece = { flat->task[first].head + open->lead, G_MAXINT64, G_MAXINT64, flat->task[first].mode };
    fill_ways (flat, mode, first, way);
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        gint64 most, least;
        if (i == first || way[i - mode->first] < 0 || !closes_span (flat, &flat->task[i], open, &most, &least))
            continue;
        piece.work = MIN (piece.work, (way[i - mode->first] - open->lead - most) * open->amount);
        piece.tail = MIN (piece.tail, flat->task[i].tail + least);
    }
    g_array_append_val (load->pieces, piece);
}

static void
add_pieces (Load *load, guint index, guint resource)
{
    const Flat *flat = load->flat;
    const FlatMode *mode = &flat->mode[index];
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        const FlatTask *task = &flat->task[i];
        const FlatUse *use = flat_holds (flat, task);
        for (guint k = 0; k < task->holds; k++, use++) {
            if (use->resource != resource || (load->in_shifts && (task->fixed >= 0 || use->length == FOR_GOOD)))
                continue;
            if (use->length == FOR_GOOD) {
                add_span (load, mode, i, use);
                continue;
            }
            Piece piece = { task->head + use->lead, task->duration - use->lead - use->length + task->tail,
                            use->length * use->amount, index };
            g_array_append_val (load->pieces, piece);
        }
    }
}

static gint64
after_work (const Load *load, gint64 from, gint64 work)
{
    gint64 time = (work + load->most - 1) / load->most;
    return load->in_shifts ? calendar_after_work (load->flat->calendar, from, time, load->hands) : from + time;
}

/* The least work of all jobs in pieces that begin no earlier than `head` and have at least `tail` after them: the best mode each. */
static gint64
least_work (const Load *load, gint64 head, gint64 tail, const guint *always)
{
    const Flat *flat = load->flat;
    gint64 sum = 0, least = -1, of_mode = 0;
    guint job = G_MAXUINT, mode = G_MAXUINT, modes = 0;
    for (guint i = 0; i <= load->pieces->len; i++) {
        const Piece *piece = i < load->pieces->len ? &g_array_index (load->pieces, Piece, i) : NULL;
        if (piece == NULL || piece->mode != mode) {
            if (mode != G_MAXUINT) {
                least = least < 0 ? of_mode : MIN (least, of_mode);
                modes++;
            }
            of_mode = 0;
            mode = piece != NULL ? piece->mode : G_MAXUINT;
        }
        if (piece == NULL || flat->mode[piece->mode].job != job) {
            /* A mode without a piece needs nothing of the resource. */
            sum += job != G_MAXUINT && modes == always[job] ? least : 0;
            least = -1;
            modes = 0;
            job = piece != NULL ? flat->mode[piece->mode].job : G_MAXUINT;
        }
        if (piece != NULL && piece->head >= head && piece->tail >= tail)
            of_mode += piece->work;
    }
    return sum;
}

static int
compare_times (gconstpointer a, gconstpointer b)
{
    gint64 left = *(const gint64 *) a, right = *(const gint64 *) b;
    return (left > right) - (left < right);
}

/* Up to `most` of the different heads (or tails), evenly picked, the least among them. */
static GArray *
pick_thresholds (const Load *load, gboolean heads, guint most)
{
    GArray *all = g_array_new (FALSE, FALSE, sizeof (gint64));
    guint count = 0;
    for (guint i = 0; i < load->pieces->len; i++) {
        const Piece *piece = &g_array_index (load->pieces, Piece, i);
        g_array_append_val (all, *(heads ? &piece->head : &piece->tail));
    }
    g_array_sort (all, compare_times);
    gint64 *times = (gint64 *) (void *) all->data;
    for (guint i = 0; i < all->len; i++) {
        if (i == 0 || times[i] != times[count - 1])
            times[count++] = times[i];
    }
    for (guint i = 0; i < most && count > most; i++)
        times[i] = times[(guint64) i * count / most];
    g_array_set_size (all, MIN (count, most));
    return all;
}

static gint64
finish_of_load (const Load *load, const guint *always)
{
    guint most = (guint) CLAMP (sqrt ((double) MOST_LOOKS / (load->pieces->len + 1)), 1, MOST_THRESHOLDS);
    g_autoptr (GArray) heads = pick_thresholds (load, TRUE, most), tails = pick_thresholds (load, FALSE, most);
    gint64 finish = 0;
    for (guint h = 0; h < heads->len; h++) {
        for (guint t = 0; t < tails->len; t++) {
            gint64 head = g_array_index (heads, gint64, h), tail = g_array_index (tails, gint64, t);
            gint64 work = least_work (load, head, tail, always);
            gint64 end = work > 0 ? after_work (load, head, work) : 0;
            if (end != NEVER && work > 0)
                finish = MAX (finish, end + tail);
        }
    }
    return finish;
}

/* Per job with a due time: the least work that it has here. The k jobs that are over first have at least the work of the k that
 * have least; and ends in rising order are best paired with due times in rising order. */
static gint64
lateness_of_load (const Load *load, const guint *always)
{
    const Flat *flat = load->flat;
    g_autoptr (GArray) works = g_array_new (FALSE, FALSE, sizeof (gint64)),
                       dues = g_array_new (FALSE, FALSE, sizeof (gint64));
    g_autofree gint64 *work = g_new0 (gint64, flat->modes + 1);
    gint64 head = G_MAXINT64, tail = G_MAXINT64, weight = G_MAXINT64, sum = 0, lateness = 0;
    for (guint i = 0; i < load->pieces->len; i++) {
        const Piece *piece = &g_array_index (load->pieces, Piece, i);
        work[piece->mode] += piece->work;
        head = MIN (head, piece->head);
        tail = MIN (tail, piece->tail);
    }
    for (guint i = 0; i < flat->jobs; i++) {
        const FlatJob *job = &flat->job[i];
        gint64 least = G_MAXINT64;
        for (guint m = job->first; m < job->first + job->modes; m++)
            least = flat->mode[m].shortest_end == NEVER ? least : MIN (least, work[m]);
        if (job->due < 0 || always[i] == 0 || least == 0 || least == G_MAXINT64)
            continue;
        weight = MIN (weight, job->weight);
        g_array_append_val (works, least);
        g_array_append_val (dues, job->due);
    }
    g_array_sort (works, compare_times);
    g_array_sort (dues, compare_times);
    for (guint i = 0; i < works->len; i++) {
        sum += g_array_index (works, gint64, i);
        gint64 end = after_work (load, head, sum);
        if (end != NEVER)
            lateness += MAX (0, end + tail - g_array_index (dues, gint64, i)) * weight;
    }
    return lateness;
}

static void
bound_by_load (const Flat *flat, guint resource, gboolean in_shifts, const guint *always, TimetableCost *bound)
{
    g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (Piece));
    Load load = { flat, pieces, in_shifts, flat->hands == (int) resource, flat->most[resource] };
    if (load.most == 0)
        return;
    for (guint m = 0; m < flat->modes; m++) {
        if (flat->mode[m].shortest_end != NEVER)
            add_pieces (&load, m, resource);
    }
    /* Hands may be held by spans too, whose work goes on through breaks. */
    load.hands &= in_shifts && !flat->hands_in_spans;
    if (pieces->len == 0)
        return;
    bound->finish = MAX (bound->finish, finish_of_load (&load, always));
    if (flat->due)
        bound->lateness = MAX (bound->lateness, lateness_of_load (&load, always));
}

static void
bound_by_job (const Flat *flat, const FlatJob *job, TimetableCost *bound)
{
    gint64 end = NEVER, attended = G_MAXINT64;
    guint insertions = G_MAXUINT;
    for (guint m = job->first; m < job->first + job->modes; m++) {
        const FlatMode *mode = &flat->mode[m];
        if (mode->shortest_end == NEVER)
            continue;
        end = MIN (end, mode->shortest_end);
        insertions = MIN (insertions, mode->insertions);
        attended = MIN (attended, mode->attended);
    }
    bound->finish = MAX (bound->finish, end);
    bound->insertions += insertions;
    bound->attended += attended;
    if (job->due >= 0 && end > job->due)
        bound->lateness += (end - job->due) * job->weight;
}

void
timetable_bound (const Flat *flat, const gboolean *never, TimetableCost *bound)
{
    /* Per job, how many modes it may be done in; 0 where it is left out. */
    g_autofree guint *always = g_new0 (guint, flat->jobs + 1);
    *bound = (TimetableCost){ 0 };
    for (guint i = 0; i < flat->jobs; i++) {
        if (never[i])
            continue;
        bound_by_job (flat, &flat->job[i], bound);
        for (guint m = 0; m < flat->job[i].modes; m++)
            always[i] += flat->mode[flat->job[i].first + m].shortest_end != NEVER;
    }
    for (guint r = 0; r < flat->resources; r++) {
        bound_by_load (flat, r, TRUE, always, bound);
        bound_by_load (flat, r, FALSE, always, bound);
    }
}
