/* SPDX-License-Identifier: MIT */
/* The program's routes against clingo's.
 *   test_clingo --seed S --count N [LIMITS]                   random jobs; a failure is made smaller and printed
 *   test_clingo --files FOLDER [--with PATH]... [LIMITS]      each file of a folder, read together with the others
 * LIMITS: --horizon H (8), --most L (14), --seconds T (60; a job that takes longer is not decided)
 *         --objective NAME (steps; or handling, time): what the routes are to have least of
 *
 * source: clingo 5.4.1 on route.lp, which is written from docs/method.md, "Words made exact". Facts of random jobs come
 * straight from the model, not through the program's loader; the facts of the files that the same job is written to
 * have to be the same, line by line.
 *
 * That there is no route at all clingo cannot show, only that there is none of up to H steps: so much is checked. Where
 * the program's route is longer than L steps, that there is none of up to L. By other objectives than steps only routes are
 * compared: with those of up to as many steps and two more. */
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
    Objective objective;
} Limits;

enum { MORE_STEPS = 2 };

typedef enum { SAME, REFUSED, OTHER_FACTS, OTHER_CLAIM, OTHER_STEPS, OTHER_COST, NO_ANSWER } Outcome;

/* ---- One job ---- */

/* The program's counts in the order of the objective; by steps those after the steps. */
static GString *
our_costs (const RouteAnswer *route, int *costs)
{
    int steps = (int) route->walk->steps, insertions = (int) route->walk->insertions;
    int openings = (int) route->walk->openings, tenths = (int) lround (route->walk->minutes * 10);
    const int orders[OBJECTIVE_COUNT][CLINGO_MOST_COSTS + 1] = {
        [OBJECTIVE_STEPS] = { insertions, tenths, -1 },
        [OBJECTIVE_HANDLING] = { insertions, openings, steps, tenths, -1 },
        [OBJECTIVE_TIME] = { tenths, insertions, steps, -1 },
    };
    GString *text = g_string_new (objective_name (route->objective));
    for (int i = 0; orders[route->objective][i] >= 0; i++) {
        costs[i] = orders[route->objective][i];
        g_string_append_printf (text, " %d", costs[i]);
    }
    return text;
}

/* Both have a route. */
static Outcome
compare_costs (const RouteAnswer *route, const ClingoAnswer *theirs, char **why)
{
    int costs[CLINGO_MOST_COSTS] = { 0 };
    GString *ours = our_costs (route, costs);
    gboolean by_steps = route->objective == OBJECTIVE_STEPS;
    gboolean as_long = !by_steps || (int) route->steps->len == theirs->steps;
    gboolean same = as_long && !memcmp (costs, theirs->costs, sizeof costs);
    if (!same)
        *why = g_strdup_printf ("the program: %u steps, by %s; clingo: %d %d %d %d by %s", route->steps->len, ours->str,
                                theirs->costs[0], theirs->costs[1], theirs->costs[2], theirs->costs[3], theirs->route);
    g_string_free (ours, TRUE);
    return same ? SAME : as_long ? OTHER_COST : OTHER_STEPS;
}

static Outcome
compare_answers (const RouteAnswer *route, const ClingoAnswer *theirs, int horizon, char **why)
{
    gboolean none = route->claim == CLAIM_NO_ROUTE || route->claim == CLAIM_READ_FIRST;
    int steps = route->steps ? (int) route->steps->len : -1;
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
    return none ? SAME : compare_costs (route, theirs, why);
}

static Outcome
compare_loaded (const LoadedJob *loaded, const char *facts, const Limits *limits, char **why)
{
    RouteOptions options = { .objective = limits->objective, .no_ways_back = TRUE, .no_branches = TRUE };
    g_autoptr (RouteAnswer) route = route_find (loaded->library, loaded->shop, loaded->unit, loaded->want, &options);
    gboolean by_steps = limits->objective == OBJECTIVE_STEPS;
    /* By steps, shorter lengths are refuted on the way, and longer ones would not change the answer. */
    int horizon = route->steps ? (int) route->steps->len + (by_steps ? 0 : MORE_STEPS) : limits->horizon;
    if (!by_steps && (!route->steps || horizon > limits->most + MORE_STEPS))
        return route->claim == CLAIM_FAULT ? OTHER_CLAIM : SAME;
    horizon = by_steps && route->steps ? MIN (horizon, limits->most) : horizon;
    g_auto (ClingoAnswer) theirs = ask_clingo (facts, objective_name (limits->objective), horizon, limits->seconds);
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

static Objective
objective_named (const char *name)
{
    for (Objective objective = OBJECTIVE_STEPS; objective < OBJECTIVE_COUNT; objective++)
        if (!strcmp (objective_name (objective), name))
            return objective;
    g_error ("no objective %s", name);
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
        else if (!strcmp (argv[i], "--objective"))
            limits.objective = objective_named (argv[i + 1]);
        else if (!strcmp (argv[i], "--files"))
            files = argv[i + 1];
        else if (!strcmp (argv[i], "--with"))
            g_ptr_array_add (with, argv[i + 1]);
    }
    return files ? run_files (files, with, &limits) : run_seeds (seed, count, &limits);
}
