/* SPDX-License-Identifier: MIT */
/* A batch that is killed while it writes, at any moment, leaves each file as it was or as it was to become; one that is interrupted
 * answers with what it has. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <glib.h>
#include <glib/gstdio.h>
#include <poll.h>
#include <signal.h>
#include <string.h>
#include <sys/inotify.h>
#include <sys/wait.h>
#include <unistd.h>

#define ROUNDS        12
#define SEED          20340306
#define MOST_DELAY    12000 /* microseconds from the first sign of writing to the kill: as long as all of it takes */
#define MOST_WAIT     60000 /* milliseconds until there is a sign */
#define STOPPED       14
#define BATCH         RUNGWISE_BINARY, "batch", "data/larkfield/book", "data/larkfield/batch/order.yaml"
#define SHOP          "data/larkfield/batch/shop-batch.yaml"
#define SMALL         "tests/cases/files/batch-units.csv"
#define PALLET        "data/larkfield/batch/pallet.csv"

static const char *const names[] = { "batch.html", "timetable.csv", "batch.json" };

typedef struct {
    char *folder;
    char *old[G_N_ELEMENTS (names)], *fresh[G_N_ELEMENTS (names)]; /* what two whole runs write */
} Room;

static char *
content (const Room *room, guint file)
{
    g_autofree char *path = g_build_filename (room->folder, names[file], NULL);
    char *text = NULL;

    if (!g_file_get_contents (path, &text, NULL, NULL))
        fail_msg ("%s is not there", path);
    return text;
}

static void
put_old (const Room *room)
{
    for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
        g_autofree char *path = g_build_filename (room->folder, names[i], NULL);

        assert_true (g_file_set_contents (path, room->old[i], -1, NULL));
    }
}

static GPid
start (const Room *room, const char *begin)
{
    const char *arguments[] = { BATCH, SHOP, SMALL, "--begin", begin, "--folder", room->folder, NULL };
    GPid child = 0;

    assert_true (g_spawn_async (NULL, (char **) arguments, NULL,
                                G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                                NULL, &child, NULL));
    return child;
}

static void
run_whole (const Room *room, const char *begin, char **texts)
{
    int status = 0;
    GPid child = start (room, begin);

    assert_int_equal (waitpid (child, &status, 0), child);
    assert_true (WIFEXITED (status));
    assert_int_equal (WEXITSTATUS (status), 15);
    for (guint i = 0; i < G_N_ELEMENTS (names); i++)
        texts[i] = content (room, i);
}

static int
set_up (void **state)
{
    Room *room = g_new0 (Room, 1);

    room->folder = g_dir_make_tmp ("stop-XXXXXX", NULL);
    *state = room;
    run_whole (room, "2034-03-06T07:00", room->old);
    run_whole (room, "2034-03-13T07:00", room->fresh);
    for (guint i = 0; i < G_N_ELEMENTS (names); i++)
        assert_string_not_equal (room->old[i], room->fresh[i]);
    return 0;
}

/* Drafts of killed runs, too. */
static void
empty_folder (const char *folder)
{
    g_autoptr (GDir) files = g_dir_open (folder, 0, NULL);

    for (const char *name = g_dir_read_name (files); name != NULL; name = g_dir_read_name (files)) {
        g_autofree char *path = g_build_filename (folder, name, NULL);

        g_remove (path);
    }
}

static int
tear_down (void **state)
{
    Room *room = *state;

    empty_folder (room->folder);
    g_rmdir (room->folder);
    for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
        g_free (room->old[i]);
        g_free (room->fresh[i]);
    }
    g_free (room->folder);
    g_free (room);
    return 0;
}

/* Kills a run so long after something first changes in the folder. TRUE: it was still at work. */
static gboolean
kill_while_it_writes (const Room *room, gulong delay)
{
    int watch = inotify_init1 (IN_CLOEXEC), status = 0;
    struct pollfd sign = { watch, POLLIN, 0 };
    GPid child = 0;

    assert_true (watch >= 0);
    assert_true (inotify_add_watch (watch, room->folder, IN_CREATE | IN_MODIFY | IN_MOVED_TO) >= 0);
    child = start (room, "2034-03-13T07:00");
    assert_int_equal (poll (&sign, 1, MOST_WAIT), 1);
    g_usleep (delay);
    kill (child, SIGKILL);
    assert_int_equal (waitpid (child, &status, 0), child);
    close (watch);
    return WIFSIGNALED (status);
}

static void
test_killed_it_leaves_no_half_written_file (void **state)
{
    const Room *room = *state;
    g_autoptr (GRand) random = g_rand_new_with_seed (SEED);
    guint killed = 0, kept = 0;

    for (guint round = 0; round < ROUNDS; round++) {
        put_old (room);
        killed += kill_while_it_writes (room, (gulong) g_rand_int_range (random, 0, MOST_DELAY));
        for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
            g_autofree char *text = content (room, i);
            gboolean is_old = g_str_equal (text, room->old[i]);

            kept += is_old;
            if (!is_old && !g_str_equal (text, room->fresh[i]))
                fail_msg ("round %u: %s is neither the old one nor the new one", round, names[i]);
        }
    }
    /* Else nothing was tried. */
    assert_true (killed > 0);
    assert_true (kept > 0);
}

/* A smaller batch in the folder of a bigger one: its further pages go; what is not a page of ours stays, whatever it is called. */
static void
test_pages_of_a_bigger_batch_go (void **state)
{
    const Room *room = *state;
    static const struct {
        const char *name;
        gboolean is_page, stays;
    } files[] = {
        { "batch-2.html", TRUE, FALSE },  { "batch-17.html", TRUE, FALSE }, { "batch-3.html", FALSE, TRUE },
        { "batch-02.html", TRUE, TRUE },  { "batch-1.html", TRUE, TRUE },   { "batch-2.html.old", TRUE, TRUE },
        { "batch-two.html", TRUE, TRUE },
    };
    g_autofree char *link = g_build_filename (room->folder, "batch-4.html", NULL);
    char *texts[G_N_ELEMENTS (names)];

    for (guint i = 0; i < G_N_ELEMENTS (files); i++) {
        g_autofree char *path = g_build_filename (room->folder, files[i].name, NULL);

        assert_true (g_file_set_contents (path, files[i].is_page ? room->old[0] : "<!DOCTYPE html>\n<p>notes</p>\n", -1, NULL));
    }
    assert_int_equal (symlink ("batch-1.html", link), 0);
    run_whole (room, "2034-03-13T07:00", texts);
    for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
        assert_string_equal (texts[i], room->fresh[i]);
        g_free (texts[i]);
    }
    for (guint i = 0; i < G_N_ELEMENTS (files); i++) {
        g_autofree char *path = g_build_filename (room->folder, files[i].name, NULL);

        if (g_file_test (path, G_FILE_TEST_EXISTS) != files[i].stays)
            fail_msg ("%s %s", files[i].name, files[i].stays ? "is gone" : "is still there");
    }
    assert_true (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
}

static void
test_interrupt_answers_with_what_there_is (void **state)
{
    const char *arguments[] = { BATCH, SHOP, PALLET, "--begin", "2034-03-06T07:00", "--effort", "600", NULL };
    GPid child = 0;
    int out = -1, status = 0;
    char block[4096];
    g_autoptr (GString) text = g_string_new (NULL);

    (void) state;
    assert_true (g_spawn_async_with_pipes (NULL, (char **) arguments, NULL,
                                           G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &child,
                                           NULL, &out, NULL, NULL));
    g_usleep (4 * G_USEC_PER_SEC);
    kill (child, SIGINT);
    for (ssize_t n; (n = read (out, block, sizeof block)) > 0;)
        g_string_append_len (text, block, n);
    close (out);
    assert_int_equal (waitpid (child, &status, 0), child);
    assert_true (WIFEXITED (status));
    assert_int_equal (WEXITSTATUS (status), STOPPED);
    assert_non_null (strstr (text->str, "40 units in 11 situations"));
}

int
main (void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test (test_killed_it_leaves_no_half_written_file),
        cmocka_unit_test (test_pages_of_a_bigger_batch_go),
        cmocka_unit_test (test_interrupt_answers_with_what_there_is),
    };

    return cmocka_run_group_tests (tests, set_up, tear_down);
}
