/* SPDX-License-Identifier: MIT */
/* What README.md's first command shows once the program is built.
 *
 * source: README.md, "Two commands"; the stories' own expectations are held against the program in test_stories.c. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <string.h>

#include <glib/gstdio.h>

/* Every story is told, dark units and pallet last, and none ends in anything but an answer. */
static void
the_demo_tells_every_story (void **state)
{
    static const char *const told[] = {
        "Checking the demo shop's files",
        "======== data/larkfield/units/01-dark-needs-a-loaner.yaml",
        "5 steps, proved shortest: no route has fewer than 5 steps", /* worked by hand in that story */
        "======== data/larkfield/units/40-loaner-missing.yaml",
        "There is no route from this unit to what is wanted",
        "======== data/larkfield/dark/01-release-not-known.yaml",
        "======== data/larkfield/batch/pallet.csv",
        "40 units in 11 situations",
        "All of it, with a sheet for each unit, is ",
    };
    const char *arguments[] = { "bash", "data/tell-demo", RUNGWISE_BINARY, NULL };
    g_autofree char *folder = g_dir_make_tmp ("demo-XXXXXX", NULL);
    g_auto (GStrv) environment = g_environ_setenv (g_get_environ (), "TMPDIR", folder, TRUE);
    const char *clear[] = { "rm", "-r", folder, NULL };
    g_autofree char *output = NULL, *complaints = NULL;
    g_autoptr (GError) error = NULL;
    int status = 0;
    const char *at = NULL;

    (void) state;
    assert_true (g_spawn_sync (NULL, (char **) arguments, environment, G_SPAWN_SEARCH_PATH, NULL, NULL, &output,
                               &complaints, &status, NULL));
    if (!g_spawn_check_wait_status (status, &error))
        fail_msg ("%s\n%s", error->message, complaints);
    assert_string_equal (complaints, "");
    at = output;
    for (guint i = 0; i < G_N_ELEMENTS (told); i++) {
        at = strstr (at, told[i]);
        if (at == NULL)
            fail_msg ("the demo does not tell, in its place: %s", told[i]);
    }
    assert_true (g_spawn_sync (NULL, (char **) clear, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
}

int
main (void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test (the_demo_tells_every_story) };

    return cmocka_run_group_tests (tests, NULL, NULL);
}
