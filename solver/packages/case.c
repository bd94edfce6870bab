/* SPDX-License-Identifier: MIT */
/* The pool made visible: libsolv's test case format, written and read by libsolv's own functions, so that any program
 * that reads it (libsolv's testsolv, say) can replay a case without this one. */
#include "packages/packages_parts.h"

#include <errno.h>
#include <solv/testcase.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Each line of `text` after `mark`. */
static void
append_lines (GString *out, const char *mark, const char *text)
{
    g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
    for (guint i = 0; lines[i] != NULL; i++)
        if (lines[i + 1] != NULL || *lines[i] != '\0')
            g_string_append_printf (out, "%s%s\n", mark, lines[i]);
}

char *
packages_to_case (Packages *packages, const char *remarks)
{
    GString *out = g_string_new (NULL);
    char *tags = NULL;
    size_t length = 0;
    FILE *memory = open_memstream (&tags, &length);
    g_assert (memory != NULL);
    testcase_write_testtags (packages->repo, memory);
    fclose (memory);
    if (remarks != NULL)
        append_lines (out, "# ", remarks);
    g_string_append_printf (out, "repo %s 0 testtags <inline>\n", packages->repo->name);
    append_lines (out, "#>", tags);
    g_string_append (out, "system unset deb\n");
    g_string_append_printf (out, "job %s\n",
                            testcase_job2str (packages->pool, SOLVER_INSTALL | SOLVER_SOLVABLE, packages->root));
    free (tags);
    return g_string_free (out, FALSE);
}

static int
by_text (gconstpointer left, gconstpointer right)
{
    return strcmp (*(const char *const *) left, *(const char *const *) right);
}

static GPtrArray *
installed_of (Solver *solver)
{
    GPtrArray *installed = g_ptr_array_new_with_free_func (g_free);
    Transaction *transaction = solver_create_transaction (solver);
    Queue chosen;
    queue_init (&chosen);
    transaction_installedresult (transaction, &chosen);
    for (int i = 0; i < chosen.count; i++) {
        const Solvable *solvable = pool_id2solvable (solver->pool, chosen.elements[i]);
        g_ptr_array_add (installed, g_strdup_printf ("%s %s", pool_id2str (solver->pool, solvable->name),
                                                     pool_id2str (solver->pool, solvable->evr)));
    }
    g_ptr_array_sort (installed, by_text);
    queue_free (&chosen);
    transaction_free (transaction);
    return installed;
}

gboolean
packages_replay (const char *path, gboolean *solved, GPtrArray **installed, GError **error)
{
    FILE *file = fopen (path, "re");
    if (file == NULL) {
        g_set_error (error, G_FILE_ERROR, (int) g_file_error_from_errno (errno), "%s: %s", path, g_strerror (errno));
        return FALSE;
    }
    Pool *pool = pool_create ();
    Queue job;
    queue_init (&job);
    char *expected = NULL;
    int flags = 0;
    Solver *solver = testcase_read (pool, file, path, &job, &expected, &flags);
    fclose (file);
    if (solver == NULL || job.count == 0) {
        g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_INVAL,
                     "%s: this is not a case that packages has written: no repository with a job in it", path);
    } else {
        *solved = solver_solve (solver, &job) == 0;
        *installed = *solved ? installed_of (solver) : g_ptr_array_new_with_free_func (g_free);
    }
    gboolean read = solver != NULL && job.count > 0;
    if (solver != NULL)
        solver_free (solver);
    solv_free (expected);
    queue_free (&job);
    pool_free (pool);
    return read;
}
