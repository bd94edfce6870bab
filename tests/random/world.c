/* SPDX-License-Identifier: MIT */
/* How a job begins, what holds in a world, and how it may end. */
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
triple_at (Play *play, const Fit *fit)
{
    for (int t = 0; t < play->triple_count; t++) {
        const Triple *triple = &play->triples[t];
        if (triple->piece == fit->piece && triple->stepping == fit->stepping && triple->keeper == fit->keeper &&
            triple->bound == fit->bound)
            return t;
    }
    g_assert (play->triple_count < MAX_TRIPLES);
    play->triples[play->triple_count] = (Triple){ fit->piece, fit->stepping, fit->keeper, fit->bound, 0 };
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

/* Tied by a rule that wants one of two slots populated, so that an empty end may be right. */
static gboolean
is_one_of_two (const Job *job, int slot)
{
    for (int l = 0; l < job->law_count; l++)
        for (int i = 0; i < job->place_count; i++)
            if (job->laws[l].form == LAW_ONE_OF && !job->places[i].gone && law_ties (job, &job->laws[l], slot, i))
                return TRUE;
    return FALSE;
}

static gboolean
slot_may_end (const Play *play, int slot, int held, int began, gboolean tied)
{
    const Job *job = play->job;
    const Triple *triple = held ? &play->triples[held - 1] : NULL;
    if (triple && triple->keeper == LOAN)
        return FALSE;
    if (job->asks[slot].kind != ASK_NOTHING)
        return ask_is_met (job, slot, triple ? triple->piece : -1, triple ? triple->stepping : -1);
    return held == began || (tied && (triple || is_one_of_two (job, slot)));
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

/* What is there: what the slots hold, what lies beside the unit, what the shop has. A loan or stock part that is fitted is
 * one of the shop's. */
static void
setup_triples (Play *play)
{
    const Job *job = play->job;
    for (int i = 0; i < job->place_count; i++) {
        if (job->places[i].gone || job->fits[i].piece < 0)
            continue;
        int triple = triple_at (play, &job->fits[i]);
        play->triples[triple].count += job->fits[i].keeper == OWN;
        play->start.held[i] = (guint8) (triple + 1);
    }
    for (int p = 0; p < job->pulled_count; p++)
        play->triples[triple_at (play, &job->pulled[p])].count++;
    for (int s = 0; s < job->stack_count; s++) {
        const Stack *stack = &job->stacks[s];
        const Fit like = { stack->piece, stack->stepping, stack->keeper, stack->bound };
        play->triples[triple_at (play, &like)].count += stack->count;
    }
}

gboolean
play_setup (Play *play, const Job *job, int only_case)
{
    if (only_case < 0 && job_case_count (job) > MAX_CASES)
        return FALSE;
    memset (play, 0, sizeof *play);
    play->job = job;
    setup_triples (play);
    setup_cases (play, only_case);
    for (int c = 0; c < job->firmware_count; c++)
        if (!job->firmware[c].gone && job->failed[c])
            play->start.failed |= (guint8) (1u << c);
    for (int i = 0; i < job->place_count; i++) {
        gboolean tied = is_tied (job, i);
        const Fit *began = job_began (job, i);
        int began_held = began->piece < 0 ? 0 : triple_at (play, began) + 1;
        for (int held = 0; held <= play->triple_count; held++)
            play->may_end[i][held] = slot_may_end (play, i, held, began_held, tied);
    }
    return TRUE;
}

Verdict
world_verdict (const Play *play, const World *world)
{
    const Job *job = play->job;
    Verdict verdict = { TRUE, TRUE, TRUE, 0 };
    for (int c = 0; c < job->firmware_count; c++) /* "no component but a spare image is failed" */
        if ((world->failed >> c & 1) && job->firmware[c].spare_of < 0)
            verdict.starts = FALSE;
    for (int k = 0; k < play->case_count; k++) {
        for (int l = 0; l < job->law_count; l++) {
            const Law *law = &job->laws[l];
            if (law->breaking == BREAK_WARNS || law_holds (play, world, k, law))
                continue;
            if (law->breaking == BREAK_STOPS || (law->breaking == BREAK_HARMS && (law->powers & WHILE_ON)))
                verdict.starts = FALSE;
            if (law->breaking == BREAK_HARMS && (law->powers & WHILE_STANDBY))
                verdict.standby_safe = FALSE;
            if (law->breaking == BREAK_HARMS)
                verdict.unharmed = FALSE;
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

/* "Where a component with a spare image ends at another release than it began with, the spare holds that release too,
 * unless the want says something of the spare or keeps it." */
static gboolean
spares_go_along (const Play *play, const World *world)
{
    const Job *job = play->job;
    for (int c = 0; c < job->firmware_count; c++) {
        int spare = job->firmware[c].gone ? -1 : job->firmware[c].spare;
        if (spare < 0 || job->ask_firmware[spare].count || job->keep_firmware[spare])
            continue;
        for (int k = 0; k < play->case_count; k++)
            if (world->release[k][c] != play->start.release[k][c] &&
                ((world->failed >> spare & 1) || world->release[k][c] != world->release[k][spare]))
                return FALSE;
    }
    return TRUE;
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
                ((world->failed >> c & 1) || !cond_holds_of (&job->ask_firmware[c], world->release[k][c])))
                return FALSE;
    return spares_go_along (play, world);
}

gboolean
worlds_alike (const Play *play, const World *left, const World *right)
{
    if ((left->failed & ~right->failed) || memcmp (left->held, right->held, sizeof left->held))
        return FALSE;
    for (int k = 0; k < play->case_count; k++)
        for (int c = 0; c < play->job->firmware_count; c++)
            if (!(right->failed >> c & 1) && left->release[k][c] != right->release[k][c])
                return FALSE;
    return TRUE;
}
