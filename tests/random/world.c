/* SPDX-License-Identifier: MIT */
/* Moves: which are allowed, what they do, what they cost; and how a job begins and may end. */
#include "world.h"

#include <string.h>

int
job_case_count (const Job *job)
{
    int count = 1;
    for (int c = 0; c < job->firmware_count; c++)
        if (!job->firmware[c].gone)
            count *= bits_count (job->may_be[c]);
    return count;
}

static int
triple_at (Play *play, int piece, int stepping, Keeper keeper)
{
    for (int t = 0; t < play->triple_count; t++) {
        const Triple *triple = &play->triples[t];
        if (triple->piece == piece && triple->stepping == stepping && triple->keeper == keeper)
            return t;
    }
    g_assert (play->triple_count < MAX_TRIPLES);
    play->triples[play->triple_count] = (Triple){ piece, stepping, keeper, 0 };
    return play->triple_count++;
}

static gboolean
ties (const Job *job, int a, int b)
{
    for (int l = 0; l < job->law_count; l++)
        if (law_ties (job, &job->laws[l], a, b))
            return TRUE;
    return FALSE;
}

/* Tied to a slot that the want mentions, directly or by way of others. */
static gboolean
is_tied (const Job *job, int slot)
{
    gboolean reached[MAX_SLOTS] = { FALSE };
    for (int i = 0; i < job->place_count; i++)
        reached[i] = !job->places[i].gone && job->asks[i].kind != ASK_NOTHING;
    for (int round = 0; round < job->place_count; round++)
        for (int a = 0; a < job->place_count; a++)
            for (int b = 0; b < job->place_count; b++)
                if (reached[a] && !job->places[b].gone && ties (job, a, b))
                    reached[b] = TRUE;
    return reached[slot];
}

static gboolean
slot_may_end (const Play *play, int slot, int held, gboolean tied)
{
    const Job *job = play->job;
    const Triple *triple = held ? &play->triples[held - 1] : NULL;
    if (triple && triple->keeper == LOAN)
        return FALSE;
    if (job->asks[slot].kind != ASK_NOTHING)
        return ask_is_met (job, slot, triple ? triple->piece : -1, triple ? triple->stepping : -1);
    return held == play->start.held[slot] || (tied && triple);
}

static void
setup_cases (Play *play, int only_case)
{
    const Job *job = play->job;
    int total = job_case_count (job);
    for (int k = 0; k < total; k++) {
        if (only_case >= 0 && k != only_case)
            continue;
        int rest = k;
        for (int c = 0; c < job->firmware_count; c++) {
            if (job->firmware[c].gone)
                continue;
            unsigned may = job->may_be[c];
            for (int skip = rest % bits_count (job->may_be[c]); skip > 0; skip--)
                may &= may - 1;
            rest /= bits_count (job->may_be[c]);
            int release = bits_lowest (may);
            play->start.release[play->case_count][c] = (guint8) release;
            play->start.floor[play->case_count][c] =
                (guint8) MAX (0, MAX (job->floor[c], job->firmware[c].editions[release].lowest));
        }
        play->case_count++;
    }
}

gboolean
play_setup (Play *play, const Job *job, int only_case)
{
    if (only_case < 0 && job_case_count (job) > MAX_CASES)
        return FALSE;
    memset (play, 0, sizeof *play);
    play->job = job;
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone || job->fits[i].piece < 0)
            continue;
        int triple = triple_at (play, job->fits[i].piece, job->fits[i].stepping, OWN);
        play->triples[triple].count++;
        play->start.held[i] = (guint8) (triple + 1);
    }
    for (int s = 0; s < job->stack_count; s++) {
        const Stack *stack = &job->stacks[s];
        play->triples[triple_at (play, stack->piece, stack->stepping, stack->keeper)].count += stack->count;
    }
    setup_cases (play, only_case);
    for (int i = 0; i < job->place_count; i++) {
        gboolean tied = is_tied (job, i);
        for (int held = 0; held <= play->triple_count; held++)
            play->may_end[i][held] = slot_may_end (play, i, held, tied);
    }
    return TRUE;
}

Verdict
world_verdict (const Play *play, const World *world)
{
    const Job *job = play->job;
    Verdict verdict = { TRUE, TRUE, 0 };
    for (int k = 0; k < play->case_count; k++) {
        for (int l = 0; l < job->law_count; l++) {
            const Law *law = &job->laws[l];
            if (law->breaking == BREAK_WARNS || law_holds (play, world, k, law))
                continue;
            if (law->breaking == BREAK_STOPS || (law->breaking == BREAK_HARMS && (law->powers & WHILE_ON)))
                verdict.starts = FALSE;
            if (law->breaking == BREAK_HARMS && (law->powers & WHILE_STANDBY))
                verdict.standby_safe = FALSE;
            if (law->breaking == BREAK_BARS)
                verdict.barred |= law->ways;
        }
        for (int c = 0; c < job->firmware_count && verdict.starts; c++) {
            if (job->firmware[c].gone)
                continue;
            const Edition *runs = &job->firmware[c].editions[world->release[k][c]];
            if ((runs->run_requires.count && !cond_holds (play, world, k, &runs->run_requires)) ||
                (runs->run_conflicts.count && cond_holds (play, world, k, &runs->run_conflicts)))
                verdict.starts = FALSE;
        }
    }
    return verdict;
}

gboolean
world_may_end (const Play *play, const World *world)
{
    const Job *job = play->job;
    for (int i = 0; i < job->place_count; i++)
        if (!job->places[i].gone && !play->may_end[i][world->held[i]])
            return FALSE;
    for (int k = 0; k < play->case_count; k++)
        for (int c = 0; c < job->firmware_count; c++)
            if (!job->firmware[c].gone && job->ask_firmware[c].count &&
                !cond_holds (play, world, k, &job->ask_firmware[c]))
                return FALSE;
    return TRUE;
}

/* Whether a failed write of `component` could be put right in a unit that does not start. */
static gboolean
has_recovery (const Play *play, const World *world, int at_case, int component)
{
    const Job *job = play->job;
    const Firmware *firmware = &job->firmware[component];
    unsigned ways = firmware->recovery & job->shop_ways;
    if (ways & 1u << WAY_CLIP)
        return TRUE;
    const Cond *needs = &firmware->ways[WAY_CONTROLLER].requires;
    return (ways & 1u << WAY_CONTROLLER) && (!needs->count || (!cond_names (needs, ATOM_RELEASE, component) &&
                                                               cond_holds (play, world, at_case, needs)));
}

/* The conditions on a write that do not depend on whether anything starts, in one case. */
static gboolean
write_allowed_in (const Play *play, const World *world, int k, const Move *move)
{
    const Job *job = play->job;
    const Firmware *firmware = &job->firmware[move->component];
    const Edition *edition = &firmware->editions[move->release];
    const WayEntry *way = &firmware->ways[move->way];
    gboolean clip = move->way == WAY_CLIP;
    if (way->requires.count && !cond_holds (play, world, k, &way->requires))
        return FALSE;
    if ((!clip || way->obeys_floor) && (move->release < world->floor[k][move->component] ||
                                        (edition->also >= 0 && edition->also_release < world->floor[k][edition->also])))
        return FALSE;
    if ((!clip || way->obeys_from) && edition->from.count && !cond_holds (play, world, k, &edition->from))
        return FALSE;
    if ((!clip || way->obeys_to_write) &&
        ((edition->write_requires.count && !cond_holds (play, world, k, &edition->write_requires)) ||
         (edition->write_conflicts.count && cond_holds (play, world, k, &edition->write_conflicts))))
        return FALSE;
    return !job->need_recovery || (has_recovery (play, world, k, move->component) &&
                                   (edition->also < 0 || has_recovery (play, world, k, edition->also)));
}

static gboolean
write_allowed (const Play *play, const World *world, const Verdict *before, const Move *move)
{
    const Job *job = play->job;
    const Firmware *firmware = &job->firmware[move->component];
    const Edition *edition = &firmware->editions[move->release];
    unsigned way_bit = 1u << move->way;
    if (firmware->gone || edition->gone || !firmware->ways[move->way].there || !(edition->ways & way_bit) ||
        !(job->shop_ways & way_bit) || (before->barred & way_bit) || job->keep_firmware[move->component])
        return FALSE;
    if (edition->withdrawn ||
        (edition->also >= 0 &&
         (job->firmware[edition->also].editions[edition->also_release].withdrawn || job->keep_firmware[edition->also])))
        return FALSE;
    for (int k = 0; k < play->case_count; k++)
        if (!write_allowed_in (play, world, k, move))
            return FALSE;
    if (move->way == WAY_CLIP)
        return TRUE;
    if (move->way == WAY_HOST ? !before->starts : !before->standby_safe)
        return FALSE;
    if (move->way == WAY_HOST && (firmware->ways[WAY_HOST].next_start || job->unverified))
        return TRUE;
    World after_world = move_apply (play, world, move);
    Verdict after = world_verdict (play, &after_world);
    return move->way == WAY_HOST ? after.starts : after.standby_safe;
}

gboolean
move_allowed (const Play *play, const World *world, const Verdict *verdict, const Move *move)
{
    const Job *job = play->job;
    if (move->kind == MOVE_WRITE)
        return write_allowed (play, world, verdict, move);
    if (job->places[move->slot].gone || job->keep_place[move->slot])
        return FALSE;
    if (move->kind == MOVE_REMOVE)
        return world->held[move->slot] == move->triple + 1;
    const Triple *triple = &play->triples[move->triple];
    if (world->held[move->slot] || job->pieces[triple->piece].kind != job->places[move->slot].takes)
        return FALSE;
    int fitted = 0;
    for (int i = 0; i < job->place_count; i++)
        fitted += world->held[i] == move->triple + 1;
    return fitted < triple->count;
}

static void
write_release (World *world, int at_case, const Job *job, int component, int release)
{
    int lowest = job->firmware[component].editions[release].lowest;
    world->release[at_case][component] = (guint8) release;
    if (lowest > world->floor[at_case][component])
        world->floor[at_case][component] = (guint8) lowest;
}

static Mode
move_mode (const Move *move)
{
    if (move->kind != MOVE_WRITE || move->way == WAY_CLIP)
        return MODE_OFF;
    return move->way == WAY_HOST ? MODE_ON : MODE_STANDBY;
}

World
move_apply (const Play *play, const World *world, const Move *move)
{
    World after = *world;
    after.mode = (guint8) move_mode (move);
    if (move->kind == MOVE_REMOVE)
        after.held[move->slot] = 0;
    if (move->kind == MOVE_FIT)
        after.held[move->slot] = (guint8) (move->triple + 1);
    for (int k = 0; move->kind == MOVE_WRITE && k < play->case_count; k++) {
        const Edition *edition = &play->job->firmware[move->component].editions[move->release];
        write_release (&after, k, play->job, move->component, move->release);
        if (edition->also >= 0)
            write_release (&after, k, play->job, edition->also, edition->also_release);
    }
    return after;
}

int
move_insertions (const Play *play, const Move *move)
{
    return move->kind == MOVE_FIT && play->job->places[move->slot].takes == PIECE_PROCESSOR;
}

int
move_tenths (const Play *play, const World *world, const Move *move)
{
    const Job *job = play->job;
    int tenths = 0;
    if (move->kind == MOVE_WRITE)
        tenths = job->firmware[move->component].ways[move->way].tenths;
    else if (move->kind == MOVE_REMOVE)
        tenths = job->remove_tenths[job->places[move->slot].takes];
    else
        tenths = job->fit_tenths[job->places[move->slot].takes];
    Mode mode = move_mode (move);
    if (mode == MODE_OFF && world->mode != MODE_OFF)
        tenths += job->opening_tenths;
    if (mode == MODE_ON && world->mode != MODE_ON)
        tenths += job->start_tenths;
    return tenths;
}

int
end_tenths (const Play *play, const World *world)
{
    return world->mode == MODE_OFF || world->mode == MODE_STANDBY ? play->job->start_tenths : 0;
}
