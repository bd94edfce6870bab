/* SPDX-License-Identifier: MIT */
/* Order of checks. Exchanging two neighbours a, b changes the expected minutes by p_a c_b - p_b c_a times what is left,
 * so that the larger p / c goes first; a last check that is not made costs nothing, so each is tried there. */
#include "explain/order.h"

#include <math.h>
#include <string.h>

/* A check that costs nothing goes first, whether or not it can find anything. */
static double
ratio_of (const OrderCheck *check)
{
    return check->minutes > 0 ? check->probability / check->minutes : INFINITY;
}

static double
probability_of (const OrderCheck *check)
{
    return check->probability;
}

static gboolean
goes_after (const OrderCheck *one, const OrderCheck *other, double (*key_of) (const OrderCheck *))
{
    if (one->first != other->first)
        return other->first;
    return key_of (one) < key_of (other);
}

/* Insertion keeps ties in the order of their indices. Transfer full. */
static guint *
order_by (const OrderCheck *checks, guint count, double (*key_of) (const OrderCheck *))
{
    guint *order = g_new (guint, count + 1);

    for (guint i = 0; i < count; i++) {
        guint at = i;

        for (; at > 0 && goes_after (&checks[order[at - 1]], &checks[i], key_of); at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
    return order;
}

double
order_expected_minutes (const OrderCheck *checks, const guint *order, guint count, gboolean skip_last)
{
    double expected = 0, found = 0;
    guint made = skip_last && count > 0 ? count - 1 : count;

    for (guint i = 0; i < made; i++) {
        expected += MAX (0, 1 - found) * checks[order[i]].minutes;
        found += checks[order[i]].probability;
    }
    return expected;
}

/* `order` with the one at `from` moved to the end, into `moved`. */
static void
move_to_end (const guint *order, guint count, guint from, guint *moved)
{
    for (guint i = 0, at = 0; i < count; i++)
        if (i != from)
            moved[at++] = order[i];
    moved[count - 1] = order[from];
}

guint *
order_best (const OrderCheck *checks, guint count, gboolean skip_last)
{
    guint *best = order_by (checks, count, ratio_of);

    if (!skip_last || count == 0)
        return best;
    g_autofree guint *by_ratio = g_memdup2 (best, count * sizeof (guint));
    g_autofree guint *moved = g_new (guint, count);
    double least = order_expected_minutes (checks, best, count, TRUE);
    for (guint from = count - 1; from-- > 0;) {
        if (checks[by_ratio[from]].first != checks[by_ratio[count - 1]].first)
            break; /* those to be made first, beside others that are not */
        move_to_end (by_ratio, count, from, moved);
        double expected = order_expected_minutes (checks, moved, count, TRUE);

        if (expected >= least)
            continue;
        least = expected;
        memcpy (best, moved, count * sizeof (guint));
    }
    return best;
}

guint *
order_likeliest (const OrderCheck *checks, guint count)
{
    return order_by (checks, count, probability_of);
}
