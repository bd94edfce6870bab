/* SPDX-License-Identifier: MIT */
/* Every order of tasks by rising beginnings, as far as it can still be better than the best. Docs/timetable.md, "Everything". */
#include "batch/search.h"

#include <string.h>

typedef struct {
    guint task;
    gint64 start;
} Choice;

typedef struct {
    Search *search; /* its next_chart is at work */
    const Flat *flat;
    Chart *chart;
    Chart *spare;  /* borrowed, as the rest */
    guint *mode;   /* per job; G_MAXUINT: not begun */
    guint *placed; /* in their order */
    guint count;
    guint *twin;  /* per job: the one before it that is the same; G_MAXUINT: none */
    guint64 left; /* tasks that may still be placed */
    gboolean gave_up;
} Everything;

/* The tasks of a mode that may come next. Returns when the first of them could be over that holds nothing any longer then. */
static gint64
add_choices (Everything *all, guint index, gint64 since, GArray *choices)
{
    const FlatMode *mode = &all->flat->mode[index];
    gint64 soonest = NEVER;
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        const FlatTask *task = &all->flat->task[i];
        if (all->chart->start[i] >= 0 || all->chart->waits[i] > 0)
            continue;
        Choice choice = { i, chart_earliest (all->chart, i) };
        if (choice.start == NEVER)
            continue;
        gboolean opens = FALSE;
        for (guint k = 0; k < task->holds; k++)
            opens |= flat_holds (all->flat, task)[k].length == FOR_GOOD;
        if (!opens)
            soonest = MIN (soonest, choice.start + task->duration);
        if (choice.start >= since)
            g_array_append_val (choices, choice);
    }
    return soonest;
}

/* Fills in what may come next, and returns the time by which it must have begun (see "Everything": else some task could be
 * done before it). */
static gint64
collect_choices (Everything *all, gint64 since, GArray *choices)
{
    gint64 before = NEVER;
    for (guint i = 0; i < all->flat->jobs; i++) {
        const FlatJob *job = &all->flat->job[i];
        guint twin = all->twin[i];
        if (all->search->never[i])
            continue;
        if (all->mode[i] != G_MAXUINT) {
            before = MIN (before, add_choices (all, all->mode[i], since, choices));
            continue;
        }
        if (twin != G_MAXUINT && all->mode[twin] == G_MAXUINT)
            continue;
        gint64 worst = 0;
        for (guint m = job->first; m < job->first + job->modes; m++) {
            if (all->flat->mode[m].shortest_end != NEVER)
                worst = MAX (worst, add_choices (all, m, since, choices));
        }
        before = MIN (before, worst);
    }
    return before;
}

/* When what is left of a mode is over, at least, if nothing begins before `since`. */
static gint64
least_end (const Everything *all, guint index, gint64 since)
{
    const FlatMode *mode = &all->flat->mode[index];
    gint64 end = mode->shortest_end;
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        const FlatTask *task = &all->flat->task[i];
        if (all->chart->start[i] >= 0) {
            end = MAX (end, all->chart->start[i] + task->duration + task->tail);
            continue;
        }
        gint64 head = MAX (MAX (since, task->head), all->chart->waits[i] == 0 ? all->chart->ready[i] : 0);
        head = calendar_earliest (all->flat->calendar, head, task->duration, task->attended);
        end = head == NEVER ? NEVER : MAX (end, head + task->duration + task->tail);
    }
    return end;
}

/* FALSE: the job finds no time any more. */
static gboolean
add_least (const Everything *all, guint job, gint64 since, TimetableCost *least)
{
    const FlatJob *one = &all->flat->job[job];
    gint64 end = NEVER, attended = G_MAXINT64;
    guint insertions = G_MAXUINT;
    for (guint m = one->first; m < one->first + one->modes; m++) {
        const FlatMode *mode = &all->flat->mode[m];
        if (mode->shortest_end == NEVER || (all->mode[job] != G_MAXUINT && all->mode[job] != m))
            continue;
        end = MIN (end, least_end (all, m, since));
        insertions = MIN (insertions, mode->insertions);
        attended = MIN (attended, mode->attended);
    }
    if (end == NEVER)
        return FALSE;
    least->finish = MAX (least->finish, end);
    least->insertions += insertions;
    least->attended += attended;
    if (one->due >= 0 && end > one->due)
        least->lateness += (end - one->due) * one->weight;
    return TRUE;
}

/* What is still to be done of one resource from `since` on, within tasks; the part that is placed and runs past it too. */
static gint64
work_left (const Everything *all, guint index, guint resource, gint64 since)
{
    const FlatMode *mode = &all->flat->mode[index];
    gint64 sum = 0;
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        const FlatTask *task = &all->flat->task[i];
        const FlatUse *use = flat_holds (all->flat, task);
        for (guint k = 0; k < task->holds; k++) {
            if (use[k].resource != resource || use[k].length == FOR_GOOD)
                continue;
            gint64 start = all->chart->start[i] >= 0 ? all->chart->start[i] : since;
            sum += MAX (0, start + use[k].length - MAX (since, start)) * use[k].amount;
        }
    }
    return sum;
}

static gint64
finish_by_work (const Everything *all, guint resource, gint64 since)
{
    const Flat *flat = all->flat;
    gint64 sum = 0;
    if (flat->most[resource] == 0)
        return 0;
    for (guint i = 0; i < flat->jobs; i++) {
        gint64 least = NEVER;
        if (all->search->never[i])
            continue;
        for (guint m = flat->job[i].first; m < flat->job[i].first + flat->job[i].modes; m++) {
            if (flat->mode[m].shortest_end != NEVER && (all->mode[i] == G_MAXUINT || all->mode[i] == m))
                least = MIN (least, work_left (all, m, resource, since));
        }
        sum += least == NEVER ? 0 : least;
    }
    return since + (sum + flat->most[resource] - 1) / flat->most[resource];
}

/* Whether what is placed can still become better than the best. */
static gboolean
can_be_better (const Everything *all, gint64 since)
{
    const Draft *best = all->search->best;
    TimetableCost least = { 0 };
    if (best->left_out > all->search->never_count)
        return TRUE;
    for (guint i = 0; i < all->flat->jobs; i++) {
        if (!all->search->never[i] && !add_least (all, i, since, &least))
            return FALSE;
    }
    if (timetable_cost_compare (&least, &best->cost) >= 0)
        return FALSE;
    for (guint r = 0; r < all->flat->resources; r++)
        least.finish = MAX (least.finish, finish_by_work (all, r, since));
    return timetable_cost_compare (&least, &best->cost) < 0;
}

static void
take_answer (Everything *all)
{
    Search *search = all->search;
    Draft *next = search->next;
    for (guint i = 0; i < all->flat->jobs; i++)
        next->mode[i] = all->mode[i];
    for (guint i = 0; i < all->count; i++)
        next->list[i] = all->placed[i];
    next->count = all->count;
    next->left_out = search->never_count;
    memset (next->keep, 0, all->flat->tasks);
    /* On the other chart: the first one is still at work. */
    search->next_chart = all->spare;
    if (search_try (search, NULL) && draft_compare (next, search->best) < 0)
        draft_copy (search->best, next, all->flat);
    search->next_chart = all->chart;
}

static void look (Everything *all, gint64 since, guint last, const gint64 *were);

/* Places one task, looks on, and takes it back. */
static void
follow (Everything *all, const Choice *choice, const gint64 *were)
{
    Chart *chart = all->chart;
    const FlatMode *mode = &all->flat->mode[all->flat->task[choice->task].mode];
    guint mode_before = all->mode[mode->job];
    gint64 job_end = chart->job_end[mode->job], lateness = chart->lateness, finish = chart->finish;
    all->mode[mode->job] = all->flat->task[choice->task].mode;
    chart_place (chart, choice->task, choice->start);
    all->placed[all->count++] = choice->task;
    all->left--;
    look (all, choice->start, choice->task, were);
    all->count--;
    chart_unplace (chart, choice->task);
    chart->job_end[mode->job] = job_end;
    chart->lateness = lateness;
    chart->finish = finish;
    all->mode[mode->job] = mode_before;
}

static int
compare_choices (gconstpointer a, gconstpointer b)
{
    const Choice *left = a, *right = b;
    if (left->start != right->start)
        return left->start < right->start ? -1 : 1;
    return (left->task > right->task) - (left->task < right->task);
}

static gboolean
is_whole (const Everything *all)
{
    guint tasks = 0;
    for (guint i = 0; i < all->flat->jobs; i++) {
        if (all->search->never[i])
            continue;
        if (all->mode[i] == G_MAXUINT)
            return FALSE;
        tasks += all->flat->mode[all->mode[i]].tasks;
    }
    return all->count == tasks;
}

/* Two tasks that begin at once are placed in one order alone, where both could begin then before either was there. */
static gboolean
is_other_order (const Everything *all, const Choice *choice, gint64 since, guint last, const gint64 *were)
{
    return last != G_MAXUINT && choice->start == since && choice->task < last && were[choice->task] == since &&
           all->flat->task[last].duration > 0 && all->flat->task[choice->task].duration > 0;
}

/* since: when `last`, the one placed last, begins. were: when each task could begin before that one was placed. */
static void
look (Everything *all, gint64 since, guint last, const gint64 *were)
{
    if (all->gave_up || (all->gave_up = all->left == 0 || search_is_over (all->search)))
        return;
    if (is_whole (all)) {
        take_answer (all);
        return;
    }
    if (!can_be_better (all, since))
        return;
    g_autoptr (GArray) choices = g_array_new (FALSE, FALSE, sizeof (Choice));
    gint64 before = collect_choices (all, since, choices);
    g_autofree gint64 *are = g_new (gint64, all->flat->tasks);
    for (guint i = 0; i < all->flat->tasks; i++)
        are[i] = -1;
    for (guint i = 0; i < choices->len; i++)
        are[g_array_index (choices, Choice, i).task] = g_array_index (choices, Choice, i).start;
    g_array_sort (choices, compare_choices);
    for (guint i = 0; i < choices->len && !all->gave_up; i++) {
        const Choice *choice = &g_array_index (choices, Choice, i);
        gboolean in_time =
            choice->start < before || (choice->start == before && all->flat->task[choice->task].duration == 0);
        if (in_time && !is_other_order (all, choice, since, last, were))
            follow (all, choice, are);
    }
}

/* Everything is still to be placed, but for what has begun. */
static void
open_all (Everything *all)
{
    const Flat *flat = all->flat;
    chart_reset (all->chart, all->search->best);
    all->chart->keep = NULL;
    for (guint m = 0; m < flat->modes; m++)
        chart_open_mode (all->chart, m);
    for (guint i = 0; i < flat->jobs; i++) {
        const FlatMode *mode = &flat->mode[flat->job[i].first];
        if (all->search->never[i] || flat->task[flat->order[mode->first]].fixed < 0)
            continue;
        all->mode[i] = flat->job[i].first;
        chart_place_begun (all->chart, all->mode[i]);
        for (guint k = mode->first; k < mode->first + mode->tasks; k++) {
            if (all->chart->start[flat->order[k]] >= 0)
                all->placed[all->count++] = flat->order[k];
        }
    }
}

void
search_everything (Search *search, guint64 most_placed)
{
    const Flat *flat = search->flat;
    Everything all = { .search = search, .flat = flat, .chart = search->next_chart, .left = most_placed };
    g_autofree guint *mode = g_new (guint, flat->jobs + 1), *twin = g_new (guint, flat->jobs + 1);
    g_autofree guint *placed = g_new (guint, flat->tasks + 1);
    g_autoptr (Chart) spare = chart_new (flat);
    all.mode = mode;
    all.twin = twin;
    all.placed = placed;
    all.spare = spare;
    flat_fill_twins (flat, search->never, twin);
    for (guint i = 0; i < flat->jobs; i++)
        mode[i] = G_MAXUINT;
    open_all (&all);
    look (&all, 0, G_MAXUINT, NULL);
    search->tried += (most_placed - all.left) / MAX (flat->tasks, 1);
    search->all_proved = !all.gave_up && search->best->left_out == search->never_count;
}
