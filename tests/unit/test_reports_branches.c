/* SPDX-License-Identifier: MIT */
/* Plans with branches as sheet, page, picture and JSON, from plans made by hand for Larkfield's unit 08. */
#include "branches_report_fixture.h"

#include "json_schema.h"
#include "reports/branches_plan.h"

#include <string.h>
#include <unistd.h>

#include <glib/gstdio.h>

typedef struct {
    Library *library;
    RouteAnswer *answer;
    RouteReport report;
} Planned;

static void
planned_clear (Planned *planned)
{
    fixture_branches_free (planned->answer);
    library_free (planned->library);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Planned, planned_clear)

static void
take_plan (Planned *planned, Branch *plan)
{
    planned->answer = fixture_branches (planned->library, plan);
    planned->report = (RouteReport){ .library = planned->library,
                                     .shop = fixture_shop (planned->library),
                                     .unit = fixture_unit (planned->library),
                                     .want = fixture_want (planned->library),
                                     .answer = planned->answer };
}

static void
plan_that_tries (Planned *planned)
{
    planned->library = fixture_library_08 ();
    take_plan (planned, fixture_plan (planned->library));
}

static void
plan_that_gives_up (Planned *planned)
{
    planned->library = fixture_library_08 ();
    take_plan (planned, fixture_plan_that_gives_up (planned->library));
}

static void
plan_that_reads (Planned *planned)
{
    Component *system = NULL;

    planned->library = fixture_library_08 ();
    system = (Component *) board_component (fixture_unit (planned->library)->board, 0);
    system->page = (ReadPage){ .there = TRUE, .minutes = 3 };
    take_plan (planned, fixture_plan_that_reads (planned->library));
}

/* Runs of blanks and line ends become one blank, so that wrapping plays no part. Transfer full. */
static char *
squeeze (const char *text)
{
    g_auto (GStrv) words = g_strsplit_set (text, " \n", -1);
    g_autoptr (GStrvBuilder) kept = g_strv_builder_new ();
    g_auto (GStrv) all = NULL;

    for (char **word = words; *word != NULL; word++)
        if (**word != '\0')
            g_strv_builder_add (kept, *word);
    all = g_strv_builder_end (kept);
    return g_strjoinv (" ", all);
}

static char *
sheet_of (const Planned *planned)
{
    g_autofree char *text = report_route_text (&planned->report, FALSE);

    return squeeze (text);
}

static void
assert_says (const char *text, const char *words)
{
    if (strstr (text, words) == NULL)
        fail_msg ("not said: %s", words);
}

static void
assert_silent (const char *text, const char *words)
{
    if (strstr (text, words) != NULL)
        fail_msg ("said: %s", words);
}

static guint
times_in (const char *text, const char *words)
{
    guint times = 0;

    for (const char *at = strstr (text, words); at != NULL; at = strstr (at + 1, words))
        times++;
    return times;
}

/* ---- The sheet ---- */

/* Steps by hand: oldest 1 + 4, middle 1 + 3, recent and newest 1 + 2; on average (2x5 + 2x4 + 5x3) / 9 = 3.67. */
static void
test_top_says_what_kind_of_plan (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_tries (&planned);
    g_autofree char *text = sheet_of (&planned);
    assert_says (text, "A plan with branches: the release of system is not known");
    assert_says (text, "No one order of steps serves every release that the unit may have.");
    assert_says (text, "Worst case: 5 steps, proved least in the worst case: no plan has fewer in its worst case.");
    assert_says (text, "on average 3.7 steps and");
    assert_says (text, "each release that it may have taken as equally likely");
    assert_silent (text, "No way for");
    planned.answer->branches->claim = CLAIM_BEST_FOUND;
    planned.answer->branches->lower_bound = 4;
    planned.answer->branches->single_steps = 7;
    g_autofree char *best = sheet_of (&planned);
    assert_says (
        best, "Worst case: 5 steps, best found, not proved least in the worst case: any plan has at least 4 steps in "
              "its worst case; gap: 1 step.");
    assert_says (best, "There is one order of steps that serves every release without a reading too; it has 7.");
}

static void
test_start_that_is_tried (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_tries (&planned);
    g_autofree char *text = sheet_of (&planned);
    assert_says (text, "A the beginning: 1 step; then try a start");
    assert_says (text, "B after A, where it starts and shows system 1.0.0 or 1.2.0: 4 steps; done");
    assert_says (text,
                 "Start it now and wait up to 8 minutes; only then count it as dark."); /* dunnock-1s, dark-after: 8 */
    assert_says (text, "it starts and shows system 1.4.0 or 2.0.0: go on with part C");
    assert_says (text, "it stays dark: go on with part E");
    assert_says (text, "==== Part E: after part A, it stays dark ====");
    assert_says (text, "Dark for another reason?");
    assert_says (text, "`rungwise explain` says what to look at");
    assert_silent (text, "It should start with every release");
}

static void
test_steps_have_letters (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_tries (&planned);
    g_autofree char *text = sheet_of (&planned);
    assert_says (text, "A1. Fit in cpu1: dorvan-4c (stepping a1), from the loan shelf");
    assert_says (text, "lent so that the unit starts for step B1");
    assert_says (text, "B1. Write system 1.4.0 over what is there, from the running host");
    assert_says (text, "because system 2.1.0 (step B2) can't be written over 1.0.0");
    assert_says (text, "B2. Write system 2.1.0 over 1.4.0");
    assert_says (text, "B3-B4. Exchange in cpu1: take out dorvan-4c");
    assert_says (text, "unit starts: before no, after depends on the release");
    assert_says (text, "settings set again (step B2 cleared them)");
    assert_silent (text, "not needed");
}

/* It was started for the reading, and runs: no second start before the write; one at the end of each of the four ways. */
static void
test_no_start_between_reading_and_write (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_tries (&planned);
    g_autofree char *text = sheet_of (&planned);
    assert_int_equal (times_in (text, "Start the unit ("), 4);
    assert_int_equal (times_in (text, "At the end the unit starts"), 4);
    assert_int_equal (times_in (text, "[manual-first]"), 1);
    assert_int_equal (times_in (text, "Before you blame a part"), 1);
}

static void
test_given_up (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_gives_up (&planned);
    g_autofree char *text = sheet_of (&planned);
    assert_says (
        text, "No way for system 1.0.0, 1.2.0, 1.4.0 or 2.0.0: no order of steps leads from there to what is wanted");
    assert_says (text, "Every step of this plan is safe there too, and the sheet says where to stop.");
    assert_says (text, "C after A, where it stays dark: no step; no way on");
    assert_says (text, "No way on: no order of steps leads from here to what is wanted. Stop here.");
    assert_says (text, "No step is needed: the unit starts as it stands, and it is what is wanted.");
    assert_says (text, "Switch it off, and set the unit aside as it is; nothing lent is in it.");
    assert_silent (text, "what is lent goes back");
    assert_int_equal (outcome_of_answer (planned.answer), OUTCOME_READ_FIRST);
}

static void
test_page_is_read_first (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_reads (&planned);
    g_autofree char *text = sheet_of (&planned);
    assert_says (text, "A the beginning: no step; then read the release of system");
    assert_says (text, "Mains in, host off: read the release of system on the controller's page (3 minutes)");
    assert_says (text, "the page shows system 1.0.0 or 1.2.0: go on with part B");
    assert_says (text, "Nothing is done before the reading: put what was read into the unit's file and plan again.");
    assert_silent (text, "stays dark: go on");
    assert_silent (text, "and runs now");
}

/* A step that no later step needs, but the start that is tried does. */
static void
test_step_for_the_reading_alone (void **state)
{
    g_auto (Planned) planned = { 0 };
    Branch *plan = NULL, *dark = NULL;
    const Unit *unit = NULL;

    (void) state;
    planned.library = fixture_library_08 ();
    unit = fixture_unit (planned.library);
    plan = fixture_branch (unit, (const char *const[]){ EVERY, NULL }, THEN_TRY);
    fixture_fit (plan, planned.library, "dorvan-4c", OWNER_LOAN);
    fixture_finish (fixture_next (plan, unit, (const char *const[]){ RECENT, NULL }, THEN_END), planned.library);
    fixture_next (plan, unit, (const char *const[]){ OLDEST, MIDDLE, NULL }, THEN_GIVE_UP);
    dark = fixture_next (plan, unit, (const char *const[]){ NEWEST, NULL }, THEN_GIVE_UP);
    dark->dark = TRUE;
    take_plan (&planned, plan);
    g_autofree char *text = sheet_of (&planned);
    assert_says (text, "why: so that the start tried at the end of part A tells the releases apart");
    assert_says (text, "Then what is lent goes back: switch the unit off and isolate it. Take dorvan-4c (stepping a1) out of cpu1, and give it "
                       "back to where it was fetched. Cover the socket, close the unit, and set it aside as it is.");
    assert_says (text, "set it aside as it is. Caution [isolate]: Shut down. Unplug EVERY supply."); /* an opening: rules/cautions.yaml */
}

/* ---- Page and picture ---- */

static void
count_element (GMarkupParseContext *context, const char *element, const char **names, const char **values,
               gpointer data, GError **error)
{
    (void) context, (void) element, (void) names, (void) values, (void) error;
    ++*(guint *) data;
}

/* Well-formed as XML. */
static void
assert_parses (const char *markup)
{
    static const GMarkupParser parser = { .start_element = count_element };
    const char *root = strstr (markup, "<html");
    guint elements = 0;
    g_autoptr (GMarkupParseContext) context =
        g_markup_parse_context_new (&parser, G_MARKUP_DEFAULT_FLAGS, &elements, NULL);
    g_autoptr (GError) error = NULL;

    if (!g_markup_parse_context_parse (context, root != NULL ? root : markup, -1, &error) ||
        !g_markup_parse_context_end_parse (context, &error))
        fail_msg ("%s", error->message);
    assert_true (elements > 50);
}

static void
test_page (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_tries (&planned);
    g_autofree char *html = report_route_html (&planned.report);
    assert_parses (html);
    assert_says (html, "<h2>Part A: the beginning</h2>");
    assert_int_equal (times_in (html, "<section class=\"part\">"), 4); /* B to E; A stays below the top */
    assert_says (html, "<td>it stays dark</td><td><b class=\"strong\">part E</b></td>");
    assert_says (html, "<td>step A1</td><td>still in when this part ends</td>");
    assert_says (html, "back after step B3");
}

static void
test_picture (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_tries (&planned);
    g_autofree char *svg = report_route_svg (&planned.report);
    assert_parses (svg);
    assert_says (svg, ">B3-B4</text>");
    assert_says (svg, ">Where it stays dark: part E.</text>");
    assert_says (svg, ">dark after part A</text>");
}

/* ---- JSON ---- */

static json_t *
json_of (const Planned *planned)
{
    g_autofree char *text = report_route_json (&planned->report);
    json_t *document = json_loads (text, JSON_REJECT_DUPLICATES, NULL);

    assert_non_null (document);
    return document;
}

static void
test_json_fits_schema (void **state)
{
    void (*const plans[]) (Planned *) = { plan_that_tries, plan_that_gives_up, plan_that_reads };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (plans); i++) {
        g_auto (Planned) planned = { 0 };

        plans[i](&planned);
        g_autofree char *text = report_route_json (&planned.report);
        assert_fits_schema ("printed-route.schema.json", text);
    }
}

static void
test_json_tells_the_tree (void **state)
{
    g_auto (Planned) planned = { 0 };
    json_t *document = NULL;
    const char *claim = NULL, *then = NULL, *part = NULL, *release = NULL, *label = NULL;
    int worst = 0, dark = 0;
    json_t *next = NULL;

    (void) state;
    plan_that_tries (&planned);
    document = json_of (&planned);
    assert_int_equal (json_unpack (document, "{s:s, s:{s:i, s:{s:s, s:o}}}", "claim", &claim, "branches",
                                   "least-in-worst-case", &worst, "plan", "then", &then, "next", &next),
                      0);
    assert_string_equal (claim, "branches");
    assert_string_equal (then, "try");
    assert_int_equal (worst, 5);
    assert_int_equal (json_array_size (next), 4);
    assert_int_equal (json_unpack (json_array_get (next, 3), "{s:s, s:b, s:[{s:s}], s:[{s:s}]}", "part", &part, "dark",
                                   &dark, "came-in-with", "system", &release, "steps", "label", &label),
                      0);
    assert_string_equal (part, "E");
    assert_true (dark);
    assert_string_equal (release, "3.0.0");
    assert_string_equal (label, "E1");
    json_decref (document);
}

/* The document is a written route of the common beginning. */
static void
test_json_reads_back (void **state)
{
    g_auto (Planned) planned = { 0 };
    g_autofree char *path = NULL;
    const WrittenRoute *route = NULL;
    int file = g_file_open_tmp ("branches-XXXXXX.yaml", &path, NULL);

    (void) state;
    assert_true (file >= 0);
    close (file);
    plan_that_tries (&planned);
    g_autofree char *text = report_route_json (&planned.report);
    assert_true (g_file_set_contents (path, text, -1, NULL));
    g_autoptr (Library) again = fixture_load ((const char *const[]){ RULES, BOOK, SHOP, UNIT_08, path, NULL });
    assert_int_equal (again->routes->len, 1);
    route = again->routes->pdata[0];
    assert_int_equal (route->steps->len, 1);
    assert_string_equal (g_array_index (route->steps, Step, 0).part->name, "dorvan-4c");
    g_unlink (path);
}

/* ---- Going on from a record ---- */

/* Steps of the part that a case comes to. */
static guint
steps_of_case (const Branch *plan, guint release)
{
    for (guint i = 0; i < plan->next->len; i++) {
        const Branch *next = plan->next->pdata[i];

        for (guint c = 0; c < next->cases->len; c++)
            if (((const guint *) next->cases->pdata[c])[0] == release)
                return next->steps->len;
    }
    fail_msg ("no branch has the release");
    return 0;
}

/* Part A done, and what was read said with it, as the sheet asks: the route from there takes what the part says. */
static void
test_record_goes_on_as_the_part_says (void **state)
{
    static const char *const read[] = { EVERY };
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_tries (&planned);
    const Unit *unit = planned.report.unit;
    const Branch *plan = planned.answer->branches->plan;
    const WrittenRoute beginning = { .name = "A", .board = unit->board, .steps = plan->steps };
    for (guint i = 0; i < G_N_ELEMENTS (read); i++) {
        g_autofree UnitRelease *firmware = g_new0 (UnitRelease, unit->board->components->len);
        g_autofree gboolean *may_be = g_new0 (gboolean, board_component (unit->board, 0)->releases->len);
        guint release = fixture_release (unit, read[i]);
        g_autoptr (GPtrArray) entries = g_ptr_array_new ();
        g_autoptr (Complaints) complaints = complaints_new ();
        RecordEntry entry = { .number = 1, .outcome = ENTRY_DONE, .firmware = firmware };
        const Record record = { .unit = unit->id, .board = unit->board, .entries = entries };

        may_be[release] = TRUE;
        firmware[0] = (UnitRelease){ .may_be = may_be, .count = 1, .floor = -1 };
        g_ptr_array_add (entries, &entry);
        g_autoptr (Resumed) resumed = resume_from_record (planned.report.shop, unit, &beginning, &record, complaints);
        assert_non_null (resumed);
        const RouteOptions options = { .no_ways_back = TRUE };
        g_autoptr (RouteAnswer) rest =
            route_find (planned.library, resumed->shop, resumed->unit, planned.report.want, &options);
        assert_int_equal (rest->claim, CLAIM_PROVED_SHORTEST);
        assert_int_equal (rest->steps->len, steps_of_case (plan, release));
    }
}

/* ---- Outcomes ---- */

static void
test_outcomes (void **state)
{
    g_auto (Planned) planned = { 0 };

    (void) state;
    plan_that_tries (&planned);
    assert_int_equal (outcome_of_answer (planned.answer), OUTCOME_ANSWERED);
    planned.answer->branches->claim = CLAIM_BEST_FOUND;
    assert_int_equal (outcome_of_answer (planned.answer), OUTCOME_BEST_FOUND);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_top_says_what_kind_of_plan),
        cmocka_unit_test (test_start_that_is_tried),
        cmocka_unit_test (test_steps_have_letters),
        cmocka_unit_test (test_no_start_between_reading_and_write),
        cmocka_unit_test (test_given_up),
        cmocka_unit_test (test_page_is_read_first),
        cmocka_unit_test (test_step_for_the_reading_alone),
        cmocka_unit_test (test_page),
        cmocka_unit_test (test_picture),
        cmocka_unit_test (test_json_fits_schema),
        cmocka_unit_test (test_json_tells_the_tree),
        cmocka_unit_test (test_json_reads_back),
        cmocka_unit_test (test_record_goes_on_as_the_part_says),
        cmocka_unit_test (test_outcomes),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
