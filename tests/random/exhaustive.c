/* SPDX-License-Identifier: MIT */
#include "exhaustive.h"

#include <string.h>

typedef struct {
    World world;
    int depth, insertions, tenths;
    int parent; /* -1: the start */
    Move by;
} Seen;

typedef struct {
    const Play *play;
    GArray *seen; /* Seen */
    int *table;   /* index into seen + 1; 0: free */
    guint slots;  /* a power of two */
} Search;

static guint
world_hash (const World *world)
{
    const guint8 *bytes = (const guint8 *) world;
    guint64 hash = 0xcbf29ce484222325u;
    for (gsize i = 0; i < sizeof *world; i++)
        hash = (hash ^ bytes[i]) * 0x100000001b3u;
    return (guint) (hash ^ hash >> 32);
}

static Seen *
seen_at (const Search *search, int index)
{
    return &g_array_index (search->seen, Seen, index);
}

/* Where the world stands in the table, or the free place for it. */
static int *
table_find (const Search *search, const World *world)
{
    for (guint at = world_hash (world);; at++) {
        int *entry = &search->table[at & (search->slots - 1)];
        if (!*entry || !memcmp (&seen_at (search, *entry - 1)->world, world, sizeof *world))
            return entry;
    }
}

static gboolean
is_cheaper (int insertions, int tenths, const Seen *than)
{
    return insertions < than->insertions || (insertions == than->insertions && tenths < than->tenths);
}

static void
reach (Search *search, int parent, const Move *by)
{
    const Seen from = *seen_at (search, parent);
    Seen next = { .world = move_apply (search->play, &from.world, by), .depth = from.depth + 1, .parent = parent };
    next.by = *by;
    next.insertions = from.insertions + move_insertions (search->play, by);
    next.tenths = from.tenths + move_tenths (search->play, &from.world, by);
    int *entry = table_find (search, &next.world);
    if (!*entry) {
        g_array_append_val (search->seen, next);
        *entry = (int) search->seen->len;
        return;
    }
    Seen *old = seen_at (search, *entry - 1);
    if (old->depth == next.depth && is_cheaper (next.insertions, next.tenths, old))
        *old = next;
}

static void
try_move (Search *search, int parent, const Verdict *verdict, const Move *move)
{
    const World world = seen_at (search, parent)->world;
    if (move_allowed (search->play, &world, verdict, move))
        reach (search, parent, move);
}

static void
expand (Search *search, int parent, const Verdict *verdict)
{
    const Play *play = search->play;
    const Job *job = play->job;
    for (int slot = 0; slot < job->place_count; slot++) {
        for (int triple = 0; triple < play->triple_count; triple++) {
            Move fit = { .kind = MOVE_FIT, .slot = slot, .triple = triple };
            Move remove = { .kind = MOVE_REMOVE, .slot = slot, .triple = triple };
            try_move (search, parent, verdict, &fit);
            try_move (search, parent, verdict, &remove);
        }
    }
    for (int c = 0; c < job->firmware_count; c++) {
        for (int r = 0; r < job->firmware[c].count; r++) {
            for (int way = 0; way < WAYS; way++) {
                Move write = { .kind = MOVE_WRITE, .component = c, .release = r, .way = way };
                try_move (search, parent, verdict, &write);
            }
        }
    }
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

/* Takes a world that may be the last if it is the cheapest such in its layer. */
static void
consider_end (const Search *search, int index, int *best, int *best_tenths)
{
    const Seen *seen = seen_at (search, index);
    int tenths = seen->tenths + end_tenths (search->play, &seen->world);
    const Seen *so_far = *best >= 0 ? seen_at (search, *best) : NULL;
    if (so_far &&
        (so_far->insertions < seen->insertions || (so_far->insertions == seen->insertions && *best_tenths <= tenths)))
        return;
    *best = index;
    *best_tenths = tenths;
}

static void
run (Search *search, int most_worlds, Answer *answer)
{
    int best = -1, best_tenths = 0;
    for (int at = 0; at < (int) search->seen->len; at++) {
        if (best >= 0 && seen_at (search, at)->depth > seen_at (search, best)->depth)
            break;
        if ((int) search->seen->len > most_worlds) {
            answer->kind = ANSWER_TOO_LARGE;
            return;
        }
        const World world = seen_at (search, at)->world;
        Verdict verdict = world_verdict (search->play, &world);
        if (verdict.starts && world_may_end (search->play, &world))
            consider_end (search, at, &best, &best_tenths);
        if (best < 0)
            expand (search, at, &verdict);
    }
    answer->kind = best >= 0 ? ANSWER_ROUTE : ANSWER_NONE;
    if (best < 0)
        return;
    answer->steps = seen_at (search, best)->depth;
    answer->insertions = seen_at (search, best)->insertions;
    answer->tenths = best_tenths;
    trace_back (search, best, answer);
}

Answer
exhaustive_answer (const Play *play, int most_worlds)
{
    Answer answer = { .kind = ANSWER_NONE };
    Search search = { .play = play, .slots = 1024 };
    /* One expansion adds fewer worlds than this. */
    const int spare = MAX_SLOTS * (MAX_TRIPLES + 1) + MAX_FIRMWARE * MAX_RELEASES * WAYS;
    while ((int) search.slots < 2 * (most_worlds + spare))
        search.slots *= 2;
    search.table = g_new0 (int, search.slots);
    search.seen = g_array_new (FALSE, FALSE, sizeof (Seen));
    Seen first = { .world = play->start, .parent = -1 };
    g_array_append_val (search.seen, first);
    *table_find (&search, &play->start) = 1;
    run (&search, most_worlds, &answer);
    answer.worlds = (int) search.seen->len;
    g_array_free (search.seen, TRUE);
    g_free (search.table);
    return answer;
}

void
answer_clear (Answer *answer)
{
    if (answer->moves)
        g_array_free (answer->moves, TRUE);
    answer->moves = NULL;
}
