/* SPDX-License-Identifier: MIT */
/* What a slot may end with: what the want asks of it, and which slots rules tie together (docs/method.md, "The end"
 * and "Tied slots"). */
#include "world.h"

static gboolean
both_take (const Job *job, int a, int b, PieceKind kind, PieceKind other)
{
    PieceKind left = job->places[a].takes, right = job->places[b].takes;
    return (left == kind && right == other) || (left == other && right == kind);
}

static gboolean
sum_counts (const Law *law, PieceKind kind)
{
    return kind == PIECE_PROCESSOR || kind == PIECE_SUPPLY || (kind == PIECE_MEMORY && law->memory_counts);
}

static gboolean
covers (const Job *job, const Law *law, int cover, int under)
{
    return job->places[cover].over == under && job->places[cover].takes == law->kind &&
           job->places[under].takes == law->other;
}

static gboolean
serves (const Job *job, const Law *law, int server, int served)
{
    return job->places[served].served_by == server && job->places[served].takes == law->kind;
}

static gboolean
has_supply_slot (const Job *job)
{
    for (int i = 0; i < job->place_count; i++)
        if (!job->places[i].gone && job->places[i].takes == PIECE_SUPPLY)
            return TRUE;
    return FALSE;
}

gboolean
law_ties (const Job *job, const Law *law, int a, int b)
{
    if (law->breaking == BREAK_WARNS || a == b)
        return FALSE;
    switch (law->form) {
    case LAW_SAME:
    case LAW_MIXED:
    case LAW_BEFORE:
        return both_take (job, a, b, law->kind, law->kind);
    case LAW_SAME_KINDS:
        return both_take (job, a, b, law->kind, law->other);
    case LAW_COVER:
    case LAW_ONE_OF:
        return covers (job, law, a, b) || covers (job, law, b, a);
    case LAW_SUM: /* no rule at all for a board without slots for supplies */
        return has_supply_slot (job) && sum_counts (law, job->places[a].takes) &&
               sum_counts (law, job->places[b].takes);
    case LAW_SOME:
        return serves (job, law, a, b) || serves (job, law, b, a);
    case LAW_SAME_SLOT:
    case LAW_WHEN:
    case LAW_KNOWS:
    case LAW_OWN:
    case LAW_BINDS:
        return FALSE;
    }
    g_assert_not_reached ();
}

gboolean
ask_is_met (const Job *job, int slot, int piece, int stepping)
{
    const Ask *ask = &job->asks[slot];
    if (ask->kind == ASK_NOTHING)
        return TRUE;
    if (ask->kind == ASK_EMPTY || piece < 0)
        return ask->kind == ASK_EMPTY && piece < 0;
    if (ask->kind == ASK_MODEL)
        return piece == ask->piece && (ask->stepping < 0 || stepping == ask->stepping);
    const Piece *has = &job->pieces[piece];
    int number = has->kind == PIECE_SINK ? has->rating : has->kind == PIECE_SUPPLY ? has->output : has->watts;
    return (ask->generation < 0 || has->generation == ask->generation) &&
           (ask->stepping < 0 || stepping == ask->stepping) &&
           (ask->cmp == CMP_ANY || (number >= 0 && cmp_holds (ask->cmp, number, ask->number)));
}
