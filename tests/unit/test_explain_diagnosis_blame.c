/* SPDX-License-Identifier: MIT */
/* For a return, what blames a part and what only seems to: starts that show nothing of it, elimination, rules that harm,
 * failed writes, firmware that was in once.
 *
 * source: docs/method.md, "For a return"; what is expected was worked out by hand from it. */
#include "diagnosis_fixture.h"

/* What is in a conflict counts for nothing, a start with the part in too: no cause and no rule is left for NEW. */
static void
test_start_in_a_conflict (void **state)
{
    (void) state;
    check_verdict ("NEW", "other-image=started", RETURN_CONFLICT);
    check_verdict ("NEW", "started-with=supply1=supply-p dark-with=supply1=supply-p", RETURN_CONFLICT);
    check_verdict ("NEW", "dark-minutes=30 started-with=" LIKE " dark-with=" LIKE, RETURN_CONFLICT);
}

/* Without one of two processors that are alike it may have started all the same: that is tried, and shows nothing of
 * either. The only one has to be good. */
static void
test_start_that_needs_no_such_part (void **state)
{
    g_auto (Diagnosed) second = { NULL };
    g_auto (Diagnosed) only = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&second, "NEW", "dark-minutes=30 started-with=cpu2=stint-8:a0");
    assert_int_equal (block->verdict, RETURN_CHECKS_LEFT);
    assert_true (list_has (block->tried, "it started with this part in"));
    block = block_of (&only, "NEW", "dark-minutes=30 started-with=supply1=supply-p");
    assert_int_equal (block->verdict, RETURN_STARTS);
    assert_false (list_has (block->tried, "it started with this part in"));
    assert_int_equal (only.diagnosis->returns->len, 1);
}

/* 1.0 states nothing of stint: a like part that starts there is an answer. Of GIVEN_UP it states a no, which no start
 * refutes: the two conflict. */
static void
test_like_part_refutes_what_is_not_stated (void **state)
{
    g_auto (Diagnosed) old = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&old, "OLD", "dark-minutes=30 started-with=" LIKE);
    assert_int_equal (block->verdict, RETURN_LIKE_STARTS);
    assert_int_equal (old.diagnosis->starts, NONE_KNOWN);
    assert_non_null (old.diagnosis->physical);
    assert_close (block->probability, 0.12 / 0.36); /* as for NEW: test_chance_after_a_swap */
    check_verdict ("OLD", "started-with=" LIKE, RETURN_TOO_EARLY);
    check_verdict ("OLD", "dark-minutes=30 started-with=cpu1=stint-8:a1", RETURN_NO_FIRMWARE);
    check_verdict ("GIVEN_UP", "", RETURN_NO_FIRMWARE);
    check_verdict ("GIVEN_UP", "dark-minutes=30 started-with=cpu1=dunlin-4", RETURN_CONFLICT);
}

/* A part goes onto contacts that were looked at, and onto none once something was found. */
static void
test_no_swap_onto_bent_contacts (void **state)
{
    static const struct {
        const char *seen;
        gboolean swap;
    } tries[] = {
        { "dark-minutes=30", FALSE },
        { "dark-minutes=30 looked=contacts", TRUE },
        { "dark-minutes=30 found=contact-bent", FALSE },
        { "dark-minutes=30 looked=contacts found=lead-loose", FALSE },
        { "dark-minutes=30 looked=leads", FALSE },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (tries); i++) {
        g_auto (Diagnosed) diagnosed = { NULL };
        const ReturnBlock *block = block_of (&diagnosed, "NEW", tries[i].seen);

        if (list_has (block->left, "another stint-8 a0 in cpu1") != tries[i].swap)
            fail_msg ("%s", tries[i].seen);
        assert_int_equal (list_has (block->left, "good-one (14 minutes, after the look contacts)"), i == 0 || i == 4);
    }
}

/* By elimination only of one part, with next to nothing left over. By hand: dead 0.12 beside the board, 0.08; two
 * processors share. */
static void
test_by_elimination (void **state)
{
    g_auto (Diagnosed) board = { NULL };
    g_auto (Diagnosed) two = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&board, "NEW", ALL_LOOKS);
    assert_close (block->probability, 0.6);
    assert_string_equal (block->says, "May be faulty: no look is left that finds something else, but more is left than "
                                      "this part. As things stand it is the part with 60 %.");
    block = block_of (&two, "PAIR", "dark-minutes=30 started-with=cpu1=stint-8:a1,cpu2=stint-8:a1 looked=contacts");
    assert_int_equal (block->verdict, RETURN_CHECKS_LEFT);
    assert_close (block->probability, 0.5);
}

/* A rule that harms keeps nothing from starting: that it is dark shows nothing, and power may have done damage. */
static void
test_powered_against_a_rule (void **state)
{
    g_auto (Diagnosed) hot = { NULL };
    g_auto (Diagnosed) old = { NULL };
    g_auto (Diagnosed) unknown = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&hot, "HOT", "");
    assert_int_equal (block->verdict, RETURN_RULE);
    assert_string_equal (
        block->says,
        "Not shown faulty by being dark: the unit was powered against a rule that may do harm. A "
        "supply gives what the board takes. The part may have been damaged, under power against voltage: have it "
        "checked, and put that right before the next start.");
    assert_int_equal (block->left->len, 1);
    assert_string_equal (block->left->pdata[0], "putting right what may do harm under power, before any start");
    block = block_of (&old, "HOT_AND_OLD", "");
    assert_int_equal (block->verdict, RETURN_NO_FIRMWARE);
    assert_true (g_str_has_suffix (block->says, "before the next start."));
    assert_false (list_has (block->left, "a start of"));
    block =
        block_of (&unknown, "HOT_UNKNOWN", ""); /* 3.0 bears it: what may be physical is looked at with the unit off */
    assert_int_equal (block->verdict, RETURN_NOT_READ);
    assert_non_null (unknown.diagnosis->physical);
    assert_true (unknown.diagnosis->physical->checks->len > 0);
    for (guint i = 0; i < unknown.diagnosis->physical->checks->len; i++)
        assert_false (g_array_index (unknown.diagnosis->physical->checks, CheckDue, i).look->unit_on);
    assert_true (list_has (block->left, "the look leads"));
    assert_false (list_has (block->left, "the look wait"));
    assert_false (list_has (block->left, "good-one"));
    assert_false (list_has (block->left, "leaving it on"));
}

/* A write that failed leaves nothing that could know a part: that is said once, as the failed write. */
static void
test_failed_write_alone_is_said (void **state)
{
    g_auto (Diagnosed) broken = { NULL };
    g_auto (Diagnosed) both = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&broken, "BROKE_OFF", "");
    assert_int_equal (block->verdict, RETURN_RULE);
    assert_true (strstr (block->says, "whose last write failed") != NULL);
    assert_true (strstr (block->says, "Firmware knows the processor.") == NULL);
    block = block_of (&both, "BROKE_OFF_OLD", "");
    assert_int_equal (block->verdict, RETURN_NO_FIRMWARE);
}

/* The floor says that a newer release was in once. */
static void
test_firmware_that_was_in_once (void **state)
{
    g_auto (Diagnosed) floor = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&floor, "FLOORED", "");
    assert_int_equal (block->verdict, RETURN_NO_FIRMWARE);
    assert_string_equal (block->says,
                         "Not shown faulty: its present firmware does not know it. system 1.0 does not state "
                         "that it starts stint a0; the first release that states that it does is 2.0.");
}

/* What lights, fans and the log say in the files of the program: no power may be for want of a processor in the first
 * socket; that no code of one processor ran excludes nothing, another may be training memory. Common practice, no
 * source. */
static const Sign *
sign_of (const Diagnosed *diagnosed, const char *id)
{
    const GPtrArray *signs = diagnosed->library->signs;

    for (guint i = 0; i < signs->len; i++)
        if (g_str_equal (((const Sign *) signs->pdata[i])->id, id))
            return signs->pdata[i];
    fail_msg ("no sign %s", id);
    return NULL;
}

static gboolean
supports_rule (const Sign *sign, const char *rule)
{
    for (guint i = 0; i < sign->supports->len; i++) {
        const SignTarget *target = &g_array_index (sign->supports, SignSupport, i).target;

        if (target->rule != NULL && g_str_equal (target->rule->id, rule))
            return TRUE;
    }
    return FALSE;
}

static void
test_signs_exclude_only_what_cannot_be (void **state)
{
    static const char *const still[] = { "light-off", "fans-still" };
    const char *paths[] = { "rules", "data/larkfield/book", "data/larkfield/shop.yaml",
                            "data/larkfield/units/01-dark-needs-a-loaner.yaml", NULL };
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_load (&diagnosed, paths, NULL, NULL);
    for (guint i = 0; i < G_N_ELEMENTS (still); i++) {
        assert_true (supports_rule (sign_of (&diagnosed, still[i]), "processor-fitted"));
        assert_true (supports_rule (sign_of (&diagnosed, still[i]), "first-socket-first"));
    }
    assert_int_equal (sign_of (&diagnosed, "processor-did-not-start")->excludes->len, 0);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_start_in_a_conflict),
        cmocka_unit_test (test_start_that_needs_no_such_part),
        cmocka_unit_test (test_like_part_refutes_what_is_not_stated),
        cmocka_unit_test (test_no_swap_onto_bent_contacts),
        cmocka_unit_test (test_by_elimination),
        cmocka_unit_test (test_powered_against_a_rule),
        cmocka_unit_test (test_failed_write_alone_is_said),
        cmocka_unit_test (test_firmware_that_was_in_once),
        cmocka_unit_test (test_signs_exclude_only_what_cannot_be),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
