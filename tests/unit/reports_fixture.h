/* SPDX-License-Identifier: MIT */
/* Loads a unit with a written route and makes an answer of it, as if the route had been found. */
#ifndef RUNGWISE_REPORTS_FIXTURE_H
#define RUNGWISE_REPORTS_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "reports/reports.h"

#define BOOK  "data/larkfield/book"
#define SHOP  "data/larkfield/shop.yaml"
#define RULES "rules/every-machine.yaml"
#define DATA  "tests/unit/data/"

static inline Library *
fixture_load (const char *const *paths)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load (paths, NULL, complaints);

    if (complaints_count (complaints) > 0) {
        g_autofree char *text = complaints_to_string (complaints, 50);

        fail_msg ("%s", text);
    }
    return library;
}

/* The book, the rules, the shop, one caution for each word, and the files NAME-unit.yaml and NAME-route.yaml. */
static inline Library *
fixture_library (const char *name)
{
    g_autofree char *unit = g_strconcat (DATA, name, "-unit.yaml", NULL);
    g_autofree char *route = g_strconcat (DATA, name, "-route.yaml", NULL);
    const char *paths[] = { RULES, BOOK, SHOP, DATA "reports-cautions.yaml", unit, route, NULL };

    return fixture_load (paths);
}

static inline const Unit *
fixture_unit (const Library *library)
{
    return g_ptr_array_index (library->units, 0);
}

static inline const GArray *
fixture_steps (const Library *library)
{
    return ((const WrittenRoute *) g_ptr_array_index (library->routes, 0))->steps;
}

static inline const Shop *
fixture_shop (const Library *library)
{
    return g_ptr_array_index (library->shops, 0);
}

static inline const Want *
fixture_want (const Library *library)
{
    return library->wants->len == 0 ? NULL : g_ptr_array_index (library->wants, 0);
}

/* Transfer full. */
static inline RouteAnswer *
fixture_answer (const Library *library)
{
    RouteAnswer *answer = g_new0 (RouteAnswer, 1);
    const GArray *steps = fixture_steps (library);
    g_autoptr (State) start = state_from_unit (fixture_unit (library), NULL);

    answer->claim = CLAIM_BEST_FOUND;
    answer->steps = g_array_new (FALSE, FALSE, sizeof (Step));
    g_array_append_vals (answer->steps, steps->data, steps->len);
    answer->walk = check_walk (library, fixture_shop (library), fixture_want (library), start, answer->steps);
    if (!answer->walk->sound)
        fail_msg ("step %u: %s", answer->walk->first_bad + 1, answer->walk->why);
    answer->lower_bound = 1;
    return answer;
}

#endif
