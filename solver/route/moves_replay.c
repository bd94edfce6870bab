/* SPDX-License-Identifier: MIT */
/* Replaying moves on the grounded problem. */
#include "route/moves.h"

void
replay_clear (Replay *replay)
{
    g_clear_pointer (&replay->values, g_free);
}

static gboolean
give_up (Player *player, ReplayVerdict verdict)
{
    player->replay.verdict = verdict;
    player->replay.values = g_memdup2 (player->values, player->problem->n_vars * sizeof (guint16));
    return FALSE;
}

/* Clauses first, so that a total is blamed only when nothing else is wrong. */
static gboolean
holds (Player *player, const GPtrArray *clauses, gboolean to_start, gboolean on_standby, guint bars)
{
    const Problem *problem = player->problem;
    if (!clauses_hold (clauses, player->values))
        return give_up (player, REPLAY_BROKEN);
    for (guint s = 0; s < problem->sums->len; s++) {
        const Sum *sum = problem->sums->pdata[s];
        gboolean asked =
            (to_start && sum->needed_to_start) || (on_standby && sum->needed_on_standby) || (bars & sum->bars) != 0;
        if (asked && !sum_holds (problem, sum, player->values)) {
            player->replay.sum = s;
            return give_up (player, REPLAY_SUM);
        }
    }
    return TRUE;
}

static gboolean
play_slot (Player *player, const Move *move)
{
    const Problem *problem = player->problem;
    const Variable *var = &problem->vars[move->var];
    guint16 held = player->values[move->var];
    if (var->fixed || (move->value == 0) != (held != 0) || (held != 0 && var->stays[held]))
        return give_up (player, REPLAY_BROKEN);
    if (move->value != 0 && ++player->fittings[move->var] > var->left) {
        player->replay.var = move->var;
        return give_up (player, REPLAY_WORN);
    }
    if (move->value != 0 && !problem_at_hand (problem, var->triple[move->value], player->values)) {
        player->replay.triple = var->triple[move->value];
        player->replay.var = move->var;
        return give_up (player, REPLAY_AT_HAND);
    }
    player->cost +=
        cost_go_off (problem, player->mode) +
        (move->value == 0 ? cost_remove (problem, move->var, held) : cost_fit (problem, move->var, move->value));
    player->values[move->var] = (guint16) move->value;
    player->mode = MODE_OFF;
    return TRUE;
}

static gboolean
play_write (Player *player, const Move *move)
{
    const Problem *problem = player->problem;
    const Write *write = problem->writes->pdata[move->write];
    if (!holds (player, write->before, FALSE, FALSE, 0) ||
        !holds (player, problem->bars[write->method], FALSE, FALSE, METHOD_BIT (write->method)) ||
        (write->start_before && !holds (player, problem->start, TRUE, FALSE, 0)) ||
        (write->standby_quiet && !holds (player, problem->standby, FALSE, TRUE, 0)))
        return FALSE;
    for (guint e = 0; e < write->effects->len; e++) {
        const Effect *effect = &g_array_index (write->effects, Effect, e);
        if (player->floors[effect->var] > effect->max_level)
            return give_up (player, REPLAY_BROKEN);
        player->floors[effect->var] = MAX (player->floors[effect->var], effect->raise_to);
        player->values[effect->var] = (guint16) effect->value;
    }
    if ((write->start_after && !holds (player, problem->start, TRUE, FALSE, 0)) ||
        (write->standby_quiet && !holds (player, problem->standby, FALSE, TRUE, 0)))
        return FALSE;
    player->cost += write->cost + cost_power (problem, write, player->mode);
    player->mode = write->mode;
    return TRUE;
}

Player *
player_new (const Problem *problem)
{
    Player *player = g_new0 (Player, 1);
    player->problem = problem;
    player->values = problem_initial_values (problem);
    player->mode = problem->begin_mode;
    player->floors = g_new0 (guint, problem->n_vars + 1);
    player->fittings = g_new0 (guint, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        player->floors[v] = problem->vars[v].start_floor;
    return player;
}

Player *
player_copy (const Player *player)
{
    Player *copy = g_memdup2 (player, sizeof (Player));
    gsize n = player->problem->n_vars + 1;
    copy->values = g_memdup2 (player->values, n * sizeof (guint16));
    copy->floors = g_memdup2 (player->floors, n * sizeof (guint));
    copy->fittings = g_memdup2 (player->fittings, n * sizeof (guint));
    copy->replay = (Replay){ .verdict = REPLAY_SOUND };
    return copy;
}

void
player_free (Player *player)
{
    g_free (player->values);
    g_free (player->floors);
    g_free (player->fittings);
    replay_clear (&player->replay);
    g_free (player);
}

gboolean
player_step (Player *player, const Move *move)
{
    return move->is_write ? play_write (player, move) : play_slot (player, move);
}

gboolean
player_may_end (Player *player)
{
    if (!problem_goal_met (player->problem, player->values))
        return give_up (player, REPLAY_BROKEN);
    return holds (player, player->problem->start, TRUE, FALSE, 0);
}

static gboolean
play_all (Player *player, const GArray *moves)
{
    for (guint i = 0; i < moves->len; i++)
        if (!player_step (player, &g_array_index (moves, Move, i)))
            return FALSE;
    return player_may_end (player);
}

Replay
moves_replay (const Problem *problem, const GArray *moves)
{
    g_autoptr (Player) player = player_new (problem);
    gboolean sound = play_all (player, moves);
    Replay replay = player->replay;
    player->replay = (Replay){ .verdict = REPLAY_SOUND };
    if (sound)
        replay.cost = player->cost + cost_end (problem, player->mode);
    return replay;
}
