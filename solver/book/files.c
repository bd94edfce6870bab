/* SPDX-License-Identifier: MIT */
/* Files: folders opened, files read, and what can go wrong with either. */
#include "book/files.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#define DEEPEST_FOLDER 32
#define LARGEST_FILE   (64u << 20) /* bytes; the largest books are a few MiB */

typedef struct {
    GPtrArray *files; /* char*, owned by the caller */
    GHashTable *seen; /* "device:inode" of files taken and of folders open */
    gboolean *unread;
    Complaints *complaints;
} Walk;

static void
complain (Complaints *complaints, const char *path, const char *expected, const char *what)
{
    complaints_add (complaints, (Mark){ g_intern_string (path), 0, 0 }, expected, "%s", what);
}

/* Of a folder only these are read: a table is named, so that what this program writes as one is never taken for units. */
static gboolean
has_yaml_name (const char *name)
{
    return name[0] != '.' && (g_str_has_suffix (name, ".yaml") || g_str_has_suffix (name, ".yml"));
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
    return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Names in a folder, sorted, those that start with a dot left out. NULL after a complaint. */
static GPtrArray *
list_folder (Walk *walk, const char *path)
{
    g_autoptr (GDir) folder = g_dir_open (path, 0, NULL);
    if (!folder) {
        g_autofree char *what = g_strdup_printf ("this folder cannot be opened: %s", g_strerror (errno));
        complain (walk->complaints, path, NULL, what);
        *walk->unread = TRUE;
        return NULL;
    }
    GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
    const char *name;
    while ((name = g_dir_read_name (folder)))
        if (name[0] != '.')
            g_ptr_array_add (names, g_strdup (name));
    g_ptr_array_sort (names, compare_names);
    return names;
}

static void take_path (Walk *walk, const char *path, guint depth);

static void
take_folder (Walk *walk, const char *path, guint depth)
{
    if (depth > DEEPEST_FOLDER) {
        complain (walk->complaints, path, "expected at most 32 folders inside one another",
                  "this folder lies too deep");
        *walk->unread = TRUE;
        return;
    }
    g_autoptr (GPtrArray) names = list_folder (walk, path);
    guint before = walk->files->len;
    gboolean has_any = FALSE;
    for (guint i = 0; names && i < names->len; i++) {
        const char *name = g_ptr_array_index (names, i);
        g_autofree char *inside = g_build_filename (path, name, NULL);
        gboolean is_folder = g_file_test (inside, G_FILE_TEST_IS_DIR);
        if (is_folder || has_yaml_name (name))
            take_path (walk, inside, depth + 1);
        has_any = has_any || has_yaml_name (name);
    }
    if (depth == 0 && names && !has_any && walk->files->len == before)
        complain (walk->complaints, path, "expected files whose names end in .yaml or .yml",
                  "there is nothing to read in this folder");
}

static void
take_path (Walk *walk, const char *path, guint depth)
{
    struct stat status;
    if (stat (path, &status) != 0) {
        g_autofree char *what = g_strdup_printf ("this cannot be opened: %s", g_strerror (errno));
        complain (walk->complaints, path, NULL, what);
        *walk->unread = TRUE;
        return;
    }
    /* Once each: a file may be named beside its folder, and a folder may hold a link to one that holds it. */
    char *key =
        g_strdup_printf ("%" G_GUINT64_FORMAT ":%" G_GUINT64_FORMAT, (guint64) status.st_dev, (guint64) status.st_ino);
    if (!g_hash_table_add (walk->seen, key))
        return;
    if (S_ISDIR (status.st_mode))
        take_folder (walk, path, depth);
    else if (S_ISREG (status.st_mode) || S_ISFIFO (status.st_mode))
        g_ptr_array_add (walk->files, g_strdup (path));
    else {
        complain (walk->complaints, path, "expected a file or a folder", "this is neither a file nor a folder");
        *walk->unread = TRUE;
    }
}

GPtrArray *
files_list (const char *const *paths, gboolean *unread, Complaints *complaints)
{
    GPtrArray *files = g_ptr_array_new_with_free_func (g_free);
    g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    Walk walk = { files, seen, unread, complaints };
    for (guint i = 0; paths && paths[i]; i++)
        take_path (&walk, paths[i], 0);
    return files;
}

gboolean
files_is_table (const char *path)
{
    gsize length = strlen (path), suffix = strlen (".csv");
    return length > suffix && g_ascii_strcasecmp (path + length - suffix, ".csv") == 0;
}

char *
files_read (const char *path, gsize *length, Complaints *complaints)
{
    FILE *file = fopen (path, "rbe");
    if (!file) {
        g_autofree char *what = g_strdup_printf ("this file cannot be opened: %s", g_strerror (errno));
        complain (complaints, path, NULL, what);
        return NULL;
    }
    g_autoptr (GByteArray) bytes = g_byte_array_new ();
    guint8 block[65536];
    gsize got;
    while (bytes->len <= LARGEST_FILE && (got = fread (block, 1, sizeof block, file)) > 0)
        g_byte_array_append (bytes, block, (guint) got);
    gboolean failed = ferror (file) != 0;
    g_autofree char *what = failed ? g_strdup_printf ("this file cannot be read: %s", g_strerror (errno)) : NULL;
    fclose (file);
    if (failed || bytes->len > LARGEST_FILE) {
        complain (complaints, path, failed ? NULL : "expected at most 64 MiB",
                  failed ? what : "this file is too large");
        return NULL;
    }
    *length = bytes->len;
    g_byte_array_append (bytes, (const guint8 *) "", 1); /* so that it can be walked as a string */
    return (char *) g_byte_array_free (g_steal_pointer (&bytes), FALSE);
}
