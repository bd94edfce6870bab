/* SPDX-License-Identifier: MIT */
/* Where answers go: what --output puts where and leaves alone, and how a terminal gets them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <fcntl.h>
#include <pty.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <glib.h>
#include <glib/gstdio.h>

#define BAD_USAGE   31
#define SAYS        "Unit LK-0401"
#define QUESTION    "starts data/larkfield/book data/larkfield/units/01-dark-needs-a-loaner.yaml "
#define NOT_STARTED 20

typedef struct {
    char *folder; /* owned */
    char *file;   /* owned; in it */
    char *link;   /* owned; in it */
} Place;

static int
make_place (void **state)
{
    Place *place = g_new0 (Place, 1);

    place->folder = g_dir_make_tmp ("rungwise-XXXXXX", NULL);
    assert_non_null (place->folder);
    place->file = g_build_filename (place->folder, "sheet", NULL);
    place->link = g_build_filename (place->folder, "link", NULL);
    *state = place;
    return 0;
}

static int
remove_place (void **state)
{
    Place *place = *state;

    g_unlink (place->link);
    g_unlink (place->file);
    g_rmdir (place->folder);
    g_free (place->link);
    g_free (place->file);
    g_free (place->folder);
    g_free (place);
    return 0;
}

/* Through a shell; `redirected` follows the command. The exit status. */
static int
run_shell (const char *arguments, const char *path, const char *redirected, char **printed)
{
    g_autofree char *line = g_strdup_printf ("%s %s --output %s %s", RUNGWISE_BINARY, arguments, path, redirected);
    const char *shell[] = { "sh", "-c", line, NULL };
    g_autofree char *complaint = NULL;
    g_autoptr (GError) error = NULL;
    int status = 0;

    assert_true (g_spawn_sync (NULL, (char **) shell, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, printed, &complaint,
                               &status, NULL));
    return g_spawn_check_wait_status (status, &error) ? 0 : error->code;
}

static int
run (const char *arguments, const char *path)
{
    g_autofree char *printed = NULL;

    return run_shell (arguments, path, "", &printed);
}

static void
assert_holds (const char *path, const char *piece)
{
    g_autofree char *text = NULL;

    assert_true (g_file_get_contents (path, &text, NULL, NULL));
    if (strstr (text, piece) == NULL)
        fail_msg ("%s lacks \"%s\":\n%s", path, piece, text);
}

static void
test_mode_is_kept (void **state)
{
    const Place *place = *state;
    struct stat there;

    assert_true (g_file_set_contents (place->file, "old", -1, NULL));
    assert_int_equal (g_chmod (place->file, 0604), 0);
    assert_int_equal (run (QUESTION, place->file), NOT_STARTED);
    assert_int_equal (stat (place->file, &there), 0);
    assert_int_equal (there.st_mode & 07777, 0604);
    assert_holds (place->file, SAYS);
}

static void
test_link_stays_and_its_target_is_replaced (void **state)
{
    const Place *place = *state;
    struct stat there;

    assert_true (g_file_set_contents (place->file, "old", -1, NULL));
    assert_int_equal (symlink ("sheet", place->link), 0);
    assert_int_equal (run (QUESTION, place->link), NOT_STARTED);
    assert_int_equal (lstat (place->link, &there), 0);
    assert_true (S_ISLNK (there.st_mode));
    assert_holds (place->file, SAYS);
    /* Also where nothing lies yet. */
    assert_int_equal (g_unlink (place->file), 0);
    assert_int_equal (run (QUESTION, place->link), NOT_STARTED);
    assert_holds (place->file, SAYS);
}

static void
test_fifo_is_written_into (void **state)
{
    const Place *place = *state;
    char text[4096] = "";
    struct stat there;
    int reader = -1;

    assert_int_equal (mkfifo (place->file, 0600), 0);
    reader = open (place->file, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    assert_true (reader >= 0);
    assert_int_equal (run (QUESTION, place->file), NOT_STARTED);
    assert_true (read (reader, text, sizeof text - 1) > 0);
    close (reader);
    assert_non_null (strstr (text, SAYS));
    assert_int_equal (stat (place->file, &there), 0);
    assert_true (S_ISFIFO (there.st_mode));
}

static void
test_device_stays (void **state)
{
    struct stat there;

    (void) state;
    assert_int_equal (run (QUESTION, "/dev/null"), NOT_STARTED);
    assert_int_equal (stat ("/dev/null", &there), 0);
    assert_true (S_ISCHR (there.st_mode));
    assert_int_equal (run (QUESTION, "/dev/full"), 41);
}

/* A file that standard output is added to keeps what it had. */
static void
test_standard_output_is_added_to (void **state)
{
    const Place *place = *state;
    g_autofree char *redirected = g_strdup_printf (">>%s", place->file);
    g_autofree char *printed = NULL;

    assert_true (g_file_set_contents (place->file, "before\n", -1, NULL));
    assert_int_equal (run_shell (QUESTION, "/dev/stdout", redirected, &printed), NOT_STARTED);
    assert_holds (place->file, "before\n");
    assert_holds (place->file, SAYS);
}

/* The unit's own file, by its name and through a link. */
static void
test_input_is_refused (void **state)
{
    const Place *place = *state;
    g_autofree char *unit = NULL;
    g_autofree char *arguments = g_strdup_printf ("starts data/larkfield/book %s", place->file);

    assert_true (g_file_get_contents ("data/larkfield/units/01-dark-needs-a-loaner.yaml", &unit, NULL, NULL));
    assert_true (g_file_set_contents (place->file, unit, -1, NULL));
    assert_int_equal (symlink (place->file, place->link), 0);
    assert_int_equal (run (arguments, place->file), BAD_USAGE);
    assert_int_equal (run (arguments, place->link), BAD_USAGE);
    assert_holds (place->file, unit);
}

/* What is printed on a terminal of so many columns. Transfer full. */
static char *
printed_on_terminal (unsigned short columns, const char *terminal)
{
    struct winsize size = { .ws_row = 24, .ws_col = columns };
    GString *text = g_string_new (NULL);
    char piece[4096];
    ssize_t length = 0;
    int screen = -1;
    pid_t child = forkpty (&screen, NULL, NULL, &size);

    assert_true (child >= 0);
    if (child == 0) {
        g_setenv ("TERM", terminal, TRUE);
        g_unsetenv ("NO_COLOR");
        execl (RUNGWISE_BINARY, "rungwise", "starts", "data/larkfield/book",
               "data/larkfield/units/01-dark-needs-a-loaner.yaml", NULL);
        _exit (127);
    }
    while ((length = read (screen, piece, sizeof piece)) > 0)
        g_string_append_len (text, piece, length);
    close (screen);
    assert_int_equal (waitpid (child, NULL, 0), child);
    assert_non_null (strstr (text->str, "LK-0401"));
    return g_string_free (text, FALSE);
}

static gsize
longest_line (const char *text)
{
    g_auto (GStrv) lines = g_strsplit (text, "\r\n", -1);
    gsize longest = 0;

    for (char **line = lines; *line != NULL; line++)
        longest = MAX (longest, strlen (*line));
    return longest;
}

/* A terminal of 72 columns gets lines of at most 72, one of 300 none above 100; a dumb one gets no escape sequences. */
static void
test_terminal (void **state)
{
    g_autofree char *narrow = printed_on_terminal (72, "dumb");
    g_autofree char *wide = printed_on_terminal (300, "dumb");
    g_autofree char *coloured = printed_on_terminal (72, "vt100");

    (void) state;
    assert_null (strchr (narrow, '\033'));
    assert_non_null (strchr (coloured, '\033'));
    assert_in_range (longest_line (narrow), 60, 72);
    assert_in_range (longest_line (wide), 73, 100);
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown (test_mode_is_kept, make_place, remove_place),
        cmocka_unit_test_setup_teardown (test_link_stays_and_its_target_is_replaced, make_place, remove_place),
        cmocka_unit_test_setup_teardown (test_fifo_is_written_into, make_place, remove_place),
        cmocka_unit_test_setup_teardown (test_device_stays, make_place, remove_place),
        cmocka_unit_test_setup_teardown (test_standard_output_is_added_to, make_place, remove_place),
        cmocka_unit_test_setup_teardown (test_input_is_refused, make_place, remove_place),
        cmocka_unit_test (test_terminal),
    };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
