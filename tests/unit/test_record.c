/* SPDX-License-Identifier: MIT */
/* `rungwise record` from outside: what it adds, what it leaves alone, and what is left when it is stopped.
 *
 * source: docs/files.md, "Record"; exit statuses by docs/commands.md. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <errno.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "book/book.h"

#define DATA   "tests/unit/data/resume.yaml"
#define TIME   "2034-03-05T09:41+01:00"
#define ENTRY1 "  - step: 1\n    outcome: done\n    time: " TIME "\n    initials: \"mk\"\n"
#define SKIP1  "  - step: 1\n    outcome: skipped\n    time: " TIME "\n    initials: \"mk\"\n"
#define HEAD   "record: \"by hand\"\nunit: DL-1\nroute: \"by hand\"\nentries:\n"

typedef struct {
    char *folder, *path; /* owned */
} Room;

static int
set_up (void **state)
{
    Room *room = g_new0 (Room, 1);

    room->folder = g_dir_make_tmp ("record-XXXXXX", NULL);
    room->path = g_build_filename (room->folder, "DL-1.yaml", NULL);
    *state = room;
    return 0;
}

static int
tear_down (void **state)
{
    Room *room = *state;
    GDir *folder = g_dir_open (room->folder, 0, NULL);

    for (const char *name; (name = g_dir_read_name (folder)) != NULL;) {
        g_autofree char *path = g_build_filename (room->folder, name, NULL);

        g_remove (path);
    }
    g_dir_close (folder);
    g_rmdir (room->folder);
    g_free (room->folder);
    g_free (room->path);
    g_free (room);
    return 0;
}

/* ---- Running the program ---- */

/* The command line for an entry of the record at `path`. `more`: NULL-terminated. Transfer full. */
static char **
arguments_of (const char *path, const char *const *more)
{
    const char *const common[] = { RUNGWISE_BINARY, "record", path,     DATA, "--unit", "DL-1",
                                   "--initials",    "mk",     "--time", TIME, NULL };
    g_autoptr (GStrvBuilder) all = g_strv_builder_new ();

    g_strv_builder_addv (all, (const char **) common);
    g_strv_builder_addv (all, (const char **) more);
    return g_strv_builder_end (all);
}

static int
exit_status (int status)
{
    assert_true (WIFEXITED (status));
    return WEXITSTATUS (status);
}

/* Runs it; `said` (nullable): standard error. Returns the exit status. */
static int
run (const char *path, const char *const *more, GSpawnChildSetupFunc prepare, char **said)
{
    g_auto (GStrv) arguments = arguments_of (path, more);
    g_autofree char *output = NULL, *complaints = NULL;
    int status = 0;

    assert_true (
        g_spawn_sync (NULL, arguments, NULL, G_SPAWN_DEFAULT, prepare, NULL, &output, &complaints, &status, NULL));
    if (said != NULL)
        *said = g_steal_pointer (&complaints);
    return exit_status (status);
}

static GPid
begin (const char *path, const char *const *more)
{
    g_auto (GStrv) arguments = arguments_of (path, more);
    GPid child = 0;

    assert_true (g_spawn_async (NULL, arguments, NULL,
                                G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL,
                                NULL, NULL, &child, NULL));
    return child;
}

static char *
contents (const char *path)
{
    char *text = NULL;

    if (!g_file_get_contents (path, &text, NULL, NULL))
        return g_strdup ("(none)");
    return text;
}

static void
check_contents (const char *path, const char *expected)
{
    g_autofree char *text = contents (path);

    assert_string_equal (text, expected);
}

static void
put (const char *path, const char *text)
{
    assert_true (g_file_set_contents (path, text, -1, NULL));
}

/* Files of the folder beside the record. */
static guint
count_others (const Room *room)
{
    g_autoptr (GDir) folder = g_dir_open (room->folder, 0, NULL);
    guint count = 0;

    while (g_dir_read_name (folder) != NULL)
        count++;
    return count - (g_file_test (room->path, G_FILE_TEST_EXISTS) ? 1 : 0);
}

static const char *const step1[] = { "--step", "1", NULL };
static const char *const skip1[] = { "--step", "1", "--outcome", "skipped", NULL };

/* ---- What is added ---- */

static void
a_record_is_begun_and_goes_on (void **state)
{
    const Room *room = *state;
    const char *const failed[] = { "--step",     "2",
                                   "--outcome",  "failed",
                                   "--found",    "dark",
                                   "--fitted",   "cpu1=empty",
                                   "--fitted",   "cpu2=dorvan-8:a0 from loan",
                                   "--firmware", "controller=4",
                                   "--firmware", "system=1.0 .. 1.4",
                                   NULL };
    const char *const other[] = { "--do", "  fit cpu1=dorvan-8:a1   from loan ", "--found", "", NULL };
    const char *const write[] = { "--do", "write system=2.0 by clip", NULL };

    assert_int_equal (run (room->path, step1, NULL, NULL), 0);
    check_contents (room->path, HEAD ENTRY1);
    assert_int_equal (run (room->path, failed, NULL, NULL), 0);
    assert_int_equal (run (room->path, write, NULL, NULL), 0);
    check_contents (room->path,
                    HEAD ENTRY1 "  - step: 2\n    outcome: failed\n    found: \"dark\"\n"
                                "    fitted: {cpu1: empty, cpu2: {part: dorvan-8, stepping: a0, from: loan}}\n"
                                "    firmware: {controller: 4, system: \"1.0 .. 1.4\"}\n"
                                "    time: " TIME "\n    initials: \"mk\"\n"
                                "  - step: {do: write, component: system, release: 2.0, by: clip}\n"
                                "    outcome: done\n    time: " TIME "\n    initials: \"mk\"\n");
    /* The loaner was set aside when its fitting failed. */
    assert_int_equal (run (room->path, other, NULL, NULL), 31);
    assert_int_equal (count_others (room), 0);
}

static void
the_old_text_stays_byte_for_byte (void **state)
{
    static const char *const heads[] = {
        "# a remark\nrecord: x # another\nunit:   DL-1\nroute: by hand\nentries:\n",
        "record: x\nunit: DL-1\nentries:\n- {step: 1, outcome: skipped, time: " TIME ", initials: x}",
        "record: x\nunit: DL-1\nentries:\n      - {step: 1, outcome: skipped, time: " TIME
        ", initials: x} # no line end",
        "record: x\r\nunit: DL-1\r\nentries:\r\n  - {step: 1, outcome: skipped, time: " TIME ", initials: x}\r\n",
        "record: x\nunit: DL-1\nentries:\n  - step: 1\n    outcome: skipped\n    time: " TIME
        "\n    initials: x\n    found: |\n      two\n      lines\n\n# the end\n\n",
        "want: nothing more\nslots: {cpu1: empty}\n---\nrecord: x\nunit: DL-1\nentries:\n  - {step: 1, outcome: "
        "skipped, time: " TIME ", initials: \"\xe2\x80\xa8 \xe6\xbc\xa2\"}\n",
        "\xef\xbb\xbfrecord: x\nunit: DL-1\nentries:\n  - {step: 1, outcome: skipped, time: " TIME ", initials: x}\n",
    };
    const Room *room = *state;

    /* The first has no entry yet, which is no list of entries: it is left alone. */
    put (room->path, heads[0]);
    assert_int_not_equal (run (room->path, skip1, NULL, NULL), 0);
    check_contents (room->path, heads[0]);
    for (guint i = 1; i < G_N_ELEMENTS (heads); i++) {
        g_autofree char *text = NULL;

        put (room->path, heads[i]);
        assert_int_equal (run (room->path, skip1, NULL, NULL), 0);
        assert_int_equal (run (room->path, skip1, NULL, NULL), 0);
        text = contents (room->path);
        assert_true (g_str_has_prefix (text, heads[i]));
        assert_true (g_str_has_suffix (text, "    initials: \"mk\"\n") || strstr (text, "\n- step: 1\n") != NULL ||
                     strstr (text, "\n      - step: 1\n") != NULL);
    }
}

/* What is found reads back as it was typed, whatever it holds. */
static void
any_text_reads_back (void **state)
{
    static const char *const pieces[] = {
        "a",
        " ",
        "\"",
        "'",
        "\\",
        "\n",
        "\t",
        "\r",
        "#",
        " # ",
        ": ",
        "- ",
        "{",
        "}",
        "[",
        "]",
        ",",
        "&",
        "*",
        "!",
        "|",
        ">",
        "%",
        "@",
        "`",
        "~",
        "?",
        "\\n",
        "null",
        "\xc3\xa9",
        "\xe6\xbc\xa2",
        "\xf0\x9f\x94\xa7",
        "\xe2\x80\xa8",
        "\xc2\x85",
        "\xc2\xa0",
        "\xef\xbb\xbf",
        "\xef\xbf\xbe",
        "\x01",
        "\x7f",
        "\x1b[31m",
        "---\n",
        "...\n",
        "entries:\n",
    };
    const Room *room = *state;
    g_autoptr (GRand) rand = g_rand_new_with_seed (7);
    g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (Complaints) complaints = complaints_new ();
    const char *paths[] = { DATA, room->path, NULL };

    for (guint i = 0; i < 40; i++) {
        g_autoptr (GString) text = g_string_new ("x");
        guint count = (guint) g_rand_int_range (rand, 1, 12);

        for (guint p = 0; p < count; p++)
            g_string_append (text, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
        const char *const more[] = { "--step", "1", "--outcome", "skipped", "--found", text->str, NULL };
        assert_int_equal (run (room->path, more, NULL, NULL), 0);
        g_ptr_array_add (texts, g_strdup (text->str));
    }
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    const Record *record = library->records->pdata[0];
    assert_int_equal (complaints_count (complaints), 0);
    assert_int_equal (record->entries->len, texts->len);
    for (guint i = 0; i < texts->len; i++)
        assert_string_equal (((RecordEntry *) record->entries->pdata[i])->found, texts->pdata[i]);
}

static void
mode_and_link_stay (void **state)
{
    const Room *room = *state;
    g_autofree char *link = g_build_filename (room->folder, "link.yaml", NULL);
    struct stat there;

    put (room->path, HEAD ENTRY1);
    assert_int_equal (chmod (room->path, 0640), 0);
    assert_int_equal (symlink ("DL-1.yaml", link), 0);
    assert_int_equal (run (link, skip1, NULL, NULL), 0);
    check_contents (room->path, HEAD ENTRY1 SKIP1);
    assert_int_equal (lstat (link, &there), 0);
    assert_true (S_ISLNK (there.st_mode));
    assert_int_equal (stat (room->path, &there), 0);
    assert_int_equal (there.st_mode & 0777, 0640);
}

/* The record may lie in a folder that is read, and beside what it is about. */
static void
it_may_lie_in_a_folder_that_is_read (void **state)
{
    const Room *room = *state;
    const char *const more[] = { "--step", "1", "--outcome", "skipped", room->folder, NULL };

    assert_int_equal (run (room->path, skip1, NULL, NULL), 0);
    assert_int_equal (run (room->path, more, NULL, NULL), 0);
    check_contents (room->path, HEAD SKIP1 SKIP1);
}

/* A second record goes on from where the first one ends. */
static void
a_second_record_goes_on (void **state)
{
    const Room *room = *state;
    g_autofree char *first = g_build_filename (room->folder, "a.yaml", NULL);
    const char *const alone[] = { "--do", "fit cpu1=fenric-16 from own", NULL };
    const char *const after[] = { "--do", "fit cpu1=fenric-16 from own", first, NULL };

    assert_int_equal (run (first, step1, NULL, NULL), 0);
    assert_int_equal (run (room->path, alone, NULL, NULL), 31);
    assert_int_equal (run (room->path, after, NULL, NULL), 0);
}

/* ---- What is refused ---- */

typedef struct {
    const char *text; /* of the file; NULL: there is none */
    const char *more[6];
    int status;
    const char *said;
} Refused;

static const Refused refused[] = {
    { HEAD ENTRY1, { "--step", "1" }, 31, "DL-1.yaml:9:11: nothing can have been removed from cpu1, which is empty" },
    { HEAD ENTRY1, { "--step", "6" }, 31, "there is no step 6 in the route \"by hand\", which has 5" },
    { HEAD ENTRY1, { "--step", "0" }, 31, "--step is a whole number from 1, not 0" },
    { HEAD ENTRY1, { NULL }, 31, "no step is named" },
    { HEAD ENTRY1, { "--step", "1", "--do", "remove cpu2" }, 31, "--step and --do are both given" },
    { HEAD ENTRY1, { "--do", "remove cpu9" }, 31, "unknown slot \"cpu9\" of board dunlin-2" },
    { HEAD ENTRY1, { "--do", "polish cpu1" }, 31, "--do 'polish cpu1' is not understood" },
    { HEAD ENTRY1, { "--do", "" }, 31, "--do '' is not understood" },
    { HEAD ENTRY1, { "--do", "fit cpu1=dorvan-8:a1" }, 31, "is not understood" },
    { HEAD ENTRY1, { "--do", "write system=9 by host" }, 31, "9" },
    { HEAD ENTRY1, { "--do", "write system by host" }, 31, "is not understood" },
    { HEAD ENTRY1, { "--step", "2", "--outcome", "failed" }, 31, "found" },
    { HEAD ENTRY1, { "--step", "2", "--outcome", "odd" }, 31, "--outcome is done, failed or skipped, not \"odd\"" },
    { HEAD ENTRY1, { "--step", "2", "--time", "yesterday" }, 31, "DL-1.yaml:11:11: time \"yesterday\"" },
    { HEAD ENTRY1, { "--step", "2", "--fitted", "cpu1" }, 31, "--fitted 'cpu1' is not understood" },
    { HEAD ENTRY1, { "--step", "2", "--firmware", "system=1.0, x: {" }, 31, "DL-1.yaml:11:" },
    { HEAD ENTRY1, { "--step", "2", "--unit", "DL-2" }, 31, "is the record of DL-1, not of DL-2" },
    { NULL, { "--step", "2", "--unit", "DL-3" }, 31, "--unit DL-3: the files hold no such unit" },
    { NULL, { "--step", "2" }, 31, "DL-1.yaml:5:11: dorvan-8 a1 cannot have been fitted in cpu1" },
    { HEAD ENTRY1, { "--step", "2", "--found", "\xff" }, 31, "bytes that are not UTF-8 text" },
    /* Files that nothing can be added to. */
    { HEAD ENTRY1 "note: x\n", { "--step", "2" }, 30, "unknown key \"note\" in this record" },
    { "record: x\nentries:\n" ENTRY1 "unit: DL-1\n", { "--step", "2" }, 31, "DL-1.yaml:3:3: nothing can be added" },
    { HEAD ENTRY1 "---\nwant: x\nslots: {cpu1: empty}\n", { "--step", "2" }, 31, "nothing can be added" },
    { HEAD ENTRY1 "...\n", { "--step", "2" }, 31, "nothing can be added" },
    { "record: x\nunit: DL-1\nentries: []\n", { "--step", "1" }, 31, "DL-1.yaml:3:10: nothing can be added" },
    { "{\"record\": \"x\", \"unit\": \"DL-1\", \"entries\": []}\n", { "--step", "1" }, 31, "nothing can be added" },
    { "record: x\nunit: DL-1\n", { "--step", "1" }, 30, "entries" },
    { "want: x\nslots: {cpu1: empty}\n", { "--step", "1" }, 31, "holds 0 records" },
    { HEAD ENTRY1 "---\n" HEAD ENTRY1, { "--step", "1" }, 31, "holds 2 records" },
    /* Which route. */
    { "route: by hand\nsteps: [{do: remove, slot: cpu2}]\n---\n" HEAD SKIP1,
      { "--step", "3" },
      31,
      "there is no step 3 in the route \"by hand\", which has 1" },
    { "route: one\nsteps: []\n---\nroute: two\nsteps: []\n---\nrecord: x\nunit: DL-1\nentries:\n" SKIP1,
      { "--step", "1" },
      31,
      "the files hold 2 routes that this record may have been worked from" },
    { "record: x\nunit: DL-1\nroute: by foot\nentries:\n" SKIP1, { "--step", "2" }, 31, "no route that is read is called so" },
    { "", { "--step", "1" }, 31, "holds 0 records" },
    { HEAD "  - {step: 1, outcome: don", { "--step", "1" }, 30, "DL-1.yaml:6:1: did not find" },
};

static void
what_is_refused_leaves_the_file_alone (void **state)
{
    const Room *room = *state;

    for (guint i = 0; i < G_N_ELEMENTS (refused); i++) {
        const Refused *one = &refused[i];
        const char *more[7] = { NULL };
        g_autofree char *said = NULL;
        int status = 0;

        memcpy (more, one->more, sizeof one->more);
        g_remove (room->path);
        if (one->text != NULL)
            put (room->path, one->text);
        status = run (room->path, more, NULL, &said);
        if (status != one->status || strstr (said, one->said) == NULL)
            fail_msg ("case %u: exit status %d\n%s", i, status, said);
        if (strstr (said, "/.DL-1") != NULL)
            fail_msg ("case %u tells of the draft:\n%s", i, said);
        check_contents (room->path, one->text != NULL ? one->text : "(none)");
        assert_int_equal (count_others (room), 0);
    }
}

/* ---- When it goes wrong ---- */

/* As a full disk does: nothing more can be written, past a few bytes. */
static void
leave_no_room (gpointer data)
{
    const struct rlimit few = { 40, 40 };

    (void) data;
    signal (SIGXFSZ, SIG_IGN); /* write(2) then fails with EFBIG */
    setrlimit (RLIMIT_FSIZE, &few);
}

static void
without_room_the_old_file_stays (void **state)
{
    const Room *room = *state;
    g_autofree char *said = NULL;

    put (room->path, HEAD ENTRY1);
    assert_int_equal (run (room->path, skip1, leave_no_room, &said), 41);
    assert_non_null (strstr (said, "the entry was not recorded"));
    check_contents (room->path, HEAD ENTRY1);
    assert_int_equal (count_others (room), 0);
}

static void
places_where_no_record_can_be (void **state)
{
    const Room *room = *state;
    g_autofree char *nowhere = g_build_filename (room->folder, "none", "x.yaml", NULL);
    g_autofree char *dangling = g_build_filename (room->folder, "dangling.yaml", NULL);
    g_autofree char *fifo = g_build_filename (room->folder, "fifo.yaml", NULL);

    assert_int_equal (symlink ("away.yaml", dangling), 0);
    assert_int_equal (mkfifo (fifo, 0600), 0);
    assert_int_equal (run (nowhere, skip1, NULL, NULL), 41);
    assert_int_equal (run (room->folder, skip1, NULL, NULL), 41);
    assert_int_equal (run (dangling, skip1, NULL, NULL), 41);
    assert_int_equal (run (fifo, skip1, NULL, NULL), 41);
    assert_int_equal (run (DATA, skip1, NULL, NULL), 31);
}

/* Killed at any moment, the file is the old one or the new one. */
static void
killed_at_any_moment (void **state)
{
    const Room *room = *state;
    g_autoptr (GRand) rand = g_rand_new_with_seed (20340305);
    g_autofree char *old = g_strdup (HEAD ENTRY1);
    guint killed_before = 0, done = 0;
    gint64 longest = 0;

    put (room->path, old);
    for (guint i = 0; i < 210; i++) {
        g_autofree char *whole = g_strconcat (old, SKIP1, NULL);
        gint64 began = g_get_monotonic_time ();
        GPid child = begin (room->path, skip1);
        int status = 0;

        if (i >= 10) /* the first ten are let through: they say how long it takes */
            g_usleep ((gulong) g_rand_int_range (rand, 0, (gint32) (longest + 1)));
        if (i >= 10)
            kill (child, SIGKILL);
        assert_int_equal (waitpid (child, &status, 0), child);
        if (i < 10)
            longest = MAX (longest, g_get_monotonic_time () - began);
        g_autofree char *now = contents (room->path);
        if (g_str_equal (now, old)) {
            killed_before++;
            continue;
        }
        assert_string_equal (now, whole);
        done++;
        g_free (old);
        old = g_steal_pointer (&now);
    }
    assert_true (killed_before >= 20);
    assert_true (done >= 20);
    /* And then it goes on. */
    assert_int_equal (run (room->path, skip1, NULL, NULL), 0);
}

/* Of several who record at once none loses an entry. */
static void
several_at_once (void **state)
{
    const Room *room = *state;
    g_autofree char *text = NULL;
    GPid children[24];
    guint found = 0;

    for (guint i = 0; i < G_N_ELEMENTS (children); i++) {
        g_autofree char *who = g_strdup_printf ("by number %u.", i);
        const char *const more[] = { "--step", "1", "--outcome", "skipped", "--found", who, NULL };

        children[i] = begin (room->path, more);
    }
    for (guint i = 0; i < G_N_ELEMENTS (children); i++) {
        int status = 0;

        assert_int_equal (waitpid (children[i], &status, 0), children[i]);
        assert_int_equal (exit_status (status), 0);
    }
    text = contents (room->path);
    for (guint i = 0; i < G_N_ELEMENTS (children); i++) {
        g_autofree char *who = g_strdup_printf ("by number %u.", i);

        found += strstr (text, who) != NULL ? 1 : 0;
    }
    assert_int_equal (found, G_N_ELEMENTS (children));
    assert_int_equal (count_others (room), 0);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown (a_record_is_begun_and_goes_on, set_up, tear_down),
        cmocka_unit_test_setup_teardown (the_old_text_stays_byte_for_byte, set_up, tear_down),
        cmocka_unit_test_setup_teardown (any_text_reads_back, set_up, tear_down),
        cmocka_unit_test_setup_teardown (mode_and_link_stay, set_up, tear_down),
        cmocka_unit_test_setup_teardown (it_may_lie_in_a_folder_that_is_read, set_up, tear_down),
        cmocka_unit_test_setup_teardown (a_second_record_goes_on, set_up, tear_down),
        cmocka_unit_test_setup_teardown (what_is_refused_leaves_the_file_alone, set_up, tear_down),
        cmocka_unit_test_setup_teardown (without_room_the_old_file_stays, set_up, tear_down),
        cmocka_unit_test_setup_teardown (places_where_no_record_can_be, set_up, tear_down),
        cmocka_unit_test_setup_teardown (killed_at_any_moment, set_up, tear_down),
        cmocka_unit_test_setup_teardown (several_at_once, set_up, tear_down),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
