/* SPDX-License-Identifier: MIT */
/* Why each step is there, on random jobs.
 *   test_random_reasons --seed S --count N
 *
 * source: of a route that is proved to have the least of its objective no step can be left out, or what is left were a
 * better one (docs/method.md, "Objectives"): every step has a reason, in words, and some later step or the end needs it.
 * One that is written twice in a row can be left out once, and that is said. */
#include "generate.h"
#include "reasons.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *
job_is_wrong (const Job *job, Objective objective, Seen *seen)
{
    char *why = NULL;
    g_auto (LoadedJob) loaded = { 0 };

    return load_job (job, &loaded, &why) ? reasons_are_wrong (&loaded, objective, seen) : why;
}

int
main (int argc, char **argv)
{
    guint64 seed = 1, count = 100;
    Seen seen = { 0 };

    for (int i = 1; i + 1 < argc; i += 2) {
        if (!strcmp (argv[i], "--seed"))
            seed = strtoull (argv[i + 1], NULL, 10);
        else if (!strcmp (argv[i], "--count"))
            count = strtoull (argv[i + 1], NULL, 10);
    }
    for (guint64 s = seed; s < seed + count; s++) {
        Job job;
        Answer expected = { 0 };

        generate_suitable (s, &job, &expected);
        answer_clear (&expected);
        g_autofree char *why = job_is_wrong (&job, (Objective) (s % OBJECTIVE_COUNT), &seen);
        if (why != NULL) {
            printf ("seed %" G_GUINT64_FORMAT ": %s\n", s, why);
            return EXIT_FAILURE;
        }
    }
    printf ("%u routes with %u steps, %u with a write twice\n", seen.routes, seen.steps, seen.doubled);
    return seen.routes > count / 4 && seen.doubled > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
