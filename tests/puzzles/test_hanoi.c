/* SPDX-License-Identifier: MIT */
/* Shortest lengths of puzzles against what is published. */
#include "plan_text.h"
#include "puzzles.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <cmocka.h>

/* source: Tower of Hanoi, 2^n - 1 moves for n discs: E. Lucas, 1883 (seen cited in a secondary page). */
static void
test_three_pegs (void **state)
{
    (void) state;
    for (int discs = 3; discs <= 5; discs++) {
        g_autofree char *text = puzzle_hanoi (discs, 3);
        assert_int_equal (plan_text_shortest (text, NULL), (1 << discs) - 1);
    }
}

/* source: Frame and Stewart, 1941 (from memory), for the construction; T. Bousch, Bull. Belg. Math. Soc. Simon Stevin
 * 21 (2014) 895-912 (author's initial and title not checked), for its being optimal with four pegs. */
static void
test_four_pegs (void **state)
{
    static const int moves[] = { 5, 9, 13 };
    (void) state;
    for (int discs = 3; discs <= 5; discs++) {
        g_autofree char *text = puzzle_hanoi (discs, 4);
        assert_int_equal (plan_text_shortest (text, NULL), moves[discs - 3]);
    }
}

/* source: Chinese rings, floor (2^(n+1) / 3) moves one ring at a time: E. W. Weisstein's encyclopedia entry
 * "Baguenaudier" (1999), which cites Gardner 1986 and Kraitchik 1942. */
static void
test_rings (void **state)
{
    (void) state;
    for (int rings = 3; rings <= 6; rings++) {
        g_autofree char *text = puzzle_rings (rings);
        assert_int_equal (plan_text_shortest (text, NULL), (2 << rings) / 3);
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_three_pegs),
        cmocka_unit_test (test_four_pegs),
        cmocka_unit_test (test_rings),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
