/* SPDX-License-Identifier: MIT */
/* A state written back as a unit: what is read from it again is the same state, with the same parts at hand. */
#include "check_fixture.h"

#include "check/state.h"

static State *
state_after (const Fixture *bench, const Step *steps, guint n_steps)
{
    State *state = state_from_unit (bench->unit, NULL);

    for (guint i = 0; i < n_steps; i++)
        state_apply (state, &steps[i]);
    return state;
}

/* cpu2 comes out and its blank goes in; cpu1 gives way to a part from stock; a write fails. */
static State *
worked_on (const Fixture *bench)
{
    const Step steps[] = { step_remove (bench->cpu2), step_fit (bench->blank2, bench->blank, OWNER_UNIT, NULL),
                           step_remove (bench->cpu1), step_fit (bench->cpu1, bench->knot, OWNER_STOCK, NULL),
                           step_write (bench->agent, 2, METHOD_HOST) };
    State *state = state_after (bench, steps, G_N_ELEMENTS (steps));
    const Step failing = step_write (bench->spare, 1, METHOD_HOST);

    state_fail (state, &failing);
    state->floors[bench->spare] = 1;
    return state;
}

static void
the_state_comes_back (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = worked_on (bench);
    g_autoptr (Unit) unit = unit_at_state (state);
    g_autoptr (State) back = state_from_unit (unit, NULL), came = state_from_unit (bench->unit, NULL);

    assert_string_equal (unit->id, "bench");
    assert_true (state_equal (state, back));
    assert_false (state_equal (back, came));
    assert_int_equal (back->floors[bench->agent], state->floors[bench->agent]);
    assert_int_equal (back->floors[bench->spare], 1);
    assert_true (back->failed[bench->spare]);
    assert_int_equal (unit->releases[bench->agent].count, 1);
}

/* 6 are rated, 3 were had when the unit came, one was made since. */
static void
fittings_are_added_to_what_the_sockets_had (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = worked_on (bench);
    g_autoptr (Unit) unit = unit_at_state (state);

    assert_int_equal (unit_insertions_left (bench->unit, bench->cpu1), 3);
    assert_int_equal (unit_insertions_left (unit, bench->cpu1), 2);
    assert_int_equal (unit->insertions[bench->blank2], 1);
    assert_true (unit->counted[bench->cpu1]);
    assert_false (unit->counted[bench->cpu2]);
}

/* Both own processors lie beside it now, and the one that lay there before; of the two blanks one is in each slot. */
static void
own_parts_that_are_not_held_are_pulled (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = worked_on (bench);
    g_autoptr (Unit) unit = unit_at_state (state);

    assert_int_equal (unit->pulled->len, 3);
    for (guint i = 0; i < 3; i++)
        assert_ptr_equal (g_array_index (unit->pulled, Fitted, i).part, bench->knot);
    assert_string_equal (g_array_index (unit->pulled, Fitted, 0).serial, "K1");
    assert_string_equal (g_array_index (unit->pulled, Fitted, 1).serial, "K2");
    assert_string_equal (g_array_index (unit->pulled, Fitted, 2).serial, "K3");
    assert_string_equal (g_array_index (unit->pulled, Fitted, 2).bound, "alderbank");
    assert_int_equal (unit->fitted[bench->cpu1].owner, OWNER_STOCK);
    assert_null (unit->fitted[bench->cpu1].serial);
    assert_string_equal (unit->fitted[bench->blank2].serial, "B2");
    for (guint i = 0; i < unit->board->slots->len; i++) {
        Held held = held_from_fitted (&bench->unit->fitted[i]);

        if (held.part != NULL && held.owner == OWNER_UNIT)
            assert_int_equal (unit_count_triple (unit, &held), unit_count_triple (bench->unit, &held));
    }
}

static void
a_part_of_the_shop_keeps_its_owner_and_bond (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step steps[] = { step_remove (bench->cpu1), step_fit (bench->cpu1, bench->knot, OWNER_LOAN, "alderbank") };
    g_autoptr (State) state = state_after (bench, steps, G_N_ELEMENTS (steps));
    g_autoptr (Unit) unit = unit_at_state (state);

    assert_int_equal (unit->fitted[bench->cpu1].owner, OWNER_LOAN);
    assert_string_equal (unit->fitted[bench->cpu1].bound, "alderbank");
    assert_int_equal (unit->pulled->len, 3); /* the one that came out, and the two that lay there */
}

/* The pieces of the two sockets change places; or did the same go back? The state does not say. */
static void
serials_that_a_state_cannot_tell_apart_are_let_go (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step steps[] = { step_remove (bench->cpu2), step_remove (bench->cpu1),
                           step_fit (bench->cpu1, bench->knot, OWNER_UNIT, NULL) };
    g_autoptr (State) state = state_after (bench, steps, G_N_ELEMENTS (steps));
    g_autoptr (Unit) unit = unit_at_state (state);

    assert_ptr_equal (unit->fitted[bench->cpu1].part, bench->knot);
    assert_null (unit->fitted[bench->cpu1].serial);
    assert_int_equal (unit->pulled->len, 3);
    assert_null (g_array_index (unit->pulled, Fitted, 0).serial);
    assert_string_equal (unit->fitted[fixture_slot (unit->board, "dimm-a1")].serial, "M1");
}

static void
the_beginning_stays_the_first_one (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) state = worked_on (bench);
    g_autoptr (Unit) unit = unit_at_state (state);
    g_autoptr (State) again = state_from_unit (unit, NULL);
    const Step remove = step_remove (bench->cpu1);
    state_apply (again, &remove);
    g_autoptr (Unit) later = unit_at_state (again);

    assert_ptr_equal (unit_began (later, bench->cpu1)->part, bench->knot);
    assert_int_equal (unit_began (later, bench->cpu1)->owner, OWNER_UNIT);
    assert_string_equal (unit_began (later, bench->cpu2)->serial, "K2");
    assert_string_equal (unit_began (later, bench->fan1)->part->name, "fan-hot");
    assert_int_equal (later->releases[bench->agent].may_be[2], TRUE);
    assert_int_equal (later->began_releases[bench->agent].count, 1);
    assert_int_equal (later->began_releases[bench->agent].may_be[1], TRUE);
    assert_int_equal (unit_insertions_left (later, bench->cpu1), 2);
}

/* source: docs/batch.md, "When it goes wrong": a unit that is planned anew is the same order */
static void
what_a_batch_asks_of_it_stays (void **fixture)
{
    const Fixture *bench = *fixture;
    const Mark at = { "orders.csv", 7, 40 };

    bench->unit->becomes = "newer";
    bench->unit->becomes_at = at;
    bench->unit->due = "2034-03-10T16:00";
    bench->unit->priority = 7;
    bench->unit->own_parts_stay = TRUE;
    g_autoptr (State) state = worked_on (bench);
    g_autoptr (Unit) unit = unit_at_state (state);

    assert_string_equal (unit->becomes, "newer");
    assert_memory_equal (&unit->becomes_at, &at, sizeof at);
    assert_string_equal (unit->due, "2034-03-10T16:00");
    assert_int_equal (unit->priority, 7);
    assert_true (unit->own_parts_stay);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST (the_state_comes_back),
        BENCH_TEST (fittings_are_added_to_what_the_sockets_had),
        BENCH_TEST (own_parts_that_are_not_held_are_pulled),
        BENCH_TEST (a_part_of_the_shop_keeps_its_owner_and_bond),
        BENCH_TEST (serials_that_a_state_cannot_tell_apart_are_let_go),
        BENCH_TEST (the_beginning_stays_the_first_one),
        BENCH_TEST (what_a_batch_asks_of_it_stays),
    };

    g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
    return cmocka_run_group_tests (tests, NULL, NULL);
}
