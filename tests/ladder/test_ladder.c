/* SPDX-License-Identifier: MIT */
/* Shortest lengths of the ladder family. A regression test of the lower bound: where it is met, nothing is searched. */
#include "plan_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <cmocka.h>

typedef struct {
    int components, releases, bridge, cross;
} Ladder;

static const Ladder family[] = { { 2, 6, 3, 0 }, { 4, 12, 4, 3 }, { 6, 20, 5, 3 }, { 3, 40, 4, 6 }, { 8, 30, 6, 4 } };

/* Transfer full. */
static char *
ladder_text (const Ladder *ladder)
{
    g_autofree char *command = g_strdup_printf ("'%s' %d %d %d %d", LADDER_BINARY, ladder->components, ladder->releases,
                                                ladder->bridge, ladder->cross);
    return plan_text_printed (command);
}

/* source: worked by hand: six steps at the sockets, and each component raised as far as the one before it asks, as far
 * at a time as its releases allow (tests/ladder/ladder.c). With no cross requirement only `system` is written. */
static guint
length_by_hand (const Ladder *ladder)
{
    guint length = 6;
    for (int c = 0; c < ladder->components; c++) {
        int wanted = ladder->releases - 1 - c * ladder->cross;
        if (wanted > 0 && (c == 0 || ladder->cross > 0))
            length += (guint) ((wanted + ladder->bridge - 1) / ladder->bridge);
    }
    return length;
}

static void
test_lengths (void **state)
{
    static const guint lengths[] = { 8, 14, 22, 32, 30 };
    (void) state;
    for (gsize i = 0; i < G_N_ELEMENTS (family); i++) {
        g_autofree char *text = ladder_text (&family[i]);
        guint insertions = 0, steps = plan_text_shortest (text, &insertions);
        assert_int_equal (steps, lengths[i]);
        assert_int_equal (insertions, 3);
    }
}

/* Small ladders, all of them, against the sum. */
static void
test_small_ladders (void **state)
{
    (void) state;
    for (int components = 1; components <= 3; components++) {
        for (int bridge = 1; bridge <= 3; bridge++) {
            for (int cross = 0; cross <= 2; cross++) {
                Ladder ladder = { components, 6, bridge, cross };
                g_autofree char *text = ladder_text (&ladder);
                assert_int_equal (plan_text_shortest (text, NULL), length_by_hand (&ladder));
            }
        }
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_lengths),
        cmocka_unit_test (test_small_ladders),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
