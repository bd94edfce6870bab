/* SPDX-License-Identifier: MIT */
/* stages [--objective NAME] [--times N] PATH...: what each part of an answer costs, for one unit and one want, in this process.
 * Rules are read only where they are named. Prints one line, "-" where there is nothing of the kind:
 *     CLAIM VALUE BOUND STATES  FILES PLAN BACK FAILS REASONS NONE OTHERS TEXT JSON SVG HTML
 * VALUE is what the route has of what the objective minimises first (steps; insertions; minutes), BOUND the least that any
 * has, as proved, STATES how many the search opened. Then milliseconds of processor time (spent.h), medians of N runs (5):
 *   FILES    reading and checking the files
 *   PLAN     the route, proved and walked
 *   BACK     the ways back from its steps, and the order that puts off what can't be undone: what they add to PLAN
 *   FAILS    what to do when a write fails
 *   REASONS  why each step is there, and which cautions apply
 *   NONE     why there is no route, and what would open one
 *   OTHERS   up to six alternatives; no part of an answer unless it is asked for
 *   TEXT ... each form of the sheet, REASONS (which each works out for itself) included */
#include "spent.h"

#include "explain/explain.h"
#include "reports/account.h"
#include "reports/reports.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ALTERNATIVES = 6 };

typedef enum {
    STAGE_FILES,
    STAGE_PLAN,
    STAGE_BACK,
    STAGE_FAILS,
    STAGE_REASONS,
    STAGE_NONE,
    STAGE_OTHERS,
    STAGE_TEXT,
    STAGE_JSON,
    STAGE_SVG,
    STAGE_HTML,
    STAGES
} Stage;

typedef struct {
    Spent *times[STAGES]; /* owned; empty: there is nothing of the kind */
    gint64 began;
} Stages;

static void
begin (Stages *stages)
{
    stages->began = spent_now ();
}

static void
end (Stages *stages, Stage stage)
{
    spent_add (stages->times[stage], spent_now () - stages->began);
}

/* ---- Stages ---- */

static char *
text_without_colour (const RouteReport *report)
{
    return report_route_text (report, FALSE);
}

static void
time_forms (Stages *stages, const RouteReport *report)
{
    char *(*const forms[]) (const RouteReport *) = { text_without_colour, report_route_json, report_route_svg,
                                                     report_route_html };
    for (guint f = 0; f < G_N_ELEMENTS (forms); f++) {
        begin (stages);
        g_autofree char *written = forms[f](report);
        if (written != NULL)
            end (stages, (Stage) (STAGE_TEXT + f));
    }
}

/* What stands beside a route. Returns the fallbacks; transfer full. */
static GArray *
time_beside (Stages *stages, const Question *question, const GArray *steps)
{
    gboolean complete;

    begin (stages);
    GArray *fallbacks = fallbacks_find (question, steps);
    end (stages, STAGE_FAILS);
    begin (stages);
    g_autoptr (RouteAccount) account =
        route_account_new (question->library, question->shop, question->unit, question->want, steps);
    end (stages, STAGE_REASONS);
    (void) account; /* only the time it takes is of interest */
    begin (stages);
    g_autoptr (GPtrArray) others = alternatives_find (question, MOST_ALTERNATIVES, &complete);
    end (stages, STAGE_OTHERS);
    (void) others; /* only the time it takes is of interest */
    return fallbacks;
}

static const char *
claim_word (Claim claim)
{
    return claim == CLAIM_PROVED_SHORTEST ? "proved-shortest"
           : claim == CLAIM_BEST_FOUND    ? "best-found"
           : claim == CLAIM_NO_ROUTE      ? "no-route"
           : claim == CLAIM_READ_FIRST    ? "read-first"
           : claim == CLAIM_NOT_FOUND     ? "not-found"
                                          : "fault";
}

/* An amount of what the objective minimises first; minutes have tenths. */
static void
print_amount (Objective objective, double amount)
{
    printf ("%.*f ", objective == OBJECTIVE_TIME, amount);
}

static void
print_answer (const RouteAnswer *answer)
{
    const Walk *walk = answer->walk;
    Objective objective = answer->objective;

    printf ("%s ", claim_word (answer->claim));
    if (walk == NULL)
        printf ("- ");
    else
        print_amount (objective, objective == OBJECTIVE_STEPS      ? walk->steps
                                 : objective == OBJECTIVE_HANDLING ? walk->insertions
                                                                   : walk->minutes);
    print_amount (objective, objective == OBJECTIVE_TIME ? answer->lower_bound / 10.0 : answer->lower_bound);
    printf ("%" G_GUINT64_FORMAT, answer->searched);
}

/* Everything once, from the files on. Returns the answer; transfer full. */
static RouteAnswer *
plan (Stages *stages, Library *library, Shop *shop, Objective objective)
{
    Unit *unit = g_ptr_array_index (library->units, 0);
    Want *want = g_ptr_array_index (library->wants, 0);
    const RouteOptions with = { .objective = objective }, without = { .objective = objective, .no_ways_back = TRUE };
    const Question question = { library, shop, unit, want, &with };
    g_autoptr (GArray) fallbacks = NULL;
    g_autoptr (NoRoute) none = NULL;

    begin (stages);
    g_autoptr (RouteAnswer) bare = route_find (library, shop, unit, want, &without);
    end (stages, STAGE_PLAN);
    (void) bare; /* only the time it takes is of interest */
    begin (stages);
    g_autoptr (RouteAnswer) answer = route_find (library, shop, unit, want, &with);
    end (stages, STAGE_BACK);
    if (answer->claim == CLAIM_NO_ROUTE) {
        begin (stages);
        none = no_route_explain (library, shop, unit, want, &with);
        end (stages, STAGE_NONE);
    }
    if (answer->steps != NULL)
        fallbacks = time_beside (stages, &question, answer->steps);
    const RouteReport report = { .library = library,
                                 .shop = shop,
                                 .unit = unit,
                                 .want = want,
                                 .answer = answer,
                                 .fallbacks = fallbacks,
                                 .none = none };
    time_forms (stages, &report);
    return g_steal_pointer (&answer);
}

static RouteAnswer *
time_once (Stages *stages, const char *const *paths, Objective objective)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Shop) usual = NULL;

    begin (stages);
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    end (stages, STAGE_FILES);
    if (complaints_count (complaints) || library->units->len != 1 || library->wants->len != 1) {
        g_autofree char *said = complaints_to_string (complaints, 5);
        fprintf (stderr, "stages: the files do not hold one unit and one want\n%s", said);
        return NULL;
    }
    if (library->shops->len == 0)
        usual = shop_new_default ();
    return plan (stages, library, usual != NULL ? usual : g_ptr_array_index (library->shops, 0), objective);
}

/* ---- The program ---- */

static void
print_times (const Stages *stages)
{
    for (int s = 0; s < STAGES; s++) {
        double ms = stages->times[s]->len ? spent_ms (stages->times[s], 50, 100) : 0;

        if (s == STAGE_BACK)
            ms = MAX (0, ms - spent_ms (stages->times[STAGE_PLAN], 50, 100));
        if (stages->times[s]->len)
            printf (" %.1f", ms);
        else
            printf (" -");
    }
    printf ("\n");
}

static int
run (const char *const *paths, Objective objective, int times)
{
    Stages stages = { 0 };
    gboolean ran = TRUE;

    for (int s = 0; s < STAGES; s++)
        stages.times[s] = spent_new ();
    for (int i = 0; ran && i < times; i++) {
        g_autoptr (RouteAnswer) answer = time_once (&stages, paths, objective);

        ran = answer != NULL;
        if (ran && i == 0)
            print_answer (answer);
    }
    if (ran)
        print_times (&stages);
    for (int s = 0; s < STAGES; s++)
        g_array_unref (stages.times[s]);
    return !ran;
}

static Objective
objective_named (const char *name)
{
    Objective objective = OBJECTIVE_STEPS;

    while (objective < OBJECTIVE_COUNT && strcmp (objective_name (objective), name))
        objective++;
    return objective;
}

int
main (int argc, char **argv)
{
    Objective objective = OBJECTIVE_STEPS;
    int times = 5, at = 1;

    for (; at + 1 < argc && g_str_has_prefix (argv[at], "--"); at += 2) {
        if (!strcmp (argv[at], "--objective"))
            objective = objective_named (argv[at + 1]);
        else
            times = !strcmp (argv[at], "--times") ? atoi (argv[at + 1]) : 0;
    }
    if (at >= argc || times < 1 || objective == OBJECTIVE_COUNT) {
        fprintf (stderr, "usage: stages [--objective steps|handling|time] [--times N] PATH...\n");
        return 2;
    }
    return run ((const char *const *) argv + at, objective, times);
}
