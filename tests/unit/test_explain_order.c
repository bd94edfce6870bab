/* SPDX-License-Identifier: MIT */
/* The order of checks: a worked example, a counterexample to the plain ratio, and every permutation of random ones. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "explain/order.h"

#include <math.h>

#define MOST_CHECKS 7
#define CLOSE       1e-9

static void
assert_close (double got, double expected)
{
    if (fabs (got - expected) > CLOSE)
        fail_msg ("%.12f is not %.12f", got, expected);
}

/* source: the setting and the rule (one fault, certain checks, by probability over cost) are those of Kalagnanam and
 * Henrion 1990, "A comparison of decision analysis and expert rules for sequential diagnosis", and of Heckerman, Breese
 * and Rommelse 1995, "Decision-theoretic troubleshooting" (CACM), whose expected cost of repair, the sum of
 * (1 - p_1 - ... - p_(i-1)) c_i + p_i r_i, is from memory and derived again. The example and its six totals were worked
 * out in exact fractions, by that formula and by a sum over which part is faulty, which agreed.
 *
 *   check  p    c   r  |  order  checking  with repair
 *   A      0.5  20  8  |  B C A  17.8      32.3   (best)
 *   B      0.3  5   15 |  C B A  18.0      32.5
 *   C      0.2  4   30 |  B A C  19.8      34.3
 *                      |  C A B  21.5      36.0
 *                      |  A B C  23.3      37.8
 *                      |  A C B  23.5      38.0 */
static const OrderCheck worked[] = { { 0.5, 20, FALSE }, { 0.3, 5, FALSE }, { 0.2, 4, FALSE } };
static const double worked_repair[] = { 8, 15, 30 };
static const struct {
    guint order[3];
    double checking, with_repair;
} worked_orders[] = {
    { { 1, 2, 0 }, 17.8, 32.3 }, { { 2, 1, 0 }, 18.0, 32.5 }, { { 1, 0, 2 }, 19.8, 34.3 },
    { { 2, 0, 1 }, 21.5, 36.0 }, { { 0, 1, 2 }, 23.3, 37.8 }, { { 0, 2, 1 }, 23.5, 38.0 },
};

static void
test_worked_example (void **state)
{
    double repair = 0;

    (void) state;
    for (guint i = 0; i < 3; i++)
        repair += worked[i].probability * worked_repair[i];
    assert_close (repair, 14.5);
    for (guint i = 0; i < G_N_ELEMENTS (worked_orders); i++) {
        double checking = order_expected_minutes (worked, worked_orders[i].order, 3, FALSE);

        assert_close (checking, worked_orders[i].checking);
        assert_close (checking + repair, worked_orders[i].with_repair);
    }
    g_autofree guint *best = order_best (worked, 3, FALSE);
    assert_memory_equal (best, worked_orders[0].order, sizeof worked_orders[0].order);
    g_autofree guint *likeliest = order_likeliest (worked, 3);
    assert_memory_equal (likeliest, worked_orders[4].order, sizeof worked_orders[4].order);
    /* The last check not made: "in the three-check example the ratio order happens to stay best (22.3 in total)". */
    g_autofree guint *skipping = order_best (worked, 3, TRUE);
    assert_memory_equal (skipping, worked_orders[0].order, sizeof worked_orders[0].order);
    assert_close (order_expected_minutes (worked, skipping, 3, TRUE) + repair, 22.3);
}

/* source: worked out with the example above: ratios 0.09 and 0.05 put A first; with the last check not made B A is
 * better. */
static void
test_ratio_can_lose (void **state)
{
    const OrderCheck checks[] = { { 0.9, 10, FALSE }, { 0.1, 2, FALSE } };
    const guint a_b[] = { 0, 1 }, b_a[] = { 1, 0 };

    (void) state;
    assert_close (order_expected_minutes (checks, a_b, 2, FALSE), 10.2);
    assert_close (order_expected_minutes (checks, b_a, 2, FALSE), 11.0);
    assert_close (order_expected_minutes (checks, a_b, 2, TRUE), 10);
    assert_close (order_expected_minutes (checks, b_a, 2, TRUE), 2);
    g_autofree guint *paid = order_best (checks, 2, FALSE);
    g_autofree guint *skipped = order_best (checks, 2, TRUE);
    assert_memory_equal (paid, a_b, sizeof a_b);
    assert_memory_equal (skipped, b_a, sizeof b_a);
}

static void
test_ends (void **state)
{
    const OrderCheck one = { 1, 4, FALSE };
    const OrderCheck alike[] = { { 0.25, 2, FALSE }, { 0.5, 4, FALSE }, { 0.25, 2, FALSE } };
    const guint by_index[] = { 0, 1, 2 }, first = 0;

    (void) state;
    g_autofree guint *none = order_best (NULL, 0, TRUE);
    assert_non_null (none);
    assert_close (order_expected_minutes (NULL, none, 0, TRUE), 0);
    assert_close (order_expected_minutes (&one, &first, 1, FALSE), 4);
    assert_close (order_expected_minutes (&one, &first, 1, TRUE), 0);
    g_autofree guint *ties = order_best (alike, 3, FALSE);
    assert_memory_equal (ties, by_index, sizeof by_index);
}

/* ---- Against every permutation ---- */

static void
swap (guint *left, guint *right)
{
    guint kept = *left;

    *left = *right;
    *right = kept;
}

/* What has to come first does. */
static gboolean
is_allowed (const OrderCheck *checks, const guint *order, guint count)
{
    for (guint i = 1; i < count; i++)
        if (checks[order[i]].first && !checks[order[i - 1]].first)
            return FALSE;
    return TRUE;
}

/* The least over all allowed orders of order[fixed] ... . Counts minutes by which check finds the fault: what was spent
 * until then, weighed with how likely it is; no function of the program is asked. */
static double
least_of_all (const OrderCheck *checks, guint *order, guint count, guint fixed, gboolean skip_last)
{
    double least = INFINITY;

    if (fixed < count) {
        for (guint i = fixed; i < count; i++) {
            swap (&order[fixed], &order[i]);
            least = MIN (least, least_of_all (checks, order, count, fixed + 1, skip_last));
            swap (&order[fixed], &order[i]);
        }
        return least;
    }
    if (!is_allowed (checks, order, count))
        return INFINITY;
    double spent = 0, expected = 0, left = 1;
    for (guint i = 0; i < count; i++) {
        spent += skip_last && i + 1 == count ? 0 : checks[order[i]].minutes;
        expected += checks[order[i]].probability * spent;
        left -= checks[order[i]].probability;
    }
    return expected + MAX (0, left) * spent;
}

/* Some without minutes, some that find nothing; probabilities in sum 1, or 1 with `left_over` not found by any. */
static guint
random_checks (GRand *random, OrderCheck *checks, gboolean left_over, gboolean with_first)
{
    guint count = (guint) g_rand_int_range (random, 1, MOST_CHECKS + 1);
    double weights[MOST_CHECKS], sum = left_over ? g_rand_int_range (random, 1, 12) : 0;

    for (guint i = 0; i < count; i++) {
        weights[i] = i == 0 ? 1 : g_rand_int_range (random, 0, 10);
        checks[i].minutes = g_rand_int_range (random, 0, 9);
        checks[i].first = with_first && g_rand_int_range (random, 0, 3) == 0;
        sum += weights[i];
    }
    for (guint i = 0; i < count; i++)
        checks[i].probability = weights[i] / sum;
    return count;
}

static void
test_every_permutation (void **state)
{
    g_autoptr (GRand) random = g_rand_new_with_seed (20341115);
    guint ratio_lost = 0, bound = 0;

    (void) state;
    for (guint run = 0; run < 400; run++) {
        OrderCheck checks[MOST_CHECKS];
        gboolean left_over = run % 2 == 1, skip_last = run % 4 == 0;
        guint count = random_checks (random, checks, left_over, run % 8 >= 4);
        guint order[MOST_CHECKS] = { 0, 1, 2, 3, 4, 5, 6 };
        g_autofree guint *best = order_best (checks, count, skip_last);
        g_autofree guint *by_ratio = order_best (checks, count, FALSE);
        double expected = order_expected_minutes (checks, best, count, skip_last);

        assert_true (is_allowed (checks, best, count));
        assert_close (expected, least_of_all (checks, order, count, 0, skip_last));
        for (guint i = 0; i < count; i++)
            checks[i].first = FALSE;
        g_autofree guint *freely = order_best (checks, count, skip_last);
        bound += order_expected_minutes (checks, freely, count, skip_last) < expected - CLOSE;
        ratio_lost += order_expected_minutes (checks, by_ratio, count, skip_last) > expected + CLOSE;
    }
    assert_true (bound > 10);      /* so what has to come first did cost something */
    assert_true (ratio_lost > 10); /* so the exact treatment of the last check was needed */
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_worked_example),
        cmocka_unit_test (test_ratio_can_lose),
        cmocka_unit_test (test_ends),
        cmocka_unit_test (test_every_permutation),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
