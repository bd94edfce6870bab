/* SPDX-License-Identifier: MIT */
/* Late acceptance: a move is kept that makes the timetable no worse, or better than the one so many moves ago.
 * Burke & Bykov, The late acceptance hill-climbing heuristic, European Journal of Operational Research 258(1), 2017. It compares
 * costs only, so that it works on a cost of several parts in turn. */
#include "batch/search.h"

enum {
    MOST_LATE = 30,
    FRUITLESS = 12, /* restarts in a row, then the walk goes far off */
    FAR = 60,       /* moves */
};

typedef struct {
    Draft past[MOST_LATE]; /* left_out and costs alone */
    guint late, patience,
        kicks; /* moves looked back; tries without a better one before a restart; moves of a restart */
    guint at;
    Draft *home;     /* owned; the best since the walk last went far off */
    guint fruitless; /* restarts since home became better */
    guint64 since;   /* tried when home last became better, or the walk began again */
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

static void
go_astray (Search *search, guint moves)
{
    for (guint i = 0; i < moves && search->tried < search->most_tried; i++) {
        if (search_move (search) && search_try (search, NULL))
            search_keep (search);
    }
}

/* Back home, and some random moves away from it; where that did not help for long, far away, to stay there. */
static void
restart (Search *search, Walk *walk)
{
    draft_copy (search->next, walk->home, search->flat);
    if (search_try (search, NULL))
        search_keep (search);
    gboolean far = ++walk->fruitless > FRUITLESS && !search->flat->published;
    go_astray (search, far ? FAR : walk->kicks);
    if (far) {
        walk->fruitless = 0;
        draft_copy (walk->home, search->current, search->flat);
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
    if (search_move (search) && search_try (search, limit_of (search, past)) &&
        (draft_compare (search->next, search->current) <= 0 || draft_compare (search->next, past) < 0)) {
        search_keep (search);
        if (draft_compare (search->current, walk->home) < 0) {
            draft_copy (walk->home, search->current, search->flat);
            walk->fruitless = 0;
            walk->since = search->tried;
        }
    }
    if (draft_compare (search->current, past) < 0)
        note (past, search->current);
    walk->at = (walk->at + 1) % walk->late;
}

void
search_moves (Search *search, guint64 until)
{
    /* Chosen on the job shops and projects of tests/batch, of 5 to 500, 500 to 12000, 3 to 20. */
    Walk walk = { .late = MOST_LATE, .patience = 1500, .kicks = 6, .home = draft_new (search->flat) };
    guint64 idle = 0;
    if (search->flat->published) { /* far away from what was published nothing is looked for */
        walk.patience = 2500;
        walk.kicks = 3;
    }
    draft_copy (walk.home, search->current, search->flat);
    begin_again (search, &walk);
    while (search->tried < until && idle < 1000 && !search_is_over (search)) {
        guint64 tried = search->tried;
        one_move (search, &walk);
        idle = search->tried == tried ? idle + 1 : 0;
        if (search->tried - walk.since > walk.patience)
            restart (search, &walk);
    }
    draft_free (walk.home);
}
