/* SPDX-License-Identifier: MIT */
/* first_bound FILE [STATES]: what the lower bound says of the steps of a job before anything is searched, and what the
 * search makes of it. Prints
 *     NEEDS BOUND STATES STEPS CLAIM
 * NEEDS is the bound without its table, BOUND with it (made for routes of any length), both of the unit as it came in;
 * "-": it says that there is no route. STATES is how many states the searches opened, STEPS the length of the route
 * that was found ("-": none). The most states that they may open can be given. */
#include "route/bound.h"
#include "route/route.h"

#include <stdio.h>
#include <stdlib.h>

static void
print_steps (const Problem *problem, Cost cost)
{
    if (cost == COST_NEVER)
        printf ("- ");
    else
        printf ("%u ", cost_steps (problem, cost));
}

static void
print_bounds (const Problem *problem)
{
    g_autofree guint16 *values = g_new (guint16, problem->n_vars + 1);
    for (guint v = 0; v < problem->n_vars; v++)
        values[v] = (guint16) problem->vars[v].initial;
    g_autoptr (Bound) bound = bound_new (problem);
    Cost needs = bound_by_needs (bound, values);
    print_steps (problem, needs);
    if (needs != COST_NEVER)
        bound_make_table (bound, G_MAXUINT);
    print_steps (problem, needs == COST_NEVER ? needs : bound_of (bound, values, MODE_FRESH));
}

static void
print_search (const Library *library, const Shop *shop, const Unit *unit, const Want *want, guint64 most)
{
    RouteOptions options = { .search_states = most };
    g_autoptr (RouteAnswer) answer = route_find (library, shop, unit, want, &options);
    printf ("%" G_GUINT64_FORMAT " ", answer->searched);
    if (answer->steps != NULL)
        printf ("%u ", answer->steps->len);
    else
        printf ("- ");
    printf ("%s\n", answer->claim == CLAIM_PROVED_SHORTEST ? "proved-shortest"
                    : answer->claim == CLAIM_BEST_FOUND    ? "best-found"
                    : answer->claim == CLAIM_NO_ROUTE      ? "no-route"
                                                           : "other");
}

int
main (int argc, char **argv)
{
    if (argc < 2 || argc > 3) {
        fprintf (stderr, "usage: first_bound FILE [STATES]\n");
        return 2;
    }
    const char *const paths[] = { argv[1], NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    if (complaints_count (complaints) || library->units->len != 1 || library->wants->len != 1 ||
        library->shops->len != 1) {
        g_autofree char *said = complaints_to_string (complaints, 5);
        fprintf (stderr, "first_bound: %s does not hold one job\n%s", argv[1], said);
        return 1;
    }
    const Shop *shop = library->shops->pdata[0];
    const Unit *unit = library->units->pdata[0];
    const Want *want = library->wants->pdata[0];
    g_autofree char *reason = NULL;
    g_autoptr (Problem) problem = problem_new (library, shop, unit, want, &(RouteOptions){ 0 }, &reason);
    if (problem == NULL) {
        fprintf (stderr, "first_bound: %s\n", reason);
        return 1;
    }
    print_bounds (problem);
    print_search (library, shop, unit, want, argc > 2 ? (guint64) strtoull (argv[2], NULL, 10) : 0);
    return 0;
}
