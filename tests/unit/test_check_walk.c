/* SPDX-License-Identifier: MIT */
/* What a walk says of steps; conditions that no file can bring about, steps that name what is not there among them. The
 * other refusals are in tests/broken-routes. */
#include "check_fixture.h"

static Walk *
walk_steps (const Fixture *bench, const Step *steps, guint n_steps)
{
    g_autoptr (State) start = state_from_unit (bench->unit, NULL);
    g_autoptr (GArray) route = g_array_new (FALSE, FALSE, sizeof (Step));

    g_array_append_vals (route, steps, n_steps);
    return check_walk (bench->library, bench->shop, NULL, start, route);
}

static Component *
agent_of (const Fixture *bench)
{
    return (Component *) board_component (bench->unit->board, bench->agent);
}

/* Empties cpu1 and fits that part there; whether the walk says that it will be bound. */
static gboolean
binds (const Fixture *bench, const Part *part, Owner owner, const char *bound)
{
    const Step steps[] = { step_remove (bench->cpu1), step_fit (bench->cpu1, part, owner, bound) };
    g_autoptr (Walk) walk = walk_steps (bench, steps, 2);

    assert_true (walk->sound);
    assert_false (g_array_index (walk->walked, WalkedStep, 0).binds_part);
    return g_array_index (walk->walked, WalkedStep, 1).binds_part;
}

static void
a_fitting_says_that_the_part_will_be_bound (void **fixture)
{
    const Fixture *bench = *fixture;
    Lot unbound = {
        .owner = OWNER_LOAN, .part = bench->knot, .stepping = bench->knot->steppings->pdata[0], .count = 1
    };
    g_array_append_val (bench->shop->lots, unbound);
    const Part *dorvan = book_find_part (&bench->library->book, "dorvan-8");
    Lot other = { .owner = OWNER_STOCK, .part = dorvan, .stepping = dorvan->steppings->pdata[0], .count = 1 };
    g_array_append_val (bench->shop->lots, other);

    assert_true (binds (bench, bench->knot, OWNER_UNIT, NULL));
    assert_true (binds (bench, bench->knot, OWNER_STOCK, NULL));
    assert_false (binds (bench, bench->knot, OWNER_LOAN, NULL)); /* never started so */
    assert_false (binds (bench, bench->knot, OWNER_UNIT, "alderbank"));
    assert_false (binds (bench, dorvan, OWNER_STOCK, NULL)); /* does not bind */
    ((Board *) bench->unit->board)->binds = NULL;
    assert_false (binds (bench, bench->knot, OWNER_STOCK, NULL));
}

/* 1 needs the riser while it runs, so that without it the unit is dark after the write. */
static void
a_running_write_may_be_verified_at_the_next_start_where_its_own_method_says_so (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step steps[] = { step_remove (fixture_slot (bench->unit->board, "riser1")),
                           step_write (bench->agent, 0, METHOD_CONTROLLER) };
    MethodEntry *methods = agent_of (bench)->methods;
    bench->unit->releases[bench->agent].floor = 0;
    ((Release *) component_release (agent_of (bench), 1))->lowest = -1; /* else 1 would be below the floor */

    methods[METHOD_HOST].verify_next_start = TRUE;
    g_autoptr (Walk) at_once = walk_steps (bench, steps, 2);
    assert_string_equal (at_once->rule, "does-not-start-after");
    methods[METHOD_CONTROLLER].verify_next_start = TRUE;
    g_autoptr (Walk) later = walk_steps (bench, steps, 2);
    assert_true (later->sound);
    methods[METHOD_CONTROLLER].verify_next_start = FALSE;
    bench->shop->unverified_writes = TRUE;
    g_autoptr (Walk) unverified = walk_steps (bench, steps, 2);
    assert_true (unverified->sound);
}

static void
a_spare_write_needs_a_spare_image (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step write = step_write (bench->agent, 0, METHOD_SPARE);
    ((Release *) component_release (agent_of (bench), 1))->lowest = -1;

    g_autoptr (Walk) with = walk_steps (bench, &write, 1);
    assert_true (with->sound);
    agent_of (bench)->spare = NULL;
    g_autoptr (Walk) without = walk_steps (bench, &write, 1);
    assert_string_equal (without->rule, "spare-image");
    assert_string_equal (without->why, "agent has no spare image");
    agent_of (bench)->spare = g_intern_static_string ("agent-3"); /* which the board lacks */
    g_autoptr (Walk) elsewhere = walk_steps (bench, &write, 1);
    assert_string_equal (elsewhere->rule, "spare-image");
}

/* 2 raises the floor to itself, which only a spare write passes over here: to what the spare image holds. */
static void
a_spare_image_keeps_in_reach_only_what_it_holds (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step write = step_write (bench->agent, 1, METHOD_HOST);
    MethodEntry *methods = agent_of (bench)->methods;
    bench->unit->releases[bench->agent] = (UnitRelease){ bench->unit->releases[bench->agent].may_be, 1, 0, MARK_NONE };
    bench->unit->releases[bench->agent].may_be[0] = TRUE;
    bench->unit->releases[bench->agent].may_be[1] = FALSE;
    bench->shop->methods = METHOD_BIT (METHOD_HOST) | METHOD_BIT (METHOD_SPARE);
    methods[METHOD_SPARE].obeys_floor = FALSE;

    g_autoptr (Walk) held = walk_steps (bench, &write, 1);
    assert_true (held->sound);
    assert_false (g_array_index (held->walked, WalkedStep, 0).raises_floor);
    bench->unit->releases[bench->spare].may_be[0] = FALSE;
    bench->unit->releases[bench->spare].may_be[1] = TRUE;
    g_autoptr (Walk) newer = walk_steps (bench, &write, 1);
    assert_true (newer->sound);
    assert_true (g_array_index (newer->walked, WalkedStep, 0).raises_floor);
}

/* The same with a spare method for recovery alone: it writes nothing that has not failed. */
static void
a_method_for_recovery_alone_keeps_nothing_in_reach (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step write = step_write (bench->agent, 1, METHOD_HOST);
    MethodEntry *methods = agent_of (bench)->methods;
    bench->unit->releases[bench->agent] = (UnitRelease){ bench->unit->releases[bench->agent].may_be, 1, 0, MARK_NONE };
    bench->unit->releases[bench->agent].may_be[0] = TRUE;
    bench->unit->releases[bench->agent].may_be[1] = FALSE;
    bench->shop->methods = METHOD_BIT (METHOD_HOST) | METHOD_BIT (METHOD_SPARE);
    methods[METHOD_SPARE].obeys_floor = FALSE;
    methods[METHOD_SPARE].recovery_only = TRUE;

    g_autoptr (Walk) walk = walk_steps (bench, &write, 1);
    assert_true (walk->sound);
    assert_true (g_array_index (walk->walked, WalkedStep, 0).raises_floor);
}

/* 3 writes the spare image along; with nothing else to recover it, a shop that asks for recovery refuses the write. */
static void
a_shop_that_asks_for_recovery_looks_at_the_whole_file (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step alone = step_write (bench->agent, 1, METHOD_HOST), both = step_write (bench->agent, 2, METHOD_HOST);

    bench->shop->require_recovery = TRUE;
    agent_of (bench)->recovery = METHOD_BIT (METHOD_SPARE);
    g_autoptr (Walk) allowed = walk_steps (bench, &alone, 1);
    assert_true (allowed->sound);
    g_autoptr (Walk) refused = walk_steps (bench, &both, 1);
    assert_string_equal (refused->rule, "no-recovery");
    assert_non_null (g_strstr_len (refused->why, -1, "a failed write of agent has none here"));
}

/* A jumper and a clip write belong to the opening that fittings around them make. */
static void
work_with_mains_out_is_one_opening (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step steps[] = { step_remove (bench->fan1),
                           step_write (bench->agent, 1, METHOD_JUMPER),
                           step_write (bench->agent, 1, METHOD_CLIP),
                           step_write (bench->agent, 1, METHOD_HOST),
                           step_write (bench->agent, 1, METHOD_CONTROLLER),
                           step_write (bench->agent, 1, METHOD_JUMPER) };
    static const gboolean opens[] = { TRUE, FALSE, FALSE, FALSE, FALSE, TRUE };
    static const gboolean starts[] = { FALSE, FALSE, FALSE, TRUE, FALSE, FALSE };
    g_autoptr (Walk) walk = walk_steps (bench, steps, 6);

    assert_true (walk->sound);
    for (guint i = 0; i < 6; i++) {
        assert_int_equal (g_array_index (walk->walked, WalkedStep, i).opens, opens[i]);
        assert_int_equal (g_array_index (walk->walked, WalkedStep, i).needs_start, starts[i]);
    }
    assert_int_equal (walk->openings, 2);
    assert_int_equal (walk->starts, 2); /* and the one at the end */
}

/* A fallback is walked from the state that the failure left: fittings and own parts as the unit's file has them. */
static void
a_walk_may_begin_in_the_middle (void **fixture)
{
    const Fixture *bench = *fixture;
    g_autoptr (State) start = state_from_unit (bench->unit, NULL);
    g_autoptr (GArray) route = g_array_new (FALSE, FALSE, sizeof (Step));
    g_autoptr (Want) want = want_new ("starts", bench->unit->board, MARK_NONE);
    const Step out = step_remove (bench->cpu1), back = step_fit (bench->cpu1, bench->knot, OWNER_UNIT, NULL),
               write = step_write (bench->agent, 1, METHOD_HOST), again = step_write (bench->agent, 1, METHOD_CLIP);

    want->just_starts = TRUE;
    state_apply (start, &out);
    state_fail (start, &write);
    start->fittings[bench->cpu1] = 2; /* of the three that are left */
    g_array_append_val (route, again);
    g_array_append_val (route, back);
    g_autoptr (Walk) walk = check_walk (bench->library, bench->shop, want, start, route);
    assert_true (walk->sound);
    assert_int_equal (walk->last->fittings[bench->cpu1], 3);
    start->fittings[bench->cpu1] = 3;
    g_autoptr (Walk) worn = check_walk (bench->library, bench->shop, want, start, route);
    assert_string_equal (worn->rule, "socket-worn");
}

static const Step no_step;

/* Walks one step from the unit's lowest case, any end allowed. */
static Walk *
walk_one (const Library *library, const Shop *shop, Step step)
{
    g_autoptr (State) start = state_from_unit (library->units->pdata[0], NULL);
    g_autoptr (GArray) steps = g_array_new (FALSE, FALSE, sizeof (Step));

    g_array_append_val (steps, step);
    return check_walk (library, shop, NULL, start, steps);
}

static void
assert_refused (const Library *library, Step step, const char *rule)
{
    g_autoptr (Walk) walk = walk_one (library, library->shops->pdata[0], step);

    assert_false (walk->sound);
    assert_int_equal (walk->first_bad, 0);
    assert_string_equal (walk->rule, rule);
    assert_non_null (walk->why);
    assert_int_equal (walk->walked->len, 0);
}

static void
steps_that_name_what_is_not_there_are_refused (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-walk.yaml");
    const Part *elvane = book_find_part (&library->book, "elvane-14");
    const Part *dorvan = book_find_part (&library->book, "dorvan-8");
    const char *b0 = g_intern_string ("b0");
    const Part foreign = *elvane;
    Step remove = no_step, fit = no_step, write = no_step, none = no_step;

    remove.kind = STEP_REMOVE;
    remove.slot = 10; /* the board has 10 */
    assert_refused (library, remove, "no-such-slot");
    remove.slot = G_MAXUINT;
    assert_refused (library, remove, "no-such-slot");
    remove.slot = 0;
    remove.part = &foreign;
    assert_refused (library, remove, "no-such-part");
    remove.part = elvane;
    assert_refused (library, remove, "slot-holds");

    fit = (Step){ .kind = STEP_FIT, .slot = 1, .part = elvane, .stepping = b0, .owner = OWNER_STOCK };
    fit.slot = 99;
    assert_refused (library, fit, "no-such-slot");
    fit.slot = 1;
    fit.part = NULL;
    assert_refused (library, fit, "no-such-part");
    fit.part = &foreign;
    assert_refused (library, fit, "no-such-part");
    fit.part = dorvan; /* which has no b0 */
    assert_refused (library, fit, "no-such-stepping");
    fit.part = elvane;
    fit.stepping = NULL;
    assert_refused (library, fit, "no-such-stepping");
    fit.stepping = b0;
    fit.owner = (Owner) 7;
    assert_refused (library, fit, "no-such-step");
    fit.owner = OWNER_STOCK;
    fit.slot = 2; /* sink1, which is also full */
    assert_refused (library, fit, "slot-is-full");
    fit.slot = 3; /* sink2 */
    assert_refused (library, fit, "slot-takes");
    fit.slot = 1;
    fit.owner = OWNER_LOAN; /* only stock has one */
    assert_refused (library, fit, "not-at-hand");

    write = (Step){ .kind = STEP_WRITE, .component = 2, .release = 0, .method = METHOD_HOST };
    assert_refused (library, write, "no-such-component");
    write.component = 0;
    write.release = 4;
    assert_refused (library, write, "no-such-release");
    write.release = 1;
    write.method = (Method) METHOD_COUNT;
    assert_refused (library, write, "no-such-step");

    none.kind = (StepKind) 9;
    assert_refused (library, none, "no-such-step");
}

static void
a_step_is_described (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-walk.yaml");
    g_autoptr (Shop) shop = shop_new_default ();
    Step write = { .kind = STEP_WRITE, .component = 0, .release = 2, .method = METHOD_HOST };

    shop->methods = METHOD_BIT (METHOD_HOST);
    g_autoptr (Walk) walk = walk_one (library, shop, write);
    assert_true (walk->sound);
    const WalkedStep *walked = &g_array_index (walk->walked, WalkedStep, 0);
    assert_true (walked->starts_before);
    assert_true (walked->starts_after);
    assert_true (walked->needs_start);
    assert_false (walked->opens);
    assert_true (walked->raises_floor);     /* 1.0 could be written before; 2.0 sets the floor to 1.1 */
    assert_int_equal (walked->recovery, 0); /* a shop with nothing but the host */
    assert_int_equal (walk->last->releases[0], 2);
    assert_int_equal (walk->last->floors[0], 1);
    /* Without a want no end is asked for, but the counts are made. 5 to write, 5 to start. */
    assert_int_equal (walk->starts, 1);
    assert_float_equal (walk->minutes, 10, 0);
}

/* A clip that passes the floor over can still write what lies below it, so nothing is out of reach. */
static void
a_floor_is_not_raised_for_a_clip_that_ignores_it (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-walk.yaml");
    g_autoptr (Shop) shop = shop_new_default ();
    Step write = { .kind = STEP_WRITE, .component = 0, .release = 2, .method = METHOD_HOST };
    g_autoptr (Walk) walk = walk_one (library, shop, write);

    assert_true (walk->sound);
    assert_false (g_array_index (walk->walked, WalkedStep, 0).raises_floor);
    assert_int_equal (walk->last->floors[0], 1);
}

/* A write of the release that is there already is legal, and changes nothing. */
static void
a_write_of_what_is_there_is_legal (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-walk.yaml");
    Step write = { .kind = STEP_WRITE, .component = 0, .release = 0, .method = METHOD_HOST };
    g_autoptr (Walk) walk = walk_one (library, library->shops->pdata[0], write);

    assert_true (walk->sound);
    assert_int_equal (walk->last->releases[0], 0);
    assert_false (g_array_index (walk->walked, WalkedStep, 0).raises_floor);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST (a_fitting_says_that_the_part_will_be_bound),
        BENCH_TEST (a_running_write_may_be_verified_at_the_next_start_where_its_own_method_says_so),
        BENCH_TEST (a_spare_write_needs_a_spare_image),
        BENCH_TEST (a_spare_image_keeps_in_reach_only_what_it_holds),
        BENCH_TEST (a_method_for_recovery_alone_keeps_nothing_in_reach),
        BENCH_TEST (a_shop_that_asks_for_recovery_looks_at_the_whole_file),
        BENCH_TEST (work_with_mains_out_is_one_opening),
        BENCH_TEST (a_walk_may_begin_in_the_middle),
        cmocka_unit_test (steps_that_name_what_is_not_there_are_refused),
        cmocka_unit_test (a_step_is_described),
        cmocka_unit_test (a_floor_is_not_raised_for_a_clip_that_ignores_it),
        cmocka_unit_test (a_write_of_what_is_there_is_legal),
    };

    g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
    return cmocka_run_group_tests (tests, NULL, NULL);
}
