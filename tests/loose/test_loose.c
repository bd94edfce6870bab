/* SPDX-License-Identifier: MIT */
/* Shortest lengths of the families whose lower bound is loose: what the program proves, against the sum at the top of
 * each family's file, and for the smallest jobs against trying everything. */
#include "by_trying.h"
#include "plan_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <cmocka.h>

/* Above this, a job is not tried out to its end. */
enum { MOST_STATES = 600 };

/* Transfer full. */
static char *
family_text (const char *program, const int *numbers)
{
    g_autofree char *command =
        g_strdup_printf ("'%s' %d %d %d %d", program, numbers[0], numbers[1], numbers[2], numbers[3]);
    return plan_text_printed (command);
}

static void
assert_planned (const char *program, const int *numbers, guint length, guint insertions)
{
    g_autofree char *text = family_text (program, numbers);
    guint inserted = 0;
    assert_int_equal (plan_text_shortest (text, &inserted), length);
    assert_int_equal (inserted, insertions);
}

static void
assert_tried (const char *program, const int *numbers, guint length)
{
    g_autofree char *text = family_text (program, numbers);
    g_autoptr (Library) library = plan_text_load (text);
    guint met = 0;
    assert_int_equal (shortest_by_trying (library, MOST_STATES, &met), length);
    assert_in_range (met, 1, 2 * MOST_STATES);
}

static guint
rounded_up (int number, int by)
{
    return (guint) ((number + by - 1) / by);
}

/* source: worked by hand (tests/loose/borrowed.c), here and below. */
static guint
borrowed_by_hand (const int *numbers)
{
    return (guint) (2 * numbers[1] + numbers[0] * (numbers[2] + 2));
}

static guint
memory_by_hand (const int *numbers)
{
    int modules = numbers[0], stages = numbers[2];
    return (guint) (2 * numbers[1] + 3 * stages + (numbers[3] == 1 ? 4 * modules : 2 * modules * stages));
}

static guint
stepwise_by_hand (const int *numbers)
{
    int releases = numbers[0], bridge = numbers[1];
    return 4 + 2 * (guint) numbers[3] * rounded_up (releases, MIN (bridge, numbers[2])) + rounded_up (releases, bridge);
}

typedef struct {
    int numbers[4];
    guint length;
} Job;

static void
test_borrowed (void **state)
{
    static const Job jobs[] = { { { 2, 1, 1, 1 }, 8 },
                                { { 2, 2, 1, 1 }, 10 },
                                { { 8, 2, 1, 1 }, 28 },
                                { { 4, 1, 2, 2 }, 18 },
                                { { 8, 2, 2, 2 }, 36 } };
    (void) state;
    for (gsize i = 0; i < G_N_ELEMENTS (jobs); i++) {
        const int *numbers = jobs[i].numbers;
        assert_int_equal (borrowed_by_hand (numbers), jobs[i].length);
        assert_planned (BORROWED, numbers, jobs[i].length, (guint) (numbers[0] + numbers[1]));
    }
}

static void
test_small_borrowed (void **state)
{
    (void) state;
    for (int stages = 1; stages <= 3; stages++)
        for (int sockets = 1; sockets <= 2; sockets++)
            for (int components = 1; components <= 2; components++)
                for (int by = 1; by <= 2; by++) {
                    int numbers[4] = { stages, sockets, components, by };
                    guint length = borrowed_by_hand (numbers);
                    assert_planned (BORROWED, numbers, length, (guint) (stages + sockets));
                    if (stages * sockets * components <= 2)
                        assert_tried (BORROWED, numbers, length);
                }
}

static void
test_memory (void **state)
{
    static const Job jobs[] = { { { 1, 2, 1, 1 }, 11 },
                                { { 4, 2, 1, 1 }, 23 },
                                { { 2, 2, 2, 1 }, 18 },
                                { { 1, 2, 2, 2 }, 14 },
                                { { 2, 2, 2, 2 }, 18 } };
    (void) state;
    for (gsize i = 0; i < G_N_ELEMENTS (jobs); i++) {
        const int *numbers = jobs[i].numbers;
        assert_int_equal (memory_by_hand (numbers), jobs[i].length);
        assert_planned (SHARED_MEMORY, numbers, jobs[i].length, (guint) (numbers[1] + numbers[2]));
    }
}

static void
test_small_memory (void **state)
{
    (void) state;
    for (int modules = 1; modules <= 2; modules++)
        for (int sockets = 2; sockets <= 3; sockets++)
            for (int stages = 1; stages <= 2; stages++)
                for (int types = 1; types <= 2; types++) {
                    int numbers[4] = { modules, sockets, stages, types };
                    guint length = memory_by_hand (numbers);
                    assert_planned (SHARED_MEMORY, numbers, length, (guint) (sockets + stages));
                    if (modules == 1 && sockets == 2)
                        assert_tried (SHARED_MEMORY, numbers, length);
                }
}

static void
test_stepwise (void **state)
{
    static const Job jobs[] = { { { 4, 4, 1, 1 }, 13 },
                                { { 6, 3, 1, 1 }, 18 },
                                { { 4, 4, 1, 2 }, 21 },
                                { { 6, 3, 2, 2 }, 18 },
                                { { 3, 1, 1, 2 }, 19 } };
    (void) state;
    for (gsize i = 0; i < G_N_ELEMENTS (jobs); i++) {
        assert_int_equal (stepwise_by_hand (jobs[i].numbers), jobs[i].length);
        assert_planned (STEPWISE, jobs[i].numbers, jobs[i].length, 2);
    }
}

static void
test_small_stepwise (void **state)
{
    (void) state;
    for (int releases = 2; releases <= 3; releases++)
        for (int bridge = 1; bridge <= 3; bridge++)
            for (int stride = 1; stride <= 2; stride++)
                for (int pairs = 1; pairs <= 2; pairs++) {
                    int numbers[4] = { releases, bridge, stride, pairs };
                    guint length = stepwise_by_hand (numbers);
                    assert_planned (STEPWISE, numbers, length, 2);
                    if (releases == 2 && bridge == 2)
                        assert_tried (STEPWISE, numbers, length);
                }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_borrowed), cmocka_unit_test (test_small_borrowed),
        cmocka_unit_test (test_memory),   cmocka_unit_test (test_small_memory),
        cmocka_unit_test (test_stepwise), cmocka_unit_test (test_small_stepwise),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
