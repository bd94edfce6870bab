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

#include <string.h>
#include <unistd.h>

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

/* ---- What more was seen of them ---- */

typedef struct {
    Library *library;     /* owned */
    Diagnosis *diagnosis; /* owned */
} Told;

static void
told_clear (Told *told)
{
    diagnosis_free (told->diagnosis);
    library_free (told->library);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Told, told_clear)

/* `items` with blanks between them, beside what the file says was seen. */
static void
tell (Told *told, const char *path, const char *items)
{
    const char *paths[] = { "rules", "data/larkfield/book", "data/larkfield/shop.yaml", path, NULL };
    g_auto (GStrv) seen = g_strsplit (items, " ", 10);
    g_autoptr (Complaints) complaints = complaints_new ();

    told->library = library_load_seen (paths, NULL, (const char *const *) seen, complaints);
    assert_int_equal (complaints_count (complaints), 0);
    const DiagnosisQuestion question = {
        .library = told->library,
        .shop = told->library->shops->pdata[0],
        .unit = told->library->units->pdata[0],
        .seen = told->library->seens->pdata[0],
        .suspect = -1,
    };
    told->diagnosis = diagnosis_find (&question);
}

/* The causes that are left, in the order of rules/looks.yaml. Transfer full. */
static char *
causes_left (const Told *told)
{
    GString *ids = g_string_new (NULL);

    assert_non_null (told->diagnosis->physical);
    for (guint i = 0; i < told->diagnosis->physical->causes->len; i++) {
        const CauseWeight *weight = told->diagnosis->physical->causes->pdata[i];

        if (weight->probability > 0)
            g_string_append_printf (ids, "%s%s", ids->len > 0 ? " " : "", weight->cause->id);
    }
    return g_string_free (ids, FALSE);
}

#define NO_RULE FOLDER "/02-no-rule-broken.yaml"
#define UNKNOWN FOLDER "/01-release-not-known.yaml"

/* A start with another part clears what stayed as it was: leads, memory, supplies, the board. A start with a good one that
 * stays dark clears the part. 12 minutes had ruled training out before. Common practice, no source. */
static void
test_what_swaps_leave (void **state)
{
    static const struct {
        const char *seen, *left;
    } swaps[] = {
        /* the contacts were looked at */
        { "started-with=cpu1=elvane-8c", "sink-pressure processor-dead" },
        { "started-with=cpu1=dorvan-4c", "sink-pressure processor-dead" },
        { "dark-with=cpu1=elvane-8c",
          "supply-lead-loose supply-not-seated module-not-seated sink-pressure module-dead supply-dead board-damaged" },
        { "started-with=dimm-a1=mem-mk4-8", "module-not-seated module-dead" },
        { "started-with=supply1=supply-400", "supply-not-seated supply-dead" },
    };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (swaps); i++) {
        g_auto (Told) told = { NULL };

        tell (&told, NO_RULE, swaps[i].seen);
        g_autofree char *left = causes_left (&told);
        assert_string_equal (left, swaps[i].left);
        assert_int_equal (told.diagnosis->evidence->conflicts->len, 0);
    }
}

/* As 02, and nothing seen but these. */
static void
tell_seen_alone (Told *told, const char *items)
{
    g_autofree char *text = NULL;
    g_autofree char *path = g_strdup_printf ("%s/seen-alone-%d.yaml", g_get_tmp_dir (), (int) getpid ());

    assert_true (g_file_get_contents (NO_RULE, &text, NULL, NULL));
    char *seen = strstr (text, "\n---\nseen:");
    assert_non_null (seen);
    assert_true (g_file_set_contents (path, text, seen + 1 - text, NULL));
    tell (told, path, items);
    assert_int_equal (unlink (path), 0);
}

/* The start of an older processor says nothing of how long the new one trains memory at its first: it is too early. */
static void
test_a_start_clears_no_training (void **state)
{
    (void) state;
    g_auto (Told) told = { NULL };

    tell_seen_alone (&told, "dark-minutes=2 started-with=cpu1=dorvan-4c");
    g_autofree char *left = causes_left (&told);
    assert_string_equal (left, "still-training sink-pressure contact-bent contact-dirty processor-dead");
    assert_true (told.diagnosis->evidence->too_early);
    assert_int_equal (((const ReturnBlock *) told.diagnosis->returns->pdata[0])->verdict, RETURN_TOO_EARLY);
}

/* No light and still fans: the power side alone, before any work on sockets, whatever the firmware is. That does not show
 * which release it has: a rule may be broken beside. */
static void
test_no_power_comes_first (void **state)
{
    static const struct {
        const char *path;
        DiagnosisStarts starts;
    } units[] = { { NO_RULE, ALL_START },
                  { UNKNOWN, SOME_START },
                  { "data/larkfield/units/01-dark-needs-a-loaner.yaml", NONE_STARTS } };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (units); i++) {
        g_auto (Told) told = { NULL };

        tell (&told, units[i].path, "power-light=off fans=still");
        g_autofree char *left = causes_left (&told);
        assert_string_equal (left, "supply-lead-loose supply-not-seated supply-dead board-damaged");
        assert_int_equal (told.diagnosis->starts, units[i].starts);
        assert_true (told.diagnosis->evidence->physical_first);
        assert_int_equal (told.diagnosis->evidence->conflicts->len, 0);
    }
}

/* What cannot be: a host that had handed over to an operating system, on a unit that is dark; with the light off too. */
static void
test_what_does_not_go_together (void **state)
{
    static const char *const seen[] = { "event=0F/02/13", "fans=still power-light=off event=0F/02/13",
                                        "started-with=cpu1=dorvan-4c dark-with=cpu1=dorvan-4c" };

    (void) state;
    for (guint i = 0; i < G_N_ELEMENTS (seen); i++) {
        g_auto (Told) told = { NULL };

        tell (&told, NO_RULE, seen[i]);
        assert_int_equal (told.diagnosis->evidence->conflicts->len, 1);
        assert_int_equal (told.diagnosis->evidence->against_book, i < 2);
        assert_int_equal (((const ReturnBlock *) told.diagnosis->returns->pdata[0])->verdict, RETURN_CONFLICT);
    }
}

/* Still on after 2 minutes: the wait comes first, of the 6 minutes that are left of this board's 8. */
static void
test_waiting_comes_before_unplugging (void **state)
{
    (void) state;
    g_auto (Told) told = { NULL };

    tell_seen_alone (&told, "dark-minutes=2");
    const CheckDue *first = &g_array_index (told.diagnosis->physical->checks, CheckDue, 0);
    assert_string_equal (first->look->id, "wait-for-training");
    assert_true (first->minutes == 6);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_every_dark_unit_ends_as_worked_by_hand),
        cmocka_unit_test (test_chances_of_a_unit_without_a_broken_rule),
        cmocka_unit_test (test_what_swaps_leave),
        cmocka_unit_test (test_a_start_clears_no_training),
        cmocka_unit_test (test_no_power_comes_first),
        cmocka_unit_test (test_what_does_not_go_together),
        cmocka_unit_test (test_waiting_comes_before_unplugging),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
