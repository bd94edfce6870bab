/* SPDX-License-Identifier: MIT */
#include "plan_text.h"

#include "route/route.h"

#include <glib/gstdio.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <cmocka.h>

Library *
plan_text_load (const char *text)
{
    g_autofree char *folder = g_dir_make_tmp ("puzzle-XXXXXX", NULL);
    assert_non_null (folder);
    g_autofree char *path = g_build_filename (folder, "puzzle.yaml", NULL);
    assert_true (g_file_set_contents (path, text, -1, NULL));
    const char *const paths[] = { path, NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    Library *library = library_load (paths, NULL, complaints);
    g_unlink (path);
    g_rmdir (folder);
    g_autofree char *complaint = complaints_to_string (complaints, 5);
    if (complaints_count (complaints))
        fail_msg ("the files were refused:\n%s", complaint);
    return library;
}

char *
plan_text_printed (const char *command)
{
    char *text = NULL;
    int status = 0;
    assert_true (g_spawn_command_line_sync (command, &text, NULL, &status, NULL));
    assert_int_equal (status, 0);
    return text;
}

guint
plan_text_shortest (const char *text, guint *insertions)
{
    g_autoptr (Library) library = plan_text_load (text);
    RouteOptions options = { 0 };
    g_autoptr (RouteAnswer) answer =
        route_find (library, g_ptr_array_index (library->shops, 0), g_ptr_array_index (library->units, 0),
                    g_ptr_array_index (library->wants, 0), &options);
    assert_int_equal (answer->claim, CLAIM_PROVED_SHORTEST);
    assert_non_null (answer->steps);
    assert_true (answer->walk->sound);
    if (insertions)
        *insertions = answer->walk->insertions;
    return answer->steps->len;
}
