/* SPDX-License-Identifier: MIT */
/* Random boards, parts and firmware. The weights were set by looking at the lengths that came out. */
#include "generate.h"

#include <stdio.h>

static int
add_place (Job *job, PieceKind kind, const char *stem, int number)
{
    Place *place = &job->places[job->place_count];
    *place = (Place){ .takes = kind, .over = -1, .served_by = -1, .socket = -1, .memory_type = -1 };
    snprintf (place->name, sizeof place->name, "%s%d", stem, number);
    return job->place_count++;
}

void
generate_board (Dice *dice, Job *job)
{
    int sockets = dice_percent (dice, 50) ? 2 : 1;
    gboolean sinks = dice_percent (dice, 40), stated = dice_percent (dice, 80);
    int memory = dice_percent (dice, 45) ? dice_between (dice, 1, sockets) : 0;
    int supplies =
        dice_percent (dice, 30) && sockets + memory + (sinks ? sockets : 0) < 5 ? dice_between (dice, 1, 2) : 0;
    int cpus[2] = { -1, -1 };
    for (int i = 0; i < sockets; i++) {
        cpus[i] = add_place (job, PIECE_PROCESSOR, "cpu", i + 1);
        job->places[cpus[i]].socket = stated ? 0 : -1;
    }
    if (sockets == 2 && dice_percent (dice, 10))
        job->places[cpus[1]].served_by = cpus[0];
    for (int i = 0; i < sockets && sinks; i++)
        job->places[add_place (job, PIECE_SINK, "sink", i + 1)].over = cpus[i];
    for (int i = 0; i < memory; i++) {
        int dimm = add_place (job, PIECE_MEMORY, "dimm", i + 1);
        job->places[dimm].served_by = dice_percent (dice, 80) ? cpus[i] : -1;
        job->places[dimm].memory_type = dice_percent (dice, 40) ? 0 : -1;
    }
    for (int i = 0; i < supplies; i++)
        add_place (job, PIECE_SUPPLY, "supply", i + 1);
    if (job->place_count < MAX_SLOTS - 1 && dice_percent (dice, 15))
        add_place (job, PIECE_MEDIUM, "medium", 1);
    job->revision = dice_below (dice, REVISIONS);
    job->board_watts = dice_percent (dice, 50) ? 40 : -1;
    feature_board (dice, job);
}

static Piece *
add_piece (Job *job, PieceKind kind, const char *stem, int number)
{
    Piece *piece = &job->pieces[job->piece_count++];
    *piece = (Piece){ .kind = kind, .watts = -1 };
    snprintf (piece->name, sizeof piece->name, "%s-%d", stem, number);
    return piece;
}

static void
add_processor (Dice *dice, Job *job, int generation, int number)
{
    Piece *piece = add_piece (job, PIECE_PROCESSOR, generation_name (generation), number);
    piece->generation = generation;
    piece->watts = 60 + 20 * dice_below (dice, 4) + 10 * generation;
    piece->sockets = dice_percent (dice, 93) ? 1 : dice_percent (dice, 50) ? 3 : 2;
    piece->memory_types = dice_percent (dice, 60) ? 3 : 1u << dice_below (dice, 2);
    int first = dice_below (dice, STEPPINGS);
    piece->steppings = 1u << first | (dice_percent (dice, 25) ? 1u << (first + 1) % STEPPINGS : 0);
}

static gboolean
board_takes (const Job *job, PieceKind kind)
{
    for (int i = 0; i < job->place_count; i++)
        if (job->places[i].takes == kind)
            return TRUE;
    return FALSE;
}

static void
add_other_pieces (Dice *dice, Job *job)
{
    for (int i = 0; i < 2 && board_takes (job, PIECE_SINK); i++)
        add_piece (job, PIECE_SINK, "sink", i + 1)->rating = i ? 160 : 70 + 20 * dice_below (dice, 3);
    int memories = board_takes (job, PIECE_MEMORY) ? dice_between (dice, 1, 2) : 0;
    for (int i = 0; i < memories; i++) {
        Piece *memory = add_piece (job, PIECE_MEMORY, "module", i + 1);
        memory->memory_types = 1u << i;
        memory->watts = dice_percent (dice, 50) ? 5 + 5 * i : -1;
    }
    for (int i = 0; i < 2 && board_takes (job, PIECE_SUPPLY); i++)
        add_piece (job, PIECE_SUPPLY, "supply", i + 1)->output = (i ? 260 : 130) + 20 * dice_below (dice, 4);
    if (board_takes (job, PIECE_MEDIUM))
        add_piece (job, PIECE_MEDIUM, "stick", 1);
    if (board_takes (job, PIECE_BLANK))
        add_piece (job, PIECE_BLANK, "cover", 1);
}

void
generate_pieces (Dice *dice, Job *job)
{
    int newest = dice_between (dice, 1, GENERATIONS - 1);
    for (int g = 0; g <= newest; g++)
        for (int i = 0, count = g && g < newest ? 1 : dice_percent (dice, 60) ? 1 : 2; i < count; i++)
            add_processor (dice, job, g, i + 1);
    add_other_pieces (dice, job);
    for (int p = 0; p < job->piece_count; p++)
        if (job->pieces[p].kind == PIECE_PROCESSOR)
            job->generation_steppings[job->pieces[p].generation] |= job->pieces[p].steppings;
    for (int g = 0; g <= newest; g++) {
        job->generation_steppings[g] |= 1u << dice_below (dice, STEPPINGS);
        if (dice_percent (dice, 20))
            job->mixed[g] = job->generation_steppings[g] & (unsigned) dice_between (dice, 1, 15);
    }
    feature_pieces (dice, job);
}

/* Which processors each release states that it starts: older ones early, newer ones from some release on. */
static void
add_support (Dice *dice, Job *job, Firmware *firmware)
{
    for (int g = 0; g < GENERATIONS; g++) {
        unsigned all = job->generation_steppings[g];
        int first = g ? dice_between (dice, 1, firmware->count) : 0;
        int last = dice_percent (dice, 12) ? firmware->count - 1 : firmware->count;
        if (g == 1 && first == firmware->count)
            first--;
        for (int r = 0; all && r < firmware->count; r++) {
            Edition *edition = &firmware->editions[r];
            if (r >= first && r < last)
                edition->starts[g] =
                    r == first && dice_percent (dice, 25) ? all & (unsigned) dice_between (dice, 1, 15) : all;
            else if (dice_percent (dice, 30))
                edition->never[g] = all;
            if (dice_percent (dice, 15))
                edition->never[g] |= all & ~edition->starts[g];
        }
    }
    for (int r = 0; r < firmware->count; r++) {
        Edition *edition = &firmware->editions[r];
        edition->states_starts =
            edition->starts[0] || edition->starts[1] || edition->starts[2] || dice_percent (dice, 20);
    }
}

/* From: mostly the releases just below, sometimes named one by one, sometimes older ones from newer ones. */
static Cond
from_cond (Dice *dice, int component, int release, int count)
{
    int back = dice_between (dice, 1, 3), roll = dice_below (dice, 100);
    int low = MAX (0, release - back);
    if (release == 0) {
        Cmp cmp = dice_percent (dice, 50) ? CMP_LE : CMP_EQ;
        return cond_atom (ATOM_RELEASE, component, cmp, dice_between (dice, 1, count - 1));
    }
    Cond at_least = cond_atom (ATOM_RELEASE, component, CMP_GE, low);
    if (roll < 50)
        return at_least;
    if (roll < 75) {
        Cond below = cond_atom (ATOM_RELEASE, component, CMP_LT, release);
        return cond_join (JOIN_AND, &at_least, &below);
    }
    Cond one = cond_atom (ATOM_RELEASE, component, CMP_EQ, release - 1);
    if (roll < 90)
        return one;
    Cond other = cond_atom (ATOM_RELEASE, component, CMP_EQ, dice_below (dice, count));
    return cond_join (JOIN_OR, &one, &other);
}

static void
add_edition_conditions (Dice *dice, Job *job, int component, int release)
{
    Firmware *firmware = &job->firmware[component];
    Edition *edition = &firmware->editions[release];
    if (firmware->count > 1 && dice_percent (dice, 70))
        edition->from = from_cond (dice, component, release, firmware->count);
    if (dice_percent (dice, job->firmware_count > 1 ? 30 : 12))
        edition->write_requires = generate_requires (dice, job, dice_percent (dice, 90) ? component : -1);
    if (dice_percent (dice, 8))
        edition->write_conflicts = generate_conflicts (dice, job, dice_percent (dice, 90) ? component : -1);
    if (dice_percent (dice, 8))
        edition->run_requires = generate_requires (dice, job, component);
    if (dice_percent (dice, job->firmware_count > 1 ? 14 : 4))
        edition->run_conflicts = generate_conflicts (dice, job, component);
}

static void
add_edition (Dice *dice, Job *job, int component, int release)
{
    Firmware *firmware = &job->firmware[component];
    Edition *edition = &firmware->editions[release];
    edition->lowest = dice_percent (dice, 20) ? dice_below (dice, release + 1) : -1;
    edition->also = -1;
    if (job->firmware_count > 1 && dice_percent (dice, 10)) {
        edition->also = (component + 1 + dice_below (dice, job->firmware_count - 1)) % job->firmware_count;
        edition->also_release = dice_below (dice, job->firmware[edition->also].count);
    }
    unsigned there = 0;
    for (int way = 0; way < WAYS; way++)
        there |= firmware->ways[way].there ? 1u << way : 0;
    edition->ways = there;
    if (dice_percent (dice, 12) && (there & (unsigned) dice_between (dice, 1, ALL_WAYS)))
        edition->ways = there & ~(there & (there - 1));
    edition->withdrawn = dice_percent (dice, 7);
    if (dice_percent (dice, 15)) {
        int table = dice_below (dice, TABLES);
        edition->tables[table] = dice_between (dice, 1, 12);
    }
}

static void
add_ways (Dice *dice, Firmware *firmware)
{
    static const int percent[] = { 88, 38, 30 };
    for (int way = WAY_HOST; way <= WAY_CLIP; way++) {
        WayEntry *entry = &firmware->ways[way];
        entry->there = dice_percent (dice, percent[way]);
        /* A programmer takes its time, but may leave releases out. */
        entry->tenths = way == WAY_CLIP ? generate_tenths (dice, 120, 300) : generate_tenths (dice, 10, 120);
    }
    if (!firmware->ways[WAY_CONTROLLER].there && !firmware->ways[WAY_CLIP].there)
        firmware->ways[WAY_HOST].there = TRUE;
    firmware->ways[WAY_HOST].next_start = dice_percent (dice, 20);
    firmware->ways[WAY_CLIP].obeys_from = dice_percent (dice, 40);
    firmware->ways[WAY_CLIP].obeys_to_write = dice_percent (dice, 40);
    firmware->ways[WAY_CLIP].obeys_floor = dice_percent (dice, 40);
    firmware->recovery = (unsigned) dice_below (dice, 1 + ALL_WAYS);
}

void
generate_firmware (Dice *dice, Job *job)
{
    job->firmware_count = dice_between (dice, 1, MAX_FIRMWARE - 1); /* one more may be a spare image */
    for (int c = 0; c < job->firmware_count; c++) {
        job->firmware[c].order = (Order) dice_below (dice, 4);
        job->firmware[c].count = c ? dice_between (dice, 2, 4) : dice_between (dice, 2, MAX_RELEASES);
        add_ways (dice, &job->firmware[c]);
        if (dice_percent (dice, c ? 15 : 90))
            add_support (dice, job, &job->firmware[c]);
    }
    feature_ways (dice, job);
    feature_spare (dice, job);
    for (int c = 0; c < job->firmware_count; c++)
        for (int r = 0; r < job->firmware[c].count && job->firmware[c].spare_of < 0; r++)
            add_edition (dice, job, c, r);
    for (int c = 0; c < job->firmware_count; c++) {
        if (job->firmware[c].spare < 0)
            job->firmware[c].recovery &= ~(1u << WAY_SPARE);
        if (job->firmware[c].spare_of >= 0)
            continue;
        for (int r = 0; r < job->firmware[c].count; r++)
            add_edition_conditions (dice, job, c, r);
        for (int way = 0; way < WAYS; way++)
            if (job->firmware[c].ways[way].there &&
                dice_percent (dice, way == WAY_CONTROLLER || way == WAY_CLIP ? 30 : 8))
        job->firmware[c].ways[way].requires = generate_requires (dice, job, dice_percent (dice, 70) ? c : -1);
    }
    for (int p = 0; p < job->piece_count; p++) {
        if (dice_percent (dice, 8))
        job->pieces[p].requires = generate_requires (dice, job, -1);
        if (dice_percent (dice, 4))
            job->pieces[p].conflicts = generate_conflicts (dice, job, -1);
    }
    job_mirror_spares (job);
}
