/* SPDX-License-Identifier: MIT */
#include "exhaustive.h"

/* The counts that each goal minimises, in turn; then the others, which play no part. */
typedef enum { COUNT_STEPS, COUNT_INSERTIONS, COUNT_OPENINGS, COUNT_TENTHS, COUNT_NONE } CountKind;

static const CountKind goal_order[GOALS][4] = {
    [GOAL_STEPS] = { COUNT_STEPS, COUNT_INSERTIONS, COUNT_TENTHS, COUNT_NONE },
    [GOAL_HANDLING] = { COUNT_INSERTIONS, COUNT_OPENINGS, COUNT_STEPS, COUNT_TENTHS },
    [GOAL_TIME] = { COUNT_TENTHS, COUNT_INSERTIONS, COUNT_STEPS, COUNT_NONE },
};

static int
count_of (CountKind kind, Counts counts)
{
    switch (kind) {
    case COUNT_STEPS:
        return counts.steps;
    case COUNT_INSERTIONS:
        return counts.insertions;
    case COUNT_OPENINGS:
        return counts.openings;
    case COUNT_TENTHS:
        return counts.tenths;
    default:
        return 0;
    }
}

guint64
goal_cost (Goal goal, Counts counts)
{
    guint64 cost = 0;
    for (int i = 0; i < 4; i++) {
        int count = count_of (goal_order[goal][i], counts);
        g_assert (count >= 0 && count < 1 << 16);
        cost = cost << 16 | (guint64) count;
    }
    return cost;
}

int
goal_first (Goal goal, Counts counts)
{
    return count_of (goal_order[goal][0], counts);
}

const char *
goal_name (Goal goal)
{
    static const char *const names[GOALS] = { "steps", "handling", "time" };
    return names[goal];
}

typedef struct {
    Counts counts; /* the best with which the world was reached so far */
    guint64 cost;
    int parent; /* -1: the start */
    Move by;
    gboolean done;
} Seen;

typedef struct {
    guint64 cost;
    int number; /* of a world; -1 - number: of an end in it */
} Waiting;

typedef struct {
    const Play *play;
    Goal goal;
    EndKind end;
    WorldTable table;
    GArray *seen;    /* Seen, by the world's number; owned */
    GArray *waiting; /* Waiting, a heap, the least first; owned */
    int at;          /* the world that is left */
    World from;
} Search;

static Seen *
seen_at (const Search *search, int number)
{
    return &g_array_index (search->seen, Seen, number);
}

/* ---- The heap: cost, then the number, so that the same job is searched in the same order ---- */

static Waiting *
waiting_at (const Search *search, guint i)
{
    return &g_array_index (search->waiting, Waiting, i);
}

static gboolean
comes_first (const Waiting *a, const Waiting *b)
{
    return a->cost < b->cost || (a->cost == b->cost && a->number < b->number);
}

static void
swap_waiting (const Search *search, guint i, guint j)
{
    Waiting kept = *waiting_at (search, i);
    *waiting_at (search, i) = *waiting_at (search, j);
    *waiting_at (search, j) = kept;
}

static void
push (Search *search, guint64 cost, int number)
{
    Waiting new = { cost, number };
    g_array_append_val (search->waiting, new);
    for (guint i = search->waiting->len - 1;
         i && comes_first (waiting_at (search, i), waiting_at (search, (i - 1) / 2)); i = (i - 1) / 2)
        swap_waiting (search, i, (i - 1) / 2);
}

static Waiting
pop (Search *search)
{
    Waiting first = *waiting_at (search, 0);
    swap_waiting (search, 0, search->waiting->len - 1);
    g_array_set_size (search->waiting, search->waiting->len - 1);
    for (guint i = 0;;) {
        guint least = i;
        for (guint child = 2 * i + 1; child <= 2 * i + 2 && child < search->waiting->len; child++)
            if (comes_first (waiting_at (search, child), waiting_at (search, least)))
                least = child;
        if (least == i)
            return first;
        swap_waiting (search, i, least);
        i = least;
    }
}

/* ---- The search ---- */

Counts
counts_after (const Play *play, const World *world, const Move *move, Counts before)
{
    before.steps++;
    before.insertions += move_insertions (play, move);
    before.openings += move_openings (play, world, move);
    before.tenths += move_tenths (play, world, move);
    return before;
}

static void
reach (const Move *move, gpointer data)
{
    Search *search = data;
    gboolean is_new = FALSE;
    World world = move_apply (search->play, &search->from, move);
    Seen next = { .parent = search->at, .by = *move };
    next.counts = counts_after (search->play, &search->from, move, seen_at (search, search->at)->counts);
    next.cost = goal_cost (search->goal, next.counts);
    int number = world_table_add (&search->table, &world, &is_new);
    if (is_new)
        g_array_append_val (search->seen, next);
    else if (next.cost < seen_at (search, number)->cost)
        *seen_at (search, number) = next;
    else
        return;
    push (search, next.cost, number);
}

/* Ending in this world costs what the last start costs beside. */
static Counts
end_counts (const Search *search, int number)
{
    Counts counts = seen_at (search, number)->counts;
    counts.tenths += end_tenths (search->play, world_table_get (&search->table, number));
    return counts;
}

static void
trace_back (const Search *search, int last, Answer *answer)
{
    answer->moves = g_array_new (FALSE, FALSE, sizeof (Move));
    for (int at = last; seen_at (search, at)->parent >= 0; at = seen_at (search, at)->parent) {
        Move move = seen_at (search, at)->by;
        g_array_prepend_val (answer->moves, move);
        answer->writes = answer->writes || move.kind == MOVE_WRITE;
        answer->borrows =
            answer->borrows || (move.kind == MOVE_FIT && search->play->triples[move.triple].keeper == LOAN);
    }
}

/* Looks at one world for good: it may be an end, and leads to others. */
static void
leave (Search *search, int number)
{
    Seen *seen = seen_at (search, number);
    if (seen->done)
        return;
    seen->done = TRUE;
    search->at = number;
    search->from = *world_table_get (&search->table, number);
    Verdict verdict = world_verdict (search->play, &search->from);
    gboolean may_end = search->end == END_STARTS || world_may_end (search->play, &search->from);
    if (verdict.starts && may_end)
        push (search, goal_cost (search->goal, end_counts (search, number)), -1 - number);
    each_move (search->play, &search->from, &verdict, reach, search);
}

static void
run (Search *search, int most_worlds, Answer *answer)
{
    while (search->waiting->len) {
        Waiting next = pop (search);
        if (next.number < 0) {
            answer->kind = ANSWER_ROUTE;
            answer->counts = end_counts (search, -1 - next.number);
            trace_back (search, -1 - next.number, answer);
            return;
        }
        leave (search, next.number);
        if ((int) search->seen->len > most_worlds) {
            answer->kind = ANSWER_TOO_LARGE;
            return;
        }
    }
    answer->kind = ANSWER_NONE;
}

Answer
exhaustive_from (const Play *play, const World *from, EndKind end, Goal goal, int most_worlds)
{
    Answer answer = { .kind = ANSWER_NONE };
    Search search = { .play = play, .goal = goal, .end = end };
    Seen first = { .parent = -1 };
    gboolean is_new = FALSE;
    world_table_init (&search.table);
    search.seen = g_array_new (FALSE, FALSE, sizeof (Seen));
    search.waiting = g_array_new (FALSE, FALSE, sizeof (Waiting));
    world_table_add (&search.table, from, &is_new);
    g_array_append_val (search.seen, first);
    push (&search, 0, 0);
    run (&search, most_worlds, &answer);
    answer.worlds = (int) search.seen->len;
    g_array_free (search.seen, TRUE);
    g_array_free (search.waiting, TRUE);
    world_table_clear (&search.table);
    return answer;
}

Answer
exhaustive_answer (const Play *play, Goal goal, int most_worlds)
{
    return exhaustive_from (play, &play->start, END_AS_WANTED, goal, most_worlds);
}

void
answer_clear (Answer *answer)
{
    if (answer->moves)
        g_array_free (answer->moves, TRUE);
    answer->moves = NULL;
}
