/* SPDX-License-Identifier: MIT */
/* The program's routes against clingo's.
 *   test_clingo --seed S --count N [LIMITS]                   random jobs; a failure is made smaller and printed
 *   test_clingo --files FOLDER [--with PATH]... [LIMITS]      each file of a folder, read together with the others
 * LIMITS: --horizon H (8), --most L (14), --seconds T (60; a job that takes longer is not decided)
 *
 * source: clingo 5.4.1 on route.lp, which is written from docs/method.md, "Words made exact". Facts of random jobs come
 * straight from the model, not through the program's loader; the facts of the files that the same job is written to
 * have to be the same, line by line.
 *
 * That there is no route at all clingo cannot show, only that there is none of up to H steps: so much is checked. Where
 * the program's route is longer than L steps, that there is none of up to L. */
#include "ask_clingo.h"
#include "emit.h"
#include "facts_of_files.h"
#include "facts_of_job.h"
#include "generate.h"
#include "load_job.h"
#include "shrink.h"

#include "route/route.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    int horizon; /* steps looked through where the program says that there is no route */
    int most;    /* ... and at most where it has one; of a longer one, only that none is as short as this */
    int seconds; /* for one job */
} Limits;

typedef enum { SAME, REFUSED, OTHER_FACTS, OTHER_CLAIM, OTHER_STEPS, OTHER_COST, NO_ANSWER } Outcome;

/* ---- One job ---- */

static Outcome
compare_answers (const RouteAnswer *route, const ClingoAnswer *theirs, int horizon, char **why)
{
    gboolean none = route->claim == CLAIM_NO_ROUTE || route->claim == CLAIM_READ_FIRST;
    int steps = route->steps ? (int) route->steps->len : -1;
    int insertions = route->walk ? (int) route->walk->insertions : 0;
    int tenths = route->walk ? (int) lround (route->walk->minutes * 10) : 0;
    if (theirs->kind == CLINGO_UNDECIDED) {
        *why = g_strdup ("clingo did not end in time");
        return NO_ANSWER;
    }
    if (!none && route->claim != CLAIM_PROVED_SHORTEST) {
        *why = g_strdup ("the program proves neither a shortest route nor that there is none");
        return OTHER_CLAIM;
    }
    if (!none && steps > horizon && theirs->kind == CLINGO_NONE)
        return SAME;
    if (none != (theirs->kind == CLINGO_NONE)) {
        *why = none
                   ? g_strdup_printf ("the program finds no route; clingo one of %d: %s", theirs->steps, theirs->route)
                   : g_strdup_printf ("the program finds a route of %d steps; clingo none of up to %d", steps, horizon);
        return OTHER_CLAIM;
    }
    if (none || (steps == theirs->steps && insertions == theirs->insertions && tenths == theirs->tenths))
        return SAME;
    *why = g_strdup_printf ("the program: steps %d, insertions %d, minutes %.1f; clingo: %d, %d, %.1f by %s", steps,
                            insertions, tenths / 10.0, theirs->steps, theirs->insertions, theirs->tenths / 10.0,
                            theirs->route);
    return steps == theirs->steps ? OTHER_COST : OTHER_STEPS;
}

static Outcome
compare_loaded (const LoadedJob *loaded, const char *facts, const Limits *limits, char **why)
{
    RouteOptions options = { 0 };
    g_autoptr (RouteAnswer) route = route_find (loaded->library, loaded->shop, loaded->unit, loaded->want, &options);
    /* Shorter lengths are refuted on the way; longer ones would not change the answer. */
    int horizon = route->steps ? MIN ((int) route->steps->len, limits->most) : limits->horizon;
    g_auto (ClingoAnswer) theirs = ask_clingo (facts, horizon, limits->seconds);
    return compare_answers (route, &theirs, horizon, why);
}

/* The first line in which the two differ. Transfer full. */
static char *
first_difference (const char *ours, const char *theirs)
{
    g_auto (GStrv) left = g_strsplit (ours, "\n", -1);
    g_auto (GStrv) right = g_strsplit (theirs, "\n", -1);
    guint i = 0;
    while (left[i] && right[i] && !strcmp (left[i], right[i]))
        i++;
    return g_strdup_printf ("facts differ: the model's are \"%s\" where the files' are \"%s\"", left[i] ? left[i] : "",
                            right[i] ? right[i] : "");
}

static Outcome
compare_job (const Job *job, const Limits *limits, char **why)
{
    g_auto (LoadedJob) loaded = { 0 };
    g_autofree char *facts = facts_of_job (job);
    if (!load_job (job, &loaded, why))
        return REFUSED;
    g_autofree char *read = facts_of_files (loaded.library, loaded.shop, loaded.unit, loaded.want);
    if (strcmp (facts, read)) {
        *why = first_difference (facts, read);
        return OTHER_FACTS;
    }
    return compare_loaded (&loaded, facts, limits, why);
}

/* ---- Random jobs ---- */

typedef struct {
    const Limits *limits;
    Outcome outcome;
} Failure;

static gboolean
fails_alike (const Job *job, gpointer data)
{
    const Failure *failure = data;
    g_autofree char *why = NULL;
    return compare_job (job, failure->limits, &why) == failure->outcome;
}

static void
tell_failure (Job *job, guint64 seed, const Failure *failure)
{
    Play play;
    g_autofree char *why = NULL;
    if (failure->outcome == NO_ANSWER)
        return; /* nothing to make smaller */
    shrink_job (job, fails_alike, (gpointer) failure);
    compare_job (job, failure->limits, &why);
    g_assert (play_setup (&play, job, -1));
    Answer answer = exhaustive_answer (&play, GOAL_STEPS, MOST_WORLDS);
    g_autofree char *text = emit_case (job, &answer, seed);
    printf ("made smaller: %s\n%s", why, text);
    answer_clear (&answer);
}

typedef struct {
    int passed, failed, undecided;
} Tally;

static void
count_outcome (Tally *tally, Outcome outcome)
{
    tally->passed += outcome == SAME;
    tally->undecided += outcome == NO_ANSWER;
    tally->failed += outcome != SAME && outcome != NO_ANSWER;
}

/* The exit status. Some jobs are too much for clingo; where they are more than one in ten, little was compared. */
static int
tell_tally (const Tally *tally)
{
    printf ("%d passed, %d failed", tally->passed, tally->failed);
    if (tally->undecided)
        printf (", %d not decided in time", tally->undecided);
    printf ("\n");
    return tally->failed > 0 || tally->passed < 9 * tally->undecided || !tally->passed;
}

static int
run_seeds (guint64 seed, int count, const Limits *limits)
{
    Tally tally = { 0 };
    for (int i = 0; i < count; i++) {
        Job job;
        Answer answer;
        g_autofree char *why = NULL;
        generate_suitable (seed + (guint64) i, &job, &answer);
        answer_clear (&answer);
        Failure failure = { limits, compare_job (&job, limits, &why) };
        count_outcome (&tally, failure.outcome);
        if (failure.outcome == SAME)
            continue;
        printf ("seed %" G_GUINT64_FORMAT ": %s\n", seed + (guint64) i, why);
        tell_failure (&job, seed + (guint64) i, &failure);
        fflush (stdout);
    }
    return tell_tally (&tally);
}

/* ---- Jobs in files ---- */

static Outcome
compare_files (const char *const *paths, const Limits *limits, char **why)
{
    g_auto (LoadedJob) loaded = { 0 };
    if (!load_paths (paths, &loaded, why))
        return REFUSED;
    g_autofree char *facts = facts_of_files (loaded.library, loaded.shop, loaded.unit, loaded.want);
    return compare_loaded (&loaded, facts, limits, why);
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
    return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Every file of a folder, each read together with those of `with`. */
static int
run_files (const char *folder, GPtrArray *with, const Limits *limits)
{
    Tally tally = { 0 };
    g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
    g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
    for (const char *name = NULL; dir && (name = g_dir_read_name (dir));)
        if (g_str_has_suffix (name, ".yaml"))
            g_ptr_array_add (names, g_build_filename (folder, name, NULL));
    g_ptr_array_sort (names, compare_names);
    for (guint i = 0; i < names->len; i++) {
        g_autofree char *why = NULL;
        g_autoptr (GPtrArray) paths = g_ptr_array_copy (with, NULL, NULL);
        g_ptr_array_add (paths, g_ptr_array_index (names, i));
        g_ptr_array_add (paths, NULL);
        Outcome outcome = compare_files ((const char *const *) paths->pdata, limits, &why);
        count_outcome (&tally, outcome);
        if (outcome != SAME)
            printf ("%s: %s\n", (const char *) g_ptr_array_index (names, i), why);
    }
    return tell_tally (&tally);
}

int
main (int argc, char **argv)
{
    guint64 seed = 1;
    int count = 100;
    Limits limits = { .horizon = 8, .most = 14, .seconds = 60 };
    const char *files = NULL;
    g_autoptr (GPtrArray) with = g_ptr_array_new ();
    for (int i = 1; i + 1 < argc; i += 2) {
        if (!strcmp (argv[i], "--seed"))
            seed = g_ascii_strtoull (argv[i + 1], NULL, 10);
        else if (!strcmp (argv[i], "--count"))
            count = atoi (argv[i + 1]);
        else if (!strcmp (argv[i], "--horizon"))
            limits.horizon = atoi (argv[i + 1]);
        else if (!strcmp (argv[i], "--most"))
            limits.most = atoi (argv[i + 1]);
        else if (!strcmp (argv[i], "--seconds"))
            limits.seconds = atoi (argv[i + 1]);
        else if (!strcmp (argv[i], "--files"))
            files = argv[i + 1];
        else if (!strcmp (argv[i], "--with"))
            g_ptr_array_add (with, argv[i + 1]);
    }
    return files ? run_files (files, with, &limits) : run_seeds (seed, count, &limits);
}
