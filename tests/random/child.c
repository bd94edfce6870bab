/* SPDX-License-Identifier: MIT */
#include "child.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

int
in_child (ChildWork work, gconstpointer data, gpointer into, gsize size, gsize *got)
{
    int ends[2], status = 0;
    if (pipe (ends))
        g_error ("no pipe");
    fflush (NULL);
    pid_t child = fork ();
    if (child < 0)
        g_error ("no child process");
    if (!child) {
        close (ends[0]);
        work (data, ends[1]);
        close (ends[1]);
        exit (0); /* not _exit: leak and coverage counters report at exit */
    }
    close (ends[1]);
    *got = 0;
    for (gssize more; *got < size && (more = read (ends[0], (char *) into + *got, size - *got)) > 0;)
        *got += (gsize) more;
    close (ends[0]);
    waitpid (child, &status, 0);
    return status;
}
