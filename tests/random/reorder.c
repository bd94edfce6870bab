/* SPDX-License-Identifier: MIT */
/* Whether the first no-return step could come later. */
#include "back.h"

enum { MOST_MOVES = 20, MOST_TRIES = 200000 };

typedef struct {
    const Play *play;
    Graph *graph;
    const GArray *moves;
    Goal goal;
    guint64 cost;             /* of the route as it is */
    guint before[MOST_MOVES]; /* moves that have to come before this one, bits */
    int target;               /* wanted: more than this many steps before the first no-return step */
    int tries;
} Orders;

/* A place in an order of the moves. */
typedef struct {
    guint done; /* bits */
    int depth;
    gboolean returned_not; /* a no-return step was taken */
    World world;
    WorkingState working;
    Counts counts;
} Point;

static const Move *
move_at (const Orders *orders, guint i)
{
    return &g_array_index (orders->moves, Move, i);
}

/* Whether two moves touch the same slot or component. */
static gboolean
touch_the_same (const Job *job, const Move *a, const Move *b)
{
    if ((a->kind == MOVE_WRITE) != (b->kind == MOVE_WRITE))
        return FALSE;
    return a->kind == MOVE_WRITE ? (move_sets (job, a) & move_sets (job, b)) != 0 : a->slot == b->slot;
}

/* Takes move `i`, which is allowed. */
static Point
point_after (const Orders *orders, const Point *point, guint i, gboolean *no_return)
{
    Point next = *point;
    int steps = 0;
    next.counts = counts_after (orders->play, &point->world, move_at (orders, i), point->counts);
    next.world = move_apply (orders->play, &point->world, move_at (orders, i));
    next.done |= 1u << i;
    next.depth++;
    *no_return = graph_way_back (orders->graph, &point->working, &next.world, &steps) == WAY_NO_RETURN;
    next.returned_not = point->returned_not || *no_return;
    working_state_note (&next.working, &next.world, world_verdict (orders->play, &next.world).starts);
    return next;
}

static Point
first_point (const Orders *orders)
{
    Point first = { .world = orders->play->start };
    working_state_note (&first.working, &first.world, world_verdict (orders->play, &first.world).starts);
    return first;
}

static guint64
end_cost (const Orders *orders, const Point *point)
{
    Counts counts = point->counts;
    counts.tenths += end_tenths (orders->play, &point->world);
    return goal_cost (orders->goal, counts);
}

/* Whether some order from here on costs the same and has its first no-return step later than `target`. */
static gboolean
some_order_does (Orders *orders, const Point *point)
{
    if (point->depth == (int) orders->moves->len)
        return end_cost (orders, point) == orders->cost;
    Verdict verdict = world_verdict (orders->play, &point->world);
    for (guint i = 0; i < orders->moves->len && orders->tries < MOST_TRIES; i++) {
        gboolean no_return = FALSE;
        if ((point->done >> i & 1) || (orders->before[i] & ~point->done) ||
            !move_allowed (orders->play, &point->world, &verdict, move_at (orders, i)))
            continue;
        orders->tries++;
        Point next = point_after (orders, point, i, &no_return);
        if (no_return && point->depth <= orders->target)
            continue;
        if (some_order_does (orders, &next))
            return TRUE;
    }
    return FALSE;
}

/* Steps before the first no-return step, as the moves stand; their number where there is none. */
static int
own_order (Orders *orders)
{
    Point point = first_point (orders);
    int before = (int) orders->moves->len;
    for (guint i = 0; i < orders->moves->len; i++) {
        gboolean no_return = FALSE;
        point = point_after (orders, &point, i, &no_return);
        if (no_return && before > (int) i)
            before = (int) i;
    }
    orders->cost = end_cost (orders, &point);
    return before;
}

gboolean
latest_no_return (const Play *play, Graph *graph, const GArray *moves, Goal goal, int *own, int *most)
{
    Orders orders = { .play = play, .graph = graph, .moves = moves, .goal = goal };
    *own = *most = (int) moves->len;
    if (moves->len > MOST_MOVES)
        return FALSE;
    for (guint i = 0; i < moves->len; i++)
        for (guint j = 0; j < i; j++)
            if (touch_the_same (play->job, move_at (&orders, i), move_at (&orders, j)))
                orders.before[i] |= 1u << j;
    *own = *most = own_order (&orders);
    for (orders.target = *own; orders.target < (int) moves->len; orders.target++) {
        Point first = first_point (&orders);
        orders.tries = 0;
        gboolean found = some_order_does (&orders, &first);
        if (!found && orders.tries >= MOST_TRIES)
            return FALSE;
        if (!found)
            break;
        *most = orders.target + 1;
    }
    return TRUE;
}
