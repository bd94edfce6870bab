/* SPDX-License-Identifier: MIT */
/* For a return, every verdict; and the ways out of a unit that stays dark.
 *
 * source: docs/method.md, "For a return"; what is expected was worked out by hand from it. */
#include "diagnosis_fixture.h"

static void
test_each_verdict (void **state)
{
    (void) state;
    check_verdict ("OLD", "other-image=started", RETURN_STARTS);
    check_verdict ("NEW", "started-with=supply1=supply-p", RETURN_STARTS);
    check_verdict ("NEW", "beeps=long", RETURN_CONFLICT);
    check_verdict ("OLD", "", RETURN_NO_FIRMWARE);
    check_verdict ("ODD", "", RETURN_RULE);
    check_verdict ("UNKNOWN", "", RETURN_NOT_READ);
    check_verdict ("NEW", "", RETURN_TOO_EARLY);
    check_verdict ("NEW", "dark-minutes=4", RETURN_TOO_EARLY);
    check_verdict ("NEW", "dark-minutes=30 found=contact-bent", RETURN_OTHER_CAUSE);
    check_verdict ("NEW", "dark-minutes=30 looked=good-one", RETURN_OTHER_CAUSE);
    check_verdict ("NEW", "dark-minutes=30 dark-with=" LIKE, RETURN_ELSEWHERE);
    check_verdict ("NEW", "dark-minutes=30 started-with=" LIKE, RETURN_LIKE_STARTS);
    check_verdict ("NEW", "dark-minutes=30", RETURN_CHECKS_LEFT);
    check_verdict ("NEW", ALL_LOOKS, RETURN_CHECKS_LEFT); /* the board is left too, with 0.08 of 0.20 */
    check_verdict ("NEW", "dark-minutes=30 started-with=cpu1=stint-8:a1 looked=contacts", RETURN_LEFT_OVER);
    check_verdict ("NEW", "found=processor-dead", RETURN_FOUND);
}

/* The first that applies; and what is not a like part, with all else the same, settles nothing. */
static void
test_order_of_verdicts (void **state)
{
    (void) state;
    check_verdict ("OLD", "started-with=supply1=supply-p event=0F/02", RETURN_STARTS);
    check_verdict ("OLD", "event=0F/02", RETURN_CONFLICT);
    check_verdict ("OLD", "dark-minutes=4 dark-with=" LIKE, RETURN_NO_FIRMWARE);
    check_verdict ("UNKNOWN", "other-image=dark dark-minutes=30 started-with=" LIKE, RETURN_LIKE_STARTS);
    check_verdict ("UNKNOWN", "event=0F/02", RETURN_TOO_EARLY);
    check_verdict ("UNKNOWN", "event=0F/02 dark-minutes=30", RETURN_CHECKS_LEFT);
    check_verdict ("NEW", "dark-with=" LIKE, RETURN_TOO_EARLY);
    check_verdict ("NEW", "dark-minutes=30 started-with=cpu1=stint-8:a1", RETURN_CHECKS_LEFT);
    /* No like part with all else the same, but another that stays dark: no fault of the part. */
    check_verdict ("NEW", "dark-minutes=30 dark-with=" LIKE ",supply1=supply-p", RETURN_OTHER_CAUSE);
    check_verdict ("NEW", "dark-minutes=30 dark-with=" LIKE " looked=good-one", RETURN_ELSEWHERE);
    check_verdict ("NEW", "dark-minutes=30 found=processor-dead dark-with=" LIKE, RETURN_CONFLICT);
    check_verdict ("UNKNOWN", "found=processor-dead", RETURN_NOT_READ);
}

static void
test_block (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "NEW", "dark-minutes=30 looked=contacts");
    const ReturnBlock *block = block_at (&diagnosed, 0);
    /* By hand: dead 0.12 beside lead 0.08, module 0.32, board 0.08. */
    assert_close (block->probability, 0.12 / 0.60);
    assert_true (list_has (block->tried, "30 minutes"));
    assert_true (list_has (block->rules_out, "look contacts: nothing found: a bent contact and dirt on the contacts"));
    assert_true (list_has (block->rules_out, "left on and dark for 30 minutes: it still trains memory"));
    assert_int_equal (block->rules_out->len, 2);
    assert_true (list_has (block->left, "another stint-8 a0 in cpu1"));
    assert_true (list_has (block->left, "the look module (4 minutes): a loose module"));
    assert_false (list_has (block->left, "contacts"));
    assert_int_equal (block->left->len, 4); /* the like part, leads, module, good-one */
}

/* What rules nothing out is not listed; releases are named. */
static void
test_what_is_ruled_out (void **state)
{
    g_auto (Diagnosed) nothing = { NULL };
    g_auto (Diagnosed) releases = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&nothing, "NEW", "fans=still post-code=0x15 dark-minutes=4");
    assert_int_equal (block->rules_out->len, 0); /* the code excludes a rule that is not broken */
    assert_int_equal (block->tried->len, 3);
    block = block_of (&releases, "UNKNOWN", "event=0F/02 started-with=cpu1=dunlin-4");
    assert_int_equal (block->rules_out->len, 2);
    assert_true (g_str_has_suffix (block->rules_out->pdata[0], ": system 1.0"));
    assert_true (g_str_has_suffix (block->rules_out->pdata[1], "a damaged board; system 3.0"));
}

/* Chances follow swaps. By hand: of dead 0.12, bent 0.072, dirty 0.168 once a like part started; nothing of the part once
 * one stayed dark. */
static void
test_chance_after_a_swap (void **state)
{
    g_auto (Diagnosed) started = { NULL };
    g_auto (Diagnosed) looked = { NULL };
    g_auto (Diagnosed) dark = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&started, "NEW", "dark-minutes=30 started-with=" LIKE);
    assert_close (block->probability, 0.12 / 0.36);
    assert_string_equal (block->says, "Points to the part, or to how it sat: a like part starts in cpu1, with all else "
                                      "the same.");
    block = block_of (&looked, "NEW", "dark-minutes=30 looked=contacts started-with=" LIKE);
    assert_close (block->probability, 1);
    assert_string_equal (block->says, "Points to the part: a like part starts in cpu1, with all else the same.");
    block = block_of (&dark, "NEW", "dark-minutes=30 dark-with=" LIKE);
    assert_close (block->probability, 0);
}

static void
test_shown_faulty (void **state)
{
    g_auto (Diagnosed) one = { NULL };
    g_auto (Diagnosed) board = { NULL };

    (void) state;
    const ReturnBlock *block = block_of (&one, "NEW", "found=processor-dead");
    assert_string_equal (block->says, "Shown faulty by a look: a dead processor.");
    assert_close (block->probability, 1);
    block = block_of (&board, "NEW", ALL_LOOKS " looked=good-one");
    assert_int_equal (block->verdict, RETURN_OTHER_CAUSE);
    assert_true (g_str_has_suffix (block->says, "No look is left to make, which leaves: a damaged board."));
    assert_true (list_has (block->left, "which leaves: a damaged board"));
}

/* Of a supply the files of this bench name no fault. */
static void
test_kind_without_faults (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    const ReturnBlock *block = block_of_slot (&diagnosed, "NEW", "dark-minutes=30", 3);
    assert_int_equal (block->verdict, RETURN_CHECKS_LEFT);
    assert_true (strstr (block->says, "The files name no fault of supplies") != NULL);
    assert_true (strchr (block->says, '%') == NULL);
}

static void
test_not_known (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "OLD", "");
    const ReturnBlock *block = block_at (&diagnosed, 0);
    assert_string_equal (
        block->says,
        "Not shown faulty: this board has never run firmware that knows it, as far as its present releases "
        "say. system 1.0 does not state that it starts stint a0; the first release that states that it does is 2.0.");
    assert_close (block->probability, 0);
    assert_true (list_has (block->left, "under firmware that states that it starts it"));
}

/* Only what tells cases apart is to be read: of EARLIER, whose controller is not known either, system. */
static void
test_what_to_read (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "EARLIER", "");
    const ReturnBlock *block = block_at (&diagnosed, 0);
    assert_int_equal (block->verdict, RETURN_NOT_READ);
    assert_true (g_str_has_suffix (block->says, "Read the release of system first."));
    assert_true (list_has (block->left, "reading the release of system"));
}

/* Both sockets are looked at unless one is named; parts that are not fitted yet are not sent back. */
static void
test_suspects (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "ODD", "");
    assert_int_equal (diagnosed.diagnosis->returns->len, 2);
    assert_int_equal (block_at (&diagnosed, 1)->slot, 1);
    diagnosis_free (diagnosed.diagnosis);
    diagnosed.question.suspect = 2;
    diagnosed.diagnosis = diagnosis_find (&diagnosed.question);
    assert_int_equal (diagnosed.diagnosis->returns->len, 1);
    assert_int_equal (block_at (&diagnosed, 0)->slot, 2);
    diagnosis_free (diagnosed.diagnosis);
    diagnosed.question.asked_only = TRUE;
    diagnosed.diagnosis = diagnosis_find (&diagnosed.question);
    assert_int_equal (diagnosed.diagnosis->returns->len, 0);
    assert_null (diagnosed.diagnosis->physical);
}

/* ---- Ways out ---- */

/* Walks a way from the unit in each of its cases, to what it was asked with. */
static void
check_way (const Diagnosed *diagnosed, const WayOut *way)
{
    const Want *want = way->want != NULL ? way->want : diagnosed->question.want;
    g_autoptr (GPtrArray) cases = unit_cases (diagnosed->diagnosis->unit, 64);

    assert_non_null (cases);
    for (guint i = 0; i < cases->len; i++) {
        g_autoptr (State) start = state_from_unit (diagnosed->diagnosis->unit, cases->pdata[i]);
        g_autoptr (Walk) walk =
            check_walk (diagnosed->library, diagnosed->question.shop, want, start, way->answer->steps);

        if (!walk->sound)
            fail_msg ("%s", walk->why);
        assert_true (state_starts (diagnosed->library, diagnosed->question.shop, walk->last));
    }
}

static void
story_set_up (Diagnosed *diagnosed, const char *story)
{
    g_autofree char *path = g_strconcat ("data/larkfield/units/", story, ".yaml", NULL);
    const char *paths[] = { "rules", "data/larkfield/book", "data/larkfield/shop.yaml", path, NULL };

    *diagnosed = (Diagnosed){ .options = { .no_ways_back = TRUE } };
    diagnosed_load (diagnosed, paths, NULL, NULL);
    diagnosed->diagnosis = diagnosis_find (&diagnosed->question);
}

static gboolean
borrows (const GArray *steps, const char *part)
{
    for (guint i = 0; i < steps->len; i++) {
        const Step *step = &g_array_index (steps, Step, i);

        if (step->kind == STEP_FIT && step->owner == OWNER_LOAN && g_str_equal (step->part->name, part))
            return TRUE;
    }
    return FALSE;
}

/* A good newer part on a board with old firmware is not shown faulty, and the way out is the borrowed older part
 * (common practice, no source). The five steps: by hand, in the story's own file. */
static void
test_newer_part_on_old_firmware (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    story_set_up (&diagnosed, "01-dark-needs-a-loaner");
    const Diagnosis *diagnosis = diagnosed.diagnosis;
    assert_int_equal (diagnosis->starts, NONE_STARTS); /* 1.4.0 states that it never starts elvane */
    assert_null (diagnosis->physical);
    assert_null (diagnosis->none);
    assert_int_equal (block_at (&diagnosed, 0)->verdict, RETURN_NO_FIRMWARE);
    const WayOut *way = diagnosis->ways->pdata[0];
    assert_int_equal (way->kind, WAY_WANTED);
    assert_int_equal (way->answer->claim, CLAIM_PROVED_SHORTEST);
    assert_int_equal (way->answer->steps->len, 5);
    assert_true (borrows (way->answer->steps, "dorvan-4c"));
}

/* Every way of the first stories leads from the unit to what was asked; none is there twice; the cheapest first. */
static void
test_ways_of_stories (void **state)
{
    static const char *const stories[] = { "01-dark-needs-a-loaner",    "04-controller-writes-it",
                                           "07-unknown-one-route",      "12-already-fine",
                                           "23-copied-from-the-spare",  "27-sink-for-another-frame",
                                           "34-start-after-each-write", "38-redundancy-not-to-be-had" };
    guint ways = 0, wanted = 0;

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (stories); i++) {
        g_auto (Diagnosed) diagnosed = { NULL };
        const WayOut *last = NULL;

        story_set_up (&diagnosed, stories[i]);
        for (guint w = 0; w < diagnosed.diagnosis->ways->len; w++) {
            const WayOut *way = diagnosed.diagnosis->ways->pdata[w];

            if (way->answer->claim == CLAIM_BRANCHES)
                continue;
            check_way (&diagnosed, way);
            assert_true (last == NULL || walks_compare (OBJECTIVE_STEPS, last->answer->walk, way->answer->walk) <= 0);
            last = way;
            ways++;
            wanted += way->kind == WAY_WANTED;
        }
        if (diagnosed.diagnosis->starts == ALL_START)
            assert_int_equal (diagnosed.diagnosis->ways->len, 0);
    }
    assert_true (ways > 5 && wanted > 3);
}

/* By hand. OLD: with what the bench has stint-8 starts once a loaner has written 2.0 (out, in, write, out, in); nothing
 * else starts here, since no loaner may stay. BARE starts. ODD: two models, one too many; cpu2 has nothing else in
 * stock to hold, so that with the same processors there is no way, and the other way out is to leave cpu2 empty. */
static void
test_ways_by_hand (void **state)
{
    g_auto (Diagnosed) old = { NULL };
    g_auto (Diagnosed) odd = { NULL };
    g_auto (Diagnosed) bare = { NULL };

    (void) state;
    diagnosed_set_up (&old, "OLD", "");
    assert_int_equal (old.diagnosis->ways->len, 1);
    const WayOut *same = old.diagnosis->ways->pdata[0];
    assert_int_equal (same->kind, WAY_SAME_PROCESSORS);
    assert_int_equal (same->answer->steps->len, 5);
    check_way (&old, same);
    diagnosed_set_up (&odd, "ODD", "");
    assert_int_equal (odd.diagnosis->ways->len, 1);
    const WayOut *other = odd.diagnosis->ways->pdata[0];
    assert_int_equal (other->kind, WAY_OTHER_PARTS);
    assert_int_equal (other->answer->steps->len, 1);
    check_way (&odd, other);
    assert_non_null (odd.diagnosis->none);
    assert_non_null (odd.diagnosis->none_want);
    assert_int_equal (odd.diagnosis->none->kind, NONE_NEVER);
    diagnosed_set_up (&bare, "BARE", "");
    assert_int_equal (bare.diagnosis->ways->len, 0);
    assert_null (bare.diagnosis->none);
}

/* What would be with a part that is not in yet: the order begins without it. By hand: the loaner in, 2.0 written, the
 * loaner out, the part in. */
static void
test_ways_of_a_part_not_in_yet (void **state)
{
    g_auto (Diagnosed) diagnosed = { NULL };

    (void) state;
    diagnosed_set_up (&diagnosed, "OLD", "");
    diagnosis_free (diagnosed.diagnosis);
    diagnosed.question.asked_only = TRUE;
    diagnosed.question.before = diagnosed_unit (diagnosed.library, "EMPTY");
    diagnosed.diagnosis = diagnosis_find (&diagnosed.question);
    const Diagnosis *diagnosis = diagnosed.diagnosis;
    assert_int_equal (diagnosis->starts, NONE_KNOWN);
    assert_int_equal (diagnosis->ways->len, 1);
    const WayOut *way = diagnosis->ways->pdata[0];
    assert_int_equal (way->kind, WAY_SAME_PROCESSORS);
    assert_int_equal (way->answer->steps->len, 4);
    const Step *first = &g_array_index (way->answer->steps, Step, 0), *last = first + 3;
    assert_true (first->kind == STEP_FIT && first->owner == OWNER_LOAN);
    assert_true (last->kind == STEP_FIT && last->owner == OWNER_STOCK);
    assert_string_equal (last->part->name, "stint-8");
    g_autoptr (State) start = state_from_unit (diagnosis->before, NULL);
    g_autoptr (Walk) walk =
        check_walk (diagnosed.library, diagnosis->before_shop, way->want, start, way->answer->steps);
    assert_true (walk->sound);
    assert_true (diagnosed.question.shop->lots->len + 1 == diagnosis->before_shop->lots->len);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_each_verdict),
        cmocka_unit_test (test_order_of_verdicts),
        cmocka_unit_test (test_block),
        cmocka_unit_test (test_what_is_ruled_out),
        cmocka_unit_test (test_chance_after_a_swap),
        cmocka_unit_test (test_shown_faulty),
        cmocka_unit_test (test_kind_without_faults),
        cmocka_unit_test (test_not_known),
        cmocka_unit_test (test_what_to_read),
        cmocka_unit_test (test_suspects),
        cmocka_unit_test (test_newer_part_on_old_firmware),
        cmocka_unit_test (test_ways_of_stories),
        cmocka_unit_test (test_ways_by_hand),
        cmocka_unit_test (test_ways_of_a_part_not_in_yet),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
