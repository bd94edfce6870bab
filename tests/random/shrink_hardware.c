/* SPDX-License-Identifier: MIT */
/* Edits of slots and parts, and of what the shop is like. */
#include "shrink_parts.h"

#include <string.h>

static gboolean
place_is_named (Job *job, int slot)
{
    int same = 0;
    for (int i = 0; i < job->place_count; i++) {
        const Place *place = &job->places[i];
        same += !place->gone && place->takes == job->places[slot].takes;
        if (!place->gone && (place->over == slot || place->served_by == slot))
            return TRUE;
    }
    return job->fits[slot].piece >= 0 || job_began (job, slot)->piece >= 0 || job->asks[slot].kind != ASK_NOTHING ||
           shrink_is_named (job, ATOM_SLOT, slot, -1) || (same < 2 && job->places[slot].takes == PIECE_PROCESSOR);
}

static gboolean
piece_is_named (Job *job, int piece)
{
    for (int i = 0; i < job->place_count; i++)
        if ((!job->places[i].gone && (job->fits[i].piece == piece || job_began (job, i)->piece == piece)) ||
            (job->asks[i].kind == ASK_MODEL && job->asks[i].piece == piece) ||
            (job->asks[i].kind == ASK_LIKE && job->places[i].takes == job->pieces[piece].kind))
            return TRUE;
    for (int p = 0; p < job->pulled_count; p++)
        if (job->pulled[p].piece == piece)
            return TRUE;
    for (int s = 0; s < job->stack_count; s++)
        if (job->stacks[s].piece == piece)
            return TRUE;
    return shrink_is_named (job, ATOM_MODEL, piece, -1) ||
           shrink_is_named (job, ATOM_KIND, (int) job->pieces[piece].kind, -1) ||
           (job->pieces[piece].kind == PIECE_PROCESSOR &&
            shrink_is_named (job, ATOM_GENERATION, job->pieces[piece].generation, -1));
}

/* What the slot held and bears. */
static gboolean
edit_wear (Job *job, int slot, int *turn)
{
    if (job->fits[slot].piece >= 0 && job->fits[slot].keeper != OWN && shrink_is_turn (turn)) {
        job->fits[slot].keeper = OWN;
        return TRUE;
    }
    if (job->told_began[slot] && shrink_is_turn (turn)) {
        job->told_began[slot] = FALSE;
        return TRUE;
    }
    if (job->places[slot].rated && shrink_is_turn (turn)) {
        job->places[slot].rated = job->insertions[slot] = 0;
        return TRUE;
    }
    return FALSE;
}

static void
bind_nobody (Job *job)
{
    for (int i = 0; i < MAX_SLOTS; i++)
        job->fits[i].bound = job->began[i].bound = BOUND_NOBODY;
    for (int p = 0; p < job->pulled_count; p++)
        job->pulled[p].bound = BOUND_NOBODY;
    for (int s = 0; s < job->stack_count; s++)
        job->stacks[s].bound = BOUND_NOBODY;
    for (int p = 0; p < job->piece_count; p++)
        job->pieces[p].binds = FALSE;
}

static gboolean
binds_any (const Job *job)
{
    for (int p = 0; p < job->piece_count; p++)
        if (job->pieces[p].binds)
            return TRUE;
    return FALSE;
}

gboolean
shrink_hardware (Job *job, int *turn)
{
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone)
            continue;
        if (!place_is_named (job, i) && shrink_is_turn (turn))
            return job->places[i].gone = TRUE;
        if (job->fits[i].piece >= 0 && shrink_is_turn (turn)) {
            job->fits[i] = (Fit){ .piece = -1 };
            return TRUE;
        }
        if (edit_wear (job, i, turn))
            return TRUE;
        if (job->asks[i].kind != ASK_NOTHING && shrink_is_turn (turn)) {
            job->asks[i] = (Ask){ .kind = ASK_NOTHING, .piece = -1, .stepping = -1, .generation = -1 };
            return TRUE;
        }
        if (job->keep_place[i] && shrink_is_turn (turn)) {
            job->keep_place[i] = FALSE;
            return TRUE;
        }
        if (job->places[i].served_by >= 0 && shrink_is_turn (turn)) {
            job->places[i].served_by = -1;
            return TRUE;
        }
    }
    for (int p = 0; p < job->pulled_count; p++) {
        if (!shrink_is_turn (turn))
            continue;
        memmove (&job->pulled[p], &job->pulled[p + 1], sizeof (Fit) * (gsize) (job->pulled_count - p - 1));
        job->pulled_count--;
        return TRUE;
    }
    for (int p = 0; p < job->piece_count; p++)
        if (!job->pieces[p].gone && !piece_is_named (job, p) && shrink_is_turn (turn))
            return job->pieces[p].gone = TRUE;
    return FALSE;
}

gboolean
shrink_habits (Job *job, int *turn)
{
    gboolean *flags[] = { &job->unverified, &job->need_recovery, &job->redundant, &job->verified_boot };
    for (guint i = 0; i < G_N_ELEMENTS (flags); i++) {
        if (*flags[i] && shrink_is_turn (turn)) {
            *flags[i] = FALSE;
            return TRUE;
        }
    }
    if (binds_any (job) && shrink_is_turn (turn)) {
        bind_nobody (job);
        return TRUE;
    }
    if (job->board_binds && shrink_is_turn (turn)) {
        job->board_binds = BOUND_NOBODY;
        return TRUE;
    }
    if (job->shop_ways != ALL_WAYS && shrink_is_turn (turn)) {
        job->shop_ways = ALL_WAYS;
        return TRUE;
    }
    if (job->look && shrink_is_turn (turn)) {
        job->look = 0;
        return TRUE;
    }
    for (int g = 0; g < GENERATIONS; g++) {
        if (job->mixed[g] && shrink_is_turn (turn)) {
            job->mixed[g] = 0;
            return TRUE;
        }
    }
    return FALSE;
}
