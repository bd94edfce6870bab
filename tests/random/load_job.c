/* SPDX-License-Identifier: MIT */
#include "load_job.h"

#include "emit.h"

#include <glib/gstdio.h>

static void
write_files (const Job *job, const char *folder)
{
    for (FileKind kind = FILE_BOOK; kind < FILE_COUNT; kind++) {
        g_autofree char *path = g_build_filename (folder, file_kind_name (kind), NULL);
        g_autofree char *text = emit_file (job, kind);
        if (!g_file_set_contents (path, text, -1, NULL))
            g_error ("%s cannot be written", path);
    }
}

static void
remove_folder (const char *folder)
{
    for (FileKind kind = FILE_BOOK; kind < FILE_COUNT; kind++) {
        g_autofree char *path = g_build_filename (folder, file_kind_name (kind), NULL);
        g_unlink (path);
    }
    g_rmdir (folder);
}

gboolean
load_path (const char *path, LoadedJob *loaded, char **why)
{
    const char *const paths[] = { path, NULL };
    return load_paths (paths, loaded, why);
}

gboolean
load_paths (const char *const *paths, LoadedJob *loaded, char **why)
{
    g_autoptr (Complaints) complaints = complaints_new ();
    *loaded = (LoadedJob){ .library = library_load (paths, NULL, complaints) };
    if (complaints_count (complaints)) {
        *why = complaints_to_string (complaints, 5);
        return FALSE;
    }
    if (loaded->library->units->len != 1 || loaded->library->wants->len != 1) {
        *why = g_strdup ("the files do not hold one unit and one want");
        return FALSE;
    }
    loaded->usual = loaded->library->shops->len ? NULL : shop_new_default ();
    loaded->shop = loaded->usual ? loaded->usual : g_ptr_array_index (loaded->library->shops, 0);
    loaded->unit = g_ptr_array_index (loaded->library->units, 0);
    loaded->want = g_ptr_array_index (loaded->library->wants, 0);
    return TRUE;
}

gboolean
load_job (const Job *job, LoadedJob *loaded, char **why)
{
    g_autofree char *folder = g_dir_make_tmp ("random-XXXXXX", NULL);
    if (!folder)
        g_error ("no folder for temporary files");
    write_files (job, folder);
    gboolean read = load_path (folder, loaded, why);
    remove_folder (folder);
    return read;
}

void
loaded_job_clear (LoadedJob *loaded)
{
    g_clear_pointer (&loaded->library, library_free);
    g_clear_pointer (&loaded->usual, shop_free);
}
