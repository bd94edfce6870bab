/* SPDX-License-Identifier: MIT */
#include "route/moves.h"

#include <string.h>

/* Longer routes stay as they were found: each exchange is tried by a replay of the whole. No bench has such a route. */
#define MOST_ORDERED 512

Cost
moves_cost (const Problem *problem, const GArray *moves)
{
    Replay replay = moves_replay (problem, moves);
    replay_clear (&replay);
    return replay.verdict == REPLAY_SOUND ? replay.cost : COST_NEVER;
}

/* ---- Trimming ---- */

/* Tries the route without the moves at `first` and `second` (equal: one move). */
static gboolean
try_without (const Problem *problem, GArray *moves, guint first, guint second)
{
    g_autoptr (GArray) fewer = g_array_new (FALSE, FALSE, sizeof (Move));
    for (guint i = 0; i < moves->len; i++)
        if (i != first && i != second)
            g_array_append_val (fewer, g_array_index (moves, Move, i));
    if (moves_cost (problem, fewer) == COST_NEVER)
        return FALSE;
    g_array_set_size (moves, 0);
    g_array_append_vals (moves, fewer->data, fewer->len);
    return TRUE;
}

void
moves_trim (const Problem *problem, GArray *moves)
{
    for (gboolean shorter = TRUE; shorter;) {
        shorter = FALSE;
        for (guint first = 0; first < moves->len && !shorter; first++)
            for (guint second = first; second < moves->len && !shorter; second++)
                shorter = try_without (problem, moves, first, second);
    }
}

/* ---- Order ---- */

typedef struct {
    guint slot;
    int layer;
} SlotRank;

/* A blank comes out before anything goes into the slot that it is over, and goes in when that is empty. */
static SlotRank
slot_rank (const Problem *problem, const Move *move)
{
    const Slot *slot = board_slot (problem->unit->board, move->var);
    if (slot->takes != KIND_BLANK || slot->over < 0)
        return (SlotRank){ move->var, 0 };
    return (SlotRank){ (guint) slot->over, move->value == 0 ? -1 : 1 };
}

/* Work on slots before writes; slots in the board's order, coming out before going in; components in the board's order,
 * releases ascending. */
static gboolean
comes_before (const Problem *problem, const Move *left, const Move *right)
{
    if (left->is_write != right->is_write)
        return !left->is_write;
    if (!left->is_write) {
        SlotRank one = slot_rank (problem, left), other = slot_rank (problem, right);
        return one.slot != other.slot     ? one.slot < other.slot
               : one.layer != other.layer ? one.layer < other.layer
                                          : left->var < right->var;
    }
    const Write *l = problem->writes->pdata[left->write], *r = problem->writes->pdata[right->write];
    return l->component != r->component ? l->component < r->component : l->release < r->release;
}

/* The move that takes out again what the move at `from` fitted; the number of moves when it stays. */
static guint
taken_out_again (const GArray *moves, guint from)
{
    guint var = g_array_index (moves, Move, from).var, at = from + 1;
    while (at < moves->len && (g_array_index (moves, Move, at).is_write || g_array_index (moves, Move, at).var != var))
        at++;
    return at;
}

/* The same part in another slot, when the route costs the same so. */
static gboolean
try_slot (const Problem *problem, GArray *moves, guint from, guint to, guint var, Cost cost)
{
    Move *all = (Move *) (void *) moves->data;
    Move fitted = all[from], taken = to < moves->len ? all[to] : fitted;
    guint triple = problem->vars[fitted.var].triple[fitted.value];
    for (guint value = 1; value < problem->vars[var].size; value++) {
        if (problem->vars[var].triple[value] != triple)
            continue;
        all[from] = (Move){ .var = var, .value = value };
        if (to < moves->len)
            all[to] = (Move){ .var = var, .value = 0 };
        if (moves_cost (problem, moves) == cost)
            return TRUE;
        all[from] = fitted;
        if (to < moves->len)
            all[to] = taken;
    }
    return FALSE;
}

static int
owner_rank (Owner owner, gboolean comes_out_again)
{
    static const int TO_STAY[OWNER_COUNT] = { [OWNER_UNIT] = 0, [OWNER_STOCK] = 1, [OWNER_LOAN] = 2 };
    static const int TO_BORROW[OWNER_COUNT] = { [OWNER_UNIT] = 0, [OWNER_LOAN] = 1, [OWNER_STOCK] = 2 };
    return comes_out_again ? TO_BORROW[owner] : TO_STAY[owner];
}

/* What stays is the unit's own before it is stock, the same model and stepping; what comes out again is the unit's own,
 * then lent, then stock, of any model that does. As far as the cost stays the same. */
static void
prefer_owner (const Problem *problem, GArray *moves, guint from, Cost cost)
{
    Move *all = (Move *) (void *) moves->data;
    const Variable *var = &problem->vars[all[from].var];
    gboolean borrowed = taken_out_again (moves, from) < moves->len;
    for (guint value = 1; value < var->size; value++) {
        guint fitted = all[from].value;
        const Triple *now = &g_array_index (problem->triples, Triple, var->triple[fitted]);
        const Triple *other = &g_array_index (problem->triples, Triple, var->triple[value]);
        gboolean same = now->part == other->part && now->stepping == other->stepping && now->bound == other->bound;
        if (owner_rank (other->owner, borrowed) >= owner_rank (now->owner, borrowed) || !(same || borrowed))
            continue;
        all[from].value = value;
        if (moves_cost (problem, moves) != cost)
            all[from].value = fitted;
    }
}

static void
prefer_owners (const Problem *problem, GArray *moves, Cost cost)
{
    for (guint from = 0; from < moves->len; from++) {
        const Move *move = &g_array_index (moves, Move, from);
        if (!move->is_write && move->value != 0)
            prefer_owner (problem, moves, from, cost);
    }
}

/* A part that serves in several slots goes into the first of them. */
static void
prefer_first_slots (const Problem *problem, GArray *moves, Cost cost)
{
    for (guint from = 0; from < moves->len; from++) {
        const Move *move = &g_array_index (moves, Move, from);
        if (move->is_write || move->value == 0)
            continue;
        guint to = taken_out_again (moves, from);
        for (guint var = 0; var < g_array_index (moves, Move, from).var; var++)
            if (!problem->vars[var].fixed && try_slot (problem, moves, from, to, var, cost))
                break;
    }
}

void
moves_order (const Problem *problem, GArray *moves)
{
    if (moves->len > MOST_ORDERED)
        return;
    Cost cost = moves_cost (problem, moves);
    prefer_owners (problem, moves, cost);
    prefer_first_slots (problem, moves, cost);
    for (gboolean swapped = TRUE; swapped;) {
        swapped = FALSE;
        for (guint i = 0; i + 1 < moves->len; i++) {
            Move *pair = &g_array_index (moves, Move, i);
            Move left = pair[0], right = pair[1];
            if (!comes_before (problem, &right, &left))
                continue;
            pair[0] = right;
            pair[1] = left;
            if (moves_cost (problem, moves) == cost) {
                swapped = TRUE;
                continue;
            }
            pair[0] = left;
            pair[1] = right;
        }
    }
}

/* ---- As steps ---- */

GArray *
moves_to_steps (const Problem *problem, const GArray *moves)
{
    GArray *steps = g_array_new (FALSE, TRUE, sizeof (Step));
    g_autofree guint *held = g_new (guint, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        held[v] = problem->vars[v].initial;
    for (guint i = 0; i < moves->len; i++) {
        const Move *move = &g_array_index (moves, Move, i);
        Step step = { .kind = STEP_WRITE };
        if (move->is_write) {
            const Write *write = problem->writes->pdata[move->write];
            step.component = write->component;
            step.release = write->release;
            step.method = write->method;
        } else {
            guint value = move->value != 0 ? move->value : held[move->var];
            const Triple *triple = &g_array_index (problem->triples, Triple, problem->vars[move->var].triple[value]);
            step.kind = move->value != 0 ? STEP_FIT : STEP_REMOVE;
            step.slot = move->var;
            step.part = triple->part;
            step.stepping = triple->stepping;
            step.owner = triple->owner;
            step.bound = triple->bound;
            held[move->var] = move->value;
        }
        g_array_append_val (steps, step);
    }
    return steps;
}

static gboolean
find_write (const Problem *problem, const Step *step, Move *move)
{
    for (guint w = 0; w < problem->writes->len; w++) {
        const Write *write = problem->writes->pdata[w];
        *move = (Move){ .is_write = TRUE, .write = w };
        if (write->component == step->component && write->release == step->release && write->method == step->method)
            return TRUE;
    }
    return FALSE;
}

static gboolean
find_fitting (const Problem *problem, const Step *step, Move *move)
{
    const Variable *var = &problem->vars[step->slot];
    for (guint value = 1; value < var->size; value++) {
        const Triple *triple = &g_array_index (problem->triples, Triple, var->triple[value]);
        *move = (Move){ .var = step->slot, .value = value };
        if (triple->part == step->part && triple->stepping == step->stepping && triple->owner == step->owner &&
            triple->bound == step->bound)
            return TRUE;
    }
    return FALSE;
}

GArray *
moves_from_steps (const Problem *problem, const GArray *steps)
{
    g_autoptr (GArray) moves = g_array_new (FALSE, FALSE, sizeof (Move));
    for (guint i = 0; i < steps->len; i++) {
        const Step *step = &g_array_index (steps, Step, i);
        Move move = { .var = step->slot };
        if ((step->kind == STEP_WRITE && !find_write (problem, step, &move)) ||
            (step->kind == STEP_FIT && !find_fitting (problem, step, &move)))
            return NULL;
        g_array_append_val (moves, move);
    }
    return g_steal_pointer (&moves);
}
