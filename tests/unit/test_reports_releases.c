/* SPDX-License-Identifier: MIT */
/* Combinations of releases in words: what a bench decides by is never cut short.
 *
 * source: docs/batch.md, "What is written"; products of sets, by hand. */
#include "reports_fixture.h"

#include "reports/releases_split.h"
#include "reports/releases_text.h"

#include <string.h>

#define UNIT_08 "data/larkfield/units/08-unknown-read-first.yaml"

static Library *
library_08 (void)
{
    return fixture_load ((const char *const[]){ RULES, BOOK, SHOP, UNIT_08, NULL });
}

/* Nothing is known of any of its components. */
static const Unit *
unknown_unit (Library *library)
{
    Unit *unit = library->units->pdata[0];

    for (guint c = 0; c < unit->board->components->len; c++) {
        unit->releases[c].count = board_component (unit->board, c)->releases->len;
        for (guint r = 0; r < unit->releases[c].count; r++)
            unit->releases[c].may_be[r] = TRUE;
    }
    return unit;
}

static guint
find (const Unit *unit, guint component, const char *name)
{
    return (guint) component_find_release (board_component (unit->board, component), name);
}

/* Every combination that `keep` says yes to. */
typedef gboolean (*Keep) (const Unit *unit, const guint *releases, gpointer data);

static GPtrArray *
cases_that (const Unit *unit, Keep keep, gpointer data)
{
    GPtrArray *cases = g_ptr_array_new_with_free_func (g_free);
    guint count = unit->board->components->len;
    g_autofree guint *at = g_new0 (guint, count);
    guint c = 0;

    do {
        if (keep (unit, at, data))
            g_ptr_array_add (cases, g_memdup2 (at, count * sizeof (guint)));
        for (c = 0; c < count && ++at[c] == unit->releases[c].count; c++)
            at[c] = 0;
    } while (c < count);
    return cases;
}

/* ---- The split ---- */

static gboolean
is_in (const ReleaseProduct *product, const guint *releases)
{
    for (guint c = 0; c < product->count; c++)
        if (product->may_be[c] != NULL && !product->may_be[c][releases[c]])
            return FALSE;
    return TRUE;
}

static gboolean
by_chance (const Unit *unit, const guint *releases, gpointer data)
{
    (void) unit, (void) releases;
    return g_rand_int_range (data, 0, 3) > 0;
}

static gboolean
always (const Unit *unit, const guint *releases, gpointer data)
{
    (void) unit, (void) releases, (void) data;
    return TRUE;
}

/* Each combination of the set is in one product, and no product holds any other. */
static void
test_products_are_the_set (void **state)
{
    g_autoptr (Library) library = library_08 ();
    const Unit *unit = unknown_unit (library);
    g_autofree gboolean *left_out = g_new0 (gboolean, unit->board->components->len);
    g_autoptr (GPtrArray) all = cases_that (unit, always, NULL);

    (void) state;
    for (guint32 seed = 1; seed <= 5; seed++) {
        g_autoptr (GRand) random = g_rand_new_with_seed (seed);
        g_autoptr (GPtrArray) cases = cases_that (unit, by_chance, random);
        g_autoptr (GPtrArray) products = releases_split (unit, cases, left_out);
        guint held = 0;

        assert_true (cases->len > 0 && cases->len < all->len);
        for (guint i = 0; i < all->len; i++) {
            guint in = 0;
            gboolean wanted = FALSE;

            for (guint p = 0; p < products->len; p++)
                in += is_in (products->pdata[p], all->pdata[i]) ? 1 : 0;
            for (guint k = 0; k < cases->len && !wanted; k++)
                wanted = memcmp (cases->pdata[k], all->pdata[i], unit->board->components->len * sizeof (guint)) == 0;
            assert_int_equal (in, wanted ? 1 : 0);
            held += in;
        }
        assert_int_equal (held, cases->len);
    }
}

/* ---- Words ---- */

/* By hand: 2.1.0 with any controller and logic; 2.2.0 where the controller is not the oldest. */
static gboolean
two_products (const Unit *unit, const guint *releases, gpointer data)
{
    (void) data;
    return releases[0] == find (unit, 0, "2.1.0") || (releases[0] == find (unit, 0, "2.2.0") && releases[1] > 0);
}

static void
test_what_is_no_product_is_said_as_several (void **state)
{
    g_autoptr (Library) library = library_08 ();
    const Unit *unit = unknown_unit (library);
    g_autoptr (GPtrArray) cases = cases_that (unit, two_products, NULL);
    g_autofree char *words = releases_in_words (unit, cases);
    g_autofree gboolean *newer = g_new0 (gboolean, unit->releases[1].count);
    g_autofree char *controllers = NULL, *expected = NULL;

    (void) state;
    for (guint r = 1; r < unit->releases[1].count; r++)
        newer[r] = TRUE;
    controllers = releases_of_component (board_component (unit->board, 1), newer);
    expected =
        g_strdup_printf ("system 2.1.0 with any controller that it may have; or system 2.2.0 with %s; with each, any "
                         "logic that it may have",
                         controllers);
    assert_string_equal (board_component (unit->board, 1)->name, "controller");
    assert_string_equal (words, expected);
}

/* A staircase is no product at all: each of its releases needs words of its own, and has them. */
static gboolean
staircase (const Unit *unit, const guint *releases, gpointer data)
{
    (void) unit, (void) data;
    return releases[0] <= releases[1] && releases[2] == 0;
}

static void
test_nothing_is_left_out (void **state)
{
    g_autoptr (Library) library = library_08 ();
    const Unit *unit = unknown_unit (library);
    g_autoptr (GPtrArray) cases = cases_that (unit, staircase, NULL);
    g_autofree char *words = releases_in_words (unit, cases);

    (void) state;
    assert_true (cases->len > 20);
    assert_null (strstr (words, "more"));
    for (guint r = 0; r < unit->releases[1].count; r++)
        assert_non_null (strstr (words, component_release (board_component (unit->board, 1), r)->name));
    for (guint r = 0; r < MIN (unit->releases[0].count, unit->releases[1].count); r++)
        assert_non_null (strstr (words, component_release (board_component (unit->board, 0), r)->name));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_products_are_the_set),
        cmocka_unit_test (test_what_is_no_product_is_said_as_several),
        cmocka_unit_test (test_nothing_is_left_out),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
