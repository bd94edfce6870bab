/* SPDX-License-Identifier: MIT */
#include "plan_text.h"
#include "puzzles.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <cmocka.h>

/* source: wolf, goat and cabbage, 7 crossings: Propositiones ad acuendos juvenes, a 9th-century manuscript attributed
 * to Alcuin of York (number 18, from memory). */
static void
test_wolf (void **state)
{
    (void) state;
    g_autofree char *text = puzzle_wolf ();
    assert_int_equal (plan_text_shortest (text, NULL), 7);
}

/* source: three missionaries, three cannibals, a boat of two, 11 crossings: stated in a secondary page; Amarel, 1968
 * (from memory), as the classic study. */
static void
test_missionaries (void **state)
{
    (void) state;
    g_autofree char *text = puzzle_missionaries ();
    assert_int_equal (plan_text_shortest (text, NULL), 11);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_wolf),
        cmocka_unit_test (test_missionaries),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
