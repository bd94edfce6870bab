/* SPDX-License-Identifier: MIT */
/* Random small jobs against an exhaustive search.
 *   test_random --seed S --count N [--keep FOLDER]   draws N jobs; a failure is shrunk, printed, and kept in FOLDER
 *   test_random --objective NAME ...                 the same, by one objective only: steps, handling or time
 *   test_random --back yes ...                       the same, what it takes to come back from each step
 *   test_random --fallbacks yes ...                  the same, the ways out when a write fails
 *   test_random --walks yes ...                      the same, the checker on random steps instead of routes
 *   test_random --parts yes ...                      the same, bound, search and package encoding each on their own
 *   test_random --kept FOLDER                        runs the cases kept in FOLDER
 *
 * source: the expected lengths come from trying everything (exhaustive.h), by docs/method.md, "Words made exact".
 * Jobs run in child processes, so that a crash, a leak or an endless search is a failure like any other: some seeds together,
 * and what does not agree again alone. */
#include "child.h"
#include "compare.h"
#include "compare_parts.h"
#include "emit.h"
#include "generate.h"
#include "load_job.h"
#include "shrink.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { MOST_SECONDS = 60, MOST_WHY = 4000, BATCH = 20 };

typedef Difference (*Trial) (gconstpointer input, const Answer *answer, char **why);

/* The objectives that are compared. */
static Goal first_goal = GOAL_STEPS, last_goal = GOAL_TIME;

typedef Difference (*GoalTrial) (const Job *job, Goal goal, const Answer *answer, char **why);

/* By one goal after another, up to the first difference; that something was not compared counts only if nothing differs. */
static Difference
by_each_goal (GoalTrial trial, const Job *job, const Answer *answer, char **why)
{
    Difference left_out = AGREES;
    for (Goal goal = first_goal; goal <= last_goal; goal++) {
        Difference difference = trial (job, goal, answer, why);
        if (difference == NOT_COMPARED)
            left_out = NOT_COMPARED;
        else if (difference != AGREES)
            return difference;
    }
    return left_out;
}

static Difference
job_trial (gconstpointer job, const Answer *answer, char **why)
{
    return by_each_goal (compare_job, job, answer, why);
}

static Difference
back_trial (gconstpointer job, const Answer *answer, char **why)
{
    return by_each_goal (compare_back, job, answer, why);
}

static Difference
fallbacks_trial (gconstpointer job, const Answer *answer, char **why)
{
    return by_each_goal (compare_fallbacks, job, answer, why);
}

static Difference
walks_trial (gconstpointer job, const Answer *answer, char **why)
{
    return compare_walks (job, answer, why);
}

static Difference
kept_trial (gconstpointer path, const Answer *answer, char **why)
{
    (void) answer;
    return compare_kept (path, why);
}

/* The exhaustive search's answer by a goal, for the parts; FALSE: too large. */
static gboolean
expect_by_goal (const Job *job, Goal goal, const Answer *by_steps, Expected *expected)
{
    Play play;
    Counts counts = by_steps->counts;
    AnswerKind kind = by_steps->kind;
    play_setup (&play, job, -1);
    if (goal != GOAL_STEPS && kind == ANSWER_ROUTE) {
        Answer best = exhaustive_answer (&play, goal, MOST_WORLDS);
        counts = best.counts;
        kind = best.kind;
        answer_clear (&best);
    }
    *expected = (Expected){ counts.steps, counts.insertions, counts.openings, counts.tenths, (int) goal };
    if (kind != ANSWER_ROUTE)
        expected->steps = -1;
    return kind != ANSWER_TOO_LARGE;
}

static Difference
parts_by_goal (const Job *job, Goal goal, const Answer *by_steps, char **why)
{
    Expected expected;
    g_auto (LoadedJob) loaded = { 0 };
    if (!expect_by_goal (job, goal, by_steps, &expected))
        return NOT_COMPARED;
    if (!load_job (job, &loaded, why))
        return DIFFERS_REFUSED;
    return parts_agree (loaded.library, loaded.shop, loaded.unit, loaded.want, expected, why) ? AGREES : DIFFERS_STEPS;
}

static Difference
parts_trial (gconstpointer job, const Answer *answer, char **why)
{
    return by_each_goal (parts_by_goal, job, answer, why);
}

typedef struct {
    Difference difference;
    char why[MOST_WHY];
} Report;

static void
run_child (Trial trial, gconstpointer input, const Answer *answer, int out)
{
    Report report = { .difference = AGREES };
    g_autofree char *why = NULL;
    alarm (MOST_SECONDS);
    report.difference = trial (input, answer, &why);
    g_strlcpy (report.why, why ? why : "", sizeof report.why);
    if (write (out, &report, sizeof report) != (gssize) sizeof report)
        _exit (99);
}

typedef struct {
    Trial trial;
    gconstpointer input;
    const Answer *answer;
} One;

static void
try_one (gconstpointer data, int out)
{
    const One *one = data;
    run_child (one->trial, one->input, one->answer, out);
}

static Report
run_trial (Trial trial, gconstpointer input, const Answer *answer)
{
    const One one = { trial, input, answer };
    Report report = { .difference = DIFFERS_DIED };
    gsize got = 0;
    int status = in_child (try_one, &one, &report, sizeof report, &got);
    if (got == sizeof report && WIFEXITED (status) && WEXITSTATUS (status) == 0)
        return report;
    report.difference = DIFFERS_DIED;
    if (WIFSIGNALED (status))
        snprintf (report.why, sizeof report.why, "ended by signal %d", WTERMSIG (status));
    else
        snprintf (report.why, sizeof report.why, "ended with status %d", WEXITSTATUS (status));
    return report;
}

/* Seeds that one child draws and tries. */
typedef struct {
    Trial trial;
    guint64 seed;
    int count;
} Batch;

static void
try_batch (gconstpointer data, int out)
{
    const Batch *batch = data;
    for (int i = 0; i < batch->count; i++) {
        Job job;
        Answer answer;
        g_autofree char *why = NULL;
        alarm (2 * MOST_SECONDS);
        generate_suitable (batch->seed + (guint64) i, &job, &answer);
        guint8 difference = (guint8) batch->trial (&job, &answer, &why);
        answer_clear (&answer);
        if (write (out, &difference, 1) != 1)
            _exit (99);
    }
}

/* What each of them came to; DIFFERS_DIED for all where the child did not end well. */
static void
run_batch (const Batch *batch, guint8 differences[BATCH])
{
    gsize got = 0;
    int status = in_child (try_batch, batch, differences, (gsize) batch->count, &got);
    if (got != (gsize) batch->count || !WIFEXITED (status) || WEXITSTATUS (status) != 0)
        memset (differences, DIFFERS_DIED, (gsize) batch->count);
}

typedef struct {
    Trial trial;
    Difference difference;
} Failure;

/* Whether a smaller job fails in the same way. */
static gboolean
fails_alike (const Job *job, gpointer data)
{
    const Failure *failure = data;
    Play play;
    if (!play_setup (&play, job, -1))
        return FALSE;
    Answer answer = exhaustive_answer (&play, GOAL_STEPS, MOST_WORLDS);
    gboolean alike =
        answer.kind != ANSWER_TOO_LARGE && run_trial (failure->trial, job, &answer).difference == failure->difference;
    answer_clear (&answer);
    return alike;
}

static void
tell_failure (guint64 seed, Job *job, Trial trial, const Report *report, const char *keep)
{
    printf ("seed %" G_GUINT64_FORMAT ": %s\n", seed, report->why);
    Failure failure = { trial, report->difference };
    shrink_job (job, fails_alike, &failure);
    Play play;
    play_setup (&play, job, -1);
    Answer answer = exhaustive_answer (&play, GOAL_STEPS, MOST_WORLDS);
    Report small = run_trial (trial, job, &answer);
    g_autofree char *text = emit_case (job, &answer, seed);
    printf ("made smaller: %s\n%s", small.why, text);
    for (guint i = 0; answer.moves && i < answer.moves->len; i++) {
        g_autofree char *move = emit_move (&play, &g_array_index (answer.moves, Move, i));
        printf ("# expected: %s\n", move);
    }
    if (keep) {
        g_autofree char *name = g_strdup_printf ("seed-%" G_GUINT64_FORMAT ".yaml", seed);
        g_autofree char *path = g_build_filename (keep, name, NULL);
        if (!g_file_set_contents (path, text, -1, NULL))
            printf ("%s cannot be written\n", path);
    }
    answer_clear (&answer);
}

typedef struct {
    int failed, left_out;
} Tally;

/* One seed by itself; a failure is shrunk and told. */
static void
run_seed (guint64 seed, Trial trial, const char *keep, Tally *tally)
{
    Job job;
    Answer answer;
    generate_suitable (seed, &job, &answer);
    Report report = run_trial (trial, &job, &answer);
    answer_clear (&answer);
    tally->left_out += report.difference == NOT_COMPARED;
    if (report.difference == AGREES || report.difference == NOT_COMPARED)
        return;
    tally->failed++;
    tell_failure (seed, &job, trial, &report, keep);
}

static int
run_seeds (guint64 seed, int count, Trial trial, const char *keep)
{
    Tally tally = { 0 };
    for (int first = 0; first < count; first += BATCH) {
        const Batch batch = { trial, seed + (guint64) first, MIN (BATCH, count - first) };
        guint8 differences[BATCH];
        run_batch (&batch, differences);
        for (int i = 0; i < batch.count; i++) {
            if (differences[i] == NOT_COMPARED)
                tally.left_out++;
            else if (differences[i] != AGREES)
                run_seed (batch.seed + (guint64) i, trial, keep, &tally);
        }
    }
    int failed = tally.failed, left_out = tally.left_out;
    printf ("%d passed, %d failed", count - failed - left_out, failed);
    if (left_out)
        printf (", %d not compared in full: too large to try everything", left_out);
    printf ("\n");
    return failed > 0 || 5 * left_out > count; /* where much was left out, little was compared */
}

static gboolean
pick_goal (const char *name)
{
    for (Goal goal = GOAL_STEPS; goal < GOALS; goal++)
        if (!strcmp (goal_name (goal), name)) {
            first_goal = last_goal = goal;
            return TRUE;
        }
    return FALSE;
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
    return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static int
run_kept (const char *folder)
{
    int failed = 0, passed = 0;
    g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
    g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
    for (const char *name = NULL; dir && (name = g_dir_read_name (dir));)
        if (g_str_has_suffix (name, ".yaml"))
            g_ptr_array_add (names, g_strdup (name));
    g_ptr_array_sort (names, compare_names);
    for (guint i = 0; i < names->len; i++) {
        g_autofree char *path = g_build_filename (folder, g_ptr_array_index (names, i), NULL);
        Report report = run_trial (kept_trial, path, NULL);
        passed += report.difference == AGREES;
        failed += report.difference != AGREES;
        if (report.difference != AGREES)
            printf ("%s: %s\n", (const char *) g_ptr_array_index (names, i), report.why);
    }
    printf ("%d passed, %d failed\n", passed, failed);
    return failed > 0 || !passed; /* an empty folder tests nothing */
}

int
main (int argc, char **argv)
{
    guint64 seed = 1;
    int count = 300;
    Trial trial = job_trial;
    const char *keep = NULL, *kept = NULL;
    for (int i = 1; i + 1 < argc; i += 2) {
        if (!strcmp (argv[i], "--seed"))
            seed = g_ascii_strtoull (argv[i + 1], NULL, 10);
        else if (!strcmp (argv[i], "--count"))
            count = atoi (argv[i + 1]);
        else if (!strcmp (argv[i], "--keep"))
            keep = argv[i + 1];
        else if (!strcmp (argv[i], "--walks"))
            trial = walks_trial;
        else if (!strcmp (argv[i], "--parts"))
            trial = parts_trial;
        else if (!strcmp (argv[i], "--back"))
            trial = back_trial;
        else if (!strcmp (argv[i], "--fallbacks"))
            trial = fallbacks_trial;
        else if (!strcmp (argv[i], "--objective") && !pick_goal (argv[i + 1]))
            g_error ("no objective %s", argv[i + 1]);
        else if (!strcmp (argv[i], "--kept"))
            kept = argv[i + 1];
    }
    return kept ? run_kept (kept) : run_seeds (seed, count, trial, keep);
}
