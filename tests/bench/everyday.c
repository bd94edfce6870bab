/* SPDX-License-Identifier: MIT */
/* everyday [COUNT [SEED [SECONDS]]]: how long random small units of every kind take (tests/random), here, by clingo with
 * tests/clingo/route.lp, and by exhaustive search. Processor time (spent.h); everything takes its turn with each unit.
 *
 *   planning    the route, proved and walked: the question that the others are asked; in this process, files read before
 *   answering   with the ways back and what to do when a write fails, or why there is no route; in this process
 *   process     `rungwise plan`, files and sheet included
 *   clingo      its process, grounding included; facts are written before. SECONDS (10, on the wall) is its limit for a unit
 *   exhaustive  in this process
 *
 * clingo is told nothing of the answer but, where there is no route, to stop after 8 steps: it can't show that there is none of
 * any length. "open" counts the units that were not settled, by clingo or by the program; they count as what they took until
 * they were stopped. Where clingo's length is another than the program's, the seed is said, and the exit status is 1. */
#include "ask_clingo.h"
#include "emit.h"
#include "facts_of_job.h"
#include "generate.h"
#include "load_job.h"
#include "spent.h"

#include "explain/explain.h"
#include "reports/outcome.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>

enum {
    NO_ROUTE_STEPS = 8, /* as in tests/clingo/test_clingo.c */
    ANY_STEPS = 60,     /* clingo stops at the first length that has a route */
};

typedef enum { WHO_PLANNING, WHO_ANSWERING, WHO_PROCESS, WHO_CLINGO, WHO_EXHAUSTIVE, WHO_COUNT } Who;

static const char *const who_names[WHO_COUNT] = { "planning", "answering", "process", "clingo", "exhaustive" };

/* Units of one sort. */
typedef struct {
    const char *name;
    Spent *times[WHO_COUNT]; /* owned */
    Spent *slower;           /* owned; clingo's time as a multiple of `process`, in thousandths */
    guint open[WHO_COUNT];
    guint quicker; /* units that clingo's process is done with before `process` is */
} Sort;

/* ---- One unit ---- */

/* `steps`: the route's length; -1: there is none. Whether it is proved. */
static gboolean
time_planning (const LoadedJob *loaded, gint64 *took, int *steps)
{
    const RouteOptions options = { .no_ways_back = TRUE };
    gint64 began = spent_now ();
    g_autoptr (RouteAnswer) answer = route_find (loaded->library, loaded->shop, loaded->unit, loaded->want, &options);
    *took = spent_now () - began;
    if (answer->claim == CLAIM_FAULT)
        g_error ("%s", answer->reason);
    *steps = answer->steps != NULL ? (int) answer->steps->len : -1;
    return answer->claim != CLAIM_BEST_FOUND && answer->claim != CLAIM_NOT_FOUND;
}

static gint64
time_answering (const LoadedJob *loaded)
{
    const RouteOptions options = { 0 };
    const Question question = { loaded->library, loaded->shop, loaded->unit, loaded->want, &options };
    g_autoptr (GArray) fallbacks = NULL;
    g_autoptr (NoRoute) none = NULL;
    gint64 began = spent_now ();
    g_autoptr (RouteAnswer) answer =
        route_find (question.library, question.shop, question.unit, question.want, &options);
    if (answer->claim == CLAIM_NO_ROUTE) /* leaves everything as it was */
        none = no_route_explain (loaded->library, (Shop *) loaded->shop, (Unit *) loaded->unit, (Want *) loaded->want,
                                 &options);
    if (answer->steps != NULL)
        fallbacks = fallbacks_find (&question, answer->steps);
    return spent_now () - began;
}

/* A new file with this text. Transfer full. */
static char *
write_file (const char *text)
{
    char *path = NULL;
    g_autoptr (GError) error = NULL;
    int file = g_file_open_tmp ("everyday-XXXXXX.yaml", &path, &error);
    if (file < 0 || !g_close (file, &error) || !g_file_set_contents (path, text, -1, &error))
        g_error ("%s", error->message);
    return path;
}

static gint64
time_process (const Job *job, const Answer *answer, guint64 seed)
{
    g_autofree char *text = emit_case (job, answer, seed);
    g_autofree char *path = write_file (text);
    g_autofree char *no_rules = write_file ("rules: []\n"); /* the job brings its own */
    g_autoptr (GError) error = NULL;
    const char *const arguments[] = { RUNGWISE_BINARY, "plan", "--rules-only", no_rules, path, NULL };
    int status = 0;
    gint64 began = spent_now ();
    if (!g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                       NULL, NULL, NULL, &status, &error))
        g_error ("%s", error->message);
    gint64 took = spent_now () - began;
    status = WIFEXITED (status) ? WEXITSTATUS (status) : -1;
    if (status != OUTCOME_ANSWERED && status != OUTCOME_NO_ROUTE && status != OUTCOME_READ_FIRST)
        g_error ("rungwise plan ended with %d for\n%s", status, text);
    g_unlink (path);
    g_unlink (no_rules);
    return took;
}

static gint64
time_exhaustive (const Job *job)
{
    Play play;
    gint64 began = spent_now ();
    play_setup (&play, job, -1);
    Answer answer = exhaustive_answer (&play, GOAL_STEPS, MOST_WORLDS);
    answer_clear (&answer);
    return spent_now () - began;
}

typedef enum { CLINGO_AGREES, CLINGO_OPEN, CLINGO_DIFFERS } Agreement;

static Agreement
time_clingo (const Job *job, int steps, int seconds, gint64 *took)
{
    g_autofree char *facts = facts_of_job (job);
    gint64 began = spent_now ();
    g_auto (ClingoAnswer) answer = ask_clingo (facts, "steps", steps >= 0 ? ANY_STEPS : NO_ROUTE_STEPS, seconds);
    *took = spent_now () - began;
    if (answer.kind == CLINGO_UNDECIDED)
        return CLINGO_OPEN;
    return (answer.kind == CLINGO_ROUTE ? answer.steps : -1) == steps ? CLINGO_AGREES : CLINGO_DIFFERS;
}

/* FALSE: clingo says something else. */
static gboolean
measure (Sort *sorts, guint64 seed, int seconds)
{
    Job job;
    Answer answer;
    g_auto (LoadedJob) loaded = { 0 };
    g_autofree char *why = NULL;
    gint64 took[WHO_COUNT];
    int steps;

    generate_suitable (seed, &job, &answer);
    if (!load_job (&job, &loaded, &why))
        g_error ("%s", why);
    gboolean proved = time_planning (&loaded, &took[WHO_PLANNING], &steps);
    took[WHO_ANSWERING] = time_answering (&loaded);
    took[WHO_PROCESS] = time_process (&job, &answer, seed);
    took[WHO_EXHAUSTIVE] = time_exhaustive (&job);
    answer_clear (&answer);
    Agreement clingo = time_clingo (&job, steps, seconds, &took[WHO_CLINGO]);
    Sort *sort = &sorts[steps < 0];
    for (int w = 0; w < WHO_COUNT; w++)
        spent_add (sort->times[w], took[w]);
    spent_add (sort->slower, took[WHO_CLINGO] * 1000 / MAX (1, took[WHO_PROCESS]));
    sort->open[WHO_PLANNING] += !proved;
    sort->open[WHO_CLINGO] += clingo == CLINGO_OPEN;
    sort->quicker += took[WHO_CLINGO] < took[WHO_PROCESS];
    return clingo != CLINGO_DIFFERS || !proved;
}

/* ---- The table ---- */

static void
tell (const Sort *sort)
{
    if (sort->slower->len == 0)
        return;
    printf ("%s: %u units\n", sort->name, sort->slower->len);
    for (int w = 0; w < WHO_COUNT; w++) {
        printf ("  %-12s %10.3f %10.3f %10.3f", who_names[w], spent_ms (sort->times[w], 50, 100),
                spent_ms (sort->times[w], 99, 100), spent_ms (sort->times[w], 1, 1));
        if (w == WHO_CLINGO || w == WHO_PLANNING)
            printf (" %6u", sort->open[w]);
        printf ("\n");
    }
    printf ("  clingo / process: median %.1f, 99 %% %.1f; clingo is the faster one for %u units\n",
            spent_ms (sort->slower, 50, 100), spent_ms (sort->slower, 99, 100), sort->quicker);
}

int
main (int argc, char **argv)
{
    int count = argc > 1 ? atoi (argv[1]) : 1000, seconds = argc > 3 ? atoi (argv[3]) : 10;
    guint64 seed = argc > 2 ? g_ascii_strtoull (argv[2], NULL, 10) : 1;
    int status = 0;
    Sort sorts[] = { { .name = "with a route" }, { .name = "without (for clingo: of up to 8 steps)" } };

    if (count < 1 || seconds < 1) {
        fprintf (stderr, "usage: everyday [COUNT [SEED [SECONDS]]]\n");
        return 2;
    }
    for (guint s = 0; s < G_N_ELEMENTS (sorts); s++) {
        sorts[s].slower = spent_new ();
        for (int w = 0; w < WHO_COUNT; w++)
            sorts[s].times[w] = spent_new ();
    }
    for (guint64 at = seed; at < seed + (guint64) count; at++)
        if (!measure (sorts, at, seconds)) {
            fprintf (stderr, "everyday: clingo says something else of seed %" G_GUINT64_FORMAT "\n", at);
            status = 1;
        }
    printf ("%-14s %10s %10s %10s %6s   (ms, %d units from seed %" G_GUINT64_FORMAT ")\n", "", "median", "99 %",
            "longest", "open", count, seed);
    for (guint s = 0; s < G_N_ELEMENTS (sorts); s++) {
        tell (&sorts[s]);
        g_array_unref (sorts[s].slower);
        for (int w = 0; w < WHO_COUNT; w++)
            g_array_unref (sorts[s].times[w]);
    }
    return status;
}
