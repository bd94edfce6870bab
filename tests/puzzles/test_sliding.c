/* SPDX-License-Identifier: MIT */
/* Sliding tiles, three by three, against published distances. A position at each distance comes from a search backwards
 * from the goal that shares nothing with the program; what it counts is held against the published table first. */
#include "plan_text.h"
#include "puzzles.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

enum { CELLS = 9, POSITIONS = 362880, FARTHEST = 31 };

typedef struct {
    char at[CELLS + 1]; /* nine characters, row by row; '.' is the blank */
    int distance;
} Position;

/* The place of a position among all orders of its nine characters. */
static int
rank_of (const char *at)
{
    int rank = 0;
    for (int i = 0; i < CELLS; i++) {
        int smaller = 0;
        for (int j = i + 1; j < CELLS; j++)
            smaller += at[j] < at[i];
        rank = rank * (CELLS - i) + smaller;
    }
    return rank;
}

static void
meet (GArray *met, guint8 *known, const Position *before, int blank, int tile)
{
    Position next = *before;
    next.distance++;
    next.at[blank] = before->at[tile];
    next.at[tile] = '.';
    int rank = rank_of (next.at);
    if (!known[rank]) {
        known[rank] = 1;
        g_array_append_val (met, next);
    }
}

/* All positions, in the order of their distance from the goal. Transfer full. */
static GArray *
positions_from (const char *goal)
{
    GArray *met = g_array_new (FALSE, FALSE, sizeof (Position));
    g_autofree guint8 *known = g_new0 (guint8, POSITIONS);
    Position first = { .distance = 0 };
    memcpy (first.at, goal, CELLS + 1);
    known[rank_of (goal)] = 1;
    g_array_append_val (met, first);
    for (guint i = 0; i < met->len; i++) {
        Position here = g_array_index (met, Position, i);
        int blank = (int) (strchr (here.at, '.') - here.at), row = blank / 3, column = blank % 3;
        if (row > 0)
            meet (met, known, &here, blank, blank - 3);
        if (row < 2)
            meet (met, known, &here, blank, blank + 3);
        if (column > 0)
            meet (met, known, &here, blank, blank - 1);
        if (column < 2)
            meet (met, known, &here, blank, blank + 1);
    }
    return met;
}

/* source: OEIS A089473 (Pfoertner, 2003): positions at each distance from a goal
 * with the blank in a corner; Reinefeld, IJCAI 1993, 248-253, for 31 as the greatest. */
static const int published[FARTHEST + 1] = {
    1,    2,    4,    8,     16,    20,    39,    62,    116,   152,   286,   396,  748,  1024, 1893, 2512,
    4485, 5638, 9529, 10878, 16993, 17110, 23952, 20224, 24047, 15578, 14560, 6274, 3910, 760,  221,  2,
};

static void
assert_counts_published (const GArray *positions)
{
    int counts[FARTHEST + 1] = { 0 };
    for (guint i = 0; i < positions->len; i++) {
        int distance = g_array_index (positions, Position, i).distance;
        assert_in_range (distance, 0, FARTHEST);
        counts[distance]++;
    }
    for (int distance = 0; distance <= FARTHEST; distance++)
        assert_int_equal (counts[distance], published[distance]);
}

static guint
planned (const char *position, const char *goal)
{
    g_autofree char *text = puzzle_sliding (position, goal);
    return plan_text_shortest (text, NULL);
}

/* source: the two positions: OEIS A089473 for a goal with the blank last; with the blank first, computed by a
 * breadth-first search of its own, no source. */
static void
test_farthest (void **state)
{
    (void) state;
    assert_int_equal (planned ("8672543.1", "12345678."), FARTHEST);
    assert_int_equal (planned ("64785.321", "12345678."), FARTHEST);
    assert_int_equal (planned ("8.6547231", ".12345678"), FARTHEST);
    assert_int_equal (planned ("876.41253", ".12345678"), FARTHEST);
}

/* The middle one of the positions at each distance, in the order in which they are met. */
static void
test_every_distance (void **state)
{
    static const char goal[] = "12345678.";
    (void) state;
    g_autoptr (GArray) positions = positions_from (goal);
    assert_counts_published (positions);
    guint begin = 0;
    for (int distance = 0; distance <= FARTHEST; distance++) {
        const Position *position = &g_array_index (positions, Position, begin + (guint) published[distance] / 2);
        assert_int_equal (position->distance, distance);
        assert_int_equal (planned (position->at, goal), distance);
        begin += (guint) published[distance];
    }
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_farthest),
        cmocka_unit_test (test_every_distance),
    };
    return cmocka_run_group_tests (tests, NULL, NULL);
}
