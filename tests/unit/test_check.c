/* SPDX-License-Identifier: MIT */
/* check_state() on the states of data/check-states.yaml, each of which says itself what it breaks; then what no file
 * can hold: facts, cases, recovery, copies. */
#include "check_fixture.h"

#include <string.h>

static GPtrArray *
broken_of_unit (const Library *library, const Shop *shop, const char *id)
{
    g_autoptr (State) state = state_from_unit (fixture_unit (library, id), NULL);

    return check_state (library, shop, state);
}

/* "no: sink knows", as the notes have it. */
static char *
broken_in_words (const GPtrArray *broken)
{
    static const char *const verdicts[] = { "yes:", "no:", "not known:" };
    g_autoptr (GString) words = g_string_new (verdicts[broken_verdict (broken)]);

    for (guint i = 0; i < broken->len; i++)
        g_string_append_printf (words, " %s", ((const Broken *) broken->pdata[i])->rule);
    return g_string_free (g_steal_pointer (&words), FALSE);
}

static void
every_state_breaks_what_its_note_says (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    g_autoptr (Shop) shop = shop_new_default ();
    guint n_wrong = 0;

    assert_true (library->units->len >= 50);
    for (guint i = 0; i < library->units->len; i++) {
        const Unit *unit = library->units->pdata[i];
        g_autoptr (GPtrArray) broken = broken_of_unit (library, shop, unit->id);
        g_autofree char *words = broken_in_words (broken);

        if (g_strcmp0 (words, unit->note) != 0) {
            print_error ("%s: expected \"%s\", found \"%s\"\n", unit->id, unit->note, words);
            n_wrong++;
        }
    }
    assert_int_equal (n_wrong, 0);
}

/* No rule form is left out of the states above: each rule of the book is broken by one of them. */
static void
every_rule_is_broken_somewhere (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    g_autoptr (Shop) shop = shop_new_default ();
    g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

    for (guint i = 0; i < library->units->len; i++) {
        const Unit *unit = library->units->pdata[i];
        g_autoptr (GPtrArray) broken = broken_of_unit (library, shop, unit->id);

        for (guint j = 0; j < broken->len; j++)
            g_hash_table_add (seen, (gpointer) ((const Broken *) broken->pdata[j])->rule);
    }
    for (guint i = 0; i < library->rules->len; i++)
        assert_true (g_hash_table_contains (seen, ((const Rule *) library->rules->pdata[i])->id));
    assert_true (g_hash_table_contains (seen, "while-running"));
    assert_true (g_hash_table_contains (seen, "failed-write"));
}

/* The facts of the first broken rule, one a line, without their places. */
static char *
facts_of (const GPtrArray *broken)
{
    g_autoptr (GString) text = g_string_new (NULL);

    assert_true (broken->len > 0);
    const Broken *first = broken->pdata[0];
    for (guint i = 0; i < first->facts->len; i++) {
        const Fact *fact = first->facts->pdata[i];

        assert_non_null (fact->at.file);
        assert_true (fact->at.line > 0);
        g_string_append_printf (text, "%s\n", fact->text);
    }
    return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
facts_name_slots_values_and_releases (void **fixture)
{
    (void) fixture;
    static const struct {
        const char *unit, *facts;
    } table[] = {
        { "support-not-stated", "cpu1 holds elvane-14 (generation elvane, stepping b0)\n"
                                "system 1.0 states support for dorvan only\n" },
        { "support-not-stated-twice", "cpu1 holds elvane-14 (generation elvane, stepping b0)\n"
                                      "system 1.1 states support for nothing\n" },
        { "support-stated-no", "cpu1 holds elvane-14 (generation elvane, stepping c0)\n"
                               "system 2.0 states that it never starts elvane c0\n" },
        { "sink-missing", "sink1 is empty\n"
                          "cpu1 holds dorvan-8 (generation dorvan, stepping a0, watts 80)\n" },
        { "sink-too-small", "sink1 holds low-sink (rating 80)\n"
                            "cpu1 holds elvane-14 (generation elvane, stepping b0, watts 120)\n" },
        { "socket-differs", "cpu1 holds wide-1 (generation dorvan, stepping a1, socket Q10)\n"
                            "cpu1 takes socket Q9\n" },
        { "memory-no-shared-value", "cpu1 holds elvane-14 (generation elvane, stepping b0, memory-type mk4)\n"
                                    "dimm-a1 holds dimm-mk5 (memory-type mk5)\n" },
        { "memory-dead", "of the 3 memory slots of sparrow-2 none holds a live part\n"
                         "dimm-b1 holds dimm-mk4, but is dead while cpu2 is empty\n"
                         "dimm-b2 holds dimm-mk4, but is dead while cpu2 is empty\n" },
        { "power-none", "the board sparrow-2 states watts 50\n"
                        "cpu1 holds dorvan-8 (generation dorvan, stepping a0, watts 80)\n"
                        "dimm-a1 holds dimm-mk4 (watts 10)\n"
                        "watts adds up to 140, and output to 0\n" },
        { "own-requires", "cpu1 holds elvane-20 (generation elvane, stepping b1)\n"
                          "required here: board sparrow-2 >= r2\n"
                          "the board is sparrow-2 r1\n" },
        { "running-requires", "system is at 3.0\n"
                              "required here: controller >= 2\n"
                              "controller is at 1\n" },
        { "running-conflicts", "system is at 3.0\n"
                               "must not be here: fan-hot\n"
                               "fan1 holds fan-hot\n" },
        { "harms-on-standby-only", "cpu1 holds elvane-14 (generation elvane, stepping b1)\n"
                                   "controller is at 3\n"
                                   "required here: table-format >= 3\n"
                                   "nothing here is or provides table-format\n" },
        { "bound-elsewhere", "cpu1 holds knot-4 (generation knot, stepping a0, bound to whitmoor)\n"
                             "the board linnet-2 binds to alderbank\n" },
        { "lent", "cpu1 holds knot-4 (generation knot, stepping a0)\n"
                  "the knot-4 in cpu1 is lent, binds itself and is bound to nobody yet\n"
                  "the board linnet-2 binds to alderbank\n" },
        { "blank-missing", "blank2 is empty\n"
                           "cpu2 is empty\n" },
        { "blank-under-a-processor", "blank2 holds blank-q9\n"
                                     "cpu2 holds knot-4 (generation knot, stepping a0)\n" },
    };
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    g_autoptr (Shop) shop = shop_new_default ();

    for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
        g_autoptr (GPtrArray) broken = broken_of_unit (library, shop, table[i].unit);
        g_autofree char *facts = facts_of (broken);

        assert_string_equal (facts, table[i].facts);
    }
}

static void
broken_rules_carry_what_the_files_say (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    g_autoptr (Shop) shop = shop_new_default ();
    g_autoptr (GPtrArray) barred = broken_of_unit (library, shop, "barred");
    g_autoptr (GPtrArray) running = broken_of_unit (library, shop, "running-requires");
    g_autoptr (GPtrArray) written = broken_of_unit (library, shop, "failed");
    g_autoptr (GPtrArray) unheld = broken_of_unit (library, shop, "bound-and-board-binds-nobody");
    const Broken *cool = barred->pdata[0], *release = running->pdata[0], *failed = written->pdata[0];
    const Fact *of_board = ((const Broken *) unheld->pdata[1])->facts->pdata[1];

    assert_int_equal (cool->breaking, BREAKING_BARS);
    assert_int_equal (cool->methods, METHOD_BIT (METHOD_HOST));
    assert_string_equal (cool->says, "A hot fan does not go with an elvane.");
    assert_true (g_str_has_suffix (cool->at.file, "check-rules.yaml"));
    assert_int_equal (release->breaking, BREAKING_STOPS);
    assert_string_equal (release->source.text, "release note 3.0");
    assert_int_equal (failed->breaking, BREAKING_STOPS);
    assert_int_equal (failed->sureness, SURE_STATED);
    assert_string_equal (failed->source.text, "common practice, no source");
    assert_true (g_str_has_suffix (failed->at.file, "check-rules.yaml"));
    /* A unit that came so says it in its own file. */
    assert_true (g_str_has_suffix (((const Fact *) failed->facts->pdata[0])->at.file, "check-states.yaml"));
    assert_string_equal (of_board->text, "the board sparrow-2 binds to nobody");
}

/* 50 + 2 x 120 + 3 x 10 = 320 watts; two supplies of 200 give 400, and 200 with one of them lost. */
static void
redundant_supplies_leave_out_the_largest (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-states.yaml");
    g_autoptr (Shop) shop = shop_new_default ();

    shop->redundant_supplies = TRUE;
    g_autoptr (GPtrArray) broken = broken_of_unit (library, shop, "two-all-kept");
    g_autofree char *words = broken_in_words (broken);
    g_autofree char *facts = facts_of (broken);
    assert_string_equal (words, "no: power");
    assert_non_null (strstr (facts, "watts adds up to 320, and output to 200 with the largest lost"));
}

static void
cases_are_every_combination (void **fixture)
{
    (void) fixture;
    /* system 1.0, 2.0, 3.0 are its releases 0, 2, 3; controller 1, 2 are 0, 1. */
    static const guint expected[6][2] = { { 0, 0 }, { 0, 1 }, { 2, 0 }, { 2, 1 }, { 3, 0 }, { 3, 1 } };
    g_autoptr (Library) library = fixture_load ("check-walk.yaml");
    const Unit *unit = library->units->pdata[0];
    g_autoptr (GPtrArray) cases = unit_cases (unit, 6);

    assert_non_null (cases);
    assert_int_equal (cases->len, 6);
    for (guint i = 0; i < cases->len; i++)
        assert_memory_equal (cases->pdata[i], expected[i], sizeof expected[i]);
    assert_null (unit_cases (unit, 5));
}

static void
states_take_floors_from_unit_and_release (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-walk.yaml");
    const Unit *unit = library->units->pdata[0];
    const guint with_2_0[] = { 2, 1 };
    g_autoptr (State) lowest = state_from_unit (unit, NULL);
    g_autoptr (State) later = state_from_unit (unit, with_2_0);
    g_autoptr (State) copy = state_copy (later);

    assert_int_equal (lowest->releases[0], 0);
    assert_int_equal (lowest->releases[1], 0);
    assert_int_equal (lowest->floors[0], -1); /* 1.0 sets none, the unit gives none */
    assert_int_equal (lowest->floors[1], 0);  /* given by the unit */
    assert_int_equal (later->releases[0], 2);
    assert_int_equal (later->floors[0], 1); /* 2.0 sets 1.1 */
    copy->releases[0] = 0;
    copy->held[0].part = NULL;
    assert_int_equal (later->releases[0], 2);
    assert_non_null (later->held[0].part);
    assert_int_equal (later->held[0].owner, OWNER_UNIT);
}

static void
recovery_needs_shop_and_a_controller_that_is_not_the_one_that_failed (void **fixture)
{
    (void) fixture;
    g_autoptr (Library) library = fixture_load ("check-walk.yaml");
    g_autoptr (Shop) shop = shop_new_default ();
    const guint controller_1[] = { 0, 0 }, controller_2[] = { 0, 1 };
    g_autoptr (State) old = state_from_unit (library->units->pdata[0], controller_1);
    g_autoptr (State) new = state_from_unit (library->units->pdata[0], controller_2);

    assert_int_equal (recovery_methods (shop, old, 0), METHOD_BIT (METHOD_CLIP));
    assert_int_equal (recovery_methods (shop, new, 0), METHOD_BIT (METHOD_CLIP) | METHOD_BIT (METHOD_CONTROLLER));
    assert_int_equal (recovery_methods (shop, new, 1), 0); /* its method requires the controller itself */
    shop->methods = METHOD_BIT (METHOD_HOST) | METHOD_BIT (METHOD_CONTROLLER);
    assert_int_equal (recovery_methods (shop, old, 0), 0);
    assert_int_equal (recovery_methods (shop, new, 0), METHOD_BIT (METHOD_CONTROLLER));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (every_state_breaks_what_its_note_says),
        cmocka_unit_test (every_rule_is_broken_somewhere),
        cmocka_unit_test (facts_name_slots_values_and_releases),
        cmocka_unit_test (broken_rules_carry_what_the_files_say),
        cmocka_unit_test (redundant_supplies_leave_out_the_largest),
        cmocka_unit_test (cases_are_every_combination),
        cmocka_unit_test (states_take_floors_from_unit_and_release),
        cmocka_unit_test (recovery_needs_shop_and_a_controller_that_is_not_the_one_that_failed),
    };

    g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
    return cmocka_run_group_tests (tests, NULL, NULL);
}
