/* SPDX-License-Identifier: MIT */
/* The demo shop's dark units against what stands at the head of each file.
 *
 * source: every `# expect:` line of data/larkfield/dark was worked out by hand, above it in the file. It says the exit
 * status, how many cases the rules tell apart, how many smallest sets each has, the steps of the cheapest way out (in the
 * worst case), what settles the soonest which case it is, the first check, and the finding for the first part that may go
 * back. */
#include "json_schema.h"

#include "reports/reports.h"
#include "route/branched.h"

#define FOLDER "data/larkfield/dark"

/* What comes after `# expect: ` in the file. Transfer full. */
static char *
expected_of (const char *path)
{
    g_autofree char *text = NULL;

    assert_true (g_file_get_contents (path, &text, NULL, NULL));
    const char *begin = strstr (text, "\n# expect: ");
    if (begin == NULL)
        fail_msg ("%s: no line begins with \"# expect: \"", path);
    begin += strlen ("\n# expect: ");
    return g_strndup (begin, strcspn (begin, "\n"));
}

static Library *
load (const char *path)
{
    const char *paths[] = { "rules", "data/larkfield/book", "data/larkfield/shop.yaml", path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load (paths, NULL, complaints);
    g_autofree char *said = complaints_to_string (complaints, 10);

    assert_string_equal (said, "");
    return library;
}

/* ---- What was found, as such a line ---- */

static void
append_ways (GString *line, const Diagnosis *diagnosis)
{
    if (diagnosis->ways->len == 0) {
        g_string_append (line, ", way none");
        return;
    }
    const RouteAnswer *answer = ((const WayOut *) diagnosis->ways->pdata[0])->answer;
    g_string_append_printf (line, ", way %u steps",
                            answer->branches != NULL ? answer->branches->check->worst_steps : answer->walk->steps);
}

static void
append_telling (GString *line, const Diagnosis *diagnosis)
{
    static const char *const kinds[] = { "page", "label", "start" };

    if (diagnosis->tellings->len == 0)
        return;
    const Telling *first = diagnosis->tellings->pdata[0];
    assert_true (first->for_certain);
    g_string_append_printf (line, ", tell %s %g minutes", kinds[first->kind], first->minutes);
}

/* The word that JSON has for the finding of the first block. */
static void
append_return (GString *line, const ExplainReport *report)
{
    g_autofree char *text = report_explain_json (report);
    json_t *document = json_loads (text, 0, NULL);
    const char *finding = NULL;

    assert_fits_schema ("printed-explain.schema.json", text);
    assert_int_equal (json_unpack (document, "{s:[{s:s}]}", "returns", "finding", &finding), 0);
    g_string_append_printf (line, ", return %s", finding);
    json_decref (document);
}

static char *
found_of (const ExplainReport *report)
{
    const Diagnosis *diagnosis = report->diagnosis;
    GString *line = g_string_new (NULL);

    g_string_append_printf (line, "outcome %d, cases %u, sets", explain_outcome (diagnosis),
                            diagnosis->dark->cases->len);
    for (guint i = 0; i < diagnosis->dark->cases->len; i++)
        g_string_append_printf (line, " %u", ((const DarkCase *) diagnosis->dark->cases->pdata[i])->sets->len);
    append_ways (line, diagnosis);
    append_telling (line, diagnosis);
    if (diagnosis->physical != NULL && diagnosis->physical->checks->len > 0)
        g_string_append_printf (line, ", check %s", g_array_index (diagnosis->physical->checks, CheckDue, 0).look->id);
    append_return (line, report);
    return g_string_free (line, FALSE);
}

static void
test_every_dark_unit_ends_as_worked_by_hand (void **state)
{
    (void) state;
    g_autoptr (GDir) folder = g_dir_open (FOLDER, 0, NULL);
    guint stories = 0;

    assert_non_null (folder);
    for (const char *name; (name = g_dir_read_name (folder)) != NULL; stories++) {
        g_autofree char *path = g_build_filename (FOLDER, name, NULL);
        g_autofree char *expected = expected_of (path);
        g_autoptr (Library) library = load (path);
        const DiagnosisQuestion question = {
            .library = library,
            .shop = library->shops->pdata[0],
            .unit = library->units->pdata[0],
            .want = library->wants->len == 0 ? NULL : library->wants->pdata[0],
            .seen = library->seens->len == 0 ? NULL : library->seens->pdata[0],
            .suspect = -1,
        };
        g_autoptr (Diagnosis) diagnosis = diagnosis_find (&question);
        const ExplainReport report = { .library = library,
                                       .shop = question.shop,
                                       .unit = question.unit,
                                       .want = question.want,
                                       .seen = question.seen,
                                       .diagnosis = diagnosis };
        g_autofree char *found = found_of (&report);

        if (strcmp (found, expected) != 0)
            print_error ("%s\n", path);
        assert_string_equal (found, expected);
    }
    assert_true (stories >= 6);
}

/* data/larkfield/dark/02 works the weights out: 11.22 of 39.13 for the leads, 4.96 for the processor. */
static void
test_chances_of_a_unit_without_a_broken_rule (void **state)
{
    (void) state;
    g_autoptr (Library) library = load (FOLDER "/02-no-rule-broken.yaml");
    const DiagnosisQuestion question = {
        .library = library,
        .shop = library->shops->pdata[0],
        .unit = library->units->pdata[0],
        .seen = library->seens->pdata[0],
        .suspect = -1,
    };
    g_autoptr (Diagnosis) diagnosis = diagnosis_find (&question);
    const ReturnBlock *block = diagnosis->returns->pdata[0];

    assert_true (ABS (g_array_index (diagnosis->physical->checks, CheckDue, 0).probability - 11.22 / 39.13) < 0.001);
    assert_true (ABS (block->probability - 4.96 / 39.13) < 0.001);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_every_dark_unit_ends_as_worked_by_hand),
        cmocka_unit_test (test_chances_of_a_unit_without_a_broken_rule),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
