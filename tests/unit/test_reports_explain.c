/* SPDX-License-Identifier: MIT */
/* An explanation as text, page and JSON, of a diagnosis that was made by hand.
 *
 * source: the wording is this program's own; what each report has to hold, docs/explain-json.md and docs/commands.md. */
#include "explain_fixture.h"

#include "json_schema.h"

#include "reports/paper.h"

/* Fails unless the texts stand in `text` in this order. */
static void
assert_in_order (const char *text, const char *const *wanted, guint count)
{
    const char *at = text;

    for (guint i = 0; i < count; i++) {
        const char *found = strstr (at, wanted[i]);

        if (found == NULL)
            fail_msg ("\"%s\" is not there, or not in its place, in\n%s", wanted[i], text);
        at = found + 1;
    }
}

/* Runs of blanks and line ends become one blank, so that wrapping plays no part. Transfer full. */
static char *
squeezed (const char *text)
{
    g_auto (GStrv) words = g_strsplit_set (text, " \n", -1);
    GString *out = g_string_new (NULL);

    for (char **word = words; *word != NULL; word++)
        if (**word != '\0')
            g_string_append_printf (out, "%s%s", out->len > 0 ? " " : "", *word);
    return g_string_free (out, FALSE);
}

static guint
widest_line (const char *text)
{
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
    guint widest = 0;

    for (char **line = lines; *line != NULL; line++)
        widest = MAX (widest, (guint) g_utf8_strlen (*line, -1));
    return widest;
}

/* ---- Text ---- */

static void
test_text_goes_from_verdict_to_return (void **state)
{
    (void) state;
    static const char *const wanted[] = {
        "Unit RP-03, board dunnock-1s, revision r1: cpu1 elvane-8c (stepping b1)",
        "firmware: system 1.4.0 or 2.1.0, controller 1.4 and logic k2",
        "What was seen cannot all be right.",
        "It depends on the release of system,",
        "What was seen",
        SIGN_SAYS " (source: common practice, no source)",
        ": It is not training memory.",
        ": nothing in the files says what that means",
        "Cannot all be right:",
        "Why",
        "With system 1.4.0",
        "it can't start.",
        "This is enough to keep it dark:",
        "1. cpu1 holds elvane-8c b1 (bench.yaml:7) and system is at 1.4.0 (bench.yaml:7)",
        "[firmware-knows-processor] Firmware that states which processors it starts",
        "system 1.4.0 states that it never starts elvane b1 (data/larkfield/book/firmware-dunnock-1s.yaml:31)",
        "With all else as it is, it starts once one of these is changed to what suits: - something else in cpu1 - "
        "another "
        "release of system",
        "With system 2.1.0",
        "no rule is broken.",
        "What tells which it is, the quickest first 1. Read system on the controller's page. (2 minutes; settles it)",
        "2. Start it with a part that starts with either. (21 minutes; may settle it) 1. take the part out of cpu1",
        "Ways out, the cheapest first 1. what is wanted (cpu1 = elvane-8c): 5 steps, 2 insertions of processors,",
        "the best found, not proved",
        "rungwise plan data/larkfield/book data/larkfield/shop.yaml --want cpu1=elvane-8c",
        "2. to a start with whatever parts it takes, by what is read on the way: 5 steps and 58 minutes at most,",
        "2.5 steps on average - try a start if it stays dark: 1. take the part out of cpu1",
        "if it starts (it came with system 2.1.0): - done: the unit starts",
        "If no rule turns out to be broken: what to check, in this order",
        "1. leads (2 minutes, finds it in 30 % of such cases): Look at the leads. It would be a loose lead.",
        "2. pads (8 minutes, finds it in 50 % of such cases)",
        "3. what-is-left (0 minutes, finds it in 10 % of such cases)",
        "after 9.4 minutes on average; with the likeliest first, after 9.8 minutes.",
        "In 10 % of such cases none of these checks finds it: it would be a damaged board.",
        "Ruled out: a dead fan, by what was seen",
        "with 6 units of this shop's own counted in",
        "For the return form",
        "Part: elvane-8c, stepping b1, in cpu1 Unit: RP-03, board dunnock-1s, revision r1",
        "Finding: Not shown faulty: with one of the releases",
        "by shop experience and what was seen: 12 %",
        "Tried and seen: - left on, dark, for 15 minutes - the fans turn",
        "What that rules out: - memory training",
        "Not tried yet: - leads - pads",
    };
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    g_autofree char *text = report_explain_text (&fixture->report, FALSE);
    g_autofree char *flat = squeezed (text);

    assert_in_order (flat, wanted, G_N_ELEMENTS (wanted));
    assert_true (widest_line (text) <= PAPER_WIDTH);
}

static void
test_colour_adds_nothing_but_escapes (void **state)
{
    (void) state;
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    g_autofree char *plain = report_explain_text (&fixture->report, FALSE);
    g_autofree char *coloured = report_explain_text (&fixture->report, TRUE);
    g_autoptr (GRegex) escape = g_regex_new ("\033\\[[0-9]*m", 0, 0, NULL);
    g_autofree char *stripped = g_regex_replace_literal (escape, coloured, -1, 0, "", 0, NULL);

    assert_null (strchr (plain, '\033'));
    assert_non_null (strchr (coloured, '\033'));
    assert_string_equal (stripped, plain);
    /* What is pasted into a form holds no escapes on a terminal with colour either. */
    assert_null (strchr (strstr (coloured, "Part: elvane-8c"), '\033'));
}

static void
test_return_text_is_narrow_on_any_terminal (void **state)
{
    (void) state;
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    g_autofree char *wide = report_explain_text (&fixture->report, FALSE);
    paper_set_width (PAPER_NARROWEST);
    g_autofree char *narrow = report_explain_text (&fixture->report, FALSE);
    paper_set_width (PAPER_WIDTH);

    assert_string_equal (strstr (wide, "Part: elvane-8c"), strstr (narrow, "Part: elvane-8c"));
    assert_in_range (widest_line (strstr (wide, "Part: elvane-8c")), 61, 72);
}

static void
test_verdicts (void **state)
{
    (void) state;
    static const struct {
        DiagnosisStarts starts;
        Outcome outcome;
        const char *says;
    } verdicts[] = {
        { ALL_START, OUTCOME_ANSWERED, "No rule is broken: by the book it starts. So the cause is physical," },
        { NONE_STARTS, OUTCOME_DOES_NOT_START, "It can't start like this, whatever state its parts are in" },
        { NONE_KNOWN, OUTCOME_NOT_KNOWN, "It is not known to start like this" },
        { SOME_START, OUTCOME_SOME_START, "It depends on the release of system" },
        { TOO_MANY_CASES, OUTCOME_READ_FIRST, "too many combinations of releases" },
    };
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    Evidence *evidence = fixture->diagnosis->evidence;

    assert_int_equal (explain_outcome (fixture->diagnosis), OUTCOME_EVIDENCE_CONFLICTS);
    ((Conflict *) evidence->conflicts->pdata[0])->with_files = evidence->against_book = TRUE;
    g_autofree char *against = report_explain_text (&fixture->report, FALSE);
    g_autofree char *flat_against = squeezed (against);
    assert_non_null (
        strstr (flat_against, "What was seen does not fit the files: the unit's file, the book, or what was"));
    assert_non_null (strstr (flat_against, "Do not fit the files:"));
    g_ptr_array_set_size (evidence->conflicts, 0);
    for (guint i = 0; i < G_N_ELEMENTS (verdicts); i++) {
        fixture->diagnosis->starts = verdicts[i].starts;
        g_autofree char *text = report_explain_text (&fixture->report, FALSE);
        g_autofree char *flat = squeezed (text);

        assert_int_equal (explain_outcome (fixture->diagnosis), verdicts[i].outcome);
        if (strstr (flat, verdicts[i].says) == NULL)
            fail_msg ("\"%s\" is not in\n%s", verdicts[i].says, text);
        assert_null (strstr (flat, "all be right"));
    }
}

static void
test_too_early_and_nothing_seen_are_said (void **state)
{
    (void) state;
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    Evidence *evidence = fixture->diagnosis->evidence;

    evidence->too_early = TRUE;
    fixture->report.seen = NULL;
    g_ptr_array_set_size (evidence->conflicts, 0);
    g_ptr_array_remove_index (evidence->given, 1); /* that says how long it was left on */
    g_autofree char *text = report_explain_text (&fixture->report, FALSE);
    g_autofree char *flat = squeezed (text);
    /* dunnock-1s states dark-after: 8 (data/larkfield/book/boards.yaml). */
    assert_non_null (strstr (flat, "Too early to say: a first start may stay dark for 8 minutes"));
    assert_non_null (strstr (flat, "Nothing was stated; what follows takes it that it stays dark."));

    /* Nobody has said that it is dark. */
    fixture->diagnosis->starts = ALL_START;
    g_autofree char *starts = report_explain_text (&fixture->report, FALSE);
    g_autofree char *flat_starts = squeezed (starts);
    assert_non_null (
        strstr (flat_starts, "by the book it starts. If it stays dark all the same, the cause is physical,"));

    static const char *const asked[] = { "cpu1=elvane-8c", NULL };
    fixture->report.asked = asked;
    g_autofree char *before = report_explain_text (&fixture->report, FALSE);
    assert_non_null (strstr (before, "asked before it is fitted: cpu1=elvane-8c"));
    assert_null (strstr (before, "Too early to say"));
    assert_null (strstr (before, "What was seen\n"));
}

static void
test_chances_in_words (void **state)
{
    (void) state;
    static const struct {
        double probability;
        const char *says;
    } chances[] = { { 0.006, "this part, should no rule be broken, by shop experience and what was seen: under 1 %" },
                    { 0.01, "seen: 1 %" },
                    { 0.125, "seen: 12 %" },
                    { 0.994, "seen: over 99 %" },
                    { 1, "seen: 100 %" } };
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();

    for (guint i = 0; i < G_N_ELEMENTS (chances); i++) {
        ((ReturnBlock *) fixture->diagnosis->returns->pdata[0])->probability = chances[i].probability;
        g_autofree char *text = report_explain_text (&fixture->report, FALSE);
        g_autofree char *flat = squeezed (text);

        assert_non_null (strstr (flat, chances[i].says));
    }
    fixture->diagnosis->starts = ALL_START; /* then there is no condition */
    g_autofree char *without = report_explain_text (&fixture->report, FALSE);
    assert_non_null (strstr (without, "Chance that it is this part, by shop experience and what was seen:"));
    ((ReturnBlock *) fixture->diagnosis->returns->pdata[0])->probability =
        0.004; /* a rule explains it all, or nearly */
    g_autofree char *text = report_explain_text (&fixture->report, FALSE);
    assert_null (strstr (text, "Chance that it is this part"));
}

/* ---- Page ---- */

static void
collect_text (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
    (void) context;
    (void) error;
    g_string_append_len (data, text, (gssize) length);
    g_string_append_c (data, ' ');
}

/* Every text of the document; fails where it is not well-formed. Transfer full. */
static char *
text_of_page (const char *page)
{
    static const GMarkupParser parser = { .text = collect_text };
    g_autoptr (GString) all = g_string_new (NULL);
    g_autoptr (GError) error = NULL;
    g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, 0, all, NULL);

    if (!g_markup_parse_context_parse (context, page, -1, &error) ||
        !g_markup_parse_context_end_parse (context, &error))
        fail_msg ("not well-formed: %s", error->message);
    return squeezed (all->str);
}

static guint
times_in (const char *text, const char *piece)
{
    guint count = 0;

    for (const char *at = strstr (text, piece); at != NULL; at = strstr (at + 1, piece))
        count++;
    return count;
}

static void
test_page_says_the_same_and_has_boxes (void **state)
{
    (void) state;
    static const char *const wanted[] = {
        "Why it stays dark, RP-03",
        "It depends on the release of system",
        SIGN_SAYS,
        "This is enough to keep it dark:",
        "What tells which it is",
        "Ways out, the cheapest first",
        "what to check, in this order",
        "found, initials",
        "Look at the leads.",
        "8 50 %",
        "after 9.4 minutes",
        "For the return form",
        "Finding: Not shown faulty",
    };
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    g_autofree char *page = report_explain_html (&fixture->report);
    g_autofree char *text = text_of_page (page);

    assert_in_order (text, wanted, G_N_ELEMENTS (wanted));
    assert_int_equal (times_in (page, "<span class=\"box\">"), 3); /* a box for each check */
    assert_null (strstr (page, "http"));
    assert_null (strstr (page, "<freely>"));
    assert_true (g_utf8_validate (page, -1, NULL));
}

static void
test_hostile_texts_stay_texts (void **state)
{
    (void) state;
    static const char hostile[] = "<script>x</script> & \x1b[2J ]]>";
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    ReturnBlock *block = fixture->diagnosis->returns->pdata[0];

    fixture->looks[0].says = hostile;
    g_free (block->says);
    block->says = g_strdup (hostile);
    g_autofree char *page = report_explain_html (&fixture->report);
    g_autofree char *seen = text_of_page (page);
    g_autofree char *text = report_explain_text (&fixture->report, FALSE);
    g_autofree char *json = report_explain_json (&fixture->report);

    assert_null (strstr (page, "<script"));
    assert_int_equal (times_in (seen, "<script>x</script> & ?[2J ]]>"), 2); /* the look, and the return */
    assert_null (strchr (text, '\033'));
    assert_null (strchr (json, '\033'));
}

/* ---- JSON ---- */

static void
test_json_fits_schema (void **state)
{
    (void) state;
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    g_autofree char *full = report_explain_json (&fixture->report);
    g_autofree char *again = report_explain_json (&fixture->report);

    assert_fits_schema ("printed-explain.schema.json", full);
    assert_string_equal (full, again);
    for (int verdict = RETURN_NO_FIRMWARE; verdict <= RETURN_STARTS; verdict++) {
        ((ReturnBlock *) fixture->diagnosis->returns->pdata[0])->verdict = (ReturnVerdict) verdict;
        g_autofree char *text = report_explain_json (&fixture->report);
        assert_fits_schema ("printed-explain.schema.json", text);
    }
}

static void
test_json_holds_the_numbers (void **state)
{
    (void) state;
    g_autoptr (ExplainFixture) fixture = explain_fixture_new ();
    g_autofree char *text = report_explain_json (&fixture->report);
    json_t *document = json_loads (text, 0, NULL);
    const char *starts = NULL, *held = NULL, *tail = NULL;
    int outcome = 0, conflicting = 0, worst = 0, steps = 0, ruled_out_by = -1;
    double probability = 0, expected = 0;

    assert_non_null (document);
    assert_int_equal (json_unpack (document, "{s:i, s:{s:[{s:[ii]}]}}", "outcome", &outcome, "seen", "conflicts",
                                   "given", &steps, &conflicting),
                      0);
    assert_int_equal (outcome, 25);
    assert_int_equal (conflicting, 1);
    assert_int_equal (json_unpack (document, "{s:[{s:s, s:[{s:[{s:s}]}]}]}", "cases", "starts", &starts, "enough",
                                   "facts", "says", &held),
                      0);
    assert_string_equal (starts, "no");
    assert_string_equal (held, "cpu1 holds elvane-8c b1");
    json_t *second = json_array_get (json_object_get (document, "ways"), 1);
    assert_int_equal (
        json_unpack (second, "{s:{s:i}, s:{s:s}}", "at-most", "worst-steps", &worst, "plan", "then", &tail), 0);
    assert_int_equal (worst, 5);
    assert_string_equal (tail, "try");
    json_t *physical = json_object_get (document, "physical");
    json_t *fan = json_array_get (json_object_get (physical, "causes"), 3);
    assert_int_equal (json_unpack (fan, "{s:i}", "ruled-out-by", &ruled_out_by), 0);
    assert_int_equal (ruled_out_by, 0);
    assert_int_equal (json_unpack (physical, "{s:[{s:F}], s:F}", "checks", "probability", &probability,
                                   "expected-minutes", &expected),
                      0);
    assert_true (probability == 0.3 && expected == 9.4);
    json_decref (document);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_text_goes_from_verdict_to_return),
        cmocka_unit_test (test_colour_adds_nothing_but_escapes),
        cmocka_unit_test (test_return_text_is_narrow_on_any_terminal),
        cmocka_unit_test (test_verdicts),
        cmocka_unit_test (test_too_early_and_nothing_seen_are_said),
        cmocka_unit_test (test_chances_in_words),
        cmocka_unit_test (test_page_says_the_same_and_has_boxes),
        cmocka_unit_test (test_hostile_texts_stay_texts),
        cmocka_unit_test (test_json_fits_schema),
        cmocka_unit_test (test_json_holds_the_numbers),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
