/* SPDX-License-Identifier: MIT */
/* Why the units of random small jobs are dark.
 *   test_dark_jobs --seed S --count N
 *
 * source: the enumeration (enumerate.h), which asks the check room about every state. The jobs are those of tests/random,
 * with every form of rule somewhere in the run of seeds. */
#include "against.h"
#include "emit.h"
#include "generate.h"
#include "load_job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_STATES = 4000, MOST_FACTS = 15 };

static gboolean
is_small_enough (const Enumeration *all)
{
    return all != NULL && enumeration_facts (all) <= MOST_FACTS;
}

/* FALSE: it is too large to go through. */
static gboolean
test_job (guint64 seed, Tally *tally)
{
    g_autofree Job *job = g_new0 (Job, 1);
    g_auto (LoadedJob) loaded = { 0 };
    g_autofree char *why = NULL;

    generate_job (seed, job);
    if (!load_job (job, &loaded, &why))
        g_error ("seed %" G_GUINT64_FORMAT ": %s", seed, why);
    g_autoptr (Enumeration) all = enumerate (loaded.library, loaded.shop, loaded.unit, MOST_STATES);
    if (!is_small_enough (all))
        return FALSE;
    g_autoptr (DarkAnswer) answer = dark_find (loaded.library, loaded.shop, loaded.unit, 0);
    why = against_enumeration (all, answer, tally);
    if (why == NULL)
        why = classes_are_wrong (all, tally);
    if (why != NULL) {
        const Answer none = { .kind = ANSWER_NONE };
        g_autofree char *text = emit_case (job, &none, seed);

        printf ("seed %" G_GUINT64_FORMAT ": %s\n%s", seed, why, text);
        exit (EXIT_FAILURE);
    }
    return TRUE;
}

int
main (int argc, char **argv)
{
    guint64 seed = 1, count = 100;
    Tally tally = { 0 };

    for (int i = 1; i + 1 < argc; i += 2) {
        if (!strcmp (argv[i], "--seed"))
            seed = g_ascii_strtoull (argv[i + 1], NULL, 10);
        else if (!strcmp (argv[i], "--count"))
            count = g_ascii_strtoull (argv[i + 1], NULL, 10);
    }
    for (guint64 drawn = seed * 100000; tally.units < count; drawn++)
        test_job (drawn, &tally);
    printf (
        "%u units, %u combinations in %u cases, %u dark; %u sets (%u stated), %u corrections, %u rules, %u releases in "
        "the class of another; %u lists cut short\n",
        tally.units, tally.combinations, tally.cases, tally.dark, tally.sets, tally.stated, tally.corrections,
        tally.rules, tally.classes, tally.cut_short);
    return tally.dark > count / 4 && tally.sets > tally.dark && tally.stated > 0 && tally.classes > 0 ? EXIT_SUCCESS
                                                                                                      : EXIT_FAILURE;
}
