/* SPDX-License-Identifier: MIT */
/* Orders in which tasks find no time: jobs wait for each other, or for what is gained later, or the shifts are over. Such jobs
 * go to the end, all of their tasks together: one job after another never waits for each other. Docs/timetable.md, "Stuck". */
#include "batch/search.h"

enum { FEW_JOBS = 50 }; /* of so many, the ones that find no time are left out one at a time */

static guint
job_of (const Search *search, guint task)
{
    return search->flat->mode[search->flat->task[task].mode].job;
}

/* Jobs with a task that found no time, the first in the list first. */
static GArray *
stuck_jobs (Search *search)
{
    const GArray *pending = search->next_chart->pending;
    g_autofree gboolean *seen = g_new0 (gboolean, search->flat->jobs + 1);
    GArray *jobs = g_array_new (FALSE, FALSE, sizeof (guint));
    for (guint i = 0; i < pending->len; i++) {
        guint job = job_of (search, g_array_index (pending, guint, i));
        if (!seen[job])
            g_array_append_val (jobs, job);
        seen[job] = TRUE;
    }
    return jobs;
}

/* The marked jobs to the end of the list, each with all its tasks together, or out of it. */
static void
move_out (Search *search, const gboolean *marked, const GArray *jobs, gboolean leave_out)
{
    const Flat *flat = search->flat;
    Draft *draft = search->next;
    guint count = 0;
    for (guint i = 0; i < draft->count; i++) {
        if (!marked[job_of (search, draft->list[i])])
            draft->list[count++] = draft->list[i];
    }
    for (guint i = 0; i < jobs->len; i++) {
        guint job = g_array_index (jobs, guint, i);
        if (!marked[job])
            continue;
        const FlatMode *mode = &flat->mode[draft->mode[job]];
        for (guint k = 0; k < mode->tasks && !leave_out; k++)
            draft->list[count++] = flat->order[mode->first + k];
        draft->left_out += leave_out;
        draft->mode[job] = leave_out ? G_MAXUINT : draft->mode[job];
    }
    draft->count = count;
}

/* Marks whom to move: of those stuck that were not moved before, all but the first, unless that is the only one. */
static gboolean
mark_for_end (const GArray *jobs, gboolean *moved, gboolean *marked)
{
    guint fresh = 0;
    for (guint i = jobs->len; i-- > 0;) {
        guint job = g_array_index (jobs, guint, i);
        if (moved[job] || (i == 0 && fresh > 0))
            continue;
        moved[job] = marked[job] = TRUE;
        fresh++;
    }
    return fresh > 0;
}

static void
mark_for_leaving (const Search *search, const GArray *jobs, gboolean *marked)
{
    guint drop = search->flat->jobs <= FEW_JOBS ? 1 : (jobs->len + 1) / 2;
    for (guint i = jobs->len - drop; i < jobs->len; i++)
        marked[g_array_index (jobs, guint, i)] = TRUE;
}

void
search_mend (Search *search)
{
    g_autofree gboolean *moved = g_new0 (gboolean, search->flat->jobs + 1);
    while (!search_try (search, NULL)) {
        g_autofree gboolean *marked = g_new0 (gboolean, search->flat->jobs + 1);
        g_autoptr (GArray) jobs = stuck_jobs (search);
        gboolean to_end = mark_for_end (jobs, moved, marked);
        if (!to_end)
            mark_for_leaving (search, jobs, marked);
        move_out (search, marked, jobs, !to_end);
    }
}
