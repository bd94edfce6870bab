/* SPDX-License-Identifier: MIT */
/* What tests of the check room have in common: files loaded without complaint, units by name, a unit on the bench. */
#ifndef RUNGWISE_CHECK_FIXTURE_H
#define RUNGWISE_CHECK_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "check/check.h"

#define CHECK_DATA "tests/unit/data/"

/* The book with every form of rule, and one more file of the data folder. Transfer full. */
static inline Library *
fixture_load (const char *name)
{
    g_autofree char *path = g_build_filename (CHECK_DATA, name, NULL);
    const char *paths[] = { CHECK_DATA "check-rules.yaml", path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load (paths, NULL, complaints);

    if (complaints_count (complaints) > 0) {
        g_autofree char *text = complaints_to_string (complaints, 50);

        fail_msg ("%s", text);
    }
    return library;
}

/* Transfer none. */
static inline const Unit *
fixture_unit (const Library *library, const char *id)
{
    for (guint i = 0; i < library->units->len; i++)
        if (g_str_equal (((const Unit *) library->units->pdata[i])->id, id))
            return library->units->pdata[i];
    fail_msg ("no unit %s", id);
    return NULL;
}

/* A unit in the middle of its work (check-bench.yaml). All but `library` borrowed from it. */
typedef struct {
    Library *library; /* owned */
    Unit *unit;
    Shop *shop;
    const Part *knot, *blank, *fan;
    guint cpu1, cpu2, blank2, fan1; /* slots */
    guint agent, spare;             /* components */
} Fixture;

static inline guint
fixture_slot (const Board *board, const char *name)
{
    int index = board_find_slot (board, name);

    assert_true (index >= 0);
    return (guint) index;
}

static inline int
bench_set_up (void **fixture)
{
    Fixture *bench = g_new0 (Fixture, 1);
    Library *library = bench->library = fixture_load ("check-bench.yaml");

    bench->unit = library->units->pdata[0];
    bench->shop = library->shops->pdata[0];
    if (bench->unit->failed == NULL)
        bench->unit->failed = g_new0 (gboolean, bench->unit->board->components->len);
    bench->knot = book_find_part (&library->book, "knot-4");
    bench->blank = book_find_part (&library->book, "blank-q9");
    bench->fan = book_find_part (&library->book, "fan-cool");
    const Board *board = bench->unit->board;
    bench->cpu1 = fixture_slot (board, "cpu1");
    bench->cpu2 = fixture_slot (board, "cpu2");
    bench->blank2 = fixture_slot (board, "blank2");
    bench->fan1 = fixture_slot (board, "fan1");
    bench->agent = (guint) board_find_component (board, "agent");
    bench->spare = (guint) board_find_component (board, "agent-2");
    *fixture = bench;
    return 0;
}

static inline int
bench_tear_down (void **fixture)
{
    Fixture *bench = *fixture;

    library_free (bench->library);
    g_free (bench);
    return 0;
}

#define BENCH_TEST(name) cmocka_unit_test_setup_teardown (name, bench_set_up, bench_tear_down)

/* A step as a route would have it. */
static inline Step
step_remove (guint slot)
{
    return (Step){ .kind = STEP_REMOVE, .slot = slot };
}

/* `bound` NULL: to nobody. */
static inline Step
step_fit (guint slot, const Part *part, Owner owner, const char *bound)
{
    Step step = { .kind = STEP_FIT, .slot = slot, .part = part, .owner = owner };

    step.stepping = part->steppings->len > 0 ? part->steppings->pdata[0] : NULL;
    step.bound = g_intern_string (bound);
    return step;
}

static inline Step
step_write (guint component, guint release, Method method)
{
    return (Step){ .kind = STEP_WRITE, .component = component, .release = release, .method = method };
}

#endif
