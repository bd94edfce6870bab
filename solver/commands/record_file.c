/* SPDX-License-Identifier: MIT */
/* Replacing a file safely: lock, draft, flush, rename, flush. */
#include "commands/record_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/file.h>
#include <unistd.h>

/* What a new file may be read and written by, before the umask. */
#define FILE_MODE   0666
#define PERMISSIONS 0777

/* FALSE, with errno's meaning after "PATH: WHAT: ". */
static gboolean
fail (GError **error, const char *path, const char *what)
{
    int number = errno;

    g_set_error (error, G_FILE_ERROR, (int) g_file_error_from_errno (number), "%s: %s: %s", path, what,
                 g_strerror (number));
    return FALSE;
}

static gboolean
lock_folder (RecordFile *file, GError **error)
{
    g_autofree char *path = g_path_get_dirname (file->target);
    int locked = -1;

    file->folder = open (path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file->folder < 0)
        return fail (error, path, "the folder cannot be opened");
    do
        locked = flock (file->folder, LOCK_EX);
    while (locked != 0 && errno == EINTR);
    return locked == 0 || fail (error, path, "the folder cannot be locked");
}

/* Where the file is, or is to be. NULL with an error. Transfer full. */
static char *
find_target (const char *path, GError **error)
{
    g_autofree char *whole = realpath (path, NULL);
    g_autofree char *folder = g_path_get_dirname (path);
    g_autofree char *name = g_path_get_basename (path);
    g_autofree char *whole_folder = NULL;
    struct stat link;

    if (whole != NULL)
        return g_steal_pointer (&whole);
    if (lstat (path, &link) == 0) {
        errno = ENOENT;
        fail (error, path, "this link leads nowhere");
        return NULL;
    }
    whole_folder = realpath (folder, NULL);
    if (whole_folder == NULL) {
        fail (error, folder, "the folder cannot be opened");
        return NULL;
    }
    return g_build_filename (whole_folder, name, NULL);
}

gboolean
record_file_open (RecordFile *file, const char *path, GError **error)
{
    file->target = find_target (path, error);
    if (file->target == NULL || !lock_folder (file, error))
        return FALSE;
    file->is_there = stat (file->target, &file->there) == 0;
    if (!file->is_there)
        return errno == ENOENT || fail (error, path, "this cannot be opened");
    if (!S_ISREG (file->there.st_mode)) {
        g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_INVAL, "%s is not a plain file", path);
        return FALSE;
    }
    return g_file_get_contents (file->target, &file->text, &file->length, error);
}

static gboolean
write_all (int out, const char *text, gsize length)
{
    while (length > 0) {
        ssize_t written = write (out, text, length);

        if (written < 0 && errno == EINTR)
            continue;
        if (written < 0)
            return FALSE;
        text += written;
        length -= (gsize) written;
    }
    return TRUE;
}

/* As the file that it replaces, or as any new file. */
static mode_t
mode_of_draft (const RecordFile *file)
{
    mode_t mask = umask (0);

    umask (mask);
    return file->is_there ? file->there.st_mode & PERMISSIONS : FILE_MODE & ~mask;
}

static void
drop_draft (RecordFile *file)
{
    if (file->draft != NULL)
        unlink (file->draft);
    g_clear_pointer (&file->draft, g_free);
}

gboolean
record_file_draft (RecordFile *file, const char *text, gsize length, GError **error)
{
    g_autofree char *folder = g_path_get_dirname (file->target);
    g_autofree char *name = g_path_get_basename (file->target);
    g_autofree char *hidden = g_strdup_printf (".%s.XXXXXX", name);
    g_autofree char *path = g_build_filename (folder, hidden, NULL);
    int out = -1;
    gboolean written = FALSE;

    drop_draft (file);
    out = mkostemp (path, O_CLOEXEC);
    if (out < 0)
        return fail (error, folder, "nothing can be written in the folder");
    file->draft = g_steal_pointer (&path);
    written = fchmod (out, mode_of_draft (file)) == 0 && write_all (out, text, length) && fsync (out) == 0;
    if (!written)
        fail (error, file->target, "it cannot be written");
    if (close (out) != 0 && written)
        written = fail (error, file->target, "it cannot be written");
    if (!written)
        drop_draft (file);
    return written;
}

/* A lock binds only those who ask for it: an editor does not. */
static gboolean
is_as_it_was (const RecordFile *file)
{
    struct stat now;

    if (lstat (file->target, &now) != 0)
        return !file->is_there && errno == ENOENT;
    return file->is_there && now.st_dev == file->there.st_dev && now.st_ino == file->there.st_ino &&
           now.st_size == file->there.st_size && now.st_mtim.tv_sec == file->there.st_mtim.tv_sec &&
           now.st_mtim.tv_nsec == file->there.st_mtim.tv_nsec;
}

gboolean
record_file_replace (RecordFile *file, GError **error)
{
    g_return_val_if_fail (file->draft != NULL, FALSE);
    if (!is_as_it_was (file)) {
        g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_FAILED, "%s was changed meanwhile", file->target);
        return FALSE;
    }
    if (rename (file->draft, file->target) != 0)
        return fail (error, file->target, "it cannot be replaced");
    g_clear_pointer (&file->draft, g_free);
    /* Some file systems cannot flush a folder; there is nothing more to be done on those. */
    if (fsync (file->folder) != 0 && errno != EINVAL)
        return fail (error, file->target, "the entry is in it, but may be lost if the power fails now");
    return TRUE;
}

void
record_file_clear (RecordFile *file)
{
    drop_draft (file);
    if (file->folder >= 0)
        close (file->folder); /* and with it goes the lock */
    g_free (file->target);
    g_free (file->text);
    *file = (RecordFile) RECORD_FILE_INIT;
}
