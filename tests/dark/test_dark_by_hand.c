/* SPDX-License-Identifier: MIT */
/* Dark units of which the whole answer was worked out by hand (by-hand.yaml says how), and the limits of the lists.
 *
 * source: worked out by hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "load_text.h"

#include "explain/dark.h"

/* ---- An answer as text ---- */

static void
facts_in_text (GString *out, const DarkCase *one, const GArray *facts)
{
    for (guint i = 0; i < facts->len; i++)
        g_string_append_printf (out, "%s%s", i > 0 ? "; " : "",
                                ((const DarkFact *) one->facts->pdata[g_array_index (facts, guint, i)])->says);
}

/* "facts | rules"; a rule that is broken as things stand has a star. */
static void
set_in_text (GString *out, const DarkCase *one, const DarkSet *set)
{
    g_string_append (out, set->stated ? "stated: " : "not stated: ");
    facts_in_text (out, one, set->facts);
    g_string_append (out, " |");
    for (guint i = 0; i < set->rules->len; i++) {
        const DarkRule *rule = set->rules->pdata[i];

        g_string_append_printf (out, " %s%s", rule->id, rule->broken != NULL ? "*" : "");
    }
    g_string_append_c (out, '\n');
}

static char *
answer_in_text (const DarkAnswer *answer)
{
    static const char *const verdicts[] = {
        [STARTS_YES] = "starts", [STARTS_NO] = "does not start", [STARTS_NOT_KNOWN] = "not known to start"
    };
    GString *out = g_string_new (NULL);

    for (guint i = 0; i < answer->cases->len; i++) {
        const DarkCase *one = answer->cases->pdata[i];

        g_string_append_printf (out, "%" G_GUINT64_FORMAT " %s\n", one->members, verdicts[one->starts]);
        for (guint s = 0; s < one->sets->len; s++)
            set_in_text (out, one, one->sets->pdata[s]);
        for (guint s = 0; s < one->corrections->len; s++) {
            g_string_append (out, "change: ");
            facts_in_text (out, one, one->corrections->pdata[s]);
            g_string_append_c (out, '\n');
        }
    }
    return g_string_free (out, FALSE);
}

/* ---- By hand ---- */

static int
set_up (void **library)
{
    const char *const paths[] = { "rules",
                                  "data/larkfield/book",
                                  "data/larkfield/shop.yaml",
                                  "data/larkfield/units/01-dark-needs-a-loaner.yaml",
                                  "data/larkfield/units/11-mismatched-pair.yaml",
                                  "tests/dark/by-hand.yaml",
                                  NULL };

    *library = load_with_text (paths, NULL);
    return 0;
}

static int
tear_down (void **library)
{
    library_free (*library);
    return 0;
}

static void
assert_answer (void **state, const char *id, const char *expected)
{
    const Library *library = *state;
    g_autoptr (DarkAnswer) answer = dark_find (library, library->shops->pdata[0], unit_named (library, id), 0);
    g_autofree char *text = answer_in_text (answer);

    for (guint i = 0; i < answer->cases->len; i++)
        assert_true (((const DarkCase *) answer->cases->pdata[i])->complete);
    assert_string_equal (text, expected);
}

static void
test_example (void **state)
{
    assert_answer (state, "D-EXAMPLE",
                   "1 does not start\n"
                   "stated: cpu1 holds elvane-14 b1; sink1 holds sink-130 | sink-covers-watts*\n"
                   "not stated: cpu1 holds elvane-14 b1; system is at 1.0.2 | firmware-knows-processor*\n"
                   "stated: cpu1 holds elvane-14 b1; the board is revision r1 | part-takes-board*\n"
                   "stated: cpu2 holds elvane-14 b1; sink1 holds sink-130 | sink-covers-watts* first-socket-first "
                   "processors-alike\n"
                   "not stated: cpu2 holds elvane-14 b1; system is at 1.0.2 | firmware-knows-processor*\n"
                   "stated: cpu2 holds elvane-14 b1; the board is revision r1 | part-takes-board*\n"
                   "change: cpu1 holds elvane-14 b1; cpu2 holds elvane-14 b1\n"
                   "change: sink1 holds sink-130; system is at 1.0.2; the board is revision r1\n");
}

/* The firmware's own words on why: unit files 01 and 11. LK-0401's system 1.4.0 states a no for elvane. */
static void
test_stories (void **state)
{
    assert_answer (state, "LK-0401",
                   "1 does not start\n"
                   "stated: cpu1 holds elvane-8c b1; system is at 1.4.0 | firmware-knows-processor*\n"
                   "change: cpu1 holds elvane-8c b1\n"
                   "change: system is at 1.4.0\n");
    assert_answer (state, "LK-0411",
                   "1 does not start\n"
                   "stated: cpu1 holds elvane-14 b1; cpu2 holds dorvan-8 a1 | processors-alike*\n"
                   "not stated: cpu1 holds elvane-14 b1; system is at 1.0.2 | firmware-knows-processor*\n"
                   "change: cpu1 holds elvane-14 b1\n"
                   "change: cpu2 holds dorvan-8 a1; system is at 1.0.2\n");
}

static void
test_memory (void **state)
{
    assert_answer (state, "D-MEMORY",
                   "1 does not start\n"
                   "stated: cpu2 is empty; dimm-a1 is empty; dimm-a2 is empty; dimm-a3 is empty; dimm-a4 is empty | "
                   "memory-fitted*\n"
                   "stated: sink2 is empty; dimm-a1 is empty; dimm-a2 is empty; dimm-a3 is empty; dimm-a4 is empty | "
                   "memory-fitted* sink-covers-watts\n"
                   "change: dimm-a1 is empty\n"
                   "change: dimm-a2 is empty\n"
                   "change: dimm-a3 is empty\n"
                   "change: dimm-a4 is empty\n"
                   "change: cpu2 is empty; sink2 is empty\n");
}

static void
test_unknown (void **state)
{
    assert_answer (
        state, "D-UNKNOWN",
        "3 not known to start\n"
        "not stated: cpu1 holds elvane-8c b1; system is at 1.0.0, 1.2.0 or 2.0.0 | firmware-knows-processor*\n"
        "change: cpu1 holds elvane-8c b1\n"
        "change: system is at 1.0.0, 1.2.0 or 2.0.0\n"
        "1 does not start\n"
        "stated: cpu1 holds elvane-8c b1; system is at 1.4.0 | firmware-knows-processor*\n"
        "change: cpu1 holds elvane-8c b1\n"
        "change: system is at 1.4.0\n"
        "4 starts\n"
        "1 does not start\n"
        "stated: system is at 2.2.0; controller is at 1.4 | while-running*\n"
        "change: system is at 2.2.0\n"
        "change: controller is at 1.4\n");
}

static void
test_failed (void **state)
{
    assert_answer (state, "D-FAILED",
                   "1 does not start\n"
                   "stated: the last write of system failed |\n"
                   "stated: cpu1 holds elvane-14 b1; the board is revision r1 | part-takes-board*\n"
                   "change: cpu1 holds elvane-14 b1; the last write of system failed\n"
                   "change: the last write of system failed; the board is revision r1\n");
}

static void
test_supply (void **state)
{
    assert_answer (state, "D-SUPPLY",
                   "1 does not start\n"
                   "stated: supply2 is empty; the shop asks for redundant supplies | supplies-cover-watts*\n"
                   "change: supply2 is empty\n"
                   "change: the shop asks for redundant supplies\n");
}

/* ---- Where a rule is said to be broken ---- */

/* Two rules are broken twice each; of each set the place that speaks of its own facts is shown. */
static void
test_places (void **state)
{
    const Library *library = *state;
    g_autoptr (DarkAnswer) answer = dark_find (library, library->shops->pdata[0], unit_named (library, "D-EXAMPLE"), 0);
    const DarkCase *one = answer->cases->pdata[0];
    const DarkSet *second = one->sets->pdata[1], *fifth = one->sets->pdata[4];
    const DarkRule *of_cpu1 = second->rules->pdata[0], *of_cpu2 = fifth->rules->pdata[0];

    assert_string_equal (((const Fact *) of_cpu1->broken->facts->pdata[0])->text,
                         "cpu1 holds elvane-14 (generation elvane, stepping b1)");
    assert_string_equal (((const Fact *) of_cpu2->broken->facts->pdata[0])->text,
                         "cpu2 holds elvane-14 (generation elvane, stepping b1)");
    assert_string_equal (of_cpu1->source.text, "common practice, no source");
    const DarkFact *cpu1 = one->facts->pdata[0];
    assert_true (g_str_has_suffix (cpu1->at.file, "by-hand.yaml"));
    assert_int_equal (cpu1->at.line, 12);
}

/* ---- Limits ---- */

/* Each release of three components knows one generation more than the one before, so each is a class of its own. */
static char *
many_cases (guint n_releases)
{
    GString *out = g_string_new ("book: many cases\ngenerations:\n");

    for (guint g = 0; g < n_releases; g++)
        g_string_append_printf (out, "  - {generation: gen%u, steppings: [a0]}\n", g);
    g_string_append (out,
                     "boards:\n  - board: linnet\n    revisions: [r1]\n    slots: [{slot: cpu1, takes: processor}]\n"
                     "    components: [one, two, three]\nfirmware:\n");
    for (guint c = 0; c < 3; c++) {
        g_string_append_printf (out,
                                "  - component: %s\n    for: linnet\n    versions: dotted\n"
                                "    methods: {host: {minutes: 5, verify: at-once}}\n    releases:\n",
                                c == 0   ? "one"
                                : c == 1 ? "two"
                                         : "three");
        for (guint r = 0; r < n_releases; r++) {
            g_string_append_printf (out, "      - {release: \"%u.0\", starts: [gen0", r + 1);
            for (guint g = 1; g <= r; g++)
                g_string_append_printf (out, ", gen%u", g);
            g_string_append (out, "]}\n");
        }
    }
    g_string_append (out, "parts:\n");
    for (guint g = 0; g < n_releases; g++)
        g_string_append_printf (out, "  - {processor: part%u, generation: gen%u, stepping: a0}\n", g, g);
    g_string_append_printf (
        out,
        "---\nrules:\n  - {rule: knows-it, says: \"It is known.\", source: \"made up\", breaking: stops,"
        " knows: processor}\n---\nunit: D-MANY\nboard: linnet\nrevision: r1\nfirmware: {one: unknown,"
        " two: unknown, three: unknown}\nfitted: {cpu1: part%u}\n",
        n_releases - 1);
    return g_string_free (out, FALSE);
}

static DarkAnswer *
ask_text (const char *text, const char *id, Library **library, guint most_sets)
{
    static const char *const no_paths[] = { NULL };
    g_autoptr (Shop) shop = shop_new_default ();

    *library = load_with_text (no_paths, text);
    return dark_find (*library, shop, unit_named (*library, id), most_sets);
}

/* 6 x 6 x 6 classes are 216 cases. All three newest start; otherwise each that is older is a reason with cpu1. So they merge
 * to which of the three are older: 2 x 2 x 2, those with 5, 25 and 125 members in their places. 7 x 7 x 7 are too many. */
static void
test_many_cases (void **state G_GNUC_UNUSED)
{
    g_autoptr (Library) few_library = NULL, many_library = NULL;
    g_autofree char *few = many_cases (6), *many = many_cases (7);
    g_autoptr (DarkAnswer) answer = ask_text (few, "D-MANY", &few_library, 0);
    g_autoptr (DarkAnswer) too_many = ask_text (many, "D-MANY", &many_library, 0);
    const guint64 members[] = { 125, 25, 25, 5, 25, 5, 5, 1 };

    assert_int_equal (answer->combinations, 216);
    assert_int_equal (answer->cases->len, 8);
    for (guint i = 0; i < 8; i++)
        assert_int_equal (((const DarkCase *) answer->cases->pdata[i])->members, members[i]);
    const DarkCase *oldest = answer->cases->pdata[0];
    assert_string_equal (((const DarkFact *) oldest->facts->pdata[1])->says, "one is at one of 1.0 .. 5.0");
    assert_int_equal (too_many->combinations, 343);
    assert_int_equal (too_many->cases->len, 0);
}

/* A board in which each of twelve slots keeps the unit dark by itself. */
static void
test_most_sets (void **state G_GNUC_UNUSED)
{
    g_autoptr (Library) library = NULL, other = NULL;
    GString *text = g_string_new ("book: many sets\nboards:\n  - board: linnet\n    revisions: [r1]\n    slots:\n");

    for (guint i = 1; i <= 12; i++)
        g_string_append_printf (text, "      - {slot: fan%u, takes: fan, mounting: wide}\n", i);
    g_string_append (
        text, "    components: []\nparts:\n  - {fan: fan-slim, mounting: slim}\n---\nrules:\n  - {rule: fan-fits,"
              " says: \"A fan fits.\", source: \"made up\", breaking: stops, same: mounting, of: fan, with: slot}"
              "\n---\nunit: D-SETS\nboard: linnet\nrevision: r1\nfirmware: {}\nfitted:\n");
    for (guint i = 1; i <= 12; i++)
        g_string_append_printf (text, "  fan%u: fan-slim\n", i);
    g_autofree char *yaml = g_string_free (text, FALSE);
    g_autoptr (DarkAnswer) all = ask_text (yaml, "D-SETS", &library, 0), some = ask_text (yaml, "D-SETS", &other, 5);
    const DarkCase *whole = all->cases->pdata[0], *part = some->cases->pdata[0];

    assert_true (whole->complete);
    assert_int_equal (whole->sets->len, 12);
    assert_int_equal (whole->corrections->len, 1);
    assert_false (part->complete);
    assert_int_equal (part->sets->len, 5);
}

/* A rule of thirteen alternatives of two each is 2 to the 13 clauses: nothing is said rather than something wrong. */
static void
test_too_large (void **state G_GNUC_UNUSED)
{
    g_autoptr (Library) library = NULL;
    GString *text = g_string_new ("book: large\nboards:\n  - board: linnet\n    revisions: [r1]\n    slots:\n");

    for (guint i = 1; i <= 26; i++)
        g_string_append_printf (text, "      - {slot: fan%u, takes: fan}\n", i);
    g_string_append (
        text, "    components: []\nparts:\n  - {fan: fan-slim}\n---\nrules:\n  - rule: large\n    says: \"Large.\"\n"
              "    source: \"made up\"\n    breaking: stops\n    requires: \"");
    for (guint i = 1; i <= 25; i += 2)
        g_string_append_printf (text, "%s(fan%u and fan%u)", i > 1 ? " or " : "", i, i + 1);
    g_string_append (text,
                     "\"\n---\nunit: D-LARGE\nboard: linnet\nrevision: r1\nfirmware: {}\nfitted: {fan1: fan-slim}\n");
    g_autofree char *yaml = g_string_free (text, FALSE);
    g_autoptr (DarkAnswer) answer = ask_text (yaml, "D-LARGE", &library, 0);
    const DarkCase *one = answer->cases->pdata[0];

    assert_int_equal (answer->cases->len, 1);
    assert_int_equal (one->starts, STARTS_NO);
    assert_int_equal (one->sets->len, 0);
    assert_false (one->complete);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_example),   cmocka_unit_test (test_stories),    cmocka_unit_test (test_memory),
        cmocka_unit_test (test_unknown),   cmocka_unit_test (test_failed),     cmocka_unit_test (test_supply),
        cmocka_unit_test (test_places),    cmocka_unit_test (test_many_cases), cmocka_unit_test (test_most_sets),
        cmocka_unit_test (test_too_large),
    };

    return cmocka_run_group_tests (tests, set_up, tear_down);
}
