/* SPDX-License-Identifier: MIT */
#include "compare_walk.h"

#include "emit.h"
#include "generate.h"
#include "translate.h"

#include <math.h>

enum { MOST_STEPS = 8, TRIES_A_STEP = 12 };

typedef struct {
    const Play *play;    /* of one case, nothing kept */
    const Play *keeping; /* the same with what the want keeps */
    gboolean kept;       /* nothing that the want keeps was touched so far */
    const LoadedJob *loaded;
    const State *start;
    GArray *steps; /* Step: the way so far */
    World world;
} Stroll;

static Move
random_move (Dice *dice, const Stroll *stroll)
{
    const Job *job = stroll->play->job;
    Move move = { 0 };
    if (dice_percent (dice, 50) || !job->place_count || !stroll->play->triple_count) {
        move.kind = MOVE_WRITE;
        do {
            move.component = dice_below (dice, job->firmware_count);
            move.release = dice_below (dice, job->firmware[move.component].count);
        } while (job->firmware[move.component].gone || job->firmware[move.component].editions[move.release].gone);
        move.way = dice_below (dice, WAYS);
        return move;
    }
    do
        move.slot = dice_below (dice, job->place_count);
    while (job->places[move.slot].gone);
    move.triple = dice_below (dice, stroll->play->triple_count);
    move.kind = dice_percent (dice, 60) ? MOVE_FIT : MOVE_REMOVE;
    if (move.kind == MOVE_REMOVE && stroll->world.held[move.slot])
        move.triple = stroll->world.held[move.slot] - 1;
    return move;
}

/* Whether both say the same of `move`, taken now. It is part of the way afterwards if they allow it. */
static gboolean
move_agrees (Stroll *stroll, const Move *move, char **why)
{
    const Play *play = stroll->play;
    Step step = move_to_step (play, stroll->loaded->library, stroll->loaded->unit->board, move);
    Verdict before = world_verdict (play, &stroll->world);
    gboolean allowed = move_allowed (play, &stroll->world, &before, move);
    World after_world = allowed ? move_apply (play, &stroll->world, move) : stroll->world;
    Verdict after = world_verdict (play, &after_world);
    g_array_append_val (stroll->steps, step);
    g_autoptr (Walk) walk =
        check_walk (stroll->loaded->library, stroll->loaded->shop, NULL, stroll->start, stroll->steps);
    gboolean sound = walk->sound || walk->first_bad + 1 > stroll->steps->len;
    const WalkedStep *last =
        sound && walk->walked->len ? &g_array_index (walk->walked, WalkedStep, walk->walked->len - 1) : NULL;
    gboolean agrees =
        sound == allowed && (!last || (!last->starts_before == !before.starts && !last->starts_after == !after.starts));
    if (!agrees) {
        g_autofree char *text = emit_move (play, move);
        *why =
            g_strdup_printf ("after %u steps, %s: expected %s (starts before %d, after %d); the checker says %s (%s)",
                             stroll->steps->len - 1, text, allowed ? "allowed" : "not allowed", before.starts,
                             after.starts, sound ? "allowed" : "not allowed", walk->why ? walk->why : "no reason");
    }
    stroll->kept = stroll->kept && (!allowed || move_allowed (stroll->keeping, &stroll->world, &before, move));
    if (!allowed)
        g_array_set_size (stroll->steps, stroll->steps->len - 1);
    stroll->world = after_world;
    return agrees;
}

/* Whether both say the same of ending here. */
static gboolean
end_agrees (const Stroll *stroll, char **why)
{
    const LoadedJob *loaded = stroll->loaded;
    g_autoptr (Walk) walk = check_walk (loaded->library, loaded->shop, loaded->want, stroll->start, stroll->steps);
    gboolean may_end = stroll->kept && world_verdict (stroll->play, &stroll->world).starts &&
                       world_may_end (stroll->play, &stroll->world);
    if (!walk->sound == !may_end)
        return TRUE;
    *why = g_strdup_printf ("ending after %u steps: expected %s; the checker says %s", stroll->steps->len,
                            may_end ? "allowed" : "not allowed", walk->why ? walk->why : "sound");
    return FALSE;
}

static gboolean
strolls_agree (Stroll *stroll, Dice *dice, char **why)
{
    for (int tries = 0; tries < MOST_STEPS * TRIES_A_STEP && stroll->steps->len < MOST_STEPS; tries++) {
        Move move = random_move (dice, stroll);
        /* A removal names the part that is there in every written route; another one is a file's mistake. */
        if (move.kind == MOVE_REMOVE && !stroll->world.held[move.slot])
            continue;
        if (!move_agrees (stroll, &move, why) || !end_agrees (stroll, why))
            return FALSE;
    }
    return TRUE;
}

/* The exhaustive search's own route is sound for the checker, and counts the same. */
static gboolean
answer_agrees (const Stroll *stroll, const Answer *answer, char **why)
{
    const LoadedJob *loaded = stroll->loaded;
    g_autoptr (GArray) steps = g_array_new (FALSE, FALSE, sizeof (Step));
    for (guint i = 0; i < answer->moves->len; i++) {
        Step step = move_to_step (stroll->keeping, loaded->library, loaded->unit->board,
                                  &g_array_index (answer->moves, Move, i));
        g_array_append_val (steps, step);
    }
    g_autoptr (Walk) walk = check_walk (loaded->library, loaded->shop, loaded->want, stroll->start, steps);
    if (walk->sound && (int) walk->steps == answer->counts.steps &&
        (int) walk->insertions == answer->counts.insertions && (int) walk->openings == answer->counts.openings &&
        (int) lround (walk->minutes * 10) == answer->counts.tenths)
        return TRUE;
    g_autofree char *expected = emit_expectation (answer);
    *why = g_strdup_printf ("expected %s; the checker says steps %u, insertions %u, minutes %.1f, %s", expected,
                            walk->steps, walk->insertions, walk->minutes, walk->why ? walk->why : "sound");
    return FALSE;
}

static gboolean
case_agrees (const Job *job, const Job *no_keep, const LoadedJob *loaded, int number, const guint *releases, char **why)
{
    Dice dice = { .state = (guint64) job->look };
    Play play, keeping;
    play_setup (&play, no_keep, number);
    play_setup (&keeping, job, number);
    g_autoptr (State) start = state_from_unit (loaded->unit, releases);
    g_autoptr (GArray) steps = g_array_new (FALSE, FALSE, sizeof (Step));
    Stroll stroll = { &play, &keeping, TRUE, loaded, start, steps, play.start };
    if (!end_agrees (&stroll, why) || !strolls_agree (&stroll, &dice, why))
        return FALSE;
    Answer answer = exhaustive_answer (&keeping, GOAL_STEPS, MOST_WORLDS);
    gboolean agrees = answer.kind != ANSWER_ROUTE || answer_agrees (&stroll, &answer, why);
    answer_clear (&answer);
    return agrees;
}

gboolean
walks_agree (const Job *job, const LoadedJob *loaded, char **why)
{
    Job no_keep = job_that_keeps_nothing (job); /* without a want the checker knows of nothing to keep */
    Play all;
    play_setup (&all, &no_keep, -1);
    g_autoptr (GPtrArray) cases = unit_cases (loaded->unit, MAX_CASES);
    if (!cases || (int) cases->len != all.case_count) {
        *why = g_strdup_printf ("expected %d cases, got %u", all.case_count, cases ? cases->len : 0);
        return FALSE;
    }
    for (guint k = 0; k < cases->len; k++) {
        const guint *releases = g_ptr_array_index (cases, k);
        int number = find_case (&all, loaded->unit->board, releases);
        g_assert (number >= 0);
        if (!case_agrees (job, &no_keep, loaded, number, releases, why))
            return FALSE;
    }
    return TRUE;
}
