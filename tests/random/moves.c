/* SPDX-License-Identifier: MIT */
/* Moves: which are allowed, what they do, what they cost. docs/method.md, "Steps" and "Counts". */
#include "world.h"

#include <string.h>

/* The release that is written along; NULL: none. The spare image's copy is of one component alone. */
static const Edition *
written_along (const Job *job, const Move *move, int *component)
{
    const Edition *edition = &job->firmware[move->component].editions[move->release];
    if (edition->also < 0 || move->way == WAY_SPARE)
        return NULL;
    *component = edition->also;
    return &job->firmware[edition->also].editions[edition->also_release];
}

unsigned
move_sets (const Job *job, const Move *move)
{
    int along = 0;
    return 1u << move->component | (written_along (job, move, &along) ? 1u << along : 0);
}

static gboolean
pair_holds (const Play *play, const World *world, int k, const Cond *requires, const Cond *conflicts)
{
    return (!requires->count || cond_holds (play, world, k, requires)) &&
           (!conflicts->count || !cond_holds (play, world, k, conflicts));
}

static gboolean
is_over_floors (const Job *job, const World *world, int k, const Move *move)
{
    const Edition *edition = &job->firmware[move->component].editions[move->release];
    int along = 0;
    return move->release >= world->floor[k][move->component] &&
           (!written_along (job, move, &along) || edition->also_release >= world->floor[k][along]);
}

/* "Only a method of the component's `recovery` that can be used may write it" */
static gboolean
may_write_failed (const Play *play, const World *world, int k, const Move *move)
{
    unsigned sets = move_sets (play->job, move);
    for (int c = 0; c < play->job->firmware_count; c++)
        if ((sets & world->failed) >> c & 1 && !way_recovers (play, world, k, c, move->way, sets))
            return FALSE;
    return TRUE;
}

/* The image that `spare` copies is sound and holds this release. */
static gboolean
spare_holds (const Job *job, const World *world, int k, const Move *move)
{
    int spare = job->firmware[move->component].spare;
    return spare >= 0 && !(world->failed >> spare & 1) && world->release[k][spare] == move->release;
}

/* The conditions on a write that do not depend on whether anything starts, in one case. */
static gboolean
write_allowed_in (const Play *play, const World *world, int k, const Move *move)
{
    const Job *job = play->job;
    const Firmware *firmware = &job->firmware[move->component];
    const Edition *edition = &firmware->editions[move->release];
    const WayEntry *way = &firmware->ways[move->way];
    gboolean obeys_all = move->way == WAY_HOST || move->way == WAY_CONTROLLER;
    if (way->requires.count && !cond_holds (play, world, k, &way->requires))
        return FALSE;
    if ((obeys_all || way->obeys_floor) && !is_over_floors (job, world, k, move))
        return FALSE;
    if ((obeys_all || way->obeys_from) && edition->from.count &&
        !cond_holds_of (&edition->from, world->release[k][move->component]))
        return FALSE;
    if ((obeys_all || way->obeys_to_write) &&
        !pair_holds (play, world, k, &edition->write_requires, &edition->write_conflicts))
        return FALSE;
    if (way->recovery_only && !(world->failed >> move->component & 1))
        return FALSE;
    if (move->way == WAY_SPARE && !spare_holds (job, world, k, move))
        return FALSE;
    return may_write_failed (play, world, k, move) &&
           (!job->need_recovery || writes_recover (play, world, k, move_sets (job, move)));
}

/* What the book, the shop and the want say of a write, whatever the world. */
static gboolean
write_exists (const Job *job, const Move *move)
{
    const Firmware *firmware = &job->firmware[move->component];
    const Edition *edition = &firmware->editions[move->release];
    unsigned way_bit = 1u << move->way;
    int along = 0;
    if (firmware->gone || edition->gone || !firmware->ways[move->way].there || !(edition->ways & way_bit) ||
        !(job->shop_ways & way_bit) || edition->withdrawn || job->keep_firmware[move->component])
        return FALSE;
    const Edition *with_it = written_along (job, move, &along);
    return !with_it || (!with_it->withdrawn && !job->keep_firmware[along]);
}

/* How it is powered, before and after. */
static gboolean
power_allows (const Play *play, const World *world, const Verdict *before, const Move *move)
{
    const Job *job = play->job;
    Mode mode = move_mode (job, move);
    if (mode == MODE_OFF)
        return move->way != WAY_JUMPER || before->unharmed;
    if (mode == MODE_ON ? !before->starts : !before->standby_safe)
        return FALSE;
    if (mode == MODE_ON && (job->firmware[move->component].ways[move->way].next_start || job->unverified))
        return TRUE;
    World after_world = move_apply (play, world, move);
    Verdict after = world_verdict (play, &after_world);
    return mode == MODE_ON ? after.starts : after.standby_safe;
}

static gboolean
write_allowed (const Play *play, const World *world, const Verdict *before, const Move *move)
{
    if (!write_exists (play->job, move) || (before->barred & 1u << move->way))
        return FALSE;
    for (int k = 0; k < play->case_count; k++)
        if (!write_allowed_in (play, world, k, move))
            return FALSE;
    return power_allows (play, world, before, move);
}

/* "On a board that `binds`, a stock part that `binds` and is bound to nobody yet stays where it was fitted" */
static gboolean
may_be_removed (const Play *play, const Triple *triple)
{
    return !play->job->board_binds || triple->keeper != STOCK || triple->bound ||
           !play->job->pieces[triple->piece].binds;
}

static gboolean
may_be_fitted (const Play *play, const World *world, const Move *move)
{
    const Job *job = play->job;
    const Triple *triple = &play->triples[move->triple];
    const Place *place = &job->places[move->slot];
    if (world->held[move->slot] || job->pieces[triple->piece].kind != place->takes ||
        (place->rated && job->insertions[move->slot] + world->fittings[move->slot] >= place->rated))
        return FALSE;
    int fitted = 0;
    for (int i = 0; i < job->place_count; i++)
        fitted += world->held[i] == move->triple + 1;
    return fitted < triple->count;
}

gboolean
move_allowed (const Play *play, const World *world, const Verdict *verdict, const Move *move)
{
    if (move->kind == MOVE_WRITE)
        return write_allowed (play, world, verdict, move);
    if (play->job->places[move->slot].gone || play->job->keep_place[move->slot])
        return FALSE;
    if (move->kind == MOVE_REMOVE)
        return world->held[move->slot] == move->triple + 1 && may_be_removed (play, &play->triples[move->triple]);
    return may_be_fitted (play, world, move);
}

Mode
move_mode (const Job *job, const Move *move)
{
    if (move->kind != MOVE_WRITE || move->way == WAY_CLIP || move->way == WAY_JUMPER)
        return MODE_OFF;
    gboolean on = move->way == WAY_HOST ||
                  (move->way == WAY_CONTROLLER && job->firmware[move->component].ways[WAY_CONTROLLER].host == NEED_ON);
    return on ? MODE_ON : MODE_STANDBY;
}

static void
write_release (World *world, int at_case, const Job *job, int component, int release)
{
    int lowest = job->firmware[component].editions[release].lowest;
    world->release[at_case][component] = (guint8) release;
    if (lowest > world->floor[at_case][component])
        world->floor[at_case][component] = (guint8) lowest;
}

World
move_apply (const Play *play, const World *world, const Move *move)
{
    World after = *world;
    int along = 0;
    after.mode = (guint8) move_mode (play->job, move);
    if (move->kind == MOVE_REMOVE)
        after.held[move->slot] = 0;
    if (move->kind == MOVE_FIT) {
        after.held[move->slot] = (guint8) (move->triple + 1);
        after.fittings[move->slot] = (guint8) (after.fittings[move->slot] + (play->job->places[move->slot].rated > 0));
    }
    if (move->kind != MOVE_WRITE)
        return after;
    gboolean two = written_along (play->job, move, &along) != NULL;
    for (int k = 0; k < play->case_count; k++) {
        write_release (&after, k, play->job, move->component, move->release);
        if (two)
            write_release (&after, k, play->job, along,
                           play->job->firmware[move->component].editions[move->release].also_release);
    }
    after.failed = (guint8) (after.failed & ~move_sets (play->job, move));
    return after;
}

World
move_fail (const Play *play, const World *world, const Move *move)
{
    World after = *world;
    after.failed = (guint8) (after.failed | move_sets (play->job, move));
    return after;
}

int
move_insertions (const Play *play, const Move *move)
{
    return move->kind == MOVE_FIT && play->job->places[move->slot].takes == PIECE_PROCESSOR;
}

int
move_openings (const Play *play, const World *world, const Move *move)
{
    return move_mode (play->job, move) == MODE_OFF && world->mode != MODE_OFF;
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
    tenths += move_openings (play, world, move) * job->opening_tenths;
    if (move_mode (job, move) == MODE_ON && world->mode != MODE_ON)
        tenths += job->start_tenths;
    return tenths;
}

int
end_tenths (const Play *play, const World *world)
{
    return world->mode == MODE_OFF || world->mode == MODE_STANDBY ? play->job->start_tenths : 0;
}
