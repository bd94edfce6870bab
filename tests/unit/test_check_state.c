/* SPDX-License-Identifier: MIT */
/* States: what they take from a unit, copies, comparisons, and what a step does to one. */
#include "check_fixture.h"

#include "check/state.h"

static void
a_state_takes_owners_bonds_and_failures (void **fixture)
{
    const Fixture *bench = *fixture;
    bench->unit->failed[bench->spare] = TRUE;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);

    assert_ptr_equal (state->unit, bench->unit);
    assert_false (state->failed[bench->agent]);
    assert_true (state->failed[bench->spare]);
    assert_int_equal (state->held[bench->cpu1].owner, OWNER_UNIT);
    assert_null (state->held[bench->cpu1].bound);
    assert_int_equal (state->held[bench->fan1].owner, OWNER_LOAN);
    assert_int_equal (state->fittings[bench->cpu1], 0);
    bench->unit->fitted[bench->cpu1].bound = g_intern_static_string ("alderbank");
    g_autoptr (State) bound = state_from_unit (bench->unit, NULL);
    assert_string_equal (bound->held[bench->cpu1].bound, "alderbank");
}

static void
a_copy_is_its_own (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);
    state->failed[bench->agent] = TRUE;
    state->fittings[bench->cpu1] = 2;
    g_autoptr (State) copy = state_copy (state);

    assert_true (copy->failed[bench->agent]);
    assert_int_equal (copy->fittings[bench->cpu1], 2);
    assert_ptr_equal (copy->unit, bench->unit);
    copy->failed[bench->agent] = FALSE;
    copy->fittings[bench->cpu1] = 0;
    copy->held[bench->cpu1].part = NULL;
    assert_true (state->failed[bench->agent]);
    assert_int_equal (state->fittings[bench->cpu1], 2);
    assert_ptr_equal (state->held[bench->cpu1].part, bench->knot);
}

static void
equal_states_have_the_same_releases_failures_and_parts (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);
    g_autoptr (State) same = state_copy (state), release = state_copy (state), failure = state_copy (state),
                      owner = state_copy (state), bond = state_copy (state), gone = state_copy (state);

    same->floors[bench->agent] = 2;
    same->fittings[bench->cpu1] = 5;
    assert_true (state_equal (state, same));
    release->releases[bench->agent] = 0;
    assert_false (state_equal (state, release));
    failure->failed[bench->agent] = TRUE;
    assert_false (state_equal (state, failure));
    owner->held[bench->cpu1].owner = OWNER_STOCK;
    assert_false (state_equal (state, owner));
    bond->held[bench->cpu1].bound = g_intern_static_string ("alderbank");
    assert_false (state_equal (state, bond));
    gone->held[bench->cpu1].part = NULL;
    assert_false (state_equal (state, gone));
}

static void
states_of_two_boards_are_not_equal (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);
    Unit twin = *bench->unit;
    twin.revision = 1;
    g_autoptr (State) other = state_from_unit (&twin, NULL);

    assert_false (state_equal (state, other));
}

static void
a_fitting_holds_the_part_and_counts (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);
    Step remove = step_remove (bench->cpu1), fit = step_fit (bench->cpu1, bench->knot, OWNER_LOAN, "alderbank");

    state_apply (state, &remove);
    assert_null (state->held[bench->cpu1].part);
    assert_int_equal (state->fittings[bench->cpu1], 0);
    state_apply (state, &fit);
    assert_ptr_equal (state->held[bench->cpu1].part, bench->knot);
    assert_string_equal (state->held[bench->cpu1].stepping, "a0");
    assert_int_equal (state->held[bench->cpu1].owner, OWNER_LOAN);
    assert_string_equal (state->held[bench->cpu1].bound, "alderbank");
    assert_int_equal (state->fittings[bench->cpu1], 1);
    assert_int_equal (state->fittings[bench->cpu2], 0);
}

/* 3 writes the spare image along. */
static void
a_write_sets_all_that_its_file_writes_and_ends_their_failures (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);
    Step write = step_write (bench->agent, 2, METHOD_HOST);
    state->failed[bench->agent] = state->failed[bench->spare] = TRUE;
    state->floors[bench->agent] = 0;

    state_apply (state, &write);
    assert_int_equal (state->releases[bench->agent], 2);
    assert_int_equal (state->releases[bench->spare], 2);
    assert_false (state->failed[bench->agent]);
    assert_false (state->failed[bench->spare]);
    assert_int_equal (state->floors[bench->agent], 0); /* 3 sets none */
    write.release = 1;
    state_apply (state, &write);
    assert_int_equal (state->floors[bench->agent], 1);
    assert_int_equal (state->releases[bench->spare], 2);
}

static void
a_spare_image_writes_its_component_alone (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);
    Step write = step_write (bench->agent, 2, METHOD_SPARE);

    state_apply (state, &write);
    assert_int_equal (state->releases[bench->agent], 2);
    assert_int_equal (state->releases[bench->spare], 0);
    g_autoptr (State) failed = state_from_unit (bench->unit, NULL);
    state_fail (failed, &write);
    assert_true (failed->failed[bench->agent]);
    assert_false (failed->failed[bench->spare]);
}

static void
a_failed_write_leaves_releases_and_floors (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);
    Step write = step_write (bench->agent, 2, METHOD_HOST);

    state_fail (state, &write);
    assert_true (state->failed[bench->agent]);
    assert_true (state->failed[bench->spare]);
    assert_int_equal (state->releases[bench->agent], 1);
    assert_int_equal (state->releases[bench->spare], 0);
    assert_int_equal (state->floors[bench->agent], 1);
}

static void
a_spare_release_is_known_unless_its_write_failed (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);

    assert_int_equal (board_find_spare (state->board, bench->agent), bench->spare);
    assert_int_equal (board_find_spare (state->board, bench->spare), -1);
    assert_int_equal (state_spare_release (state, bench->agent), 0);
    assert_int_equal (state_spare_release (state, bench->spare), -1);
    state->failed[bench->spare] = TRUE;
    assert_int_equal (state_spare_release (state, bench->agent), -1);
}

static void
own_parts_are_those_in_slots_and_those_pulled (void **fixture)
{
    const Fixture *bench = *fixture;
    Step own = step_fit (bench->cpu1, bench->knot, OWNER_UNIT, NULL);
    Step bound = step_fit (bench->cpu1, bench->knot, OWNER_UNIT, "alderbank");
    Step elsewhere = step_fit (bench->cpu1, bench->knot, OWNER_UNIT, "whitmoor");
    Step blank = step_fit (bench->blank2, bench->blank, OWNER_UNIT, NULL);
    Step lent = step_fit (bench->fan1, bench->fan, OWNER_UNIT, NULL);
    Held two = held_from_step (&own), pulled = held_from_step (&bound), none = held_from_step (&elsewhere),
         one_each = held_from_step (&blank), not_own = held_from_step (&lent);

    assert_int_equal (unit_count_triple (bench->unit, &two), 2);
    assert_int_equal (unit_count_triple (bench->unit, &pulled), 1);
    assert_int_equal (unit_count_triple (bench->unit, &none), 0);
    assert_int_equal (unit_count_triple (bench->unit, &one_each), 2);
    assert_int_equal (unit_count_triple (bench->unit, &not_own), 0);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST (a_state_takes_owners_bonds_and_failures),
        BENCH_TEST (a_copy_is_its_own),
        BENCH_TEST (equal_states_have_the_same_releases_failures_and_parts),
        BENCH_TEST (states_of_two_boards_are_not_equal),
        BENCH_TEST (a_fitting_holds_the_part_and_counts),
        BENCH_TEST (a_write_sets_all_that_its_file_writes_and_ends_their_failures),
        BENCH_TEST (a_spare_image_writes_its_component_alone),
        BENCH_TEST (a_failed_write_leaves_releases_and_floors),
        BENCH_TEST (a_spare_release_is_known_unless_its_write_failed),
        BENCH_TEST (own_parts_are_those_in_slots_and_those_pulled),
    };

    g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
    return cmocka_run_group_tests (tests, NULL, NULL);
}
