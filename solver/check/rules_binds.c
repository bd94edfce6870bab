/* SPDX-License-Identifier: MIT */
/* The form `binds`: parts that bind themselves for good to whom the first board that starts them binds to. */
#include "check/facts.h"
#include "check/rules.h"
#include "check/state.h"

/* A board that binds to nobody is not what a bound part is bound to. */
static gboolean
is_bound_elsewhere (const Board *board, const Held *held)
{
    return held->bound != NULL && held->bound != board->binds;
}

gboolean
held_would_be_bound (const Board *board, const Held *held)
{
    return board->binds != NULL && held->part->binds && held->bound == NULL;
}

static void
add_board (Broken *broken, const Board *board)
{
    if (board->binds != NULL)
        broken_add_fact (broken, board->at, "the board %s binds to %s", board->name, board->binds);
    else
        broken_add_fact (broken, board->at, "the board %s binds to nobody", board->name);
}

static void
look_at_part (const Look *look, const Rule *rule, guint slot, const Held *held)
{
    const Board *board = look->state->board;
    gboolean breaks = rule->binds_lent ? held->owner == OWNER_LOAN && held_would_be_bound (board, held)
                                       : is_bound_elsewhere (board, held);

    if (!breaks)
        return;
    Broken *broken = broken_add_rule (look->found, rule);
    broken_add_slot (broken, look->state, slot, NULL);
    if (rule->binds_lent)
        broken_add_fact (broken, held->part->at, "the %s in %s is lent, binds itself and is bound to nobody yet",
                         held->part->name, board_slot (board, slot)->name);
    add_board (broken, board);
}

void
look_at_binds (const Look *look, const Rule *rule)
{
    const State *state = look->state;

    for (guint slot = 0; slot < state->board->slots->len; slot++) {
        const Held *held = state_live_part (state, slot);

        if (held != NULL && held->part->kind == rule->kind)
            look_at_part (look, rule, slot, held);
    }
}
