/* SPDX-License-Identifier: MIT */
/* The order of a route's moves that keeps the way back open the longest.
 *
 * Moves on one slot or one component keep their order; a state is then told by the set of moves that are done. Two walks
 * over these sets: what the rest costs from each at the least, and, among orders that cost what the route does, how far
 * one gets before the first no-return move. Both are exact; where there are too many sets the order stays as it is. */
#include "route/back.h"
#include "route/cost.h"

#define MOST_MOVES   64
#define MOST_SETS    6000 /* some hundredths of a second */
#define MOST_PLANNED 40   /* ways back that are planned for the sake of the order */
#define BACK_STATES  20000

typedef guint64 Set; /* of moves, a bit each */
#define MOVE_BIT(i) ((Set) 1 << (i))

typedef struct {
    Set done;
    Set working; /* what was done when the unit last started; all ones: it never did */
    Mode mode;
} Place;

typedef struct {
    Cost to_go;
} Reached;

typedef struct {
    guint moves;   /* that can be made before the first no-return move, from here */
    int first;     /* the move to make first; -1: the next one is a no-return move, or there is none */
    gboolean open; /* to the end: no move left is a no-return one */
} Stretch;

typedef struct {
    const Problem *problem;
    const GArray *moves;
    const GArray *steps; /* Step; the same as moves */
    Set *earlier;        /* owned; per move: those that have to come before it */
    Set all;
    Set lasting;           /* moves that work on parts cannot simply undo */
    Cost best;             /* of any order: what the route costs, or less where its ties were left open */
    GHashTable *reached;   /* Place* (working left aside) -> Reached* */
    GHashTable *stretches; /* Place* -> Stretch* */
    GHashTable *returns;   /* Place* (mode left aside) -> 1 + gboolean */
    guint sets, planned;
    gboolean too_many;
} Late;

/* ---- Places ---- */

static guint
place_hash (gconstpointer key)
{
    const Place *place = key;
    guint64 hash = place->done * 0x9e3779b97f4a7c15u ^ (place->working + place->mode) * 0xc2b2ae3d27d4eb4fu;
    return (guint) (hash >> 32);
}

static gboolean
place_equal (gconstpointer left, gconstpointer right)
{
    const Place *l = left, *r = right;
    return l->done == r->done && l->working == r->working && l->mode == r->mode;
}

static GHashTable *
table_of_places (void)
{
    return g_hash_table_new_full (place_hash, place_equal, g_free, g_free);
}

static gboolean
may_come_next (const Late *late, Set done, guint move)
{
    return (done & MOVE_BIT (move)) == 0 && (late->earlier[move] & ~done) == 0;
}

/* ---- What the rest costs ---- */

static Cost
to_go (Late *late, Player *player, Set done)
{
    Place place = { done, 0, player->mode };
    const Reached *known = g_hash_table_lookup (late->reached, &place);
    if (known != NULL)
        return known->to_go;
    if (++late->sets > MOST_SETS)
        late->too_many = TRUE;
    Cost least = COST_NEVER;
    if (done == late->all && player_may_end (player))
        least = cost_end (late->problem, player->mode);
    for (guint i = 0; i < late->moves->len && !late->too_many; i++) {
        if (!may_come_next (late, done, i))
            continue;
        g_autoptr (Player) next = player_copy (player);
        if (!player_step (next, &g_array_index (late->moves, Move, i)))
            continue;
        Cost rest = to_go (late, next, done | MOVE_BIT (i));
        least = MIN (least, cost_add (next->cost - player->cost, rest));
    }
    Reached *reached = g_new (Reached, 1);
    reached->to_go = least;
    g_hash_table_insert (late->reached, g_memdup2 (&place, sizeof place), reached);
    return least;
}

/* ---- How far the way back stays open ---- */

/* The move takes the unit from a moment from which it could come back to one from which it can't. */
static gboolean
is_no_return (Late *late, const Moment *after, const Moment *working, Set done, Set working_done)
{
    /* Parts in other slots can be put as they were at any time, so they have no part in the answer. */
    Place place = { done & late->lasting, working_done & late->lasting, MODE_FRESH };
    if (working == NULL)
        return FALSE;
    const gboolean *known = g_hash_table_lookup (late->returns, &place);
    if (known != NULL)
        return *known;
    WayBack way = way_back (late->problem, after, working, (BackEffort){ .states = BACK_STATES });
    late->too_many = late->too_many || way.kind == BACK_OPEN || ++late->planned > MOST_PLANNED;
    gboolean *no_return = g_new (gboolean, 1);
    *no_return = way.kind == BACK_NO_RETURN;
    g_hash_table_insert (late->returns, g_memdup2 (&place, sizeof place), no_return);
    return *no_return;
}

static Stretch stretch_from (Late *late, Player *player, const Moment *moment, const Moment *working, Place place);

/* Making move `i` here: how far that leads. FALSE: it can't be made at no more than the route costs. */
static gboolean
stretch_by (Late *late, Player *player, const Moment *moment, const Moment *working, Place place, guint i,
            Stretch *stretch)
{
    g_autoptr (Player) next = player_copy (player);
    if (!player_step (next, &g_array_index (late->moves, Move, i)))
        return FALSE;
    Set done = place.done | MOVE_BIT (i);
    if (cost_add (next->cost, to_go (late, next, done)) != late->best)
        return FALSE;
    g_autoptr (Moment) after = moment_after (moment, &g_array_index (late->steps, Step, i), late->problem,
                                             problem_starts (late->problem, next->values));
    *stretch = (Stretch){ .first = -1 };
    WayBack undone;
    gboolean by_parts = wear_allows (late->problem, after, moment, MOST_MOVES) &&
                        way_back_by_parts (late->problem, after, moment, &undone);
    if (!by_parts && is_no_return (late, after, working, done, place.working))
        return TRUE;
    Place there = { done, after->starts ? done : place.working, next->mode };
    *stretch = stretch_from (late, next, after, after->starts ? after : working, there);
    stretch->moves++;
    stretch->first = (int) i;
    return TRUE;
}

static Stretch
stretch_from (Late *late, Player *player, const Moment *moment, const Moment *working, Place place)
{
    const Stretch *known = g_hash_table_lookup (late->stretches, &place);
    Stretch best = { .first = -1, .open = place.done == late->all };
    if (known != NULL)
        return *known;
    for (guint i = 0; i < late->moves->len && !best.open && !late->too_many; i++) {
        Stretch stretch;
        if (may_come_next (late, place.done, i) && stretch_by (late, player, moment, working, place, i, &stretch) &&
            (stretch.open || stretch.moves > best.moves))
            best = stretch;
    }
    g_hash_table_insert (late->stretches, g_memdup2 (&place, sizeof place), g_memdup2 (&best, sizeof best));
    return best;
}

/* ---- Putting the order together ---- */

/* The next move: as far as the way back stays open the one that keeps it so; from there on the first that costs no more. */
static int
next_move (Late *late, Player *player, Place place)
{
    const Stretch *stretch = g_hash_table_lookup (late->stretches, &place);
    if (stretch != NULL && stretch->first >= 0)
        return stretch->first;
    for (guint i = 0; i < late->moves->len; i++) {
        if (!may_come_next (late, place.done, i))
            continue;
        g_autoptr (Player) next = player_copy (player);
        if (player_step (next, &g_array_index (late->moves, Move, i)) &&
            cost_add (next->cost, to_go (late, next, place.done | MOVE_BIT (i))) == late->best)
            return (int) i;
    }
    return -1;
}

static void
reorder (Late *late, GArray *moves)
{
    g_autoptr (GArray) ordered = g_array_new (FALSE, FALSE, sizeof (Move));
    g_autoptr (Player) player = player_new (late->problem);
    g_autofree guint16 *values = problem_initial_values (late->problem);
    Place place = { 0, problem_starts (late->problem, values) ? 0 : ~(Set) 0, MODE_FRESH };
    while (place.done != late->all) {
        int next = next_move (late, player, place);
        g_return_if_fail (next >= 0);
        player_step (player, &g_array_index (late->moves, Move, next));
        g_array_append_val (ordered, g_array_index (late->moves, Move, next));
        place.done |= MOVE_BIT (next);
        place.mode = player->mode;
        if (problem_starts (late->problem, player->values))
            place.working = place.done;
    }
    g_array_set_size (moves, 0);
    g_array_append_vals (moves, ordered->data, ordered->len);
}

static gboolean
touch_the_same (const Problem *problem, const Move *left, const Move *right)
{
    if (left->is_write != right->is_write)
        return FALSE;
    if (!left->is_write)
        return left->var == right->var;
    const Write *l = problem->writes->pdata[left->write], *r = problem->writes->pdata[right->write];
    for (guint i = 0; i < l->effects->len; i++)
        for (guint k = 0; k < r->effects->len; k++)
            if (g_array_index (l->effects, Effect, i).var == g_array_index (r->effects, Effect, k).var)
                return TRUE;
    return FALSE;
}

/* A write; or work on a slot that wears out, or a part that stays once it is fitted. */
static gboolean
is_lasting (const Problem *problem, const Move *move)
{
    const Variable *var = move->is_write ? NULL : &problem->vars[move->var];
    return var == NULL || var->left != G_MAXUINT || var->stays[move->value];
}

static void
late_init (Late *late, const Problem *problem, const GArray *moves, const GArray *steps)
{
    *late = (Late){ .problem = problem, .moves = moves, .steps = steps };
    late->earlier = g_new0 (Set, moves->len + 1);
    for (guint i = 0; i < moves->len; i++) {
        late->all |= MOVE_BIT (i);
        if (is_lasting (problem, &g_array_index (moves, Move, i)))
            late->lasting |= MOVE_BIT (i);
        for (guint before = 0; before < i; before++)
            if (touch_the_same (problem, &g_array_index (moves, Move, before), &g_array_index (moves, Move, i)))
                late->earlier[i] |= MOVE_BIT (before);
    }
    late->reached = table_of_places ();
    late->stretches = table_of_places ();
    late->returns = table_of_places ();
}

static void
late_clear (Late *late)
{
    g_free (late->earlier);
    g_hash_table_unref (late->reached);
    g_hash_table_unref (late->stretches);
    g_hash_table_unref (late->returns);
}

gboolean
moves_keep_open (const Problem *problem, GArray *moves)
{
    if (moves->len < 2 || moves->len > MOST_MOVES)
        return FALSE;
    g_autoptr (GArray) before = g_array_copy (moves);
    g_autoptr (GArray) steps = moves_to_steps (problem, before);
    g_autoptr (Player) player = player_new (problem);
    g_autoptr (Moment) moment = moment_begin (problem);
    Late late;
    late_init (&late, problem, before, steps);
    late.best = to_go (&late, player, 0);
    Place place = { 0, moment->starts ? 0 : ~(Set) 0, MODE_FRESH };
    if (!late.too_many)
        stretch_from (&late, player, moment, moment->starts ? moment : NULL, place);
    gboolean settled = !late.too_many;
    if (settled)
        reorder (&late, moves);
    late_clear (&late);
    return settled;
}
