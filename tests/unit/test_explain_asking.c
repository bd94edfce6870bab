/* SPDX-License-Identifier: MIT */
/* Why there is no route: the caller hears of every planning run, can end it behind any of them, and its own limit holds for each.
 *
 * source: solver/explain/asking.h and solver/route/route.h say when go_on is asked; the unit is dark and nothing is lent, so there is
 * no route (data/larkfield, story 01). */
#include "batch_units.h"

#include "explain/explain.h"

typedef struct {
    guint asked, most;    /* times; 0: never stops */
    guint64 opened, fell; /* states last told of; how often they were fewer than before */
} Heard;

static gboolean
listen (const RouteProgress *progress, gpointer data)
{
    Heard *heard = data;

    heard->asked++;
    heard->fell += progress->opened < heard->opened ? 1 : 0;
    heard->opened = progress->opened;
    return heard->most == 0 || heard->asked < heard->most;
}

/* Transfer full. */
static NoRoute *
explained (SmallBatch *small, guint64 search_states, Heard *heard)
{
    const RouteOptions options = { .search_states = search_states, .go_on = listen, .go_on_data = heard };

    return no_route_explain (small->library, (Shop *) small->question.shop, small->units->pdata[0],
                             small->wants->pdata[0], &options);
}

static SmallBatch *
dark_without_loaners (void)
{
    return small_batch ("shop: bare\n", DARK ("A", ""));
}

static void
test_asked_after_every_run (void **state)
{
    g_autoptr (SmallBatch) small = dark_without_loaners ();
    Heard heard = { 0 };
    NoRoute *none = explained (small, 0, &heard);

    (void) state;
    assert_true (none->sets->len > 0);
    assert_true (none->plans > 5);
    assert_true (heard.asked >= none->plans);
    assert_true (heard.opened > 0);
    assert_int_equal (heard.fell, 0); /* of all runs together */
    no_route_free (none);
}

static void
test_ends_behind_the_run_that_was_refused (void **state)
{
    (void) state;
    for (guint most = 1; most <= 3; most++) {
        g_autoptr (SmallBatch) small = dark_without_loaners ();
        Heard heard = { .most = most };
        NoRoute *none = explained (small, 0, &heard);

        assert_int_equal (heard.asked, most);
        assert_true (none->plans <= most);
        assert_false (none->complete);
        no_route_free (none);
    }
}

static void
test_a_run_opens_no_more_than_the_caller_allows (void **state)
{
    g_autoptr (SmallBatch) small = dark_without_loaners ();
    Heard free_of_limits = { 0 }, limited = { 0 };
    NoRoute *whole = explained (small, 0, &free_of_limits), *part = explained (small, 1, &limited);

    (void) state;
    assert_true (limited.opened <= part->plans);
    assert_true (free_of_limits.opened > whole->plans); /* so that the limit is one */
    no_route_free (whole);
    no_route_free (part);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_asked_after_every_run),
        cmocka_unit_test (test_ends_behind_the_run_that_was_refused),
        cmocka_unit_test (test_a_run_opens_no_more_than_the_caller_allows),
    };

    return cmocka_run_group_tests_name ("explain, asking", tests, NULL, NULL);
}
