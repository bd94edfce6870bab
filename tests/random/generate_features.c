/* SPDX-License-Identifier: MIT */
/* The rarer things that a job may have, each drawn for itself: rated sockets, blanks, parts that bind themselves, spare images,
 * failed writes, units in the middle of their work. Each with a probability that makes it occur often in 300 units. */
#include "generate.h"

#include <stdio.h>

int
generate_tenths (Dice *dice, int low, int high)
{
    int most = dice_percent (dice, 25) ? 8 * high : high;
    return 5 * dice_between (dice, low / 5, most / 5);
}

/* ---- The board and its parts ---- */

void
feature_board (Dice *dice, Job *job)
{
    int covered = -1;
    for (int i = 0; i < job->place_count; i++)
        if ((job->places[i].takes == PIECE_PROCESSOR && (i > 0 || dice_percent (dice, 30))) ||
            (job->places[i].takes == PIECE_MEMORY && dice_percent (dice, 30)))
            covered = i;
    if (covered >= 0 && job->place_count < 6 && dice_percent (dice, 28)) {
        Place *blank = &job->places[job->place_count++];
        *blank = (Place){
            .takes = PIECE_BLANK, .over = covered, .served_by = -1, .socket = -1, .memory_type = -1, .name = "blank1"
        };
    }
    if (dice_percent (dice, 25))
        for (int i = 0; i < job->place_count; i++)
            if (job->places[i].takes == PIECE_PROCESSOR && dice_percent (dice, 70))
                job->places[i].rated = dice_between (dice, 1, 30);
    job->verified_boot = dice_percent (dice, 20);
}

void
feature_pieces (Dice *dice, Job *job)
{
    if (!dice_percent (dice, 22))
        return;
    int roll = dice_below (dice, 100);
    job->board_binds = roll < 75 ? BOUND_FIRST : roll < 85 ? BOUND_SECOND : BOUND_NOBODY;
    for (int p = 0; p < job->piece_count; p++)
        if (job->pieces[p].kind == PIECE_PROCESSOR)
            job->pieces[p].binds = dice_percent (dice, 60);
}

/* ---- Firmware ---- */

void
feature_ways (Dice *dice, Job *job)
{
    for (int c = 0; c < job->firmware_count; c++) {
        WayEntry *ways = job->firmware[c].ways;
        int roll = dice_below (dice, 100);
        if (ways[WAY_CONTROLLER].there)
            ways[WAY_CONTROLLER].host = roll < 25 ? NEED_ON : roll < 40 ? NEED_EITHER : NEED_OFF;
        ways[WAY_JUMPER].there = dice_percent (dice, 18);
        for (int way = WAY_HOST; way < WAYS; way++)
            ways[way].recovery_only = dice_percent (dice, way >= WAY_JUMPER ? 35 : way == WAY_CLIP ? 25 : 3);
        for (int way = WAY_JUMPER; way <= WAY_SPARE; way++) {
            ways[way].tenths = generate_tenths (dice, 20, 150);
            ways[way].obeys_floor = dice_percent (dice, 70);
            ways[way].obeys_from = dice_percent (dice, 20);
            ways[way].obeys_to_write = dice_percent (dice, 20);
        }
    }
}

void
feature_spare (Dice *dice, Job *job)
{
    int active = dice_percent (dice, 80) ? 0 : dice_below (dice, job->firmware_count);
    for (int c = 0; c < job->firmware_count; c++)
        job->firmware[c].spare = job->firmware[c].spare_of = -1;
    if (!dice_percent (dice, 20))
        return;
    int spare = job->firmware_count++;
    job->firmware[active].spare = spare;
    job->firmware[active].count = MIN (job->firmware[active].count, 4);
    job->firmware[active].ways[WAY_SPARE].there = dice_percent (dice, 75);
    job->firmware[spare] = (Firmware){ .order = job->firmware[active].order, .count = job->firmware[active].count };
    job->firmware[spare].spare = -1;
    job->firmware[spare].spare_of = active;
}

void
feature_long_way (Dice *dice, Job *job)
{
    Firmware *firmware = &job->firmware[0];
    int last = firmware->count - 1;
    job->shop_ways |= 1u << WAY_HOST | 1u << WAY_CLIP;
    firmware->ways[WAY_HOST] = (WayEntry){ .there = TRUE, .tenths = generate_tenths (dice, 10, 40) };
    firmware->ways[WAY_CLIP] = (WayEntry){ .there = TRUE, .tenths = generate_tenths (dice, 150, 400) };
    for (int r = 0; r <= last; r++) {
        Edition *edition = &firmware->editions[r];
        edition->ways |= 1u << WAY_HOST | 1u << WAY_CLIP;
        edition->withdrawn = FALSE;
        edition->write_requires.count = edition->write_conflicts.count = 0;
        if (r)
            edition->from = cond_atom (ATOM_RELEASE, 0, CMP_EQ, r - 1);
    }
    job->may_be[0] = 1u << dice_between (dice, 0, last / 2);
    job->told[0] = TOLD_KNOWN;
    job->floor[0] = -1;
    job->ask_firmware[0] = cond_atom (ATOM_RELEASE, 0, CMP_GE, last);
    job->keep_firmware[0] = FALSE;
    if (job->spare_untold && firmware->spare >= 0)
        job->may_be[firmware->spare] = job->may_be[0];
    job_mirror_spares (job);
}

/* ---- Rules ---- */

void
feature_laws (Dice *dice, Job *job)
{
    gboolean binds = FALSE;
    for (int p = 0; p < job->piece_count; p++)
        binds = binds || job->pieces[p].binds;
    for (int lent = 0; lent < 2 && binds; lent++) {
        if (!dice_percent (dice, 88))
            continue;
        Law *law = generate_law (job, LAW_BINDS, lent ? BREAK_HARMS : BREAK_STOPS);
        law->kind = PIECE_PROCESSOR;
        law->lent = lent;
        if (dice_percent (dice, 30))
            generate_other_breaking (dice, law);
    }
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].takes != PIECE_BLANK || !dice_percent (dice, 90))
            continue;
        Law *law = generate_law (job, LAW_ONE_OF, dice_percent (dice, 60) ? BREAK_HARMS : BREAK_STOPS);
        law->kind = PIECE_BLANK;
        law->other = job->places[job->places[i].over].takes;
        if (dice_percent (dice, 30))
            generate_other_breaking (dice, law);
    }
}

/* ---- The shop and the unit ---- */

Bound
feature_bound (Dice *dice, const Job *job, int piece)
{
    if (piece < 0 || !job->pieces[piece].binds || dice_percent (dice, 50))
        return BOUND_NOBODY;
    return dice_percent (dice, 70) ? BOUND_FIRST : BOUND_SECOND;
}

static void
fit_blanks (Dice *dice, Job *job)
{
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].takes != PIECE_BLANK)
            continue;
        Fit *under = &job->fits[job->places[i].over];
        if (dice_percent (dice, 50)) /* an empty socket, which the order fills */
            under->piece = -1;
        if ((under->piece >= 0) == dice_percent (dice, 90))
            job->fits[i].piece = -1;
        else if (job->fits[i].piece < 0)
            job->fits[i] = (Fit){ .piece = pick_piece (dice, job, PIECE_BLANK) };
    }
}

static void
wear_sockets (Dice *dice, Job *job)
{
    for (int i = 0; i < job->place_count; i++) {
        int left = dice_percent (dice, 25) ? 0 : dice_percent (dice, 75) ? 1 : 2;
        if (job->places[i].rated)
            job->insertions[i] = MAX (0, job->places[i].rated - left);
    }
}

/* A way by which what failed may be put right, mostly. */
static void
fail_component (Dice *dice, Job *job, int c)
{
    job->failed[c] = TRUE;
    int active = job->firmware[c].spare_of >= 0 ? job->firmware[c].spare_of : c;
    Firmware *firmware = &job->firmware[active];
    unsigned there = 0;
    for (int way = WAY_CONTROLLER; way < WAYS; way++)
        there |= firmware->ways[way].there ? 1u << way : 0;
    if (dice_percent (dice, 85))
        firmware->recovery |= there;
    if (there || !dice_percent (dice, 70))
        return;
    firmware->ways[WAY_JUMPER].there = TRUE;
    firmware->recovery |= 1u << WAY_JUMPER;
    for (int r = 0; r < firmware->count; r++)
        firmware->editions[r].ways |= 1u << WAY_JUMPER;
}

/* As many of a lot as are fitted, at least. */
static gboolean
have_stack (Job *job, const Fit *fit)
{
    int fitted = 0;
    for (int i = 0; i < job->place_count; i++) {
        const Fit *other = &job->fits[i];
        fitted += other->piece == fit->piece && other->stepping == fit->stepping && other->keeper == fit->keeper &&
                  other->bound == fit->bound;
    }
    for (int s = 0; s < job->stack_count; s++) {
        Stack *stack = &job->stacks[s];
        if (stack->piece == fit->piece && stack->stepping == fit->stepping && stack->keeper == fit->keeper &&
            stack->bound == fit->bound) {
            stack->count = MAX (stack->count, fitted);
            return TRUE;
        }
    }
    if (job->stack_count == MAX_LOTS)
        return FALSE;
    job->stacks[job->stack_count++] = (Stack){ fit->piece, fit->stepping, fit->keeper, fit->bound, MAX (1, fitted) };
    return TRUE;
}

/* What is in the slot now came from the shop; what was there lies beside the unit. */
static void
swap_in (Dice *dice, Job *job, int slot)
{
    Fit *fit = &job->fits[slot];
    const Fit was = *fit;
    int piece = dice_percent (dice, 50) ? pick_piece (dice, job, job->places[slot].takes) : fit->piece;
    if (piece < 0)
        return;
    *fit = (Fit){ .piece = piece, .stepping = pick_stepping (dice, &job->pieces[piece]) };
    fit->keeper = dice_percent (dice, 70) ? LOAN : STOCK;
    fit->bound = feature_bound (dice, job, piece);
    if (!have_stack (job, fit)) {
        *fit = was;
        return;
    }
    if (was.piece >= 0 && job->pulled_count < MAX_PULLED)
        job->pulled[job->pulled_count++] = was;
    job->told_began[slot] = dice_percent (dice, 90);
    job->began[slot] = was;
}

/* Work has begun: slots hold what was lent or sold, or nothing. */
static void
begin_work (Dice *dice, Job *job)
{
    for (int i = 0; i < job->place_count; i++) {
        gboolean processor = job->places[i].takes == PIECE_PROCESSOR;
        if (dice_percent (dice, processor ? 45 : 12)) {
            swap_in (dice, job, i);
        } else if (job->fits[i].piece >= 0 && job->pulled_count < MAX_PULLED && dice_percent (dice, 15)) {
            job->told_began[i] = dice_percent (dice, 80);
            job->began[i] = job->pulled[job->pulled_count++] = job->fits[i];
            job->fits[i] = (Fit){ .piece = -1 };
        }
    }
}

static void
tell_spare (Dice *dice, Job *job, int active, int spare)
{
    int count = job->firmware[active].count;
    job->spare_untold = job->told[active] == TOLD_KNOWN && dice_percent (dice, 40);
    if (job->spare_untold || (job->told[spare] == TOLD_KNOWN && dice_percent (dice, 35)))
        job->may_be[spare] = job->may_be[active];
    if (job->spare_untold || bits_count (job->may_be[spare]) == 1)
        job->told[spare] = TOLD_KNOWN;
    else if (job->told[spare] == TOLD_KNOWN) /* copied from one that is not known */
        job->told[spare] = TOLD_LIST;
    if (job->floor[spare] >= 0)
        job->floor[spare] = dice_below (dice, count);
}

void
feature_unit (Dice *dice, Job *job)
{
    fit_blanks (dice, job);
    wear_sockets (dice, job);
    for (int c = 0; c < job->firmware_count; c++)
        if (job->firmware[c].spare >= 0)
            tell_spare (dice, job, c, job->firmware[c].spare);
    if (dice_percent (dice, 15))
        fail_component (dice, job, dice_below (dice, job->firmware_count));
    if (dice_percent (dice, 22))
        begin_work (dice, job);
    job_mirror_spares (job);
}

/* ---- The want ---- */

/* A second processor goes into an empty socket, whose blank comes out. */
void
feature_want (Dice *dice, Job *job)
{
    for (int i = 0; i < job->place_count; i++) {
        int under = job->places[i].over;
        if (job->places[i].takes != PIECE_BLANK || job->places[under].takes != PIECE_PROCESSOR ||
            !dice_percent (dice, 60))
            continue;
        const Fit like = job->fits[under > 0 ? 0 : under];
        int piece = like.piece >= 0 ? like.piece : pick_piece (dice, job, PIECE_PROCESSOR);
        job->fits[i] = (Fit){ .piece = pick_piece (dice, job, PIECE_BLANK) };
        job->fits[under] = (Fit){ .piece = -1 };
        job->told_began[i] = job->told_began[under] = FALSE;
        job->asks[i].kind = ASK_NOTHING;
        job->asks[under] = (Ask){ .kind = ASK_MODEL, .piece = piece, .stepping = -1, .generation = -1 };
        job->keep_place[i] = job->keep_place[under] = FALSE;
        const Fit sold = { .piece = piece, .stepping = pick_stepping (dice, &job->pieces[piece]), .keeper = STOCK };
        have_stack (job, &sold);
    }
}
