/* SPDX-License-Identifier: MIT */
/* trying FILE [STATES]: the shortest length of a job by doing everything that the checker allows. Prints
 *     STEPS STATES MILLISECONDS
 * "-": more than STATES states (200,000 by default) were met before the length was known, or there is no route. */
#include "by_trying.h"

#include <stdio.h>
#include <stdlib.h>

int
main (int argc, char **argv)
{
    if (argc < 2 || argc > 3) {
        fprintf (stderr, "usage: trying FILE [STATES]\n");
        return 2;
    }
    const char *const paths[] = { argv[1], NULL };
    g_autoptr (Complaints) complaints = complaints_new ();
    g_autoptr (Library) library = library_load (paths, NULL, complaints);
    if (complaints_count (complaints) > 0) {
        g_autofree char *said = complaints_to_string (complaints, 10);
        fputs (said, stderr);
        return 1;
    }
    guint met = 0, most = argc > 2 ? (guint) atoi (argv[2]) : 200000;
    gint64 began = g_get_monotonic_time ();
    guint steps = shortest_by_trying (library, most, &met);
    double milliseconds = (double) (g_get_monotonic_time () - began) / 1000;
    if (steps == G_MAXUINT)
        printf ("- %u %.0f\n", met, milliseconds);
    else
        printf ("%u %u %.0f\n", steps, met, milliseconds);
    return 0;
}
