/* SPDX-License-Identifier: MIT */
/* Exit statuses: the table's own order, and which claim ends in which. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "reports/outcome.h"

static void
test_table_is_ascending_and_in_blocks (void **state)
{
    guint count = 0;
    const OutcomeRow *rows = outcome_each (&count);

    (void) state;
    assert_true (count > 1);
    assert_int_equal (rows[0].outcome, 0);
    for (guint i = 1; i < count; i++) {
        assert_true (rows[i].outcome > rows[i - 1].outcome);
        assert_true (rows[i].outcome >= 10 && rows[i].outcome < 50);
        assert_true (rows[i].sentence[0] != '\0');
    }
}

static void
test_claims (void **state)
{
    (void) state;
    assert_int_equal (outcome_of_answer (&(RouteAnswer){ .claim = CLAIM_PROVED_SHORTEST }), 0);
    assert_int_equal (outcome_of_answer (&(RouteAnswer){ .claim = CLAIM_BEST_FOUND }), 10);
    assert_int_equal (outcome_of_answer (&(RouteAnswer){ .claim = CLAIM_NO_ROUTE }), 11);
    assert_int_equal (outcome_of_answer (&(RouteAnswer){ .claim = CLAIM_NOT_FOUND }), 12);
    assert_int_equal (outcome_of_answer (&(RouteAnswer){ .claim = CLAIM_READ_FIRST }), 13);
    assert_int_equal (outcome_of_answer (&(RouteAnswer){ .claim = CLAIM_FAULT }), 40);
}

static void
test_worst_unit_counts (void **state)
{
    (void) state;
    assert_int_equal (outcome_worse_start (OUTCOME_ANSWERED, OUTCOME_SOME_START), OUTCOME_SOME_START);
    assert_int_equal (outcome_worse_start (OUTCOME_NOT_KNOWN, OUTCOME_SOME_START), OUTCOME_NOT_KNOWN);
    assert_int_equal (outcome_worse_start (OUTCOME_NOT_KNOWN, OUTCOME_DOES_NOT_START), OUTCOME_DOES_NOT_START);
    assert_int_equal (outcome_worse_start (OUTCOME_DOES_NOT_START, OUTCOME_ANSWERED), OUTCOME_DOES_NOT_START);
    assert_int_equal (outcome_worse_start (OUTCOME_ANSWERED, OUTCOME_ANSWERED), OUTCOME_ANSWERED);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_table_is_ascending_and_in_blocks),
        cmocka_unit_test (test_claims),
        cmocka_unit_test (test_worst_unit_counts),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
