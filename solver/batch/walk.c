/* SPDX-License-Identifier: MIT */
/* Late acceptance: a move is kept that makes the timetable no worse, or better than the one so many moves ago.
 * Burke & Bykov, The late acceptance hill-climbing heuristic, European Journal of Operational Research 258(1), 2017. It compares
 * costs only, so that it works on a cost of several parts in turn. */
#include "batch/search.h"

enum { MOST_LATE = 30 };

typedef struct {
    Draft past[MOST_LATE]; /* left_out and costs alone */
    guint late, patience, kicks; /* moves looked back; tries without a better one before a restart; moves of a restart */
    guint at;
    guint64 since; /* tried when best last became better, or the walk began again */
} Walk;

static void
note (Draft *past, const Draft *draft)
{
    past->left_out = draft->left_out;
    past->cost = draft->cost;
    past->sought = draft->sought;
}

static void
begin_again (Search *search, Walk *walk)
{
    for (guint i = 0; i < walk->late; i++)
        note (&walk->past[i], search->current);
    walk->since = search->tried;
}

/* Back to the best, and some random moves away from it. */
static void
restart (Search *search, Walk *walk)
{
    draft_copy (search->next, search->best, search->flat);
    if (search_try (search, NULL))
        search_keep (search);
    for (guint i = 0; i < walk->kicks && search->tried < search->most_tried; i++) {
        if (search_move (search) && search_try (search, NULL))
            search_keep (search);
    }
    begin_again (search, walk);
}

/* Past this nothing is kept. NULL: no limit, since fewer jobs are left out. */
static const TimetableCost *
limit_of (const Search *search, const Draft *past)
{
    if (search->next->left_out < search->current->left_out)
        return NULL;
    const TimetableCost *now = &search->current->sought, *then = &past->sought;
    return timetable_cost_compare (now, then) < 0 ? then : now;
}

static void
one_move (Search *search, Walk *walk)
{
    Draft *past = &walk->past[walk->at];
    if (search_move (search) && search_try (search, limit_of (search, past))
        && (draft_compare (search->next, search->current) <= 0 || draft_compare (search->next, past) < 0)) {
        gboolean better = draft_compare (search->next, search->best) < 0;
        search_keep (search);
        if (better)
            walk->since = search->tried;
    }
    if (draft_compare (search->current, past) < 0)
        note (past, search->current);
    walk->at = (walk->at + 1) % walk->late;
}

void
search_moves (Search *search, guint64 until)
{
    /* Of 10 to 500, 1500 to 12000, 3 to 20 these did best on the job shops and projects of tests/batch. */
    Walk walk = { .late = MOST_LATE, .patience = 2500, .kicks = 3 };
    guint64 idle = 0;
    if (search->flat->jobs == 1) {
        walk.late = 10;
        walk.patience = 1500;
        walk.kicks = 6;
    }
    begin_again (search, &walk);
    while (search->tried < until && idle < 1000 && !search_is_over (search)) {
        guint64 tried = search->tried;
        one_move (search, &walk);
        idle = search->tried == tried ? idle + 1 : 0;
        if (search->tried - walk.since > walk.patience)
            restart (search, &walk);
    }
}
