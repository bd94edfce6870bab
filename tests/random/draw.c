/* SPDX-License-Identifier: MIT */
/* draw: what the generator draws, and what trying everything finds, without the program under test.
 *   draw --seed S              prints the case of seed S
 *   draw --seed S --count N    prints what the seeds S .. S+N-1 are like */
#include "emit.h"
#include "generate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FEATURES = 48 };

typedef struct {
    int other_best[GOALS]; /* another route is best by this objective than by steps */
    int too_large[GOALS];
    int draws, routes, borrows, writes, several_cases, worlds, most_worlds;
    int lengths[24];
    int features[FEATURES];
} Tally;

static const char *const feature_names[] = {
    "from",       "to-write",       "while-running",  "lowest",       "unit floor",     "also-writes",
    "next-start", "unverified",     "recovery",       "withdrawn",    "release ways",   "two sockets",
    "sinks",      "memory",         "supplies",       "medium",       "empty socket",   "keep",
    "clip obeys", "no slots asked", "own conditions", "when",         "bars",           "standby harms",
    "mixed sets", "redundant",      "tables",         "never-starts", "controller way", "clip way",
    "jumper way", "host on",        "spare image",    "spare way",    "failed",         "rated",
    "blanks",     "one-of",         "board binds",    "parts bind",   "verified boot",  "lent or sold fitted",
    "pulled",     "began",          "spare asked",    "bound",        "recovery only",
};

static void
tally_editions (Tally *tally, const Job *job)
{
    gboolean has[FEATURES] = { FALSE };
    for (int c = 0; c < job->firmware_count; c++) {
        for (int r = 0; r < job->firmware[c].count; r++) {
            const Edition *edition = &job->firmware[c].editions[r];
            has[0] |= edition->from.count > 0;
            has[1] |= edition->write_requires.count || edition->write_conflicts.count;
            has[2] |= edition->run_requires.count || edition->run_conflicts.count;
            has[3] |= edition->lowest > 0;
            has[5] |= edition->also >= 0;
            has[9] |= edition->withdrawn;
            for (int way = 0; way < WAYS; way++)
                has[10] |= job->firmware[c].ways[way].there && !(edition->ways >> way & 1);
            has[26] |= edition->tables[0] || edition->tables[1];
            has[27] |= edition->never[0] || edition->never[1] || edition->never[2];
        }
        const WayEntry *ways = job->firmware[c].ways;
        has[4] |= job->floor[c] >= 0;
        has[6] |= ways[WAY_HOST].there && ways[WAY_HOST].next_start;
        has[17] |= job->keep_firmware[c];
        has[18] |= ways[WAY_CLIP].there && (ways[WAY_CLIP].obeys_from || ways[WAY_CLIP].obeys_floor);
        has[28] |= ways[WAY_CONTROLLER].there;
        has[29] |= ways[WAY_CLIP].there;
        has[30] |= ways[WAY_JUMPER].there;
        has[31] |= ways[WAY_CONTROLLER].there && ways[WAY_CONTROLLER].host == NEED_ON;
        has[32] |= job->firmware[c].spare >= 0;
        for (int way = 0; way < WAYS; way++)
            has[46] |= ways[way].there && ways[way].recovery_only;
        has[33] |= ways[WAY_SPARE].there;
        has[34] |= job->failed[c];
        has[44] |= job->firmware[c].spare_of >= 0 && (job->ask_firmware[c].count || job->keep_firmware[c]);
    }
    for (int i = 0; i < FEATURES; i++)
        tally->features[i] += has[i];
}

static void
tally_rest (Tally *tally, const Job *job)
{
    gboolean has[FEATURES] = { FALSE };
    int sockets = 0, asked = 0;
    for (int i = 0; i < job->place_count; i++) {
        PieceKind kind = job->places[i].takes;
        sockets += kind == PIECE_PROCESSOR;
        asked += job->asks[i].kind != ASK_NOTHING;
        has[12] |= kind == PIECE_SINK;
        has[13] |= kind == PIECE_MEMORY;
        has[14] |= kind == PIECE_SUPPLY;
        has[15] |= kind == PIECE_MEDIUM;
        has[16] |= kind == PIECE_PROCESSOR && job->fits[i].piece < 0;
        has[17] |= job->keep_place[i];
        has[35] |= job->places[i].rated > 0;
        has[36] |= kind == PIECE_BLANK;
        has[41] |= job->fits[i].piece >= 0 && job->fits[i].keeper != OWN;
        has[43] |= job->told_began[i];
        has[45] |= job->fits[i].piece >= 0 && job->fits[i].bound;
    }
    has[7] = job->unverified;
    has[8] = job->need_recovery;
    has[11] = sockets > 1;
    has[19] = !asked;
    has[24] = job->mixed[0] || job->mixed[1] || job->mixed[2];
    has[25] = job->redundant && has[14];
    has[38] = job->board_binds;
    has[40] = job->verified_boot;
    has[42] = job->pulled_count;
    for (int p = 0; p < job->piece_count; p++)
        has[39] |= job->pieces[p].binds;
    for (int s = 0; s < job->stack_count; s++)
        has[45] |= job->stacks[s].bound;
    for (int p = 0; p < job->piece_count; p++)
    has[20] |= job->pieces[p].requires.count || job->pieces[p].conflicts.count;
    for (int l = 0; l < job->law_count; l++) {
        has[21] |= job->laws[l].form == LAW_WHEN;
        has[22] |= job->laws[l].breaking == BREAK_BARS;
        has[37] |= job->laws[l].form == LAW_ONE_OF;
        has[23] |= job->laws[l].breaking == BREAK_HARMS && (job->laws[l].powers & WHILE_STANDBY);
    }
    for (int i = 0; i < FEATURES; i++)
        tally->features[i] += has[i];
}

/* Whether the objectives lead to different routes. */
static void
tally_goals (Tally *tally, const Job *job, const Answer *by_steps)
{
    Play play;
    play_setup (&play, job, -1);
    for (Goal goal = GOAL_HANDLING; goal < GOALS; goal++) {
        Answer best = exhaustive_answer (&play, goal, 60000);
        tally->too_large[goal] += best.kind == ANSWER_TOO_LARGE;
        tally->other_best[goal] +=
            best.kind == ANSWER_ROUTE && goal_cost (goal, best.counts) < goal_cost (goal, by_steps->counts);
        answer_clear (&best);
    }
}

static void
tally_one (Tally *tally, guint64 seed)
{
    Job job;
    Answer answer;
    tally->draws += generate_suitable (seed, &job, &answer);
    tally->several_cases += job_case_count (&job) > 1;
    tally->worlds += answer.worlds;
    tally->most_worlds = MAX (tally->most_worlds, answer.worlds);
    if (answer.kind == ANSWER_ROUTE) {
        tally->routes++;
        tally->borrows += answer.borrows;
        tally->writes += answer.writes;
        tally_goals (tally, &job, &answer);
        tally->lengths[MIN (answer.counts.steps, 23)]++;
    }
    tally_editions (tally, &job);
    tally_rest (tally, &job);
    answer_clear (&answer);
}

static void
print_tally (const Tally *tally, int count)
{
    printf ("%d jobs (%d draws), %d with a route (%d borrow, %d write), %d with several cases\n", count, tally->draws,
            tally->routes, tally->borrows, tally->writes, tally->several_cases);
    printf ("worlds: %d in all, %d at most\nsteps:", tally->worlds, tally->most_worlds);
    for (int i = 0; i < 24; i++)
        if (tally->lengths[i])
            printf (" %d:%d", i, tally->lengths[i]);
    printf ("\n");
    for (Goal goal = GOAL_HANDLING; goal < GOALS; goal++)
        printf ("by %s another route: %d (%d too large to try)\n", goal_name (goal), tally->other_best[goal],
                tally->too_large[goal]);
    for (guint i = 0; i < G_N_ELEMENTS (feature_names); i++)
        printf ("%s: %d\n", feature_names[i], tally->features[i]);
}

static void
print_case (guint64 seed)
{
    Job job;
    Answer answer;
    Play play;
    generate_suitable (seed, &job, &answer);
    g_autofree char *text = emit_case (&job, &answer, seed);
    printf ("%s", text);
    play_setup (&play, &job, -1);
    for (guint i = 0; answer.moves && i < answer.moves->len; i++) {
        g_autofree char *move = emit_move (&play, &g_array_index (answer.moves, Move, i));
        printf ("# %s\n", move);
    }
    answer_clear (&answer);
}

int
main (int argc, char **argv)
{
    guint64 seed = 1;
    int count = 0;
    for (int i = 1; i + 1 < argc; i += 2) {
        if (!strcmp (argv[i], "--seed"))
            seed = g_ascii_strtoull (argv[i + 1], NULL, 10);
        else if (!strcmp (argv[i], "--count"))
            count = atoi (argv[i + 1]);
    }
    if (!count) {
        print_case (seed);
        return 0;
    }
    Tally tally = { 0 };
    for (int i = 0; i < count; i++)
        tally_one (&tally, seed + (guint64) i);
    print_tally (&tally, count);
    return 0;
}
