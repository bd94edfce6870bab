/* SPDX-License-Identifier: MIT */
/* Random conditions. Each atom names something that the book has, since the program refuses what nothing could
 * satisfy; whether the whole of it can hold at once is left to chance. */
#include "generate.h"

int
pick_piece (Dice *dice, const Job *job, PieceKind kind)
{
    int first = dice_below (dice, MAX (1, job->piece_count));
    for (int i = 0; i < job->piece_count; i++) {
        int piece = (first + i) % job->piece_count;
        if (job->pieces[piece].kind == kind)
            return piece;
    }
    return -1;
}

int
pick_stepping (Dice *dice, const Piece *piece)
{
    if (!piece->steppings)
        return 0;
    unsigned left = piece->steppings;
    for (int skip = dice_below (dice, bits_count (left)); skip > 0; skip--)
        left &= left - 1;
    return bits_lowest (left);
}

/* An atom about a release of another component; `modest` ones are true early. */
static Cond
release_atom (Dice *dice, const Job *job, int about, gboolean positive)
{
    int c = dice_below (dice, job->firmware_count);
    if (c == about)
        c = (c + 1) % job->firmware_count;
    int last = job->firmware[c].count - 1;
    int value = dice_between (dice, MIN (1, last), last);
    if (!positive)
        return value ? cond_atom (ATOM_RELEASE, c, CMP_LT, value) : cond_atom (ATOM_RELEASE, c, CMP_EQ, 0);
    static const Cmp cmps[] = { CMP_GE, CMP_GE, CMP_GE, CMP_GE, CMP_EQ, CMP_LE, CMP_NE };
    Cmp cmp = cmps[dice_below (dice, G_N_ELEMENTS (cmps))];
    if (cmp == CMP_NE && last == 0)
        cmp = CMP_EQ;
    return cond_atom (ATOM_RELEASE, c, cmp, value);
}

static gboolean
some_table (const Job *job, int *table, int *version)
{
    for (int c = 0; c < job->firmware_count; c++)
        for (int r = 0; r < job->firmware[c].count; r++)
            for (int t = 0; t < TABLES; t++)
                if (job->firmware[c].editions[r].tables[t]) {
                    *table = t;
                    *version = job->firmware[c].editions[r].tables[t];
                    return TRUE;
                }
    return FALSE;
}

static Cond
part_atom (Dice *dice, const Job *job)
{
    int piece = pick_piece (dice, job, PIECE_PROCESSOR);
    const Piece *processor = &job->pieces[piece];
    int stepping = pick_stepping (dice, processor);
    Cmp cmp = dice_percent (dice, 60) ? CMP_ANY : dice_percent (dice, 50) ? CMP_GE : CMP_EQ;
    if (dice_percent (dice, 30))
        return cond_atom (ATOM_MODEL, piece, cmp, stepping);
    return cond_atom (ATOM_GENERATION, processor->generation, cmp, stepping);
}

static Cond
any_atom (Dice *dice, const Job *job, int about, gboolean positive)
{
    int table, version;
    int roll = dice_below (dice, 100);
    gboolean others = job->firmware_count > 1 || about < 0;
    if (roll < 62 && others)
        return release_atom (dice, job, about, positive);
    if (roll < 76)
        return part_atom (dice, job);
    if (roll < 83)
        return cond_atom (ATOM_SLOT, dice_below (dice, job->place_count), CMP_ANY, 0);
    if (roll < 88)
        return cond_atom (ATOM_KIND, (int) job->places[dice_below (dice, job->place_count)].takes, CMP_ANY, 0);
    if (roll < 93 && some_table (job, &table, &version))
        return cond_atom (ATOM_TABLE, table, dice_percent (dice, 30) ? CMP_ANY : CMP_GE, version);
    return cond_atom (ATOM_REVISION, 0, positive ? CMP_GE : CMP_LT, dice_between (dice, 1, REVISIONS - 1));
}

static Cond
any_cond (Dice *dice, const Job *job, int about, gboolean positive)
{
    Cond left = any_atom (dice, job, about, positive);
    if (dice_percent (dice, 70))
        return left;
    static const NodeKind joins[] = { JOIN_AND, JOIN_OR, JOIN_OR, JOIN_IF, JOIN_IF };
    NodeKind join = joins[dice_below (dice, G_N_ELEMENTS (joins))];
    Cond right = any_atom (dice, job, about, join == JOIN_IF || positive);
    if (dice_percent (dice, 25)) {
        Cond third = any_atom (dice, job, about, positive);
        right = cond_join (dice_percent (dice, 50) ? JOIN_AND : JOIN_OR, &right, &third);
    }
    return cond_join (join, &left, &right);
}

Cond
generate_requires (Dice *dice, const Job *job, int about)
{
    return any_cond (dice, job, about, TRUE);
}

Cond
generate_conflicts (Dice *dice, const Job *job, int about)
{
    return any_cond (dice, job, about, FALSE);
}
