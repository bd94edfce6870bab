/* SPDX-License-Identifier: MIT */
/* Ends that no want file can ask for: one triple in a slot, one release, anything that starts; and what counts as the
 * beginning of the work. The rest of docs/method.md, "The end", is in tests/broken-routes. */
#include "check_fixture.h"

/* The unit as it stands starts, and is what this wants: every slot exactly as it is. Transfer full. */
static Want *
want_all_held (const Fixture *bench)
{
    Want *want = want_new ("held", bench->unit->board, MARK_NONE);

    for (guint i = 0; i < bench->unit->board->slots->len; i++) {
        const Fitted *fitted = &bench->unit->fitted[i];

        want->slots[i] = (WantSlot){ .kind = WANT_HELD,
                                     .part = fitted->part,
                                     .stepping = fitted->stepping,
                                     .owner = fitted->owner,
                                     .bound = fitted->bound };
    }
    return want;
}

static void
assert_end (const Fixture *bench, const Want *want, const Step *steps, guint n_steps, const char *rule)
{
    g_autoptr (State) start = state_from_unit (bench->unit, NULL);
    g_autoptr (GArray) route = g_array_new (FALSE, FALSE, sizeof (Step));

    g_array_append_vals (route, steps, n_steps);
    g_autoptr (Walk) walk = check_walk (bench->library, bench->shop, want, start, route);
    if (g_strcmp0 (walk->rule, rule) != 0)
        fail_msg ("expected %s, walked %s: %s", rule != NULL ? rule : "sound",
                  walk->rule != NULL ? walk->rule : "sound", walk->why != NULL ? walk->why : "");
    assert_int_equal (walk->walked->len, n_steps);
}

static void
the_very_triple_is_held (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step stock[] = { step_remove (bench->cpu1), step_fit (bench->cpu1, bench->knot, OWNER_STOCK, NULL) };
    const Step bound[] = { step_remove (bench->cpu1), step_fit (bench->cpu1, bench->knot, OWNER_UNIT, "alderbank") };
    const Step back[] = { step_remove (bench->cpu1), step_fit (bench->cpu1, bench->knot, OWNER_UNIT, NULL) };
    g_autoptr (Want) want = want_all_held (bench);

    assert_end (bench, want, back, 2, NULL);
    assert_end (bench, want, stock, 2, "end-want");
    assert_end (bench, want, bound, 2, "end-want");
    want->slots[bench->cpu1].owner = OWNER_STOCK;
    assert_end (bench, want, stock, 2, NULL);
    assert_end (bench, want, back, 2, "end-want");
    want->slots[bench->cpu1].owner = OWNER_UNIT;
    want->slots[bench->cpu1].bound = g_intern_static_string ("alderbank");
    assert_end (bench, want, bound, 2, NULL);
}

/* fan1 holds a loaner, which may stay where it is asked for and nowhere else. */
static void
a_loaner_stays_where_it_is_to_be_held (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step out = step_remove (bench->fan1);
    g_autoptr (Want) want = want_all_held (bench);

    assert_end (bench, want, NULL, 0, NULL);
    assert_end (bench, want, &out, 1, "end-want");
    want->slots[bench->fan1].part = NULL;
    assert_end (bench, want, &out, 1, NULL);
    assert_end (bench, want, NULL, 0, "end-want");
    want->slots[bench->fan1].kind = WANT_ANYTHING;
    assert_end (bench, want, &out, 1, NULL);
    assert_end (bench, want, NULL, 0, "end-loaner");
}

static void
an_exact_release_is_asked_for_by_its_index (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step newer = step_write (bench->agent, 2, METHOD_HOST); /* and the spare image with it */
    g_autoptr (Want) want = want_all_held (bench);

    want->exact_release = g_new (int, 2);
    want->exact_release[bench->agent] = 1;
    want->exact_release[bench->spare] = -1;
    assert_end (bench, want, NULL, 0, NULL);
    assert_end (bench, want, &newer, 1, "end-want");
    want->exact_release[bench->agent] = 2;
    assert_end (bench, want, &newer, 1, NULL);
    assert_end (bench, want, NULL, 0, "end-want");
    want->exact_release[bench->spare] = 1;
    assert_end (bench, want, &newer, 1, "end-want");
    want->exact_release[bench->agent] = 1;
    want->exact_release[bench->spare] = 0;
    assert_end (bench, want, NULL, 0, NULL);
    bench->unit->failed[bench->spare] = TRUE; /* it had that release, and has it no more */
    assert_end (bench, want, NULL, 0, "end-want");
}

/* cpu2 is left without its processor, but closed; the loaner is still there; the spare image is behind. */
static void
where_starting_is_enough_nothing_else_is_asked (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step open[] = { step_write (bench->agent, 2, METHOD_HOST), step_write (bench->spare, 0, METHOD_HOST),
                          step_remove (bench->cpu2) };
    const Step closed[] = { open[0], open[1], open[2], step_fit (bench->blank2, bench->blank, OWNER_UNIT, NULL) };
    g_autoptr (Want) want = want_new ("starts", bench->unit->board, MARK_NONE);

    assert_end (bench, want, closed, 4, "end-loaner");
    want->just_starts = TRUE;
    assert_end (bench, want, closed, 4, NULL);
    assert_end (bench, want, open, 3, "end-does-not-start");
}

/* Exactly as before but for the release of `agent`, and its loaner gone. */
static Want *
want_rest (const Fixture *bench)
{
    Want *want = want_all_held (bench);

    want->slots[bench->fan1].kind = WANT_ANYTHING;
    return want;
}

/* The unit had 1 when the work began, and has 2 by now; its spare image still holds 1. */
static void
a_spare_image_follows_from_where_the_work_began (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step out = step_remove (bench->fan1);
    const Step older[] = { out, step_write (bench->agent, 0, METHOD_CLIP) };
    const Step newer[] = { out, step_write (bench->spare, 1, METHOD_HOST) };
    g_autoptr (Want) want = want_rest (bench);

    assert_end (bench, want, &out, 1, NULL); /* not told otherwise, it began with what it has */
    bench->unit->began_releases = g_new0 (UnitRelease, 2);
    for (guint i = 0; i < 2; i++) {
        bench->unit->began_releases[i].may_be = g_new0 (gboolean, 3);
        bench->unit->began_releases[i].may_be[0] = TRUE;
        bench->unit->began_releases[i].count = 1;
    }
    assert_end (bench, want, &out, 1, "end-spare");
    assert_end (bench, want, newer, 2, NULL);
    assert_end (bench, want, older, 2, NULL);
    UnitRelease *began = &bench->unit->began_releases[bench->agent];
    began->may_be[1] = TRUE;
    began->count = 2; /* 1 or 2: nobody can say that 2 is what it began with */
    assert_end (bench, want, &out, 1, "end-spare");
    UnitRelease *known = &bench->unit->releases[bench->agent];
    known->may_be[0] = TRUE;
    known->count = 2; /* nor has it been written since, so in each case it is, whatever the spare image holds */
    bench->unit->releases[bench->spare].may_be[0] = FALSE;
    bench->unit->releases[bench->spare].may_be[2] = TRUE;
    assert_end (bench, want, &out, 1, NULL);
}

static void
a_want_that_names_the_spare_image_has_its_way (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step steps[] = { step_remove (bench->fan1), step_write (bench->agent, 2, METHOD_HOST),
                           step_write (bench->spare, 0, METHOD_HOST) };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Want) want = want_rest (bench);

    assert_end (bench, want, steps, 3, "end-spare");
    want->firmware[bench->spare] = expression_parse ("agent-2 < 3", MARK_NONE, NULL, complaints);
    assert_end (bench, want, steps, 3, NULL);
    g_clear_pointer (&want->firmware[bench->spare], expression_free);
    want->exact_release = g_new (int, 2);
    want->exact_release[bench->agent] = -1;
    want->exact_release[bench->spare] = -1;
    assert_end (bench, want, steps, 3, "end-spare");
    want->exact_release[bench->spare] = 0;
    assert_end (bench, want, steps, 3, NULL);
}

/* fan1 began with another fan, which is not there any more. */
static void
slots_are_held_against_what_they_began_with (void **fixture)
{
    const Fixture *bench = *fixture;
    const Step out = step_remove (bench->fan1);
    g_autoptr (Want) want = want_all_held (bench);

    want->slots[bench->fan1].kind = WANT_NOTHING;
    assert_end (bench, want, NULL, 0, "end-loaner");
    assert_end (bench, want, &out, 1, "end-slot-changed");
    bench->unit->began[bench->fan1].part = NULL;
    assert_end (bench, want, &out, 1, NULL);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST (the_very_triple_is_held),
        BENCH_TEST (a_loaner_stays_where_it_is_to_be_held),
        BENCH_TEST (an_exact_release_is_asked_for_by_its_index),
        BENCH_TEST (where_starting_is_enough_nothing_else_is_asked),
        BENCH_TEST (a_spare_image_follows_from_where_the_work_began),
        BENCH_TEST (a_want_that_names_the_spare_image_has_its_way),
        BENCH_TEST (slots_are_held_against_what_they_began_with),
    };

    g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
    return cmocka_run_group_tests (tests, NULL, NULL);
}
