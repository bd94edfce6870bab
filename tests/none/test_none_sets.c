/* SPDX-License-Identifier: MIT */
/* The enumeration of minimal sets against trying every subset, on random monotone answers.
 *
 * source: every expectation is worked out here by going through all 2^n subsets. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "explain/none_sets.h"

enum { FACTS = 9, ROUNDS = 400, MOST_BLOCKS = 5 };

/* There is no way when one of these blocks is kept whole. */
typedef struct {
    guint n_facts, n_blocks;
    guint blocks[MOST_BLOCKS]; /* bits */
    guint unsure;              /* answers that are left open: bits of kept facts, 0: none */
    guint asked;
} World;

static guint
bits_of (const FactSet *set)
{
    return (guint) set->words[0];
}

static gboolean
is_shut (const World *world, guint kept)
{
    for (guint b = 0; b < world->n_blocks; b++)
        if ((world->blocks[b] & ~kept) == 0)
            return TRUE;
    return FALSE;
}

static WayAnswer
ask_world (const FactSet *kept, gpointer data)
{
    World *world = data;

    world->asked++;
    if (world->unsure != 0 && (bits_of (kept) & 7) == (world->unsure & 7))
        return WAY_UNDECIDED;
    return is_shut (world, bits_of (kept)) ? WAY_NONE : WAY_OPEN;
}

static World
draw_world (GRand *rand, guint n_facts)
{
    World world = { .n_facts = n_facts };

    world.n_blocks = (guint) g_rand_int_range (rand, 1, MOST_BLOCKS + 1);
    for (guint b = 0; b < world.n_blocks; b++)
        world.blocks[b] =
            (guint) g_rand_int_range (rand, 0, 1 << n_facts) & (guint) g_rand_int_range (rand, 0, 1 << n_facts);
    return world;
}

static gboolean
is_minimal_shut (const World *world, guint kept, guint fixed)
{
    if (!is_shut (world, kept))
        return FALSE;
    for (guint f = 0; f < world->n_facts; f++)
        if ((kept & ~fixed & 1u << f) != 0 && is_shut (world, kept & ~(1u << f)))
            return FALSE;
    return TRUE;
}

static gboolean
has_bits (const GArray *sets, guint bits, guint mask)
{
    for (guint i = 0; i < sets->len; i++)
        if ((bits_of (&g_array_index (sets, FactSet, i)) & mask) == bits)
            return TRUE;
    return FALSE;
}

/* All lists, held against every subset of the facts that are not late. */
static void
compare (World *world, guint late_bits)
{
    FactSet late = { { late_bits } };
    guint all = (1u << world->n_facts) - 1, early = all & ~late_bits, expected_sets = 0, expected_corrections = 0;
    g_autoptr (NoneSets) sets = none_sets_find (world->n_facts, &late, ask_world, world, 100000, 100000);

    assert_true (sets->minimal);
    assert_true (sets->complete);
    for (guint bits = 0; bits <= early; bits++) {
        if ((bits & ~early) != 0)
            continue;
        if (is_minimal_shut (world, bits | late_bits, late_bits)) {
            assert_true (has_bits (sets->forbidding, bits, early));
            expected_sets++;
        }
        /* A correction opens, and no part of it does. */
        gboolean corrects = !is_shut (world, all & ~bits);
        for (guint f = 0; f < world->n_facts; f++)
            corrects = corrects && ((bits & 1u << f) == 0 || is_shut (world, all & ~(bits & ~(1u << f))));
        if (corrects) {
            assert_true (has_bits (sets->corrections, bits, all));
            expected_corrections++;
        }
    }
    assert_int_equal (sets->forbidding->len, expected_sets);
    assert_int_equal (sets->corrections->len, expected_corrections);
    for (guint i = 0; i < sets->forbidding->len; i++)
        assert_true (is_minimal_shut (world, bits_of (&g_array_index (sets->forbidding, FactSet, i)), 0));
}

static void
finds_all_sets (void **state)
{
    (void) state;
    g_autoptr (GRand) rand = g_rand_new_with_seed (1);

    for (guint round = 0; round < ROUNDS; round++) {
        World world = draw_world (rand, (guint) g_rand_int_range (rand, 1, FACTS + 1));

        compare (&world, 0);
    }
}

/* Late facts: the sets are minimal in all facts, and complete in the others. */
static void
frees_sets_of_late_facts (void **state)
{
    (void) state;
    g_autoptr (GRand) rand = g_rand_new_with_seed (2);

    for (guint round = 0; round < ROUNDS; round++) {
        World world = draw_world (rand, FACTS);

        compare (&world, (guint) g_rand_int_range (rand, 0, 1 << FACTS));
    }
}

/* Whatever is left open, what is said holds: each set forbids, each correction opens, and where sets are called minimal
 * they are. */
static void
says_nothing_wrong_when_unsure (void **state)
{
    (void) state;
    g_autoptr (GRand) rand = g_rand_new_with_seed (3);
    guint incomplete = 0;

    for (guint round = 0; round < ROUNDS; round++) {
        World world = draw_world (rand, FACTS);
        FactSet late = { { 0 } };

        world.unsure = (guint) g_rand_int_range (rand, 8, 16);
        if ((world.unsure & 7) == 7)
            world.unsure--;
        g_autoptr (NoneSets) sets = none_sets_find (FACTS, &late, ask_world, &world, 100000, 100000);
        incomplete += !sets->complete || !sets->minimal;
        for (guint i = 0; i < sets->forbidding->len; i++) {
            guint bits = bits_of (&g_array_index (sets->forbidding, FactSet, i));

            assert_true (is_shut (&world, bits));
            assert_true (!sets->minimal || is_minimal_shut (&world, bits, 0));
        }
        for (guint i = 0; i < sets->corrections->len; i++)
            assert_false (
                is_shut (&world, ((1u << FACTS) - 1) & ~bits_of (&g_array_index (sets->corrections, FactSet, i))));
    }
    assert_true (incomplete > ROUNDS / 10);
}

static void
stops_at_its_limits (void **state)
{
    (void) state;
    World world = { .n_facts = 8, .n_blocks = 4, .blocks = { 0x03, 0x0c, 0x30, 0xc0 } };
    FactSet late = { { 0 } };

    g_autoptr (NoneSets) few = none_sets_find (8, &late, ask_world, &world, 100000, 2);
    assert_int_equal (few->forbidding->len, 2);
    assert_false (few->complete);
    world.asked = 0;
    g_autoptr (NoneSets) brief = none_sets_find (8, &late, ask_world, &world, 5, 100);
    assert_int_equal (brief->asked, 5);
    assert_int_equal (world.asked, 5);
    assert_false (brief->complete);
}

/* No facts at all: the empty set forbids, and nothing corrects it. */
static void
the_empty_set_forbids_where_nothing_helps (void **state)
{
    (void) state;
    World world = { .n_facts = 4, .n_blocks = 1, .blocks = { 0 } };
    FactSet late = { { 0 } };
    g_autoptr (NoneSets) sets = none_sets_find (4, &late, ask_world, &world, 100, 100);

    assert_int_equal (sets->forbidding->len, 1);
    assert_int_equal (bits_of (&g_array_index (sets->forbidding, FactSet, 0)), 0);
    assert_int_equal (sets->corrections->len, 0);
    assert_true (sets->complete);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (finds_all_sets),
        cmocka_unit_test (frees_sets_of_late_facts),
        cmocka_unit_test (says_nothing_wrong_when_unsure),
        cmocka_unit_test (stops_at_its_limits),
        cmocka_unit_test (the_empty_set_forbids_where_nothing_helps),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
