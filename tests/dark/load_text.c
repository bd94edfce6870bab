/* SPDX-License-Identifier: MIT */
#include "load_text.h"

#include <glib/gstdio.h>
#include <unistd.h>

Library *
load_with_text (const char *const *paths, const char *text)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (GPtrArray) all = g_ptr_array_new ();
    g_autofree char *written = NULL;
    int file = text != NULL ? g_file_open_tmp ("dark-XXXXXX.yaml", &written, NULL) : -1;

    for (guint i = 0; paths[i] != NULL; i++)
        g_ptr_array_add (all, (gpointer) paths[i]);
    if (text != NULL) {
        if (file < 0 || !g_file_set_contents (written, text, -1, NULL))
            g_error ("no place for a temporary file");
        close (file);
        g_ptr_array_add (all, written);
    }
    g_ptr_array_add (all, NULL);
    Library *library = library_load ((const char *const *) all->pdata, NULL, complaints);
    if (written != NULL)
        g_unlink (written);
    if (complaints_count (complaints) > 0) {
        g_autofree char *words = complaints_to_string (complaints, 5);

        g_error ("%s\n%s", words, text != NULL ? text : "");
    }
    return library;
}

const Unit *
unit_named (const Library *library, const char *id)
{
    for (guint i = 0; i < library->units->len; i++)
        if (g_str_equal (((const Unit *) library->units->pdata[i])->id, id))
            return library->units->pdata[i];
    g_error ("no unit %s", id);
}
