/* SPDX-License-Identifier: MIT */
/* Which methods recover a failed write, one condition at a time. `agent` lists all five, but its controller method needs
 * the host on, and its jumper method a sound spare image of release 1 or later. */
#include "check_fixture.h"

#define HOST       METHOD_BIT (METHOD_HOST)
#define CLIP       METHOD_BIT (METHOD_CLIP)
#define CONTROLLER METHOD_BIT (METHOD_CONTROLLER)
#define JUMPER     METHOD_BIT (METHOD_JUMPER)
#define SPARE      METHOD_BIT (METHOD_SPARE)

/* The entry, to be changed by a test; the library is its own. */
static MethodEntry *
entry_of (const Fixture *bench, Method method)
{
    return &((Component *) board_component (bench->unit->board, bench->agent))->methods[method];
}

static guint
recovery_of_agent (const Fixture *bench)
{
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);

    return recovery_methods (bench->shop, state, bench->agent);
}

static void
set_requires (MethodEntry *entry, const char *text)
{
    g_autoptr (Complaints) complaints = complaints_new ();

    g_clear_pointer (&entry->requires, expression_free);
    entry->requires = expression_parse (text, MARK_NONE, NULL, complaints);
    assert_non_null (entry->requires);
}

static void
the_host_never_recovers_nor_a_controller_that_needs_it (void **fixture)
{
    const Fixture *bench = *fixture;

    assert_int_equal (recovery_of_agent (bench), CLIP | JUMPER | SPARE);
    entry_of (bench, METHOD_CONTROLLER)->host = HOST_OFF;
    assert_int_equal (recovery_of_agent (bench), CLIP | JUMPER | SPARE | CONTROLLER);
    entry_of (bench, METHOD_CONTROLLER)->host = HOST_EITHER;
    assert_int_equal (recovery_of_agent (bench), CLIP | JUMPER | SPARE | CONTROLLER);
}

static void
the_shop_has_to_have_the_method (void **fixture)
{
    const Fixture *bench = *fixture;

    bench->shop->methods = METHOD_BIT (METHOD_HOST) | JUMPER;
    assert_int_equal (recovery_of_agent (bench), JUMPER);
    bench->shop->methods = METHOD_BIT (METHOD_HOST);
    assert_int_equal (recovery_of_agent (bench), 0);
}

static void
the_component_has_to_list_the_method (void **fixture)
{
    const Fixture *bench = *fixture;

    ((Component *) board_component (bench->unit->board, bench->agent))->recovery = SPARE;
    assert_int_equal (recovery_of_agent (bench), SPARE);
}

static void
a_clip_recovers_nothing_where_the_board_verifies (void **fixture)
{
    const Fixture *bench = *fixture;

    ((Board *) bench->unit->board)->verified_boot = TRUE;
    assert_int_equal (recovery_of_agent (bench), JUMPER | SPARE);
}

/* With it goes what the jumper requires. */
static void
a_failed_spare_image_recovers_nothing (void **fixture)
{
    const Fixture *bench = *fixture;

    bench->unit->failed[bench->spare] = TRUE;
    assert_int_equal (recovery_of_agent (bench), CLIP);
}

static void
a_component_without_a_spare_image_has_no_recovery_by_it (void **fixture)
{
    const Fixture *bench = *fixture;

    ((Component *) board_component (bench->unit->board, bench->agent))->spare = NULL;
    assert_int_equal (recovery_of_agent (bench), CLIP | JUMPER);
}

static void
what_requires_the_failed_component_itself_does_not_recover_it (void **fixture)
{
    const Fixture *bench = *fixture;

    entry_of (bench, METHOD_CONTROLLER)->host = HOST_OFF;
    set_requires (entry_of (bench, METHOD_CONTROLLER), "agent >= 1");
    set_requires (entry_of (bench, METHOD_JUMPER), "agent-2 >= 1 or agent >= 1");
    assert_int_equal (recovery_of_agent (bench), CLIP | SPARE);
    set_requires (entry_of (bench, METHOD_CONTROLLER), "agent-2 < 2");
    set_requires (entry_of (bench, METHOD_JUMPER), "agent-2 >= 2");
    assert_int_equal (recovery_of_agent (bench), CLIP | SPARE | CONTROLLER);
}

static guint
recovery_of_spare (const Fixture *bench)
{
    g_autoptr (State) state = state_from_unit (bench->unit, NULL);

    return recovery_methods (bench->shop, state, bench->spare);
}

/* The active image starts as before, so that the host can be on, whatever `recovery` lists. */
static void
every_method_of_a_spare_image_recovers_it (void **fixture)
{
    const Fixture *bench = *fixture;
    Component *spare = (Component *) board_component (bench->unit->board, bench->spare);

    spare->recovery = 0;
    assert_int_equal (recovery_of_spare (bench), HOST | CONTROLLER | CLIP);
    ((Board *) bench->unit->board)->verified_boot = TRUE;
    assert_int_equal (recovery_of_spare (bench), HOST | CONTROLLER);
    set_requires (&spare->methods[METHOD_CONTROLLER], "agent >= 3");
    assert_int_equal (recovery_of_spare (bench), HOST);
    spare->methods[METHOD_HOST].there = FALSE;
    assert_int_equal (recovery_of_spare (bench), 0);
    spare->methods[METHOD_HOST].there = TRUE;
    bench->shop->methods = CLIP;
    assert_int_equal (recovery_of_spare (bench), 0);
}

static guint
recovery_of_step (const Fixture *bench, guint release)
{
    g_autoptr (State) start = state_from_unit (bench->unit, NULL);
    g_autoptr (GArray) steps = g_array_new (FALSE, FALSE, sizeof (Step));
    Step write = step_write (bench->agent, release, METHOD_CLIP);

    g_array_append_val (steps, write);
    g_autoptr (Walk) walk = check_walk (bench->library, bench->shop, NULL, start, steps);
    assert_true (walk->sound);
    return g_array_index (walk->walked, WalkedStep, 0).recovery;
}

/* 3 writes the spare image along, so that both would be failed; only the clip recovers both. 2 leaves it alone. */
static void
a_spare_image_of_the_same_file_recovers_nothing (void **fixture)
{
    const Fixture *bench = *fixture;

    assert_int_equal (recovery_of_step (bench, 1), CLIP | JUMPER | SPARE);
    assert_int_equal (recovery_of_step (bench, 2), CLIP);
    ((Component *) board_component (bench->unit->board, bench->agent))->recovery = SPARE;
    assert_int_equal (recovery_of_step (bench, 1), SPARE);
    assert_int_equal (recovery_of_step (bench, 2), 0);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST (the_host_never_recovers_nor_a_controller_that_needs_it),
        BENCH_TEST (the_shop_has_to_have_the_method),
        BENCH_TEST (the_component_has_to_list_the_method),
        BENCH_TEST (a_clip_recovers_nothing_where_the_board_verifies),
        BENCH_TEST (a_failed_spare_image_recovers_nothing),
        BENCH_TEST (a_component_without_a_spare_image_has_no_recovery_by_it),
        BENCH_TEST (what_requires_the_failed_component_itself_does_not_recover_it),
        BENCH_TEST (every_method_of_a_spare_image_recovers_it),
        BENCH_TEST (a_spare_image_of_the_same_file_recovers_nothing),
    };

    g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
    return cmocka_run_group_tests (tests, NULL, NULL);
}
