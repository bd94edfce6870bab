/* SPDX-License-Identifier: MIT */
/* A plan with branches carried out at the bench: recorded, planned on from, and recorded again to its end.
 *
 * source: docs/files.md, "Record", on Larkfield's unit 08. By hand, from its firmware's file: with system 1.2.0 the plan goes on
 * with 1.4.0, then 2.1.0, then the exchange for the elvane-12c that is wanted. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <glib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/wait.h>

#define SHOP     "data/larkfield/"
#define FILES    SHOP "book", SHOP "shop.yaml", SHOP "units/08-unknown-read-first.yaml"
#define MOST     24
#define A_TITLE  "\"route\": \"LK-0408 to one elvane-12c\""
#define B_TITLE  "\"route\": \"LK-0408 to one elvane-12c, from entry 2 on\""
#define BAD_USE  31
#define BAD_FILE 30

typedef struct {
    char *folder;
    char *plan_a, *plan_b, *record_a, *record_b; /* paths; owned */
    char *said;                                  /* owned; both streams of the last run */
} Bench;

static int
set_up (void **state)
{
    Bench *bench = g_new0 (Bench, 1);

    bench->folder = g_dir_make_tmp ("branches-XXXXXX", NULL);
    bench->plan_a = g_build_filename (bench->folder, "plan-a.json", NULL);
    bench->plan_b = g_build_filename (bench->folder, "plan-b.json", NULL);
    bench->record_a = g_build_filename (bench->folder, "record-a.yaml", NULL);
    bench->record_b = g_build_filename (bench->folder, "record-b.yaml", NULL);
    *state = bench;
    return 0;
}

static int
tear_down (void **state)
{
    Bench *bench = *state;
    char *paths[] = { bench->plan_a, bench->plan_b, bench->record_a, bench->record_b };

    for (guint i = 0; i < G_N_ELEMENTS (paths); i++) {
        g_remove (paths[i]);
        g_free (paths[i]);
    }
    g_rmdir (bench->folder);
    g_free (bench->folder);
    g_free (bench->said);
    g_free (bench);
    return 0;
}

/* Runs the program with these arguments (NULL-terminated) and the shop's files. Returns the exit status. */
static int
run (Bench *bench, const char *const *arguments)
{
    static const char *const files[] = { FILES };
    const char *all[MOST] = { RUNGWISE_BINARY };
    g_autofree char *output = NULL, *complaints = NULL;
    guint count = 1;
    int status = 0;

    for (; *arguments != NULL; arguments++)
        all[count++] = *arguments;
    for (guint i = 0; i < G_N_ELEMENTS (files); i++)
        all[count++] = files[i];
    assert_in_range (count, 0, MOST - 1);
    assert_true (
        g_spawn_sync (NULL, (char **) all, NULL, G_SPAWN_DEFAULT, NULL, NULL, &output, &complaints, &status, NULL));
    g_free (bench->said);
    bench->said = g_strconcat (output, complaints, NULL);
    return WEXITSTATUS (status);
}

#define RUN(bench, ...) run ((bench), (const char *const[]){ __VA_ARGS__, NULL })
#define RECORD(bench, record, step, time, ...)                                                                         \
    RUN (bench, "record", record, "--step", step, "--time", time, "--initials", "mk", __VA_ARGS__)

static void
assert_said (const Bench *bench, const char *text)
{
    g_auto (GStrv) words = g_strsplit_set (bench->said, " \n", -1);
    g_autoptr (GString) flat = g_string_new (NULL);

    for (char **word = words; *word != NULL; word++)
        if (**word != '\0')
            g_string_append_printf (flat, "%s%s", flat->len > 0 ? " " : "", *word);
    if (strstr (flat->str, text) == NULL)
        fail_msg ("\"%s\" was not said, but\n%s", text, flat->str);
}

static void
assert_holds (const char *path, const char *text)
{
    g_autofree char *contents = NULL;

    assert_true (g_file_get_contents (path, &contents, NULL, NULL));
    if (strstr (contents, text) == NULL)
        fail_msg ("%s does not hold \"%s\"", path, text);
}

/* Part A is done: the loaner is in, it started, and shows 1.2.0. */
static void
go_through_part_a (Bench *bench)
{
    assert_int_equal (RUN (bench, "plan", "--json", "--output", bench->plan_a), 0);
    assert_holds (bench->plan_a, A_TITLE);
    assert_int_equal (
        RECORD (bench, bench->record_a, "1", "2034-04-02T10:00+01:00", "--firmware", "system=1.2.0", bench->plan_a), 0);
    assert_int_equal (RUN (bench, "plan", "--json", "--output", bench->plan_b, bench->plan_a, bench->record_a), 0);
    assert_holds (bench->plan_b, B_TITLE);
}

static void
it_is_recorded_to_its_end (void **state)
{
    Bench *bench = *state;
    static const char *const times[] = { "2034-04-02T10:20+01:00", "2034-04-02T10:40+01:00", "2034-04-02T11:00+01:00",
                                         "2034-04-02T11:10+01:00" };

    assert_int_equal (RUN (bench, "plan"), 0);
    assert_said (bench, "Record the steps of part A by their numbers (A1 is step 1)");
    go_through_part_a (bench);
    assert_int_equal (RUN (bench, "plan", bench->plan_a, bench->record_a), 0);
    assert_said (bench, "The steps above have numbers of their own, so they get a record of their own.");
    for (guint i = 0; i < G_N_ELEMENTS (times); i++) {
        g_autofree char *step = g_strdup_printf ("%u", i + 1);

        assert_int_equal (
            RECORD (bench, bench->record_b, step, times[i], bench->plan_a, bench->plan_b, bench->record_a), 0);
    }
    assert_holds (bench->record_b, "route: \"LK-0408 to one elvane-12c, from entry 2 on\"\n");
    /* Whatever the order in which the files are named. */
    assert_int_equal (RUN (bench, "plan", bench->record_b, bench->plan_b, bench->record_a, bench->plan_a), 0);
    assert_said (bench, "planned on from the records \"LK-0408 to one elvane-12c\" (1 entry) and \"LK-0408 to one "
                        "elvane-12c, from entry 2 on\" (4 entries)");
    assert_said (bench, "No step is needed");
    assert_int_equal (RUN (bench, "starts", bench->record_b, bench->plan_b, bench->record_a, bench->plan_a), 0);
    assert_int_equal (RUN (bench, "explain", bench->record_b, bench->plan_b, bench->record_a, bench->plan_a), 0);
    assert_said (bench, "cpu1 elvane-12c (stepping b1)");
}

static void
a_record_is_read_against_its_own_plan_alone (void **state)
{
    Bench *bench = *state;

    go_through_part_a (bench);
    assert_int_equal (RECORD (bench, bench->record_a, "1", "2034-04-02T10:20+01:00", bench->plan_b), BAD_USE);
    assert_said (bench,
                 "this record is of the route \"LK-0408 to one elvane-12c\", and no route that is read is called "
                 "so");
    assert_int_equal (RUN (bench, "plan", bench->plan_b, bench->record_a), BAD_FILE);
    assert_said (bench, "no route that is read is called so");
    assert_int_equal (RUN (bench, "explain", bench->plan_b, bench->record_a), BAD_FILE);
    assert_int_equal (RUN (bench, "starts", bench->plan_b, bench->record_a), BAD_FILE);
    /* Without the record that names the one, it is open which of them a new one is of. */
    assert_int_equal (RECORD (bench, bench->record_b, "1", "2034-04-02T10:20+01:00", bench->plan_a, bench->plan_b),
                      BAD_USE);
    assert_said (bench, "the files hold 2 routes that the new record may be of");
}

static void
records_that_overlap_are_refused (void **state)
{
    Bench *bench = *state;

    go_through_part_a (bench);
    assert_int_equal (
        RECORD (bench, bench->record_b, "1", "2034-04-02T09:59:59Z", bench->plan_a, bench->plan_b, bench->record_a),
        0); /* 10:59 by the other's clock */
    assert_int_equal (RUN (bench, "record", bench->record_a, "--do", "remove sink1", "--time", "2034-04-02T11:30+01:00",
                           "--initials", "mk", bench->plan_a, bench->plan_b, bench->record_b),
                      BAD_USE);
    assert_said (bench, "this record begins before the last entry of the record \"LK-0408 to one elvane-12c\"");
}

static void
labels_of_later_parts_are_explained (void **state)
{
    Bench *bench = *state;

    assert_int_equal (RECORD (bench, bench->record_a, "B1", "2034-04-02T10:00+01:00", bench->plan_a), BAD_USE);
    assert_said (bench,
                 "--step is a whole number from 1, not B1: of a plan with branches only the steps of part A go by "
                 "number. Plan again with the record");
    assert_int_equal (RECORD (bench, bench->record_a, "A2", "2034-04-02T10:00+01:00", bench->plan_a), BAD_USE);
    assert_said (bench, "not A2: the steps of part A go by their numbers alone");
    assert_int_equal (RECORD (bench, bench->record_a, "1.5", "2034-04-02T10:00+01:00", bench->plan_a), BAD_USE);
    assert_said (bench, "--step is a whole number from 1, not 1.5 expected");
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown (it_is_recorded_to_its_end, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_record_is_read_against_its_own_plan_alone, set_up, tear_down),
        cmocka_unit_test_setup_teardown (records_that_overlap_are_refused, set_up, tear_down),
        cmocka_unit_test_setup_teardown (labels_of_later_parts_are_explained, set_up, tear_down),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
