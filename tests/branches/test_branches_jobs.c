/* SPDX-License-Identifier: MIT */
/* Plans with branches for random small units whose releases are not all known.
 *   test_branches_jobs --seed S --count N
 *   test_branches_jobs --kept FOLDER
 *
 * source: an exhaustive search over beliefs (beliefs.h) that asks the check room alone. The planner's worst case is the
 * least there is, it gives up those cases that have no route and no others, it has no plan where there is none, and the
 * checker accepts each plan. Kept files begin with "# expect: steps N, single M, hopeless H" or "# expect: no plan", worked by
 * hand: the exhaustive search itself has to say so. */
#include "branch_job.h"
#include "compare_plan.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_BELIEFS = 400, MOST_KEPT_BELIEFS = 4000, MOST_DRAWS = 30, MOST_SHOWN = 5 };

typedef struct {
    guint jobs, draws, differ;
    guint plans, none, needed, singles;                              /* by the exhaustive search */
    guint branches, proved;                                          /* by the planner */
    guint begin_long, some_dark, pages, two_unknown, given_up, deep; /* of its plans with branches */
} Tally;

static Tally tally;

static gboolean
is_needed (const PlanAnswer *expected)
{
    return expected->kind == PLAN_THERE &&
           (expected->single == NO_SINGLE || (guint) expected->single > expected->worst);
}

static guint
count_unknown (const Unit *unit)
{
    guint count = 0;

    for (guint i = 0; i < unit->board->components->len; i++)
        count += unit->releases[i].count > 1 ? 1 : 0;
    return count;
}

static void
note (const Question *question, const PlanAnswer *expected, const PlanShape *shape)
{
    tally.plans += expected->kind == PLAN_THERE ? 1 : 0;
    tally.none += expected->kind == PLAN_NONE ? 1 : 0;
    tally.needed += is_needed (expected) ? 1 : 0;
    tally.singles += expected->single != NO_SINGLE ? 1 : 0;
    if (!shape->branches)
        return;
    tally.branches++;
    tally.proved += shape->proved ? 1 : 0;
    tally.begin_long += shape->begins_with >= 2 ? 1 : 0;
    tally.some_dark += shape->some_dark ? 1 : 0;
    tally.pages += shape->reads_page ? 1 : 0;
    tally.two_unknown += count_unknown (question->unit) > 1 ? 1 : 0;
    tally.given_up += shape->given_up > 0 ? 1 : 0;
    tally.deep += shape->depth >= 2 ? 1 : 0;
}

static void
say_difference (const Question *question, Counted counted, const PlanAnswer *expected, const char *what,
                const char *why)
{
    tally.differ++;
    printf ("%s: %s\n  exhaustive: %s, %u %s in the worst case, one route %d, %u of %u cases without a route\n", what,
            why, expected->kind == PLAN_THERE ? "a plan" : "no plan", expected->worst,
            counted == COUNT_STEPS ? "steps" : "insertions", expected->single, expected->n_hopeless, expected->n_cases);
    if (tally.differ > MOST_SHOWN)
        return;
    g_autofree char *words = plan_in_words (question, counted);
    printf ("%s", words);
}

static void
compare (const Question *question, Counted counted, const PlanAnswer *expected, const char *what)
{
    PlanShape shape;
    g_autofree char *why = plan_differs (question, counted, expected, &shape);

    if (why != NULL)
        say_difference (question, counted, expected, what, why);
    else
        note (question, expected, &shape);
}

/* ---- Random units ---- */

typedef enum { WANTED_ANY, WANTED_NEEDED, WANTED_NONE } Wanted;

static gboolean
is_wanted (Wanted wanted, Counted counted, const PlanAnswer *expected)
{
    switch (wanted) {
    case WANTED_NEEDED:
        return is_needed (expected) && (expected->worst > 0 || counted != COUNT_STEPS);
    case WANTED_NONE:
        return expected->kind == PLAN_NONE && expected->n_hopeless < expected->n_cases;
    case WANTED_ANY:
        break;
    }
    return TRUE;
}

/* Mostly such as can't do without branches; the last draw is taken as it is. */
static void
test_seed (guint64 seed)
{
    Dice dice = { .state = seed };
    Counted counted = dice_percent (&dice, 20) ? COUNT_INSERTIONS : COUNT_STEPS;
    Wanted wanted = dice_percent (&dice, 75) ? WANTED_NEEDED : dice_percent (&dice, 40) ? WANTED_NONE : WANTED_ANY;

    for (guint draw = 0;; draw++) {
        g_autofree BranchJob *job = g_new0 (BranchJob, 1);
        guint64 drawn = dice_next (&dice);
        g_auto (LoadedJob) loaded = { NULL };
        g_autofree char *why = NULL;

        tally.draws++;
        branch_job_draw (drawn, job);
        if (!branch_job_load (job, &loaded, &why))
            g_error ("seed %" G_GUINT64_FORMAT ": %s", seed, why);
        const Question question = { loaded.library, loaded.shop, loaded.unit, loaded.want };
        PlanAnswer expected = beliefs_search (&question, counted, MOST_BELIEFS);
        if (expected.kind == PLAN_TOO_LARGE || (!is_wanted (wanted, counted, &expected) && draw < MOST_DRAWS))
            continue;
        g_autofree char *what = g_strdup_printf ("seed %" G_GUINT64_FORMAT, seed);
        guint before = tally.differ;
        compare (&question, counted, &expected, what);
        tally.jobs++;
        if (tally.differ > before && tally.differ <= MOST_SHOWN) {
            g_autofree char *text = branch_job_text (job, seed);
            printf ("%s\n", text);
        }
        return;
    }
}

/* Of little use is a run in which branches are seldom needed, or of one kind only. */
static gboolean
says_enough (void)
{
    guint n = tally.jobs;

    printf ("%u units of %u drawn: %u with a plan, %u without; %u need branches, %u have one route for all\n", n,
            tally.draws, tally.plans, tally.none, tally.needed, tally.singles);
    printf (
        "%u plans with branches, %u proved: %u begin with several steps, %u try a start that comes out either way, %u "
        "are told apart by a page, %u with two unknown, %u give cases up, %u with branches of branches\n",
        tally.branches, tally.proved, tally.begin_long, tally.some_dark, tally.pages, tally.two_unknown, tally.given_up,
        tally.deep);
    if (n < 50)
        return TRUE;
    return tally.needed * 2 >= n && tally.none * 20 >= n && tally.proved * 20 >= tally.branches * 19 &&
           tally.begin_long * 20 >= n && tally.some_dark * 5 >= n && tally.pages * 20 >= n &&
           tally.two_unknown * 10 >= n && tally.given_up * 10 >= n && tally.deep * 50 >= n;
}

/* ---- Kept files ---- */

static char *
expectation (const PlanAnswer *expected)
{
    if (expected->kind != PLAN_THERE)
        return g_strdup_printf ("no plan, hopeless %u", expected->n_hopeless);
    if (expected->single == NO_SINGLE)
        return g_strdup_printf ("steps %u, single none, hopeless %u", expected->worst, expected->n_hopeless);
    return g_strdup_printf ("steps %u, single %d, hopeless %u", expected->worst, expected->single,
                            expected->n_hopeless);
}

static void
test_kept (const char *path)
{
    static const char head[] = "# expect: ";
    g_auto (LoadedJob) loaded = { NULL };
    g_autofree char *why = NULL, *text = NULL;

    if (!g_file_get_contents (path, &text, NULL, NULL) || !g_str_has_prefix (text, head) ||
        !load_path (path, &loaded, &why))
        g_error ("%s: %s", path, why != NULL ? why : "no expectation");
    const Question question = { loaded.library, loaded.shop, loaded.unit, loaded.want };
    PlanAnswer expected = beliefs_search (&question, COUNT_STEPS, MOST_KEPT_BELIEFS);
    if (expected.kind == PLAN_TOO_LARGE)
        g_error ("%s: too large to try everything", path);
    g_autofree char *says = expectation (&expected), *asked = g_strdup (text + strlen (head));
    *strchrnul (asked, '\n') = '\0';
    if (!g_str_equal (says, asked))
        say_difference (&question, COUNT_STEPS, &expected, path, "the exhaustive search does not say what is expected");
    compare (&question, COUNT_STEPS, &expected, path);
    tally.jobs++;
}

static void
test_folder (const char *folder)
{
    g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
    const char *name;

    if (dir == NULL)
        g_error ("no folder %s", folder);
    while ((name = g_dir_read_name (dir)) != NULL) {
        g_autofree char *path = g_build_filename (folder, name, NULL);

        if (g_str_has_suffix (name, ".yaml"))
            test_kept (path);
    }
}

int
main (int argc, char **argv)
{
    guint64 seed = 1, count = 20;
    const char *kept = NULL;

    for (int i = 1; i + 1 < argc; i += 2) {
        if (g_str_equal (argv[i], "--seed"))
            seed = g_ascii_strtoull (argv[i + 1], NULL, 10);
        else if (g_str_equal (argv[i], "--count"))
            count = g_ascii_strtoull (argv[i + 1], NULL, 10);
        else if (g_str_equal (argv[i], "--kept"))
            kept = argv[i + 1];
    }
    if (kept != NULL)
        test_folder (kept);
    else
        for (guint64 i = 0; i < count; i++)
            test_seed (seed + i);
    gboolean enough = says_enough ();
    return tally.differ == 0 && tally.jobs > 0 && enough ? EXIT_SUCCESS : EXIT_FAILURE;
}
