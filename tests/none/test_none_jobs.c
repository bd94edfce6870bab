/* SPDX-License-Identifier: MIT */
/* Why random small jobs have no route.
 *   test_none_jobs --seed S --count N
 *
 * source: an exhaustive search that shares no code with the program (tests/random), on the model's own job with facts
 * dropped (drop_job.h). Each set of facts leaves no way, and with any one of them fewer there is one; of a few facts the
 * list holds all that going through every subset finds; each addition is walked by the checker and opens a way; nothing
 * of the question is changed when it is over. Where the model is too small for the parts that are added, the program's
 * planner answers in its place, and how often is counted. */
#include "drop_job.h"
#include "emit.h"
#include "generate.h"
#include "load_job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FEW_FACTS = 5, MOST_BASE_WORLDS = 3000, MOST_SETS_TESTED = 6 };

typedef struct {
    Job job;
    LoadedJob loaded;
    Asked asked;
    Asking asking;
    NoRoute *none;
    guint64 seed;
} Trial;

typedef struct {
    guint jobs, sets, by_model, by_program, undecided, lists, additions, never, not_known, not_from_here;
} Tally;

static Tally tally;

static void G_GNUC_PRINTF (2, 3) fail (const Trial *trial, const char *format, ...)
{
    va_list args;

    va_start (args, format);
    g_autofree char *what = g_strdup_vprintf (format, args);
    va_end (args);
    printf ("seed %" G_GUINT64_FORMAT ": %s\n", trial->seed, what);
    for (guint s = 0; trial->none != NULL && s < trial->none->sets->len; s++) {
        const GArray *set = g_ptr_array_index (trial->none->sets, s);

        for (guint f = 0; f < set->len; f++)
            printf ("  set %u: %s\n", s + 1,
                    ((BlockingFact *) g_ptr_array_index (trial->none->facts, g_array_index (set, guint, f)))->says);
    }
    Answer none = { .kind = ANSWER_NONE };
    g_autofree char *text = emit_case (&trial->job, &none, trial->seed);
    printf ("%s", text);
    exit (EXIT_FAILURE);
}

/* The program's answer, parts that no slot takes left aside as no_route_explain leaves them. */
static WayAnswer
program_way (const FactSet *kept, Trial *trial)
{
    g_autoptr (Changes) changes = changes_new ();

    asked_leave_useless_lots (&trial->asked, changes);
    return asking_way (kept, &trial->asking);
}

static WayAnswer
way (Trial *trial, const FactSet *kept)
{
    WayAnswer answer = model_way (&trial->job, &trial->asked, trial->none->facts, kept);

    tally.by_model += answer != WAY_UNDECIDED;
    if (answer != WAY_UNDECIDED)
        return answer;
    tally.by_program++;
    answer = program_way (kept, trial);
    tally.undecided += answer == WAY_UNDECIDED;
    return answer;
}

static FactSet
set_of (const GArray *indices)
{
    FactSet set = { { 0 } };

    for (guint i = 0; i < indices->len; i++)
        fact_set_add (&set, g_array_index (indices, guint, i));
    return set;
}

/* ---- The sets ---- */

static void
test_set (Trial *trial, guint number)
{
    const GArray *indices = g_ptr_array_index (trial->none->sets, number - 1);
    FactSet set = set_of (indices);

    tally.sets++;
    if (way (trial, &set) == WAY_OPEN)
        fail (trial, "set %u leaves a way", number);
    for (guint i = 0; i < indices->len && trial->none->minimal; i++) {
        FactSet fewer = set;

        fact_set_remove (&fewer, g_array_index (indices, guint, i));
        if (way (trial, &fewer) == WAY_NONE)
            fail (trial, "set %u does not need its fact %u", number, i + 1);
    }
}

/* Facts of the first sets, rules left out, and others up to FEW_FACTS. */
static FactSet
few_facts (const Trial *trial)
{
    FactSet few = { { 0 } };

    for (guint s = 0; s < trial->none->sets->len; s++) {
        const GArray *set = g_ptr_array_index (trial->none->sets, s);

        for (guint i = 0; i < set->len && fact_set_count (&few) < FEW_FACTS; i++)
            fact_set_add (&few, g_array_index (set, guint, i));
    }
    for (guint i = 0; i < trial->none->facts->len && fact_set_count (&few) < FEW_FACTS; i++)
        fact_set_add (&few, i);
    return few;
}

typedef struct {
    Trial *trial;
    guint facts[FEW_FACTS];
    guint n_facts;
} Few;

/* The facts of a small set, and all that are not among the few. */
static FactSet
kept_of_few (const Few *few, guint bits)
{
    FactSet kept = fact_set_all (few->trial->none->facts->len);

    for (guint i = 0; i < few->n_facts; i++)
        if ((bits & 1u << i) == 0)
            fact_set_remove (&kept, few->facts[i]);
    return kept;
}

static WayAnswer
ask_few (const FactSet *kept, gpointer data)
{
    Few *few = data;
    FactSet all = kept_of_few (few, (guint) kept->words[0]);

    return program_way (&all, few->trial);
}

/* Of a few facts, all others kept: the lists against every subset. */
static void
test_list (Trial *trial)
{
    FactSet chosen = few_facts (trial), late = { { 0 } };
    Few few = { .trial = trial };
    WayAnswer ways[1 << FEW_FACTS];

    for (guint i = 0; i < trial->none->facts->len; i++)
        if (fact_set_has (&chosen, i))
            few.facts[few.n_facts++] = i;
    for (guint bits = 0; bits < 1u << few.n_facts; bits++) {
        FactSet kept = kept_of_few (&few, bits);

        ways[bits] = way (trial, &kept);
        if (ways[bits] == WAY_UNDECIDED)
            return;
    }
    g_autoptr (NoneSets) sets = none_sets_find (few.n_facts, &late, ask_few, &few, 1000, 1000);
    if (!sets->complete || !sets->minimal)
        return;
    guint expected = 0;
    for (guint bits = 0; bits < 1u << few.n_facts; bits++) {
        gboolean minimal = ways[bits] == WAY_NONE, found = FALSE;

        for (guint i = 0; i < few.n_facts; i++)
            minimal = minimal && ((bits & 1u << i) == 0 || ways[bits & ~(1u << i)] == WAY_OPEN);
        for (guint s = 0; s < sets->forbidding->len; s++)
            found = found || g_array_index (sets->forbidding, FactSet, s).words[0] == bits;
        if (minimal != found)
            fail (trial, "of a few facts, the set %x is %s", bits, minimal ? "not found" : "no minimal one");
        expected += minimal;
    }
    if (expected != sets->forbidding->len)
        fail (trial, "of a few facts, %u sets instead of %u", sets->forbidding->len, expected);
    tally.lists++;
}

/* What no shop can help, none can. */
static void
test_kind (Trial *trial)
{
    FactSet kept = { { 0 } };

    tally.never += trial->none->kind == NONE_NEVER;
    tally.not_known += trial->none->kind == NONE_NOT_KNOWN;
    tally.not_from_here += trial->none->kind == NONE_NOT_FROM_HERE;
    for (guint i = 0; i < trial->none->facts->len; i++)
        if (!((const BlockingFact *) g_ptr_array_index (trial->none->facts, i))->of_shop)
            fact_set_add (&kept, i);
    WayAnswer answer = way (trial, &kept);
    if (trial->none->kind < NONE_NOT_WITH_THIS && answer == WAY_OPEN)
        fail (trial, "kind %u, and another shop has a way", trial->none->kind);
    if (trial->none->kind == NONE_NOT_WITH_THIS && trial->none->complete && answer == WAY_NONE)
        fail (trial, "no other shop has a way, and that is not said");
}

/* ---- The additions ---- */

static gboolean
walks (Trial *trial, const GArray *steps)
{
    g_autoptr (GPtrArray) cases = unit_cases (trial->asked.unit, 64);

    g_assert_nonnull (cases);
    for (guint i = 0; i < cases->len; i++) {
        g_autoptr (State) start = state_from_unit (trial->asked.unit, cases->pdata[i]);
        Walk *walk = check_walk (trial->asked.library, trial->asked.shop, trial->asked.want, start, steps);
        gboolean sound = walk->sound;

        walk_free (walk);
        if (!sound)
            return FALSE;
    }
    return TRUE;
}

static void
test_addition (Trial *trial, const Addition *addition)
{
    g_autoptr (Changes) changes = changes_new ();

    tally.additions++;
    if (walks (trial, addition->answer->steps))
        fail (trial, "the route of \"%s\" needs no addition", addition->says);
    if (addition->part != NULL)
        asked_add_lot (&trial->asked,
                       (Lot){ .owner = addition->opens == FACT_LOANERS ? OWNER_LOAN : OWNER_STOCK,
                              .part = addition->part,
                              .stepping = addition->stepping,
                              .bound = addition->bound,
                              .count = addition->count },
                       changes);
    else
        blocking_fact_drop (&trial->asked, g_ptr_array_index (trial->none->facts, addition->fact), changes);
    if (!walks (trial, addition->answer->steps))
        fail (trial, "the route of \"%s\" is refused", addition->says);
}

static gboolean
has_addition_for (const NoRoute *none, guint fact)
{
    for (guint i = 0; i < none->additions->len; i++)
        if (((const Addition *) g_ptr_array_index (none->additions, i))->fact == fact)
            return TRUE;
    return FALSE;
}

/* Each fact that can be lifted alone: there is an addition for it when, and only when, that opens a route. With several
 * possible releases a way in some case is not yet a route for all. */
static void
test_all_additions (Trial *trial)
{
    for (guint i = 0; i < trial->none->facts->len && trial->none->all_tried; i++) {
        const BlockingFact *fact = g_ptr_array_index (trial->none->facts, i);
        FactSet kept = fact_set_all (trial->none->facts->len);

        if (!fact_can_be_lifted (fact))
            continue;
        fact_set_remove (&kept, i);
        gboolean opens = way (trial, &kept) == WAY_OPEN,
                 is_lot = fact->kind == FACT_LOANERS || fact->kind == FACT_STOCK;
        if (has_addition_for (trial->none, i) && !opens)
            fail (trial, "an addition for what does not help: %s", fact->says);
        if (opens && !is_lot && job_case_count (&trial->job) == 1 && !has_addition_for (trial->none, i))
            fail (trial, "no addition for what helps: %s", fact->says);
    }
}

/* ---- One job ---- */

/* Everything that is said of the question, as it stands. */
static char *
account_of (const Asked *asked)
{
    g_autoptr (GPtrArray) facts = blocking_facts_collect (asked);
    GString *account = g_string_new (NULL);

    for (guint i = 0; i < facts->len; i++) {
        const BlockingFact *fact = g_ptr_array_index (facts, i);

        g_string_append_printf (account, "%u %u %u %s\n", fact->kind, fact->index, fact->index2, fact->says);
    }
    return g_string_free (account, FALSE);
}

static void
test_job (Trial *trial)
{
    char *why = NULL;

    if (!load_job (&trial->job, &trial->loaded, &why))
        fail (trial, "%s", why);
    trial->asked = (Asked){ trial->loaded.library, (Shop *) trial->loaded.shop, (Unit *) trial->loaded.unit,
                            (Want *) trial->loaded.want };
    g_autofree char *before = account_of (&trial->asked);
    trial->none =
        no_route_explain (trial->asked.library, trial->asked.shop, trial->asked.unit, trial->asked.want, NULL);
    g_autofree char *after = account_of (&trial->asked);
    if (strcmp (before, after) != 0)
        fail (trial, "the question was changed:\n%s\n%s", before, after);
    trial->asking = (Asking){ .asked = trial->asked, .facts = trial->none->facts };
    if (trial->none->sets->len == 0)
        fail (trial, "no set");
    for (guint i = 1; i <= trial->none->sets->len && i <= MOST_SETS_TESTED; i++)
        test_set (trial, i);
    test_kind (trial);
    test_list (trial);
    for (guint i = 0; i < trial->none->additions->len; i++)
        test_addition (trial, g_ptr_array_index (trial->none->additions, i));
    test_all_additions (trial);
    no_route_free (trial->none);
    loaded_job_clear (&trial->loaded);
    tally.jobs++;
}

static gboolean
has_no_route (const Job *job)
{
    for (int k = 0; k < job_case_count (job); k++) {
        g_autofree Play *play = g_new0 (Play, 1);

        if (job_case_count (job) > MAX_CASES || !play_setup (play, job, k))
            return FALSE;
        Answer answer = exhaustive_answer (play, GOAL_STEPS, MOST_BASE_WORLDS);
        gboolean none = answer.kind == ANSWER_NONE && answer.worlds > 4;
        answer_clear (&answer);
        if (!none)
            return FALSE;
    }
    return TRUE;
}

int
main (int argc, char **argv)
{
    guint64 seed = 1, count = 100;

    for (int i = 1; i + 1 < argc; i += 2) {
        if (!strcmp (argv[i], "--seed"))
            seed = g_ascii_strtoull (argv[i + 1], NULL, 10);
        else if (!strcmp (argv[i], "--count"))
            count = g_ascii_strtoull (argv[i + 1], NULL, 10);
    }
    for (guint64 drawn = seed * 100000; tally.jobs < count; drawn++) {
        g_autofree Trial *trial = g_new0 (Trial, 1);

        trial->seed = drawn;
        generate_job (drawn, &trial->job);
        if (has_no_route (&trial->job))
            test_job (trial);
    }
    printf ("%u jobs, %u sets, %u lists, %u additions; %u never, %u not known, %u not from here; asked %u times of the "
            "model, %u of the program, %u undecided\n",
            tally.jobs, tally.sets, tally.lists, tally.additions, tally.never, tally.not_known, tally.not_from_here,
            tally.by_model, tally.by_program, tally.undecided);
    /* Little would be tested where the model seldom answers. */
    return tally.by_model > 4 * tally.by_program && tally.lists * 2 > tally.jobs && tally.additions > tally.jobs / 10
               ? EXIT_SUCCESS
               : EXIT_FAILURE;
}
