/* SPDX-License-Identifier: MIT */
/* First timetables: orders by a few plain rules, mended where tasks find no time. */
#include "batch/search.h"

#include <string.h>

typedef enum { RULE_GIVEN, RULE_DUE, RULE_SLACK, RULE_LONG, RULE_SHORT, RULE_LAST_START, RULE_EARLY, RULES } Rule;

typedef struct {
    gint64 key;
    guint index;
    gboolean later;
} Ranked;

static int
compare_ranked (gconstpointer a, gconstpointer b)
{
    const Ranked *left = a, *right = b;
    if (left->later != right->later)
        return left->later ? 1 : -1;
    if (left->key != right->key)
        return left->key < right->key ? -1 : 1;
    return (left->index > right->index) - (left->index < right->index);
}

/* The mode that is over first if it is alone; of equals the one with the fewest insertions, then the least attended. */
static guint
best_mode (const Flat *flat, const FlatJob *job, gboolean fewest_insertions)
{
    guint best = G_MAXUINT;
    for (guint m = job->first; m < job->first + job->modes; m++) {
        const FlatMode *mode = &flat->mode[m], *other = best == G_MAXUINT ? NULL : &flat->mode[best];
        if (mode->shortest_end == NEVER)
            continue;
        gint64 by[3] = { mode->shortest_end, mode->insertions, mode->attended };
        gint64 than[3] = { other ? other->shortest_end : 0, other ? other->insertions : 0,
                           other ? other->attended : 0 };
        guint order[3] = { fewest_insertions ? 1 : 0, fewest_insertions ? 0 : 1, 2 };
        guint k = 0;
        while (other != NULL && k < 2 && by[order[k]] == than[order[k]])
            k++;
        if (other == NULL || by[order[k]] < than[order[k]])
            best = m;
    }
    return best;
}

static gint64
job_key (const Flat *flat, guint index, guint mode, Rule rule)
{
    const FlatJob *job = &flat->job[index];
    gint64 length = flat->mode[mode].shortest_end, due = job->due >= 0 ? job->due : NEVER / 2;
    switch (rule) {
    case RULE_DUE:
        return due;
    case RULE_SLACK:
        return due - length;
    case RULE_LONG:
        return -length;
    case RULE_SHORT:
        return job->due >= 0 ? length / job->weight : length;
    default:
        return index;
    }
}

/* One job after another, each with all of its tasks. */
static void
list_by_job (const Flat *flat, Draft *draft, Rule rule)
{
    g_autofree Ranked *ranked = g_new (Ranked, flat->jobs + 1);
    guint count = 0;
    for (guint i = 0; i < flat->jobs; i++) {
        if (draft->mode[i] != G_MAXUINT)
            ranked[count++] =
                (Ranked){ job_key (flat, i, draft->mode[i], rule), i, flat->mode[draft->mode[i]].needs_gains };
    }
    qsort (ranked, count, sizeof *ranked, compare_ranked);
    draft->count = 0;
    for (guint i = 0; i < count; i++) {
        const FlatMode *mode = &flat->mode[draft->mode[ranked[i].index]];
        memcpy (draft->list + draft->count, flat->order + mode->first, mode->tasks * sizeof *draft->list);
        draft->count += mode->tasks;
    }
}

/* Sorts the list by the keys of its places. */
static void
take_order (Draft *draft, Ranked *ranked)
{
    g_autofree guint *list = g_memdup2 (draft->list, (draft->count + 1) * sizeof *list);
    qsort (ranked, draft->count, sizeof *ranked, compare_ranked);
    for (guint i = 0; i < draft->count; i++)
        draft->list[i] = list[ranked[i].index];
}

/* Task by task, whatever job they are of: what has most after it, or may begin first, comes first. */
static void
list_by_task (const Flat *flat, Draft *draft, Rule rule)
{
    guint count = 0;
    for (guint i = 0; i < flat->jobs; i++) {
        if (draft->mode[i] != G_MAXUINT)
            count += flat->mode[draft->mode[i]].tasks;
    }
    g_autofree Ranked *ranked = g_new (Ranked, count + 1);
    guint at = 0;
    for (guint i = 0; i < flat->jobs; i++) {
        const FlatMode *mode = draft->mode[i] == G_MAXUINT ? NULL : &flat->mode[draft->mode[i]];
        gint64 latest = 0;
        for (guint k = 0; mode != NULL && k < mode->tasks; k++, at++) {
            guint index = flat->order[mode->first + k];
            const FlatTask *task = &flat->task[index];
            gint64 end = flat->job[i].due >= 0 ? flat->job[i].due : 0;
            /* Never before a task that it is after: the key does not fall along the order. */
            latest = rule == RULE_EARLY ? task->head : end - task->duration - task->tail;
            ranked[at] = (Ranked){ latest, at, FALSE };
            draft->list[at] = index;
        }
    }
    draft->count = count;
    take_order (draft, ranked);
}

/* By when they were published; a job that was not comes last. */
static void
list_by_published (const Flat *flat, Draft *draft)
{
    list_by_job (flat, draft, flat->due ? RULE_DUE : RULE_GIVEN);
    g_autofree Ranked *ranked = g_new (Ranked, draft->count + 1);
    guint job = G_MAXUINT;
    gint64 latest = 0;
    for (guint i = 0; i < draft->count; i++) {
        const FlatTask *task = &flat->task[draft->list[i]];
        latest = job == flat->mode[task->mode].job ? latest : 0;
        job = flat->mode[task->mode].job;
        if (task->fixed >= 0) /* what a job holds that waits was never published, and has its time all the same */
            latest = MAX (latest, task->fixed);
        else
            latest = MAX (latest, task->published >= 0 ? task->published : (latest > 0 ? latest : NEVER));
        /* What takes no time comes first of those at one moment: it may give back what the others take. */
        ranked[i] = (Ranked){ latest == NEVER ? NEVER : 2 * latest + (task->published < latest || task->duration > 0),
                              i, FALSE };
    }
    take_order (draft, ranked);
}

static gboolean
has_published (const Flat *flat, const FlatMode *mode)
{
    for (guint i = mode->first; i < mode->first + mode->tasks; i++) {
        if (flat->task[i].published >= 0)
            return TRUE;
    }
    return FALSE;
}

/* A job that was published keeps its mode, where it still has it. */
static void
keep_modes (const Flat *flat, Draft *draft)
{
    for (guint i = 0; i < flat->jobs; i++) {
        for (guint m = flat->job[i].first; draft->mode[i] != G_MAXUINT && m < flat->job[i].first + flat->job[i].modes;
             m++) {
            if (flat->mode[m].shortest_end != NEVER && has_published (flat, &flat->mode[m]))
                draft->mode[i] = m;
        }
    }
}

static void
take_modes (Search *search, Draft *draft, gboolean fewest_insertions)
{
    draft->left_out = 0;
    memset (draft->keep, 0, search->flat->tasks);
    for (guint i = 0; i < search->flat->jobs; i++) {
        draft->mode[i] =
            search->never[i] ? G_MAXUINT : best_mode (search->flat, &search->flat->job[i], fewest_insertions);
        draft->left_out += draft->mode[i] == G_MAXUINT;
    }
}

/* Takes out the last job that holds of the resource at that moment. FALSE: there is none. */
static gboolean
drop_holder (Search *search, guint resource, gint64 at)
{
    const Flat *flat = search->flat;
    Chart *chart = search->next_chart;
    for (guint i = flat->jobs; i-- > 0;) {
        guint mode = search->next->mode[i];
        if (mode == G_MAXUINT || search->never[i])
            continue;
        gint64 before = profile_free (&chart->profile[resource], at);
        chart_unplace_begun (chart, mode);
        if (profile_free (&chart->profile[resource], at) > before) {
            search->never[i] = search->clash = TRUE;
            return TRUE;
        }
        chart_place_begun (chart, mode);
    }
    return FALSE;
}

/* Jobs whose tasks that have begun hold more than there is cannot go on: reality is not as the timetable says. */
static void
drop_clashing (Search *search)
{
    const Flat *flat = search->flat;
    Draft *draft = search->next;
    guint resource;
    gint64 at;
    take_modes (search, draft, FALSE);
    chart_reset (search->next_chart, draft);
    for (guint i = 0; i < flat->jobs; i++) {
        if (draft->mode[i] != G_MAXUINT && !chart_place_begun (search->next_chart, draft->mode[i]))
            search->never[i] = search->clash = TRUE;
    }
    while (chart_overdrawn (search->next_chart, &resource, &at)) {
        if (!drop_holder (search, resource, at))
            break;
    }
}

/* One rule's timetable, mended; the best of all is current. */
static void
try_first (Search *search, Rule rule, gboolean by_task, gboolean fewest_insertions)
{
    Draft *draft = search->next;
    take_modes (search, draft, fewest_insertions);
    if (by_task)
        list_by_task (search->flat, draft, rule);
    else
        list_by_job (search->flat, draft, rule);
    search_mend (search);
    search_offer (search);
}

static void
try_published (Search *search)
{
    Draft *draft = search->next;
    take_modes (search, draft, FALSE);
    keep_modes (search->flat, draft);
    list_by_published (search->flat, draft);
    memset (draft->keep, 1, search->flat->tasks);
    search_mend (search);
    search_offer (search);
    search_bring_back (search);
}

void
search_first (Search *search)
{
    const Flat *flat = search->flat;
    drop_clashing (search);
    for (guint i = 0; i < flat->jobs; i++)
        search->never_count += search->never[i];
    timetable_bound (flat, search->never, &search->bound);
    if (flat->published)
        try_published (search);
    /* What any rule lists has moved all over: such a timetable would hide the one that was only pushed. */
    if (flat->published && search->current->left_out <= search->never_count)
        return;
    for (Rule rule = flat->due ? RULE_DUE : RULE_GIVEN; rule <= RULE_SHORT && !search_is_over (search); rule++) {
        try_first (search, rule, FALSE, FALSE);
        if (flat->choices && !search_is_over (search))
            try_first (search, rule, FALSE, TRUE);
    }
    for (Rule rule = RULE_LAST_START; rule < RULES && !search_is_over (search); rule++)
        try_first (search, rule, TRUE, FALSE);
}
