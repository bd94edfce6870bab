/* SPDX-License-Identifier: MIT */
/* Long work is stopped, by hand and by time, and still answers with what is proved until then.
 *
 * source: the Tower of Hanoi with 14 discs takes 2^14 - 1 = 16383 moves (Lucas 1883), too many to be found at once; how
 * such a run ends is docs/commands.md's table of exit statuses. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "puzzles.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

typedef struct {
    char *folder, *path;
} Room;

static int
set_up (void **state)
{
    Room *room = g_new0 (Room, 1);
    g_autofree char *text = puzzle_hanoi (14, 3);
    room->folder = g_dir_make_tmp ("stop-XXXXXX", NULL);
    room->path = g_build_filename (room->folder, "tower.yaml", NULL);
    *state = room;
    return g_file_set_contents (room->path, text, -1, NULL) ? 0 : 1;
}

static int
tear_down (void **state)
{
    Room *room = *state;
    g_remove (room->path);
    g_rmdir (room->folder);
    g_free (room->path);
    g_free (room->folder);
    g_free (room);
    return 0;
}

/* Runs the program with `arguments`, sends `number` after a second unless it is 0, and waits. Returns its exit status.
 */
static int
run (const char *const *arguments, int number, char **output)
{
    GPid child = 0;
    int out = -1, status = 0;
    g_autoptr (GString) text = g_string_new (NULL);
    assert_true (g_spawn_async_with_pipes (NULL, (char **) arguments, NULL,
                                           G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &child,
                                           NULL, &out, NULL, NULL));
    if (number != 0) {
        g_usleep (G_USEC_PER_SEC);
        kill (child, number);
    }
    char block[4096];
    for (ssize_t n; (n = read (out, block, sizeof block)) > 0;)
        g_string_append_len (text, block, n);
    close (out);
    assert_int_equal (waitpid (child, &status, 0), child);
    assert_true (WIFEXITED (status));
    *output = g_strdup (text->str);
    return WEXITSTATUS (status);
}

static void
test_interrupt_answers_with_the_bound (void **state)
{
    const Room *room = *state;
    const char *arguments[] = { RUNGWISE_BINARY, "plan", "--states", "1000000000", room->path, NULL };
    static const int numbers[] = { SIGINT, SIGTERM };
    for (guint i = 0; i < G_N_ELEMENTS (numbers); i++) {
        g_autofree char *output = NULL;
        assert_int_equal (run (arguments, numbers[i], &output), 14);
        assert_non_null (strstr (output, "There may be one of"));
    }
}

static void
test_time_ends_it_as_effort (void **state)
{
    const Room *room = *state;
    const char *arguments[] = { RUNGWISE_BINARY, "plan", "--effort", "0.5", "--json", room->path, NULL };
    g_autofree char *output = NULL;
    assert_int_equal (run (arguments, 0, &output), 12);
    assert_non_null (strstr (output, "\"claim\": \"not-found\""));
}

static void
test_enough_effort_is_not_noticed (void **state)
{
    (void) state;
    const char *arguments[] = { RUNGWISE_BINARY,
                                "plan",
                                "--effort",
                                "60",
                                "data/larkfield/book",
                                "data/larkfield/shop.yaml",
                                "data/larkfield/units/01-dark-needs-a-loaner.yaml",
                                NULL };
    g_autofree char *output = NULL;
    assert_int_equal (run (arguments, 0, &output), 0);
    assert_non_null (strstr (output, "5 steps, proved shortest"));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_interrupt_answers_with_the_bound),
        cmocka_unit_test (test_time_ends_it_as_effort),
        cmocka_unit_test (test_enough_effort_is_not_noticed),
    };
    return cmocka_run_group_tests (tests, set_up, tear_down);
}
